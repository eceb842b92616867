//! `mi`: the mechanical index.

const PA_PER_MPA: f64 = 1e6;
const HZ_PER_MHZ: f64 = 1e6;

/// MI = p_r,α/(f_awf^½ C_MI) with C_MI = 1 MPa MHz^−½: the derated rarefactional pressure where the derated
/// pulse-intensity integral is largest, over the root of the working frequency.
///
/// # Units
/// Pa and Hz in, a pure number out.
///
/// # Examples
/// 1.787 MPa at 3 MHz: 1.03.
///
/// # References
/// IEC 62359, mechanical index.
pub fn mechanical_index(pr_derated_pa: f64, frequency_hz: f64) -> f64 {
    pr_derated_pa / PA_PER_MPA / (frequency_hz / HZ_PER_MHZ).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::safety::derating::pressure_factor;

    /// 3 MPa in water at 3 MHz and 5 cm: 1.786 986 430 587 03 MPa derated, MI = 1.031 717 096 737 63 (IEC
    /// 62359 and FDA form, by mpmath).
    #[test]
    fn a_worked_case() {
        let pr = 3e6 * pressure_factor(3e6, 0.05);
        assert!((pr - 1.786_986_430_587_03e6).abs() < 1e-6);
        assert!((mechanical_index(pr, 3e6) - 1.031_717_096_737_63).abs() < 1e-12);
    }
}
