//! Signs of bubbles in the spectrum of one trace: noise between the harmonics, and lines at odd halves of
//! the drive frequency.

use crate::base::bubbles::ShotSigns;
use crate::dsp::power_density::PowerDensity;
use crate::dsp::statistics::median;

/// Fewest cycles of the drive in a trace: between a harmonic and the line half-way to the next there are
/// then five bins to the middle, of which the window's main lobe takes four on either side.
pub const FEWEST_CYCLES: f64 = 20.0;
/// Bands of noise are looked at from the fundamental to this many harmonics.
const HARMONICS: usize = 10;
/// Half width of a band of noise re the drive frequency.
const HALF_BAND: f64 = 0.125;
/// Lines at ½, 3/2 … of the drive frequency that are looked at.
const LINES: usize = 4;
/// Bins on either side of a line.
const LINE_BINS: f64 = 2.0;
/// Fewest bins of noise and of lines: with fewer, noise alone would be marked in more than 1 % of the shots
/// at 6 dB.
const FEWEST_BINS: (usize, usize) = (8, 12);
/// Ratios are told within this many decibels.
const LARGEST_DB: f64 = 200.0;

/// Mean densities of one trace, squared unit of the trace per Hz.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Signature {
    /// Over bands of ± f/8 about (n + ¼)f and (n + ¾)f, n = 1 … 10.
    pub noise: f64,
    /// Over ± 2 bins about f/2, 3f/2, 5f/2, 7f/2.
    pub lines: f64,
}

impl Signature {
    /// Median of several, each part by itself; `None` of nothing.
    pub fn median(all: &[Self]) -> Option<Self> {
        let of = |part: fn(&Self) -> f64| median(&all.iter().map(part).collect::<Vec<_>>());
        Some(Self { noise: of(|s| s.noise)?, lines: of(|s| s.lines)? })
    }

    /// Both parts over those of a baseline, 10 lg of the ratio, dB; marked where one reaches the threshold.
    pub fn over(&self, baseline: &Self, threshold_db: f64) -> ShotSigns {
        let noise_db = decibels(self.noise, baseline.noise);
        let lines_db = decibels(self.lines, baseline.lines);
        ShotSigns { noise_db, lines_db, marked: noise_db.max(lines_db) >= threshold_db }
    }
}

/// 10 lg(a/b), dB, within ± 200; 0 where both are nothing.
fn decibels(a: f64, b: f64) -> f64 {
    if a == b {
        return 0.0;
    }
    (10.0 * (a / b).log10()).clamp(-LARGEST_DB, LARGEST_DB)
}

/// Reads signatures of traces of one length.
pub struct SignatureReader {
    spectrum: PowerDensity,
    noise: Vec<usize>,
    lines: Vec<usize>,
    band_hz: (f64, f64),
}

impl SignatureReader {
    /// For traces of so many samples, up to a highest frequency. `None` where they hold fewer than
    /// [`FEWEST_CYCLES`], or the highest frequency leaves less than about 2.9 times that of the drive.
    pub fn new(
        samples: usize,
        interval_s: f64,
        frequency_hz: f64,
        highest_hz: f64,
    ) -> Option<Self> {
        let f = frequency_hz;
        // A sample more or less is no cycle.
        if (samples as f64 + 1.0) * interval_s * f < FEWEST_CYCLES {
            return None;
        }
        let spectrum = PowerDensity::new(samples, interval_s);
        let step = spectrum.step_hz();
        let highest = highest_hz.min(0.5 / interval_s);
        let quarters = (1..=HARMONICS).flat_map(|n| [n as f64 + 0.25, n as f64 + 0.75]);
        let held = quarters.filter(|q| (q + HALF_BAND) * f <= highest);
        let half = (HALF_BAND * f).min(0.25 * f - PowerDensity::LOBE_BINS * step);
        let bins = |middle: f64, half: f64| {
            let first = ((middle - half) / step).ceil().max(1.0) as usize;
            let last = ((middle + half) / step).floor().max(0.0) as usize;
            first..=last
        };
        let noise: Vec<usize> = held.flat_map(|q| bins(q * f, half)).collect();
        let lines: Vec<usize> = (0..LINES)
            .map(|n| (n as f64 + 0.5) * f)
            .filter(|line| line + LINE_BINS * step <= highest)
            .flat_map(|line| bins(line, LINE_BINS * step))
            .collect();
        let lowest = *lines.first()?;
        let highest = *noise.iter().chain(&lines).max()?;
        let band_hz = (lowest as f64 * step, highest as f64 * step);
        let enough = noise.len() >= FEWEST_BINS.0 && lines.len() >= FEWEST_BINS.1;
        enough.then_some(Self { spectrum, noise, lines, band_hz })
    }

    /// Lowest and highest frequency looked at, Hz.
    pub fn band_hz(&self) -> (f64, f64) {
        self.band_hz
    }

    /// Mean densities of a trace of the reader's length.
    pub fn read(&mut self, trace: &[f64]) -> Signature {
        let density = self.spectrum.density(trace);
        let mean = |bins: &[usize]| {
            let sum: f64 = bins.iter().filter_map(|k| density.get(*k)).sum();
            sum / bins.len().max(1) as f64
        };
        Signature { noise: mean(&self.noise), lines: mean(&self.lines) }
    }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;
    use crate::dsp::noise::Noise;

    const F: f64 = 1.05e6;
    const DT: f64 = 2e-8;
    /// 42 cycles.
    const SAMPLES: usize = 2000;
    const SIGMA: f64 = 1e-3;

    fn reader() -> SignatureReader {
        SignatureReader::new(SAMPLES, DT, F, 20e6).expect("long enough")
    }

    fn shot(noise: &mut Noise, sigma: f64, wave: impl Fn(f64) -> f64) -> Vec<f64> {
        (0..SAMPLES).map(|i| wave(i as f64 * DT) + sigma * noise.next()).collect()
    }

    fn many(count: usize, seed: u64, sigma: f64, wave: impl Fn(f64) -> f64) -> Vec<Signature> {
        let (mut noise, mut reader) = (Noise::new(seed), reader());
        (0..count).map(|_| reader.read(&shot(&mut noise, sigma, &wave))).collect()
    }

    /// A steepened wave: sines of amplitude 1/n, twenty of them.
    fn steepened(t: f64) -> f64 {
        (1..=20).map(|n| (2.0 * PI * f64::from(n) * F * t + 0.3).sin() / f64::from(n)).sum()
    }

    /// Independent white noise adds its density (definition): 10 lg(1 + r) over the baseline, in the noise
    /// and in the lines alike. The mean of 200 shots is held within 0.2 dB, and each shot within five times
    /// the scatter of a mean over m independent bins, 10/ln 10/√m dB; m is the number of bins over
    /// n Σw⁴/(Σw²)² = 2.763, by which neighbouring bins of the window hang together (numpy).
    #[test]
    fn noise_of_known_density() {
        let baseline = Signature::median(&many(200, 1, SIGMA, |_| 0.0)).expect("some");
        let bins = reader().noise.len() as f64;
        for ratio in [1.0f64, 3.0, 20.0] {
            let sigma = SIGMA * (1.0 + ratio).sqrt();
            let expected = 10.0 * (1.0 + ratio).log10();
            let found: Vec<ShotSigns> =
                many(200, 2, sigma, |_| 0.0).iter().map(|shot| shot.over(&baseline, 6.0)).collect();
            let mean = found.iter().map(|s| s.noise_db).sum::<f64>() / 200.0;
            assert!((mean - expected).abs() < 0.2, "{mean} {expected}");
            let scatter = 10.0 / 10f64.ln() / (bins / 2.763).sqrt();
            assert!(found.iter().all(|s| (s.noise_db - expected).abs() < 5.0 * scatter));
        }
    }

    /// A line at f/2 of amplitude a, well over the noise: its density at a distance of
    /// b bins is a²/2 |W(b)|²/(Σw² fs), W the transform of the window (definition); the mean over the bins
    /// about all lines, with the noise's own.
    #[test]
    fn a_subharmonic_of_known_amplitude() {
        let baseline = Signature::median(&many(400, 3, SIGMA, |_| 0.0)).expect("some");
        let amplitude = 5e-4;
        let found = many(100, 4, SIGMA, |t| amplitude * (PI * F * t + 1.0).sin());
        let terms = [0.35875, 0.48829, 0.14128, 0.01168];
        let window: Vec<f64> = (0..SAMPLES)
            .map(|i| {
                let th = 2.0 * PI * i as f64 / SAMPLES as f64;
                (0..4)
                    .map(|k| (-1f64).powi(k) * terms[k as usize] * (f64::from(k) * th).cos())
                    .sum()
            })
            .collect();
        let squares: f64 = window.iter().map(|w| w * w).sum();
        let step = 1.0 / (SAMPLES as f64 * DT);
        let line = |bin: usize| {
            let b = bin as f64 - 0.5 * F / step;
            let sum = |part: fn(f64) -> f64| -> f64 {
                let turn = 2.0 * PI * b / SAMPLES as f64;
                window.iter().enumerate().map(|(i, w)| w * part(turn * i as f64)).sum()
            };
            0.5 * amplitude * amplitude * (sum(f64::cos).powi(2) + sum(f64::sin).powi(2)) / squares
                * DT
        };
        let reader = reader();
        let about: Vec<usize> =
            reader.lines.iter().copied().filter(|k| (*k as f64 * step) < F).collect();
        assert!(about.len() >= 4 && reader.lines.len() >= 4 * about.len());
        let tone: f64 = about.iter().map(|k| line(*k)).sum::<f64>() / reader.lines.len() as f64;
        let expected = 10.0 * (1.0 + tone / (2.0 * SIGMA * SIGMA * DT)).log10();
        let signs: Vec<ShotSigns> = found.iter().map(|s| s.over(&baseline, 6.0)).collect();
        let mean = signs.iter().map(|s| s.lines_db).sum::<f64>() / 100.0;
        assert!(expected > 8.0 && (mean - expected).abs() < 0.3, "{mean} {expected}");
        assert!(signs.iter().filter(|s| s.marked).count() > 90);
        assert!(signs.iter().all(|s| s.noise_db < 3.0));
    }

    /// Noise alone: fewer than 1 % of the shots are marked at 6 dB, also of the shortest burst with the
    /// lowest bands alone against a baseline of five shots.
    #[test]
    fn false_alarms() {
        let baseline = Signature::median(&many(5, 5, SIGMA, |_| 0.0)).expect("some");
        let marked =
            many(2000, 6, SIGMA, |_| 0.0).iter().filter(|s| s.over(&baseline, 6.0).marked).count();
        assert!(marked < 10, "{marked} of 2000");
        let mut noise = Noise::new(7);
        let samples = (FEWEST_CYCLES / F / DT).round() as usize;
        let mut short = SignatureReader::new(samples, DT, F, 3.0 * F).expect("long enough");
        let mut read = || {
            let trace: Vec<f64> = (0..samples).map(|_| noise.next()).collect();
            short.read(&trace)
        };
        let mut marked = 0;
        for _ in 0..200 {
            let baseline: Vec<Signature> = (0..5).map(|_| read()).collect();
            let baseline = Signature::median(&baseline).expect("some");
            marked += (0..20).filter(|_| read().over(&baseline, 6.0).marked).count();
        }
        assert!(marked < 40, "{marked} of 4000");
    }

    /// Harmonics alone are no sign: the fundamental of a steepened wave 60 dB over the noise's rms changes
    /// nothing at the bands between.
    #[test]
    fn harmonics_are_not_marked() {
        let baseline = Signature::median(&many(40, 8, SIGMA, |_| 0.0)).expect("some");
        for shot in many(300, 9, SIGMA, steepened) {
            let signs = shot.over(&baseline, 6.0);
            assert!(!signs.marked && signs.noise_db < 2.5 && signs.lines_db < 5.5, "{signs:?}");
        }
    }

    #[test]
    fn too_short_or_too_slow() {
        assert!(SignatureReader::new(700, DT, F, 20e6).is_none());
        assert!(SignatureReader::new(SAMPLES, DT, F, 2.0 * F).is_none());
        let (low, high) = reader().band_hz();
        assert!(low < 0.5 * F && low > 0.4 * F && high <= 10.875 * F && high > 10.8 * F);
        let flat = Signature { noise: 0.0, lines: 0.0 };
        assert!(!flat.over(&flat, 6.0).marked);
        assert_eq!(Signature { noise: 1.0, ..flat }.over(&flat, 6.0).noise_db, LARGEST_DB);
    }
}
