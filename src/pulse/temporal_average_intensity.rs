//! `ispta`: spatial-peak temporal-average intensity.

/// From a whole pulse: pii × repetition rate, W/m².
///
/// # References
/// IEC 62127-1 (single beam; definition from memory).
pub fn from_pulses(pii_j_per_m2: f64, repetition_hz: f64) -> f64 {
    pii_j_per_m2 * repetition_hz
}

/// From the steady part of a long burst: i_on × burst × repetition rate, W/m²; a continuous wave has
/// the duty factor 1.
pub fn from_duty(i_on_w_per_m2: f64, duty: f64) -> f64 {
    i_on_w_per_m2 * duty
}

#[cfg(test)]
mod tests {
    /// 3.3333 J/m² at 1 kHz: 333.333 mW/cm².
    #[test]
    fn value() {
        assert!((super::from_pulses(10.0 / 3.0, 1e3) - 3_333.333_333).abs() < 1e-5);
        assert!((super::from_duty(2.0, 0.25) - 0.5).abs() < 1e-15);
    }
}
