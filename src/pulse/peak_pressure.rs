//! `pc`, `pr`: peak compressional and peak rarefactional pressure.

use crate::dsp::extremum::Interpolator;

/// Peak compressional pressure: the largest p(t) in the window, Pa, with its instant in samples.
/// Band-limited between the samples. `None` for an empty window.
///
/// # References
/// IEC 62127-1 (peak-compressional acoustic pressure; definition from memory).
pub fn compressional<T: Copy + Into<f64>>(
    p: &[T],
    window: (usize, usize),
    between: &Interpolator,
) -> Option<(f64, f64)> {
    between.maximum(p, window.0, window.1, 1.0)
}

/// Peak rarefactional pressure: the largest −p(t) in the window, a positive number, Pa, with its
/// instant in samples.
///
/// # References
/// IEC 62127-1 (peak-rarefactional acoustic pressure; definition from memory).
pub fn rarefactional<T: Copy + Into<f64>>(
    p: &[T],
    window: (usize, usize),
    between: &Interpolator,
) -> Option<(f64, f64)> {
    between.maximum(p, window.0, window.1, -1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// cos θ + 0.5 cos 2θ: pc = 1.5, pr = 0.75 (exact).
    #[test]
    fn two_tones() {
        let between = Interpolator::new();
        let p: Vec<f64> = (0..900)
            .map(|i| {
                let th = f64::from(i) * 0.31 + 0.1;
                th.cos() + 0.5 * (2.0 * th).cos()
            })
            .collect();
        let (pc, _) = compressional(&p, (40, 860), &between).expect("some");
        let (pr, _) = rarefactional(&p, (40, 860), &between).expect("some");
        assert!((pc - 1.5).abs() < 1e-3 && (pr - 0.75).abs() < 1e-3, "{pc} {pr}");
    }
}
