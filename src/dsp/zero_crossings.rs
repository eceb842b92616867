//! Times of zero crossings.

/// Positions, in samples, at which the waveform changes sign between `start` and `stop`, by linear
/// interpolation.
pub fn zero_crossings(waveform: &[f64], start: usize, stop: usize) -> Vec<f64> {
    let stop = stop.min(waveform.len());
    let mut out = Vec::new();
    for i in start + 1..stop {
        let (a, b) = (waveform[i - 1], waveform[i]);
        if (a < 0.0 && b >= 0.0) || (a > 0.0 && b <= 0.0) {
            out.push((i - 1) as f64 + a / (a - b));
        }
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
}
