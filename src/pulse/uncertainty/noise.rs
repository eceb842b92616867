//! Noise of the digitiser: its level in volts, and what it does to a value that rests on the waveform.

use std::f64::consts::{LN_2, PI};

use rustfft::num_complex::Complex;

use super::spectra::Spectra;
use crate::base::waveform_uncertainty::NoiseLevel;
use crate::dsp::filter::spectrum;
use crate::dsp::statistics::median;
use crate::dsp::synthesis::PairSynthesis;

/// Part of the frequencies, up to half the sampling rate, that is taken for noise where there is no
/// quiet part: the highest quarter.
const NOISE_FROM: f64 = 0.75;

/// Level of the noise, taken white in volts: from the mean square of the pressure before the arrival,
/// over what the filter makes of white noise of unit variance; where there is no quiet part, from the
/// median of the record's power spectrum over the highest quarter of the frequencies (of exponentially
/// distributed powers it is ln 2 times the mean). What signal there is counts as noise then.
pub fn level(spectra: &Spectra, volts: &[f64], quiet_pa2: Option<f64>) -> Option<NoiseLevel> {
    let gain = spectra.mean_gain(2);
    let level = |rms_v: f64, from: &str| NoiseLevel { rms_v, from: from.to_owned() };
    if let Some(quiet) = quiet_pa2 {
        return (gain > 0.0).then(|| level((quiet / gain).sqrt(), "pre-arrival"));
    }
    let n = volts.len();
    let hann = |i: usize| 0.5 - 0.5 * (2.0 * PI * (i as f64 + 0.5) / n as f64).cos();
    let windowed: Vec<f64> = volts.iter().enumerate().map(|(i, v)| hann(i) * v).collect();
    let power: Vec<f64> = spectrum(&windowed, n)[..=n / 2].iter().map(|v| v.norm_sqr()).collect();
    let top = median(power.get((NOISE_FROM * (n / 2) as f64) as usize..)?)?;
    let squares: f64 = (0..n).map(|i| hann(i) * hann(i)).sum();
    (squares > 0.0).then(|| level((top / (LN_2 * squares)).sqrt(), "spectrum"))
}

/// Derivatives of a value by the samples of the record in volts, before baseline and taper: the
/// adjoint of the filter on q(t) = ∂y/∂p(t), whose transform is given.
///
/// ∂y/∂v(s) = Σ q(t) h(t − s), h being the impulse response of low-pass over response; times the
/// taper; less, on the samples of the baseline, the mean that is subtracted with it.
///
/// # Shape
/// `taper` as long as the record.
pub fn sample_derivatives(
    spectra: &Spectra,
    q: &[Complex<f64>],
    taper: &[f64],
    baseline: Option<(usize, usize)>,
    synthesis: &mut PairSynthesis,
) -> Vec<f64> {
    let adjoint: Vec<Complex<f64>> =
        q.iter().zip(&spectra.inverse).map(|(q, h)| q * h.conj()).collect();
    let mut out = vec![0.0; spectra.samples];
    synthesis.run(&adjoint, &[], (&mut out, &mut []));
    out.iter_mut().zip(taper).for_each(|(g, w)| *g *= w);
    if let Some(part) = baseline.filter(|(a, b)| b > a && *b <= out.len()) {
        let mean = out.iter().sum::<f64>() / (part.1 - part.0) as f64;
        out[part.0..part.1].iter_mut().for_each(|g| *g -= mean);
    }
    out
}

/// Variance that the square of the noise gives ∫p² over a window of `length` samples, besides what
/// noise times signal gives: 2 σ⁴ Δt² Σ R²(t − t′), with the autocorrelation R of the filter; end
/// effects are left out.
pub fn square_variance(spectra: &Spectra, rms_v: f64, length: usize) -> f64 {
    2.0 * rms_v.powi(4) * spectra.interval_s.powi(2) * length as f64 * spectra.mean_gain(4)
}
