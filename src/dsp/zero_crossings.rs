//! Times of zero crossings.

/// Positions, in samples, at which the waveform changes sign between `start` and `stop`: between
/// neighbours by linear interpolation; where samples of zero lie between, their middle. A waveform
/// that touches zero and turns back does not cross it.
pub fn zero_crossings(waveform: &[f64], start: usize, stop: usize) -> Vec<f64> {
    let stop = stop.min(waveform.len());
    let mut out = Vec::new();
    let mut last: Option<(usize, f64)> = None;
    for (i, b) in waveform.iter().copied().enumerate().take(stop).skip(start) {
        if b == 0.0 {
            continue;
        }
        if let Some((at, a)) = last.filter(|(_, a)| (*a < 0.0) != (b < 0.0)) {
            let between = (i - at) as f64;
            out.push(at as f64 + if i == at + 1 { a / (a - b) } else { 0.5 * between });
        }
        last = Some((i, b));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sine_crosses_every_half_period() {
        let w: Vec<f64> = (0..100).map(|i| (f64::from(i) * 0.2 - 0.1).sin()).collect();
        let z = zero_crossings(&w, 0, 100);
        for pair in z.windows(2) {
            assert!((pair[1] - pair[0] - std::f64::consts::PI / 0.2).abs() < 0.02);
        }
        assert!(z.len() >= 6);
    }

    /// By definition: a change of sign.
    #[test]
    fn samples_of_zero() {
        let w = [0.0, 2.0, 0.0, 1.0, 0.0, -1.0, 0.0, 0.0, 3.0, -1.0, -0.0, 0.0];
        assert_eq!(zero_crossings(&w, 0, 12), [4.0, 6.5, 8.75]);
        assert_eq!(zero_crossings(&w, 4, 6), [0.0; 0]);
        assert_eq!(zero_crossings(&w, 9, 3), [0.0; 0]);
    }
}
