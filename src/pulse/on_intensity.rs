//! `i_on`: intensity while the burst is on.

/// Mean of p²/(ρc) over whole steady cycles, W/m².
///
/// # References
/// Plane-wave relation as in IEC 62127-1; the steady window is this project's rule (docs/windows.md).
pub fn i_on(mean_square_pa2: f64, impedance: f64) -> f64 {
    mean_square_pa2 / impedance
}

#[cfg(test)]
mod tests {
    /// A sine of 1 MPa: 33.3333 W/cm² in 1.5 MRayl (I = p²/(2ρc)).
    #[test]
    fn one_megapascal() {
        assert!((super::i_on(0.5e12, 1.5e6) - 333_333.333_333).abs() < 1e-3);
    }
}
