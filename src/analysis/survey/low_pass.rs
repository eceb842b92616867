//! The low-pass that the record states, or the one that follows the noise.

use super::super::prepare::PreparedScan;
use super::loudest::{Sampled, SampledPoint};
use super::shift_samples;
use crate::base::finding::{Arg, Finding, Severity};
use crate::calibration::LowPassShape;
use crate::dsp::filter::{fast_length, spectrum};
use crate::record::{LowPass, LowPassKind, Record};

/// Highest fraction of the Nyquist frequency that an automatic low-pass reaches.
const OF_NYQUIST: f64 = 0.72;
/// Energy in a harmonic's band, re noise, from which the band carries signal.
const SIGNAL_ENERGY: f64 = 2.0;
/// Reach of the signal re a stated cut-off from which the low-pass is said to cut it.
const SHORT_OF_SIGNAL: f64 = 1.1;
/// Harmonics passed when there is no noise to follow.
const WITHOUT_NOISE: f64 = 10.5;

pub struct Inputs<'a> {
    pub record: &'a Record,
    pub part: &'a PreparedScan,
    pub sampled: &'a Sampled,
    pub frequency_hz: Option<f64>,
    pub pulse: (usize, usize),
    pub noise: Option<(usize, usize)>,
    pub reference: &'a SampledPoint,
    pub speed: f64,
}

/// A low-pass with how it came about.
pub struct Chosen {
    pub shape: LowPassShape,
    /// `record`, `noise`, `default`.
    pub from: &'static str,
    /// Upper end of the highest band in which the signal exceeds the noise, Hz.
    pub signal_hz: Option<f64>,
    /// Whether that is as far as the sampling rate lets see.
    pub at_sampling_limit: bool,
}

impl Chosen {
    /// What is to be said of the band.
    pub fn findings(&self) -> Vec<Finding> {
        let mut out = Vec::new();
        if self.from == "default" {
            out.push(Finding::new(Severity::Caution, "low-pass-without-noise"));
        }
        if self.at_sampling_limit {
            out.push(
                Finding::new(Severity::Caution, "band-small")
                    .with("found", Arg::measure(self.signal_hz.unwrap_or(0.0), "Hz")),
            );
        }
        if let (Some(signal), "record") = (self.signal_hz, self.from)
            && signal > SHORT_OF_SIGNAL * self.shape.cutoff_hz
        {
            out.push(
                Finding::new(Severity::Caution, "low-pass-cuts-signal")
                    .with("cutoff", Arg::measure(self.shape.cutoff_hz, "Hz"))
                    .with("signal", Arg::measure(signal, "Hz")),
            );
        }
        out
    }
}

/// The low-pass and where it comes from (`record`, `noise`, `default`).
///
/// Following the noise: the signal's energy at the loudest points, in bands of one fundamental about
/// each harmonic, against the noise's in the part before the arrival. The last band in which the
/// signal is at least as strong as the noise is passed whole; a band above a weaker one is not.
pub fn choose(inputs: &Inputs<'_>) -> Chosen {
    let nyquist = 0.5 / inputs.part.scan.interval_s;
    let highest = OF_NYQUIST * nyquist;
    let last = |ceiling: f64| -> Option<(f64, usize)> {
        let f = inputs.frequency_hz?;
        Some((f, last_harmonic(inputs, f, inputs.noise?, ceiling)?))
    };
    if let LowPass::Filter(filter) = &inputs.record.analysis.lowpass {
        let shape =
            LowPassShape { kind: filter.kind, order: filter.poles(), cutoff_hz: filter.cutoff_hz };
        let signal_hz = last(highest).map(|(f, n)| (n as f64 + 0.5) * f);
        return Chosen { shape, from: "record", signal_hz, at_sampling_limit: false };
    }
    let table_end =
        inputs.part.response.as_table().map_or(f64::INFINITY, |table| table.band_hz().1);
    let ceiling = highest.min(table_end);
    let cosine = |cutoff_hz: f64| LowPassShape {
        kind: LowPassKind::Cosine,
        order: 1,
        cutoff_hz: cutoff_hz.min(ceiling),
    };
    let by_default = |cutoff_hz: f64| Chosen {
        shape: cosine(cutoff_hz),
        from: "default",
        signal_hz: None,
        at_sampling_limit: false,
    };
    let Some(f) = inputs.frequency_hz else { return by_default(ceiling) };
    let Some((f, last)) = last(ceiling) else { return by_default(WITHOUT_NOISE * f) };
    let edge = (last as f64 + 0.5) * f;
    Chosen {
        shape: cosine(edge),
        from: "noise",
        signal_hz: Some(edge),
        // One more band would not fit below the sampling's limit, and the table reaches further.
        at_sampling_limit: edge + f > highest && table_end > highest,
    }
}

fn last_harmonic(
    inputs: &Inputs<'_>,
    f: f64,
    noise: (usize, usize),
    ceiling: f64,
) -> Option<usize> {
    let interval = inputs.part.scan.interval_s;
    let bands = ((ceiling / f - 0.5).floor().max(1.0) as usize).min(200);
    let mut signal = vec![0.0; bands + 1];
    let few = inputs.sampled.loudest_few();
    for p in &few {
        let shift = shift_samples(&inputs.part.scan, inputs.reference.point, p.point, inputs.speed);
        let moved =
            |i: usize| usize::try_from((i as i64 + shift).max(0)).unwrap_or(0).min(p.volts.len());
        add_bands(
            &p.volts,
            (moved(inputs.pulse.0), moved(inputs.pulse.1)),
            f,
            interval,
            1.0 / few.len() as f64,
            &mut signal,
        );
    }
    let mut quiet = vec![0.0; bands + 1];
    let mut count = 0.0;
    for p in &inputs.sampled.points {
        let shift = shift_samples(&inputs.part.scan, inputs.reference.point, p.point, inputs.speed);
        let (a, b) = (noise.0 as i64 + shift, noise.1 as i64 + shift);
        if a >= 0 && b <= p.volts.len() as i64 {
            add_bands(&p.volts, (a as usize, b as usize), f, interval, 1.0, &mut quiet);
            count += 1.0;
        }
    }
    if count == 0.0 {
        return None;
    }
    (1..=bands).take_while(|n| signal[*n] >= SIGNAL_ENERGY * quiet[*n] / count).last()
}

/// Adds, per sample of the range, the energy in the bands of one fundamental about each harmonic.
fn add_bands(
    volts: &[f64],
    range: (usize, usize),
    f: f64,
    interval: f64,
    weight: f64,
    bands: &mut [f64],
) {
    let part = &volts[range.0.min(range.1)..range.1];
    if part.len() < 4 {
        return;
    }
    let mean = part.iter().sum::<f64>() / part.len() as f64;
    // A Hann window keeps the fundamental out of the bands of high harmonics.
    let windowed: Vec<f64> = part
        .iter()
        .enumerate()
        .map(|(i, v)| {
            let w = 0.5
                - 0.5 * (2.0 * std::f64::consts::PI * (i as f64 + 0.5) / part.len() as f64).cos();
            w * (v - mean)
        })
        .collect();
    let n = fast_length(part.len() * 4);
    let step = 1.0 / (n as f64 * interval);
    for (k, value) in spectrum(&windowed, n)[..n / 2].iter().enumerate() {
        let band = (k as f64 * step / f).round() as usize;
        if let Some(slot) = bands.get_mut(band) {
            // Over the transform's length: the more bins a band has, the less each of them counts.
            *slot += weight * value.norm_sqr() / (part.len() as f64 * n as f64);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dsp::noise::Noise;

    /// Bands of white noise hold the same energy per sample whatever the length they are taken from:
    /// the mean over 200 stretches of 140 and of 940 samples, within 5 %.
    #[test]
    fn bands_do_not_depend_on_the_length() {
        let mut noise = Noise::new(9);
        let mut mean = |length: usize| -> f64 {
            let mut bands = vec![0.0; 8];
            for _ in 0..200 {
                let volts: Vec<f64> = (0..length).map(|_| noise.next()).collect();
                add_bands(&volts, (0, length), 1e6, 2e-8, 1.0 / 200.0, &mut bands);
            }
            bands[2..7].iter().sum::<f64>() / 5.0
        };
        let (short, long) = (mean(140), mean(940));
        assert!((long / short - 1.0).abs() < 0.05, "{short} {long}");
    }
}
