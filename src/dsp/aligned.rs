//! Mean of waveforms that do not start at quite the same instant.

use rustfft::FftPlanner;
use rustfft::num_complex::Complex;

use super::filter::fast_length;

/// Mean of waveforms, each first moved to an earlier instant by its own `delays` samples (fractions
/// too) by a phase that falls linearly with frequency, padded with zeros against wrap-around.
///
/// # Shape
/// `waveforms` all of one length; `delays` as many as there are. Empty without waveforms.
pub fn aligned_mean(waveforms: &[Vec<f64>], delays: &[f64]) -> Vec<f64> {
    let Some(length) = waveforms.first().map(Vec::len) else { return Vec::new() };
    let n = fast_length(2 * length);
    let mut planner = FftPlanner::new();
    let (forward, inverse) = (planner.plan_fft_forward(n), planner.plan_fft_inverse(n));
    let mut sum = vec![Complex::new(0.0, 0.0); n];
    for (wave, delay) in waveforms.iter().zip(delays) {
        let mut work: Vec<Complex<f64>> =
            (0..n).map(|i| Complex::new(wave.get(i).copied().unwrap_or(0.0), 0.0)).collect();
        forward.process(&mut work);
        for (k, value) in work.iter().enumerate() {
            let bin = if k <= n / 2 { k as f64 } else { k as f64 - n as f64 };
            let turn = 2.0 * std::f64::consts::PI * bin * delay / n as f64;
            // The bin at the Nyquist frequency belongs to both signs: it must stay real.
            let phasor =
                if 2 * k == n { Complex::new(turn.cos(), 0.0) } else { Complex::cis(turn) };
            sum[k] += value * phasor;
        }
    }
    inverse.process(&mut sum);
    let scale = 1.0 / (n as f64 * waveforms.len() as f64);
    sum.iter().take(length).map(|c| c.re * scale).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pulse(at: f64) -> Vec<f64> {
        (0..400)
            .map(|i| {
                let t = (f64::from(i) - 200.0 - at) / 20.0;
                (-t * t).exp() * (1.7 * t * std::f64::consts::PI).cos()
            })
            .collect()
    }

    /// A band-limited pulse moved by 0, 1.37 and −12.5 samples comes back to itself.
    #[test]
    fn delays_are_undone() {
        let delays = [0.0, 1.37, -12.5];
        let waves: Vec<Vec<f64>> = delays.iter().map(|d| pulse(*d)).collect();
        for (a, b) in aligned_mean(&waves, &delays).iter().zip(pulse(0.0)) {
            assert!((a - b).abs() < 1e-9);
        }
        assert!(aligned_mean(&[], &[]).is_empty());
    }
}
