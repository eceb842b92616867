//! What one waveform of a check source gives: amplitude at the fundamental, rms, positive peak.

use crate::dsp::energy::square_integral;
use crate::dsp::extremum::Interpolator;
use crate::dsp::tone::transform_at;

/// Features in the order fundamental, rms, peak.
pub const FEATURES: [&str; 3] = ["fundamental", "rms", "peak"];

/// How the waveforms of one scan are read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReadingSetup {
    /// Samples that hold the whole burst.
    pub window: (usize, usize),
    /// Samples before it, without the signal.
    pub quiet: (usize, usize),
    pub interval_s: f64,
    pub frequency_hz: f64,
    /// Duration over which rms and amplitude are taken, s: the same for both sensors.
    pub duration_s: f64,
    /// Bandwidth of the low-pass for white noise, Hz.
    pub noise_band_hz: f64,
}

/// The features of a waveform, in its unit, and what its noise makes of them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    pub value: [f64; 3],
    /// Relative standard uncertainty from noise.
    pub noise: [f64; 3],
}

/// Reads a waveform after the low-pass: amplitude 2/T |∫ v exp(−jωt) dt|, rms √(∫ v² dt / T) less the
/// noise energy, and the positive peak between the samples. `None` without signal.
///
/// White noise of the one-sided density S = σ²/B gives the standard uncertainties √(S W)/T for the
/// amplitude (W the window's length), √(S/2∫v²) for the rms, relative, and σ for the peak.
pub fn reading(wave: &[f64], setup: &ReadingSetup, between: &Interpolator) -> Option<Reading> {
    let ReadingSetup { window: (a, b), quiet, interval_s, frequency_hz, duration_s, .. } = *setup;
    let width_s = (b.checked_sub(a)?) as f64 * interval_s;
    let noise_square = square_integral(wave, quiet.0, quiet.1, 1.0)
        / (quiet.1.checked_sub(quiet.0)?).max(1) as f64;
    let density = noise_square / setup.noise_band_hz;
    let tone = transform_at(wave, a, b, interval_s, frequency_hz).norm() * interval_s;
    let amplitude = 2.0 * tone / duration_s;
    let energy = square_integral(wave, a, b, interval_s) - noise_square * width_s;
    let (peak, _) = between.maximum(wave, a, b, 1.0)?;
    if amplitude <= 0.0 || energy <= 0.0 || peak <= 0.0 {
        return None;
    }
    Some(Reading {
        value: [amplitude, (energy / duration_s).sqrt(), peak],
        noise: [
            (density * width_s).sqrt() / duration_s / amplitude,
            (density / (2.0 * energy)).sqrt(),
            noise_square.sqrt() / peak,
        ],
    })
}

/// Readings of one sensor at one level, taken together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Together {
    pub level: Option<f64>,
    pub count: usize,
    pub mean: [f64; 3],
    /// Relative standard uncertainty of the mean from noise.
    pub noise: [f64; 3],
    /// The same from the rest of the scatter; `None` for a single reading.
    pub scatter: Option<[f64; 3]>,
}

impl Together {
    /// From the readings of repeats; `None` without any.
    pub fn new(level: Option<f64>, readings: &[Reading]) -> Option<Self> {
        let count = readings.len();
        if count == 0 {
            return None;
        }
        let n = count as f64;
        let each = |f: &dyn Fn(usize) -> f64| [f(0), f(1), f(2)];
        let mean = each(&|k| readings.iter().map(|r| r.value[k]).sum::<f64>() / n);
        let noise = each(&|k| {
            (readings.iter().map(|r| (r.noise[k] * r.value[k] / mean[k]).powi(2)).sum::<f64>()
                / n
                / n)
                .sqrt()
        });
        let scatter = (count > 1).then(|| {
            each(&|k| {
                let square = |r: &Reading| (r.value[k] / mean[k] - 1.0).powi(2);
                let variance = readings.iter().map(square).sum::<f64>() / (n - 1.0);
                (variance / n - noise[k] * noise[k]).max(0.0).sqrt()
            })
        });
        Some(Self { level, count, mean, noise, scatter })
    }

    /// The same with the peak of the averaged waveform: noise raises it less than the peaks of the
    /// single ones.
    #[must_use]
    pub fn with_peak(mut self, peak: f64) -> Self {
        self.mean[2] = peak;
        self
    }

    /// Root mean square of the noise of a single waveform, in its unit.
    pub fn noise_rms(&self) -> f64 {
        self.noise[2] * self.mean[2] * (self.count as f64).sqrt()
    }

    /// Relative standard uncertainty from noise and scatter together.
    pub fn u(&self, feature: usize) -> f64 {
        self.noise[feature].hypot(self.scatter.map_or(0.0, |scatter| scatter[feature]))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dsp::noise::Noise;
    use std::f64::consts::PI;

    const DT: f64 = 1e-8;

    fn burst(amplitude: f64, sigma: f64, noise: &mut Noise) -> Vec<f64> {
        (0..2400)
            .map(|i| {
                let t = f64::from(i - 800) * DT;
                let inside = (0..1000).contains(&(i - 800));
                let tone = if inside { amplitude * (2.0 * PI * 1e6 * t).sin() } else { 0.0 };
                tone + sigma * noise.next()
            })
            .collect()
    }

    fn setup() -> ReadingSetup {
        ReadingSetup {
            window: (700, 1900),
            quiet: (0, 600),
            interval_s: DT,
            frequency_hz: 1e6,
            duration_s: 1e-5,
            noise_band_hz: 0.5 / DT,
        }
    }

    /// Ten cycles of a sine of amplitude 2: amplitude 2, rms √2, peak 2 (definitions).
    #[test]
    fn features_of_a_sine() {
        let wave = burst(2.0, 0.0, &mut Noise::new(1));
        let found = reading(&wave, &setup(), &Interpolator::new()).expect("a signal");
        assert!((found.value[0] - 2.0).abs() < 1e-9);
        assert!((found.value[1] - 2f64.sqrt()).abs() < 1e-9);
        assert!((found.value[2] - 2.0).abs() < 2e-3);
        assert!(reading(&[0.0; 2400], &setup(), &Interpolator::new()).is_none());
    }

    /// The uncertainties that noise is said to give are the scatter of 300 simulated shots, within
    /// 12 % (three standard deviations of a standard deviation from 300).
    #[test]
    fn noise_scatters_as_stated() {
        let mut noise = Noise::new(11);
        let between = Interpolator::new();
        let shots: Vec<Reading> = (0..300)
            .map(|_| reading(&burst(1.0, 0.05, &mut noise), &setup(), &between).expect("signal"))
            .collect();
        for k in 0..2 {
            let mean = shots.iter().map(|r| r.value[k]).sum::<f64>() / 300.0;
            let sd = (shots.iter().map(|r| (r.value[k] / mean - 1.0).powi(2)).sum::<f64>() / 299.0)
                .sqrt();
            assert!((shots[0].noise[k] / sd - 1.0).abs() < 0.12, "{k}: {} {sd}", shots[0].noise[k]);
        }
        let together = Together::new(None, &shots).expect("some");
        assert_eq!(together.count, 300);
        // What scatters is the noise; nothing much is left over.
        assert!(together.scatter.expect("several")[0] < 0.5 * together.noise[0]);
    }

    /// Scatter beyond the noise is kept apart: ± 1 % about the mean in turn has s = 1 %·√(n/(n−1)).
    #[test]
    fn scatter_beyond_the_noise() {
        let shots: Vec<Reading> = (0..10)
            .map(|i| {
                let v = if i % 2 == 0 { 1.01 } else { 0.99 };
                Reading { value: [v; 3], noise: [1e-4; 3] }
            })
            .collect();
        let together = Together::new(Some(3.0), &shots).expect("some");
        let expected = (1e-4 / 9.0 - 1e-9f64).sqrt();
        assert!((together.scatter.expect("several")[1] - expected).abs() < 1e-6);
        assert!((together.u(1) - (1e-4f64 / 9.0).sqrt()).abs() < 1e-7);
    }
}
