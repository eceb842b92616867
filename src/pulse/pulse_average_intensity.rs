//! `isppa`: spatial-peak pulse-average intensity.

/// pii at the spatial peak over the pulse duration, W/m².
///
/// # References
/// IEC 62127-1 and AIUM/NEMA UD 2 (definition from memory): I_sppa = PII/PD.
pub fn isppa(pii_j_per_m2: f64, pulse_duration_s: f64) -> f64 {
    pii_j_per_m2 / pulse_duration_s
}

#[cfg(test)]
mod tests {
    /// 3.3333 J/m² in 10 µs: 33.3333 W/cm².
    #[test]
    fn value() {
        assert!((super::isppa(10.0 / 3.0, 1e-5) - 333_333.333_333).abs() < 1e-3);
    }
}
