//! The low-pass that the record states, or the one that follows the noise.

use super::super::prepare::PreparedScan;
use super::loudest::{Sampled, SampledPoint};
use super::shift_samples;
use crate::calibration::LowPassShape;
use crate::dsp::filter::{fast_length, spectrum};
use crate::record::{LowPass, LowPassKind, Record};

/// Highest fraction of the Nyquist frequency that an automatic low-pass reaches.
const OF_NYQUIST: f64 = 0.72;
/// Energy in a harmonic's band, re noise, from which the band carries signal.
const SIGNAL_ENERGY: f64 = 2.0;
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

/// The low-pass and where it comes from (`record`, `noise`, `default`).
///
/// Following the noise: the signal's energy at the loudest points, in bands of one fundamental about
/// each harmonic, against the noise's in the part before the arrival. The last band in which the
/// signal is at least as strong as the noise is passed whole; a band above a weaker one is not.
pub fn choose(inputs: &Inputs<'_>) -> (LowPassShape, &'static str) {
    if let LowPass::Filter(filter) = &inputs.record.analysis.lowpass {
        let shape =
            LowPassShape { kind: filter.kind, order: filter.poles(), cutoff_hz: filter.cutoff_hz };
        return (shape, "record");
    }
    let nyquist = 0.5 / inputs.part.scan.interval_s;
    let table_end =
        inputs.part.response.as_table().map_or(f64::INFINITY, |table| table.band_hz().1);
    let ceiling = (OF_NYQUIST * nyquist).min(table_end);
    let cosine = |cutoff_hz: f64| LowPassShape {
        kind: LowPassKind::Cosine,
        order: 1,
        cutoff_hz: cutoff_hz.min(ceiling),
    };
    let Some(f) = inputs.frequency_hz else { return (cosine(ceiling), "default") };
    let Some(last) = inputs.noise.and_then(|noise| last_harmonic(inputs, f, noise, ceiling)) else {
        return (cosine(WITHOUT_NOISE * f), "default");
    };
    (cosine((last as f64 + 0.5) * f), "noise")
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
            *slot += weight * value.norm_sqr() / part.len() as f64;
        }
    }
}
