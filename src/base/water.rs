//! Water: speed of sound, density, impedance.

/// Range of temperature over which the formulas here are used, °C.
pub const TEMPERATURE_RANGE_C: (f64, f64) = (5.0, 60.0);

/// Temperature assumed where the record states none, °C.
pub const ASSUMED_TEMPERATURE_C: f64 = 22.0;

fn polynomial(coefficients: &[f64], x: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * x + c)
}

/// Speed of sound in pure water at atmospheric pressure, from the ITS-90 temperature in °C.
///
/// # Units
/// m/s.
///
/// # References
/// W. Marczak, J. Acoust. Soc. Am. 102 (1997) 2776, fifth-order polynomial, 0 to 95 °C.
pub fn sound_speed_m_per_s(temperature_c: f64) -> f64 {
    const C: [f64; 6] =
        [1.402385e3, 5.038813, -5.799136e-2, 3.287156e-4, -1.398845e-6, 2.787860e-9];
    polynomial(&C, temperature_c)
}

/// Derivative of [`sound_speed_m_per_s`], m/(s K).
pub fn sound_speed_slope(temperature_c: f64) -> f64 {
    const D: [f64; 5] =
        [5.038813, -2.0 * 5.799136e-2, 3.0 * 3.287156e-4, -4.0 * 1.398845e-6, 5.0 * 2.787860e-9];
    polynomial(&D, temperature_c)
}

/// Density of air-free water at atmospheric pressure.
///
/// # Units
/// kg/m³.
///
/// # References
/// M. Tanaka et al., Metrologia 38 (2001) 301, the CIPM formula, 0 to 40 °C.
pub fn density_kg_per_m3(temperature_c: f64) -> f64 {
    let t = temperature_c;
    let d = t - 3.983035;
    999.974950 * (1.0 - d * d * (t + 301.797) / (522528.9 * (t + 69.34881)))
}

/// Characteristic impedance ρc, kg/(m² s).
pub fn impedance(temperature_c: f64) -> f64 {
    density_kg_per_m3(temperature_c) * sound_speed_m_per_s(temperature_c)
}

/// Relative change of ρc with temperature, 1/K, by a central difference over 0.2 K.
pub fn impedance_relative_slope(temperature_c: f64) -> f64 {
    let h = 0.1;
    (impedance(temperature_c + h) - impedance(temperature_c - h))
        / (2.0 * h)
        / impedance(temperature_c)
}

#[cfg(test)]
mod tests {
    use super::*;

    const T: [f64; 6] = [15.0, 20.0, 22.0, 25.0, 30.0, 37.0];

    /// Bilaniuk and Wong, J. Acoust. Soc. Am. 93 (1993) 1609, 148-point fit with the 1996 erratum:
    /// an independent formula; the two are known to differ by 0.02 to 0.04 m/s.
    #[test]
    fn speed_agrees_with_an_independent_formula() {
        let other = [1465.943226, 1482.357778, 1488.334864, 1496.703673, 1509.143985, 1523.635583];
        for (t, c) in T.iter().zip(other) {
            assert!((sound_speed_m_per_s(*t) - c).abs() < 0.05, "{t}");
        }
    }

    /// Marczak 1997 evaluated with mpmath.
    #[test]
    fn speed_is_marczak() {
        let c = [1465.959855, 1482.379547, 1488.357911, 1496.727708, 1509.167168, 1523.653001];
        for (t, c) in T.iter().zip(c) {
            assert!((sound_speed_m_per_s(*t) - c).abs() < 1e-5, "{t}");
        }
    }

    /// Kell, J. Chem. Eng. Data 20 (1975) 97 (coefficients from memory): an independent formula on an
    /// older mass scale, 2.6e-6 lower.
    #[test]
    fn density_agrees_with_kell() {
        let kell = [999.099609, 998.204132, 997.770547, 997.044895, 995.647259, 993.328657];
        for (t, rho) in T.iter().zip(kell) {
            assert!((density_kg_per_m3(*t) / rho - 1.0).abs() < 5e-6, "{t}");
        }
    }

    #[test]
    fn slope_is_the_derivative() {
        let h = 1e-3;
        let d = (sound_speed_m_per_s(22.0 + h) - sound_speed_m_per_s(22.0 - h)) / (2.0 * h);
        assert!((sound_speed_slope(22.0) - d).abs() < 1e-6);
    }
}
