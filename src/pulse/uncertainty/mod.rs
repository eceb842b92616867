//! Uncertainty of a single waveform's features, pc, pr and ppsi.
//!
//! ```text
//! volts ─ spectra ─ features (q = ∂y/∂p) ─┬─ propagation: rows of the response
//!                                         ├─ noise: samples in volts
//!                                         ├─ low_pass (bands, tail)
//!                                         ├─ monte_carlo
//!                                         └─ other method
//! ```
//!
//! Conventions: one-sided spectra of the padded length; sources are those of
//! [`crate::base::waveform_uncertainty`]; standard uncertainties throughout.

mod bands;
#[cfg(test)]
mod case;
mod features;
mod findings;
mod instants;
mod low_pass;
mod monte_carlo;
mod noise;
mod propagation;
mod sources;
mod spectra;
mod tail;
#[cfg(test)]
mod tests;

pub use findings::findings;
pub use instants::Instant;

use self::features::{COUNT, FEATURES, Gradients, PPSI};
use self::sources::Sources;
use self::spectra::Spectra;
use super::Windows;
use crate::base::waveform_uncertainty::{
    CALIBRATION_MAGNITUDE, CALIBRATION_PHASE, FeatureUncertainty, LOW_PASS, LowPassEffect, NOISE,
    OtherMethod, OtherValue, SignalReach, WaveformUncertainty,
};
use crate::calibration::{Conditioning, Response, ResponseErrors, RowWeights};
use crate::dsp::correlation::Correlation;
use crate::dsp::extremum::Interpolator;
use crate::dsp::synthesis::PairSynthesis;

/// A waveform and how it was made.
pub struct Waveform<'a> {
    pub conditioning: &'a Conditioning,
    pub response: &'a Response,
    /// Volts less their baseline, tapered.
    pub volts: &'a [f64],
    /// Factors of the tapers.
    pub taper: &'a [f64],
    /// Pressure made of them.
    pub p_pa: &'a [f64],
    pub interval_s: f64,
    pub windows: &'a Windows,
    /// Mean square of the pressure before the arrival, Pa².
    pub noise_pa2: Option<f64>,
    /// Drive frequency: width of the bands in which signal is looked for; narrowband frequency.
    pub frequency_hz: Option<f64>,
}

/// What is uncertain about a waveform.
#[derive(Debug, Clone, PartialEq)]
pub struct WaveUncertainty {
    pub summary: WaveformUncertainty,
    /// Uncertainty of the pressure at instants of the pulse window, for a band in figures.
    pub instants: Vec<Instant>,
}

/// The uncertainty of a waveform's features. `None` for volts without a response, and for an empty
/// window.
pub fn of(wave: &Waveform<'_>, between: &Interpolator) -> Option<WaveUncertainty> {
    if !wave.response.is_calibrated() {
        return None;
    }
    let window = wave.windows.pulse;
    let values = features::values(wave.p_pa, window, wave.interval_s, between)?;
    let spectra = Spectra::new(wave.volts, wave.conditioning, wave.response, wave.interval_s);
    let q = features::gradients(wave.p_pa, window, wave.interval_s, between, spectra.n)?;
    let errors = ResponseErrors::of(wave.response, wave.conditioning.narrowband_hz);
    let weights = propagation::bin_weights(&spectra, &errors);
    let noise = noise::level(&spectra, wave.volts, wave.noise_pa2);
    let rms_v = noise.as_ref().map(|noise| noise.rms_v);
    let mut synthesis = PairSynthesis::new(spectra.n);

    let mut sources = Sources::default();
    add_response(&mut sources, &spectra, &errors, &weights, &q);
    match rms_v {
        Some(rms_v) => sources.add(NOISE, of_noise(wave, &spectra, rms_v, &q, &mut synthesis)),
        None => sources.leave_out(NOISE, "no-signal"),
    }
    let effect = of_low_pass(wave, &spectra, rms_v, values, between, &mut synthesis);
    match &effect {
        Ok((effect, _)) => {
            // One cause for all: what raises one feature raises the others.
            let u = effect.each_ref().map(low_pass::standard);
            sources.add(LOW_PASS, u.map(|a| u.map(|b| a * b)));
        }
        Err(reason) => sources.leave_out(LOW_PASS, reason),
    }
    let effect = effect.ok();
    let drawn =
        monte_carlo::draw(&spectra, &errors, &weights, window, &values, between, &mut synthesis);
    let other = other_method(wave, &spectra, between, &mut synthesis);

    let feature = |i: usize| FeatureUncertainty {
        id: FEATURES[i].0.to_owned(),
        value: values[i],
        unit: FEATURES[i].1.to_owned(),
        u: sources.u(i),
        signed: sources.signed.iter().map(|(source, s)| (source.clone(), s[i])).collect(),
        u_combined: sources.variance(i).max(0.0).sqrt(),
        low_pass: effect.as_ref().map(|(effect, _)| effect[i].clone()),
        monte_carlo: drawn.as_ref().map(|(drawn, _)| drawn[i].clone()),
        other_method: other.as_ref().and_then(|(_, other)| compared(other[i], values[i])),
    };
    let correlation = errors.magnitude.as_ref().or(errors.phase.as_ref()).ok();
    let (word, length) = described(correlation.map(|rows| rows.correlation));
    let noise_pa = rms_v.map_or(0.0, |rms_v| rms_v * spectra.mean_gain(2).sqrt());
    Some(WaveUncertainty {
        instants: instants::instants(&spectra, &errors, &weights, window, noise_pa),
        summary: WaveformUncertainty {
            features: (0..COUNT).map(feature).collect(),
            correlations: sources.correlations(),
            not_evaluated: sources.left_out,
            noise,
            frequency_correlation: word.to_owned(),
            correlation_length_hz: length,
            low_pass: effect.map(|(_, reach)| reach),
            monte_carlo: drawn.map(|(_, made)| made),
            other_method: other.map(|(method, _)| method),
        },
    })
}

/// Magnitude and phase of the response, by linear propagation.
fn add_response(
    sources: &mut Sources,
    spectra: &Spectra,
    errors: &ResponseErrors,
    weights: &[RowWeights],
    q: &Gradients,
) {
    let rows = q.each_ref().map(|q| propagation::derivatives(spectra, weights, q, errors.rows()));
    let magnitude = rows.each_ref().map(|d| d.magnitude.as_slice());
    sources.add_rows(CALIBRATION_MAGNITUDE, &errors.magnitude, magnitude);
    let phase = rows.each_ref().map(|d| d.phase.as_slice());
    sources.add_rows(CALIBRATION_PHASE, &errors.phase, phase);
}

/// Covariances from noise of the digitiser.
fn of_noise(
    wave: &Waveform<'_>,
    spectra: &Spectra,
    rms_v: f64,
    q: &Gradients,
    synthesis: &mut PairSynthesis,
) -> [[f64; COUNT]; COUNT] {
    let baseline = wave.windows.baseline;
    let samples = q
        .each_ref()
        .map(|q| noise::sample_derivatives(spectra, q, wave.taper, baseline, synthesis));
    let product = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
    let mut covariance =
        samples.each_ref().map(|a| samples.each_ref().map(|b| product(a, b) * rms_v * rms_v));
    let (start, stop) = wave.windows.pulse;
    covariance[PPSI][PPSI] += noise::square_variance(spectra, rms_v, stop.saturating_sub(start));
    covariance
}

/// What the low-pass may have taken, or why that is not known.
fn of_low_pass(
    wave: &Waveform<'_>,
    spectra: &Spectra,
    rms_v: Option<f64>,
    values: [f64; COUNT],
    between: &Interpolator,
    synthesis: &mut PairSynthesis,
) -> Result<([LowPassEffect; COUNT], SignalReach), &'static str> {
    let inputs = low_pass::Inputs {
        spectra,
        volts: wave.volts,
        window: wave.windows.pulse,
        lowpass: &wave.conditioning.lowpass,
        response: wave.response,
        narrowband_hz: wave.conditioning.narrowband_hz,
        fundamental_hz: wave.frequency_hz.ok_or("no-frequency")?,
        noise_rms_v: rms_v.ok_or("no-signal")?,
        values,
    };
    low_pass::effect(&inputs, between, synthesis).ok_or("no-signal")
}

fn described(correlation: Option<Correlation>) -> (&'static str, Option<f64>) {
    match correlation {
        Some(Correlation::Independent) => ("independent", None),
        Some(Correlation::Exponential(length)) => ("length", Some(length)),
        Some(Correlation::Common) | None => ("common", None),
    }
}

fn compared(other: f64, value: f64) -> Option<OtherValue> {
    let relative_difference = other / value - 1.0;
    relative_difference.is_finite().then_some(OtherValue { value: other, relative_difference })
}

/// Values by the method of scaling that was not used: where the response is a table and a frequency is
/// known. Windows, low-pass and padding stay.
fn other_method(
    wave: &Waveform<'_>,
    spectra: &Spectra,
    between: &Interpolator,
    synthesis: &mut PairSynthesis,
) -> Option<(OtherMethod, [f64; COUNT])> {
    wave.response.as_table()?;
    let used = wave.conditioning.narrowband_hz;
    let frequency_hz = used.or(wave.frequency_hz)?;
    let (method, fixed) = match used {
        Some(_) => ("broadband", None),
        None => ("narrowband", Some(frequency_hz)),
    };
    let conditioning = Conditioning { narrowband_hz: fixed, ..wave.conditioning.clone() };
    let other = Spectra::new(wave.volts, &conditioning, wave.response, wave.interval_s);
    let mut p = vec![0.0; spectra.samples];
    synthesis.run(&other.pressure, &[], (&mut p, &mut []));
    let values = features::values(&p, wave.windows.pulse, wave.interval_s, between)?;
    Some((OtherMethod { method: method.to_owned(), frequency_hz }, values))
}
