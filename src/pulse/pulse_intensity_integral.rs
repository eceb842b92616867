//! `pii`: pulse-intensity integral.

/// ppsi/(ρc), J/m².
///
/// # References
/// IEC 62127-1 (pulse-intensity integral; definition from memory): plane-wave relation p²/(ρc).
pub fn pii(ppsi_pa2_s: f64, impedance: f64) -> f64 {
    ppsi_pa2_s / impedance
}

#[cfg(test)]
mod tests {
    /// 5e6 Pa² s in ρc = 1.5 MRayl: 3.333333 J/m² = 0.3333 mJ/cm² (arithmetic of the definition).
    #[test]
    fn value() {
        assert!((super::pii(5e6, 1.5e6) - 10.0 / 3.0).abs() < 1e-12);
    }
}
