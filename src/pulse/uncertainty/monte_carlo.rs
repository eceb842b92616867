//! The errors of the response drawn, the whole chain each time: the route beside linear propagation.

use rustfft::num_complex::Complex;

use super::features::{COUNT, values};
use super::spectra::Spectra;
use crate::base::waveform_uncertainty::{Drawn, DrawsMade};
use crate::calibration::{ResponseErrors, RowWeights};
use crate::dsp::extremum::Interpolator;
use crate::dsp::noise::Noise;
use crate::dsp::statistics::{mean, standard_deviation};
use crate::dsp::synthesis::PairSynthesis;

/// The same waveform gives the same draws.
const SEED: u64 = 62127;
/// Fewest and most draws, and the work that bounds them: draws times n log₂ n.
const DRAWS: (usize, usize) = (200, 1000);
const WORK: f64 = 2.5e7;
/// Smallest fraction of its value to which a drawn magnitude falls: a sensitivity is not zero.
const LEAST: f64 = 0.05;

/// Number of draws for a transform length: bounded by what they cost.
pub fn draws(n: usize) -> usize {
    let one = n as f64 * (n as f64).log2().max(1.0);
    // Two at a time.
    2 * ((WORK / one) as usize).clamp(DRAWS.0, DRAWS.1).div_ceil(2)
}

/// Mean and standard deviation of the features over draws of the response's rows: magnitudes and
/// phases normal, correlated as stated, magnitudes kept above a twentieth of their values. Each draw
/// is used with both signs, which leaves in the mean only what is not linear. `None` where neither has
/// an uncertainty.
///
/// # References
/// JCGM 101:2008 (propagation of distributions by a Monte Carlo method).
pub fn draw(
    spectra: &Spectra,
    errors: &ResponseErrors,
    weights: &[RowWeights],
    window: (usize, usize),
    nominal: &[f64; COUNT],
    between: &Interpolator,
    synthesis: &mut PairSynthesis,
) -> Option<([Drawn; COUNT], DrawsMade)> {
    if errors.magnitude.is_err() && errors.phase.is_err() {
        return None;
    }
    let count = draws(spectra.n);
    let mut noise = Noise::new(SEED);
    let mut rows = Rows::new(errors);
    let mut spectrum = [Vec::new(), Vec::new()];
    let mut p = [vec![0.0; spectra.samples], vec![0.0; spectra.samples]];
    let mut found: [Vec<f64>; COUNT] = Default::default();
    for _ in 0..count / 2 {
        rows.draw(errors, &mut noise);
        for (one, sign) in spectrum.iter_mut().zip([1.0, -1.0]) {
            rows.changed(spectra, weights, sign, errors.phase.is_ok(), one);
        }
        let [first, second] = &mut p;
        synthesis.run(&spectrum[0], &spectrum[1], (first, second));
        for waveform in &p {
            let drawn = values(waveform, window, spectra.interval_s, between)?;
            for (list, value) in found.iter_mut().zip(drawn) {
                list.push(value);
            }
        }
    }
    let of = |i: usize| -> Option<Drawn> {
        let mean = mean(&found[i])?;
        let standard_deviation = standard_deviation(&found[i])?;
        Some(Drawn { mean, standard_deviation, shift: mean - nominal[i] })
    };
    Some(([of(0)?, of(1)?, of(2)?], DrawsMade { draws: count as u64, seed: SEED }))
}

/// Drawn errors of the rows.
struct Rows {
    standard: Vec<f64>,
    magnitude: Vec<f64>,
    phase: Vec<f64>,
}

impl Rows {
    fn new(errors: &ResponseErrors) -> Self {
        let rows = errors.rows();
        // Two at least: a frequency stands between two, though one of them may count nothing.
        let zero = || vec![0.0; rows.max(2)];
        Self { standard: vec![0.0; rows], magnitude: zero(), phase: zero() }
    }

    fn draw(&mut self, errors: &ResponseErrors, noise: &mut Noise) {
        let parts = [(&errors.magnitude, &mut self.magnitude), (&errors.phase, &mut self.phase)];
        for (rows, out) in parts {
            let Ok(rows) = rows else { continue };
            rows.correlation.draw(&rows.frequency_hz, noise, &mut self.standard);
            for ((slot, x), u) in out.iter_mut().zip(&self.standard).zip(&rows.u) {
                *slot = u * x;
            }
        }
    }

    /// P(k) over (1 ± ε) exp(±jδ): the response is linear between the rows in both, so that this is
    /// the chain with drawn rows, to the last digit.
    fn changed(
        &self,
        spectra: &Spectra,
        weights: &[RowWeights],
        sign: f64,
        turned: bool,
        out: &mut Vec<Complex<f64>>,
    ) {
        out.clear();
        out.extend(spectra.pressure.iter().zip(weights).map(|(p, row)| {
            let (i, [a, b]) = (row.first, row.magnitude);
            let drawn = |e: f64| (sign * e).max(LEAST - 1.0);
            let scaled =
                p / (1.0 + a * drawn(self.magnitude[i]) + b * drawn(self.magnitude[i + 1]));
            if !turned {
                return scaled;
            }
            let [a, b] = row.phase;
            let (sin, cos) = (sign * (a * self.phase[i] + b * self.phase[i + 1])).sin_cos();
            scaled * Complex::new(cos, -sin)
        }));
    }
}
