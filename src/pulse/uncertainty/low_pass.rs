//! What the low-pass may have taken from a waveform's features.

use rustfft::num_complex::Complex;

use super::bands::{Bands, bands};
use super::features::{COUNT, PPSI, values};
use super::spectra::Spectra;
use super::tail::{Law, continued, fitted};
use crate::base::waveform_uncertainty::{LowPassEffect, SignalReach};
use crate::calibration::{LowPassShape, Response, lowpass_at};
use crate::dsp::envelope;
use crate::dsp::extremum::Interpolator;
use crate::dsp::statistics::median;
use crate::dsp::synthesis::PairSynthesis;
use crate::pulse::peak_pressure;
use crate::record::LowPassKind;

/// Highest fraction of half the sampling rate up to which signal is looked for: as the low-pass that
/// follows the noise.
const OF_NYQUIST: f64 = 0.72;
/// Largest envelope of a band over its rms amplitude, where it cannot be measured: one for a burst that
/// fills the window, more for one that does not. Common practice, no source.
const USUAL_CREST: f64 = 1.3;

/// What is needed of the waveform.
pub struct Inputs<'a> {
    pub spectra: &'a Spectra,
    pub volts: &'a [f64],
    pub window: (usize, usize),
    pub lowpass: &'a LowPassShape,
    pub response: &'a Response,
    pub narrowband_hz: Option<f64>,
    pub fundamental_hz: f64,
    pub noise_rms_v: f64,
    /// Values of the features as used.
    pub values: [f64; COUNT],
}

/// Effect of the low-pass on each feature, and how far up signal reaches. `None` where no band carries
/// signal.
///
/// In band: the low-pass is undone up to the last band of one fundamental that carries signal, by the
/// low-pass that follows the noise (one up to there, half a cosine down beyond), and the features are
/// taken anew. A cosine that passes all of these bands took nothing.
///
/// Beyond: the bands' amplitudes are continued by the law that the upper half of the bands with signal
/// follows, never above what may hide in the noise of a band. They raise a peak by the sum of their
/// envelopes times the share that the bands of the law add up to at the peak's instant, whatever their
/// common phase: one where they all stand together, as at a shock's front; at least as random phases
/// do, by the root of the sum of squares. ppsi they raise by the sum of their squares.
///
/// # References
/// Error of a regularised deconvolution bounded through an upper bound of the spectrum: S. Eichstädt
/// and V. Wilkens, J. Acoust. Soc. Am. 141 (2017) 4155, 10.1121/1.4983827.
pub fn effect(
    inputs: &Inputs<'_>,
    between: &Interpolator,
    synthesis: &mut PairSynthesis,
) -> Option<([LowPassEffect; COUNT], SignalReach)> {
    let spectra = inputs.spectra;
    let nyquist = 0.5 / spectra.interval_s;
    let table_end = inputs.response.as_table().map_or(f64::INFINITY, |t| t.band_hz().1);
    let found = bands(
        inputs.volts,
        inputs.window,
        spectra.interval_s,
        inputs.fundamental_hz,
        table_end.min(OF_NYQUIST * nyquist),
        inputs.noise_rms_v,
        |f| inputs.response.at(inputs.narrowband_hz.unwrap_or(f)),
    )?;
    if found.signal == 0 {
        return None;
    }
    let reach_hz = found.reach_hz();
    let passes_all = inputs.lowpass.kind == LowPassKind::Cosine
        && inputs.lowpass.cutoff_hz >= reach_hz * (1.0 - 1e-9);
    let undone = if passes_all {
        *inputs.lowpass
    } else {
        LowPassShape { kind: LowPassKind::Cosine, order: 1, cutoff_hz: reach_hz }
    };
    let mut p = vec![0.0; spectra.samples];
    synthesis.run(&spectra.with_lowpass(&undone), &[], (&mut p, &mut []));
    let anew = values(&p, inputs.window, spectra.interval_s, between)?;
    let taken = |i: usize| if passes_all { 0.0 } else { anew[i] - inputs.values[i] };
    let tail = Tail::of(inputs, &found, &undone)?;
    let (_, at_pc) = peak_pressure::compressional(&p, inputs.window, between)?;
    let (_, at_pr) = peak_pressure::rarefactional(&p, inputs.window, between)?;
    let effects = [
        LowPassEffect { taken: taken(0), beyond: tail.at(at_pc) },
        LowPassEffect { taken: taken(1), beyond: tail.at(at_pr) },
        LowPassEffect { taken: taken(PPSI), beyond: tail.energy_share * inputs.values[PPSI] },
    ];
    let (law, parameter) = tail.law.described();
    let last_band = found.signal as u64;
    Some((effects, SignalReach { last_band, reach_hz, law: law.to_owned(), parameter }))
}

/// Half-width of the distribution of the low-pass's effect over √3: the true value lies between the
/// value and the value with all that may have been taken; of a rectangular distribution over that,
/// this is the root mean square about the value that is given, uncorrected.
///
/// # References
/// JCGM 100:2008, 4.3.7 (limits) and F.2.4.5 (a known effect that is not corrected).
pub fn standard(effect: &LowPassEffect) -> f64 {
    (effect.taken.abs() + effect.beyond) / 3f64.sqrt()
}

/// What lies beyond the last band with signal.
struct Tail {
    law: Law,
    /// Sum of the envelopes, Pa, and root of the sum of their squares.
    sum_pa: f64,
    random_pa: f64,
    /// Energy re that of the bands with signal.
    energy_share: f64,
    /// The bands of the law.
    bands: Vec<Part>,
    n: usize,
}

/// A band of the pressure without low-pass.
struct Part {
    first_bin: usize,
    /// Of the one-sided spectrum.
    spectrum: Vec<Complex<f64>>,
    /// Largest envelope in the window, Pa.
    top_pa: f64,
    /// Rms amplitude, Pa.
    amplitude_pa: f64,
}

impl Tail {
    fn of(inputs: &Inputs<'_>, found: &Bands, undone: &LowPassShape) -> Option<Self> {
        let chosen = fitted(found.signal);
        let first = *chosen.start();
        let amplitude = |n: usize| {
            if n <= found.signal { found.amplitude(n) } else { found.most(n) }
        };
        let law = Law::fit(first, &chosen.map(amplitude).collect::<Vec<f64>>())?;
        let (mut sum, mut squares, mut energy) = (0.0, 0.0, 0.0);
        for (i, a) in continued(&law, found.signal, &found.most_pa).iter().enumerate() {
            let n = (found.signal + 1 + i) as f64;
            let passed = lowpass_at(undone, n * found.fundamental_hz).norm();
            let lost = (1.0 - passed) * a;
            sum += lost;
            squares += lost * lost;
            energy += (1.0 - passed * passed) * a * a;
        }
        let seen: f64 = (1..=found.signal).map(|n| found.amplitude(n).powi(2)).sum();
        let parts = (first..=found.signal).filter_map(|n| Part::of(inputs, found, n));
        let bands: Vec<Part> = parts.collect();
        // Largest envelope of a band over its rms amplitude.
        let of_bands: Vec<f64> = bands.iter().map(|part| part.top_pa / part.amplitude_pa).collect();
        let crest = median(&of_bands).unwrap_or(USUAL_CREST);
        Some(Self {
            law,
            sum_pa: crest * sum,
            random_pa: crest * squares.sqrt(),
            energy_share: if seen > 0.0 { energy / seen } else { 0.0 },
            bands,
            n: inputs.spectra.n,
        })
    }

    /// Effect on a peak at an instant, samples.
    fn at(&self, instant: f64) -> f64 {
        let turn = 2.0 * std::f64::consts::PI * instant / self.n as f64;
        let there = |part: &Part| -> Complex<f64> {
            let turned = |(k, x)| Complex::from_polar(1.0, turn * (part.first_bin + k) as f64) * x;
            part.spectrum.iter().enumerate().map(turned).sum::<Complex<f64>>()
        };
        let together = self.bands.iter().map(there).sum::<Complex<f64>>().norm();
        let together = together * 2.0 / self.n as f64;
        let alone: f64 = self.bands.iter().map(|part| part.top_pa).sum();
        let share = if alone > 0.0 { (together / alone).min(1.0) } else { 1.0 };
        (share * self.sum_pa).max(self.random_pa)
    }
}

impl Part {
    fn of(inputs: &Inputs<'_>, found: &Bands, n: usize) -> Option<Self> {
        let spectra = inputs.spectra;
        let step = spectra.frequency_hz(1);
        let bin = |f: f64| ((f / step).ceil().max(0.0) as usize).min(spectra.n / 2);
        let first_bin = bin((n as f64 - 0.5) * found.fundamental_hz);
        let end = bin((n as f64 + 0.5) * found.fundamental_hz);
        let pressure = |k: usize| {
            let m = spectra.response[k];
            if m.norm_sqr() > 0.0 { spectra.volts[k] / m } else { Complex::default() }
        };
        let spectrum: Vec<Complex<f64>> = (first_bin..end).map(pressure).collect();
        let top_pa = envelope::largest(&spectrum, spectra.n, inputs.window)?;
        Some(Self { first_bin, spectrum, top_pa, amplitude_pa: found.amplitude(n) })
    }
}
