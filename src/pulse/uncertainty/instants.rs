//! Uncertainty of the pressure at single instants, for the band in figures.

use rustfft::num_complex::Complex;

use super::propagation::{RowDerivatives, row_derivatives};
use super::spectra::Spectra;
use crate::calibration::{ErrorRows, ResponseErrors, RowWeights};
use crate::dsp::correlation::Correlation;
use crate::dsp::synthesis::PairSynthesis;

/// Most instants.
const MOST: usize = 800;
/// Fewest instants, and most products of instants and bins, beyond which there are fewer instants.
const FEWEST: usize = 100;
const MOST_PRODUCTS: usize = 4_000_000;

/// Standard uncertainty of the pressure at one instant, Pa: noise and response; what the low-pass
/// takes is no matter of single instants.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Instant {
    /// Sample of the record.
    pub sample: usize,
    pub u_pa: f64,
}

/// At evenly spread samples of a window.
pub fn instants(
    spectra: &Spectra,
    errors: &ResponseErrors,
    weights: &[RowWeights],
    window: (usize, usize),
    noise_pa: f64,
) -> Vec<Instant> {
    let length = window.1.min(spectra.samples).saturating_sub(window.0);
    let together = |rows: &Result<ErrorRows, _>| {
        rows.as_ref().map_or(true, |rows| {
            rows.correlation == Correlation::Common || rows.frequency_hz.len() == 1
        })
    };
    let common = together(&errors.magnitude) && together(&errors.phase);
    let most = MOST_PRODUCTS / spectra.active.max(1);
    let wanted = if common { MOST } else { most.clamp(FEWEST, MOST) };
    let step = length.div_ceil(wanted).max(1);
    let samples = (window.0..window.0 + length).step_by(step);
    let combined = |sample: usize, calibration_pa2: f64| Instant {
        sample,
        u_pa: (noise_pa * noise_pa + calibration_pa2.max(0.0)).sqrt(),
    };
    if common {
        let (by_magnitude, by_phase) = one_error(spectra, errors, weights);
        let at = |w: &[f64], i: usize| w.get(i).copied().unwrap_or(0.0);
        return samples
            .map(|i| combined(i, at(&by_magnitude, i).powi(2) + at(&by_phase, i).powi(2)))
            .collect();
    }
    let turns: Vec<Complex<f64>> = (0..spectra.n)
        .map(|i| Complex::from_polar(1.0, 2.0 * std::f64::consts::PI * i as f64 / spectra.n as f64))
        .collect();
    let mut rows = RowDerivatives::none(errors.rows());
    samples
        .map(|sample| {
            let mut place = 0;
            let impulse = std::iter::repeat_with(|| {
                let turn = turns[place];
                place = (place + sample) % spectra.n;
                turn
            });
            row_derivatives(spectra, weights, impulse, &mut rows);
            let of = |errors: &Result<ErrorRows, _>, g: &[f64]| {
                errors.as_ref().map_or(0.0, |errors: &ErrorRows| errors.covariance(g, g))
            };
            combined(
                sample,
                of(&errors.magnitude, &rows.magnitude) + of(&errors.phase, &rows.phase),
            )
        })
        .collect()
}

/// What one standard error of all rows together does to the waveform, of the magnitudes and of the
/// phases: both changes of the pressure's spectrum in one transform.
fn one_error(
    spectra: &Spectra,
    errors: &ResponseErrors,
    weights: &[RowWeights],
) -> (Vec<f64>, Vec<f64>) {
    let at = |rows: &Result<ErrorRows, _>, first: usize, pair: [f64; 2]| {
        let Ok(rows) = rows else { return 0.0 };
        let u = |i: usize| rows.u.get(i).copied().unwrap_or(0.0);
        pair[0] * u(first) + pair[1] * u(first + 1)
    };
    let bins = spectra.pressure.iter().zip(weights);
    let (magnitude, phase): (Vec<_>, Vec<_>) = bins
        .map(|(p, row)| {
            let turned = Complex::new(p.im, -p.re);
            (
                -p * at(&errors.magnitude, row.first, row.magnitude),
                turned * at(&errors.phase, row.first, row.phase),
            )
        })
        .unzip();
    let mut out = (vec![0.0; spectra.samples], vec![0.0; spectra.samples]);
    PairSynthesis::new(spectra.n).run(&magnitude, &phase, (&mut out.0, &mut out.1));
    out
}
