//! Derating: values measured in water, less a fixed attenuation up to their depth.

/// Attenuation by which values are derated, dB cm⁻¹ MHz⁻¹.
///
/// # References
/// IEC 62359; AIUM/NEMA UD 2 (value from memory).
pub const DB_PER_CM_MHZ: f64 = 0.3;

const CM_PER_M: f64 = 1e2;
const MHZ_PER_HZ: f64 = 1e-6;

/// Loss in dB at a frequency over a depth: 0.3 f z, f in MHz, z in cm.
///
/// # Units
/// Hz and m in, dB out.
///
/// # Examples
/// 3 MHz over 50 mm: 4.5 dB.
pub fn loss_db(frequency_hz: f64, depth_m: f64) -> f64 {
    DB_PER_CM_MHZ * frequency_hz * MHZ_PER_HZ * depth_m * CM_PER_M
}

/// Factor of a pressure: 10^(−loss/20).
pub fn pressure_factor(frequency_hz: f64, depth_m: f64) -> f64 {
    10f64.powf(-loss_db(frequency_hz, depth_m) / 20.0)
}

/// Factor of an intensity, a power or ∫p²: 10^(−loss/10). The exponential often printed, exp(−0.23 · 0.3 f z),
/// has its 0.23 rounded from 0.1 ln 10 = 0.230 26 and stands 0.1 % above it at 4.5 dB.
pub fn intensity_factor(frequency_hz: f64, depth_m: f64) -> f64 {
    10f64.powf(-loss_db(frequency_hz, depth_m) / 10.0)
}

/// Relative change of a derated pressure with the depth to which it is derated, 1/m: −0.3 f ln(10)/20.
pub fn pressure_slope_per_m(frequency_hz: f64) -> f64 {
    -loss_db(frequency_hz, 1.0) * std::f64::consts::LN_10 / 20.0
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 0.3 dB cm⁻¹ MHz⁻¹ (AIUM/NEMA UD 2), 3 MHz, 5 cm: 4.5 dB, factors 0.595 662 143 529 01 and
    /// 0.354 813 389 233 575 (definition of the decibel, by mpmath); the rounded exponential gives
    /// 0.355 226 380 924 952, which this is not.
    #[test]
    fn a_worked_case() {
        assert!((loss_db(3e6, 0.05) - 4.5).abs() < 1e-12);
        assert!((pressure_factor(3e6, 0.05) - 0.595_662_143_529_01).abs() < 1e-13);
        assert!((intensity_factor(3e6, 0.05) - 0.354_813_389_233_575).abs() < 1e-13);
        let rounded = (-0.23f64 * 0.3 * 3.0 * 5.0).exp();
        assert!((rounded - 0.355_226_380_924_952).abs() < 1e-13);
        assert!((rounded / intensity_factor(3e6, 0.05) - 1.0 - 1.164e-3).abs() < 1e-6);
    }

    /// The slope is the derivative of the factor's logarithm.
    #[test]
    fn slope() {
        let step = 1e-6;
        let ratio = pressure_factor(2e6, 0.04 + step) / pressure_factor(2e6, 0.04);
        assert!((ratio.ln() / step / pressure_slope_per_m(2e6) - 1.0).abs() < 1e-6);
    }
}
