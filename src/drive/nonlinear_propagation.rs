//! How far a wave has steepened on its way: σ_m, shock distance, and words for both.

use crate::field::local_distortion::{BETA, QUASI_LINEAR};

/// From this on the wave is strongly distorted (IEC TS 61949; value from memory).
pub const STRONG: f64 = 1.5;

/// How far a wave is from linear, by its distortion parameter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Distortion {
    /// Up to 0.5: what holds for linear waves holds.
    QuasiLinear,
    /// Up to 1.5: harmonics matter; corrections are possible.
    Notable,
    /// Above: shocks are near or there, and values in water say little of tissue.
    Strong,
}

impl Distortion {
    /// The class of a distortion parameter.
    ///
    /// # References
    /// IEC TS 61949:2007 (thresholds 0.5 and 1.5; values from memory).
    pub fn of(sigma: f64) -> Self {
        if sigma <= QUASI_LINEAR {
            Self::QuasiLinear
        } else if sigma <= STRONG {
            Self::Notable
        } else {
            Self::Strong
        }
    }

    /// The word of findings and sheet.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::QuasiLinear => "quasi-linear",
            Self::Notable => "notable",
            Self::Strong => "strong",
        }
    }
}

/// Nonlinear propagation parameter of a focused wave,
/// σ_m = z p_m ω β/(ρ c³) · ln(F + √(F² − 1))/√(F² − 1), F the focal gain of the pressure.
///
/// # Units
/// m, Pa, Hz, kg/m³, m/s.
///
/// # Errors
/// `None` where F is not above 1.
///
/// # References
/// D. R. Bacon, Ultrasound Med. Biol. 10 (1984) 189; IEC 61102 (formula from memory).
pub fn sigma_m(
    distance_m: f64,
    mean_peak_pa: f64,
    frequency_hz: f64,
    gain: f64,
    (density_kg_m3, speed_m_s): (f64, f64),
) -> Option<f64> {
    let root = (gain * gain - 1.0).sqrt();
    let plane = distance_m / shock_distance_m(mean_peak_pa, frequency_hz, density_kg_m3, speed_m_s);
    (gain > 1.0).then(|| plane * (gain + root).ln() / root)
}

/// Distance after which a plane sinusoidal wave of amplitude `p_pa` has a shock, ρc³/(β ω p), m.
///
/// # References
/// D. T. Blackstock, J. Acoust. Soc. Am. 39 (1966) 1019.
pub fn shock_distance_m(p_pa: f64, frequency_hz: f64, density_kg_m3: f64, speed_m_s: f64) -> f64 {
    let omega = 2.0 * std::f64::consts::PI * frequency_hz;
    density_kg_m3 * speed_m_s.powi(3) / (BETA * omega * p_pa)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// z = 0.1 m, p_m = 2 MPa, 1 MHz, F = 30, 998.2 kg/m³, 1482 m/s: 0.184 837 802 472 342 (by mpmath from
    /// the formula).
    #[test]
    fn focused() {
        let found = sigma_m(0.1, 2e6, 1e6, 30.0, (998.2, 1482.0)).expect("a gain");
        assert!((found - 0.184_837_802_472_342).abs() < 1e-12, "{found}");
        assert_eq!(sigma_m(0.1, 2e6, 1e6, 1.0, (998.2, 1482.0)), None);
        // A gain near one is a plane wave: the path over the shock distance.
        let plane = sigma_m(0.1, 1e6, 1e6, 1.000_001, (998.2, 1482.0)).expect("a gain");
        assert!((plane - 0.1 / 0.147_745_500_558_904).abs() < 1e-6, "{plane}");
    }

    /// 1 MPa, 1 MHz, 998.2 kg/m³, 1482 m/s: 0.147 745 500 558 904 m (by mpmath from the formula).
    #[test]
    fn shock() {
        let found = shock_distance_m(1e6, 1e6, 998.2, 1482.0);
        assert!((found - 0.147_745_500_558_904).abs() < 1e-14, "{found}");
    }

    #[test]
    fn words() {
        let word = |sigma: f64| Distortion::of(sigma).as_str();
        assert_eq!(
            [0.5, 0.51, 1.5, 1.51].map(word),
            ["quasi-linear", "notable", "notable", "strong"]
        );
    }
}
