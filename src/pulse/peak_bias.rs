//! Upward bias of the largest value of a noisy waveform, and how much of it is uncertain.

use crate::dsp::extremum::Interpolator;
use crate::dsp::statistics::mean;

/// Noise realisations.
const SHOTS: usize = 128;

/// What noise adds to a peak.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PeakBias {
    /// To be subtracted, Pa.
    pub bias_pa: f64,
    /// Standard uncertainty of that, Pa.
    pub u_pa: f64,
}

/// Bias of the largest `sign` · p(t) in a window, by simulation and extrapolation (Cook and Stefanski
/// 1994, simulation-extrapolation; method from memory).
///
/// Noise of the measured level and spectrum is added once more, at one and at three times its
/// variance; the peak then rises by d₁ and d₃ on average. With a bias that grows as the noise's
/// standard deviation to the power α, d₃/d₁ = 2^(α/2) + 1 and the bias at the measured level is
/// d₁/(2^(α/2) − 1). α is 2 for a lone smooth peak and falls to 1 where many equal peaks compete;
/// outside these it is set to the nearer one. Where many peaks compete, up to two fifths of the bias
/// are left (test below); the uncertainty is that of a rectangular distribution from nothing to twice
/// the correction.
///
/// `noise` fills a slice as long as `p` with another realisation, Pa. `None` for an empty window.
pub fn peak_bias(
    p: &[f64],
    window: (usize, usize),
    sign: f64,
    between: &Interpolator,
    mut noise: impl FnMut(&mut [f64]),
) -> Option<PeakBias> {
    let (measured, _) = between.maximum(p, window.0, window.1, sign)?;
    let mut shot = vec![0.0; p.len()];
    let mut sum = vec![0.0; p.len()];
    let (mut once, mut thrice) = (Vec::new(), Vec::new());
    for _ in 0..SHOTS {
        noise(&mut shot);
        for (factor, rises) in [(1.0, &mut once), (3f64.sqrt(), &mut thrice)] {
            for ((slot, p), n) in sum.iter_mut().zip(p).zip(&shot) {
                *slot = p + factor * n;
            }
            let (peak, _) = between.maximum(&sum, window.0, window.1, sign)?;
            rises.push(peak - measured);
        }
    }
    let (d1, d3) = (mean(&once)?.max(0.0), mean(&thrice)?.max(0.0));
    if d1 == 0.0 {
        return Some(PeakBias { bias_pa: 0.0, u_pa: 0.0 });
    }
    let growth = (d3 / d1 - 1.0).clamp(2f64.sqrt(), 2.0);
    let bias_pa = d1 / (growth - 1.0);
    Some(PeakBias { bias_pa, u_pa: bias_pa / 3f64.sqrt() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dsp::noise::Noise;

    /// A burst of 1 MHz with two harmonics, 20 samples a period, and noise limited to a quarter of
    /// the Nyquist frequency.
    fn clean() -> Vec<f64> {
        (0..600)
            .map(|i| {
                let t = (f64::from(i) - 300.0) / 20.0;
                let th = 2.0 * std::f64::consts::PI * t;
                (-(t / 6.0).powi(8)).exp() * (th.cos() + 0.3 * (2.0 * th).cos())
            })
            .collect()
    }

    fn limited(noise: &mut Noise, rms: f64, out: &mut [f64]) {
        // Mean of four neighbours, brought to the wanted rms.
        let white: Vec<f64> = (0..out.len() + 3).map(|_| noise.next()).collect();
        for (i, slot) in out.iter_mut().enumerate() {
            *slot = rms * white[i..i + 4].iter().sum::<f64>() / 2.0;
        }
    }

    /// The bias of single shots grows with the noise; what is left after the correction stays within
    /// its uncertainty and below two fifths of the bias.
    #[test]
    fn the_bias_grows_and_the_correction_holds() {
        let between = Interpolator::new();
        let p = clean();
        let window = (60, 540);
        let (truth, _) = between.maximum(&p, window.0, window.1, 1.0).expect("some");
        let mut before = 0.0;
        for rms in [0.005, 0.02, 0.05] {
            let mut source = Noise::new(7);
            let (mut raw, mut left, mut u) = (0.0, 0.0, 0.0);
            const TRIALS: usize = 60;
            for trial in 0..TRIALS {
                let mut n = vec![0.0; p.len()];
                limited(&mut source, rms, &mut n);
                let noisy: Vec<f64> = p.iter().zip(&n).map(|(p, n)| p + n).collect();
                let (peak, _) = between.maximum(&noisy, window.0, window.1, 1.0).expect("some");
                let mut other = Noise::new(1000 + trial as u64);
                let found = peak_bias(&noisy, window, 1.0, &between, |out| {
                    limited(&mut other, rms, out);
                })
                .expect("some");
                raw += (peak - truth) / TRIALS as f64;
                left += (peak - found.bias_pa - truth) / TRIALS as f64;
                u += found.u_pa / TRIALS as f64;
            }
            assert!(raw > 0.8 * rms, "{rms}: {raw}");
            assert!(raw > before);
            assert!(left.abs() < 0.4 * raw && left.abs() < u, "{rms}: {raw} {left} {u}");
            before = raw;
        }
    }

    #[test]
    fn without_noise_there_is_no_bias() {
        let p = clean();
        let found = peak_bias(&p, (60, 540), -1.0, &Interpolator::new(), |out| out.fill(0.0));
        assert_eq!(found, Some(PeakBias { bias_pa: 0.0, u_pa: 0.0 }));
    }
}
