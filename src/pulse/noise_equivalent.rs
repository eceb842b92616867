//! `nep`, `nep_density`, `dynamic_range_db`: what the sensor chain's noise looks like as pressure.

/// Noise-equivalent pressure: root mean square of the noise after deconvolution and low-pass, Pa, over
/// the band of the low-pass.
///
/// # References
/// IEC 62127-3 (noise-equivalent pressure; definition from memory).
pub fn nep_pa(noise_mean_square_pa2: f64) -> f64 {
    noise_mean_square_pa2.max(0.0).sqrt()
}

/// Noise-equivalent pressure divided by the root of the bandwidth over which it was taken, Pa/√Hz:
/// a mean over that band.
pub fn nep_density(nep_pa: f64, bandwidth_hz: f64) -> f64 {
    nep_pa / bandwidth_hz.sqrt()
}

/// Largest pressure that the chain holds, re the noise-equivalent pressure, dB.
pub fn dynamic_range_db(limit_pa: f64, nep_pa: f64) -> f64 {
    20.0 * (limit_pa / nep_pa).log10()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 1 mV of noise at 50 nV/Pa is 20 kPa; 20 MPa over 2 kPa is 80 dB (definitions). 50 Ω at 300 K
    /// over 20 MHz: 4.0703548 µV (√(4kTRB), Johnson and Nyquist 1928; half of it into a matched
    /// load is not meant here), 81.4071 Pa at 50 nV/Pa.
    #[test]
    fn worked_cases() {
        assert!((nep_pa((1e-3f64 / 50e-9).powi(2)) - 20e3).abs() < 1e-6);
        assert!((dynamic_range_db(20e6, 2e3) - 80.0).abs() < 1e-12);
        let volts = (4.0 * 1.380_649e-23 * 300.0 * 50.0 * 20e6f64).sqrt();
        assert!((volts - 4.070_354_8e-6).abs() < 1e-12);
        let nep = nep_pa((volts / 50e-9).powi(2));
        assert!((nep - 81.4071).abs() < 1e-3);
        assert!((nep_density(nep, 20e6) - 81.4071 / 20e6f64.sqrt()).abs() < 1e-7);
    }
}
