//! σ_q: the local distortion parameter, whether propagation up to here was quasi-linear.

/// Quantities on which the parameter rests, SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Propagation {
    /// Distance from the source, m.
    pub distance_m: f64,
    /// (p_c + p_r)/2 at the peak, Pa.
    pub mean_peak_pa: f64,
    pub frequency_hz: f64,
    /// Area of the source, m².
    pub source_area_m2: f64,
    /// −6 dB beam area at the peak, m².
    pub beam_area_m2: f64,
    pub density_kg_m3: f64,
    pub speed_m_s: f64,
}

/// Coefficient of nonlinearity of water, 1 + B/2A with B/A = 5.0 (R. T. Beyer; value from memory).
pub const BETA: f64 = 3.5;
/// Up to this the wave counts as quasi-linear.
pub const QUASI_LINEAR: f64 = 0.5;
/// Above this the wave is strongly distorted, and values in water cannot be carried over to an attenuating
/// medium by a linear rule (value from memory).
pub const STRONG: f64 = 1.5;

/// σ_q = z p_m ω β/(ρ c³ √F_a), F_a = √(0.69 A_source/A_b,6).
///
/// # References
/// IEC TS 61949:2007 (local distortion parameter, local area factor; formula from memory).
pub fn sigma_q(of: &Propagation) -> f64 {
    let area_factor = (0.69 * of.source_area_m2 / of.beam_area_m2).sqrt();
    let omega = 2.0 * std::f64::consts::PI * of.frequency_hz;
    of.distance_m * of.mean_peak_pa * omega * BETA
        / (of.density_kg_m3 * of.speed_m_s.powi(3))
        / area_factor.sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// z = 0.1 m, p_m = 2 MPa, 1 MHz, 28.27 cm², 0.0444 cm², 998.2 kg/m³, 1482 m/s: 0.295 677 1 (by
    /// mpmath from the formula).
    #[test]
    fn a_worked_case() {
        let found = sigma_q(&Propagation {
            distance_m: 0.1,
            mean_peak_pa: 2e6,
            frequency_hz: 1e6,
            source_area_m2: 28.27e-4,
            beam_area_m2: 0.0444e-4,
            density_kg_m3: 998.2,
            speed_m_s: 1482.0,
        });
        assert!((found - 0.295_677_1).abs() < 2e-6, "{found}");
    }
}
