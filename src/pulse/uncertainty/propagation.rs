//! Linear propagation of the errors of a response to a value that rests on the waveform.

use rustfft::num_complex::Complex;

use super::spectra::Spectra;
use crate::calibration::{ResponseErrors, RowWeights};

/// Derivatives of a value by the errors of the rows.
#[derive(Debug, Clone, PartialEq)]
pub struct RowDerivatives {
    /// By the relative errors of the magnitudes.
    pub magnitude: Vec<f64>,
    /// By the errors of the phases, 1/rad.
    pub phase: Vec<f64>,
}

impl RowDerivatives {
    /// Of as many rows, all zero.
    pub fn none(rows: usize) -> Self {
        // Two rows at least: a frequency stands between two, though one of them may count nothing.
        Self { magnitude: vec![0.0; rows.max(2)], phase: vec![0.0; rows.max(2)] }
    }

    fn clear(&mut self) {
        self.magnitude.fill(0.0);
        self.phase.fill(0.0);
    }
}

/// Rows that go into each bin.
pub fn bin_weights(spectra: &Spectra, errors: &ResponseErrors) -> Vec<RowWeights> {
    (0..spectra.active).map(|k| errors.weights_at(spectra.frequency_hz(k))).collect()
}

/// Derivatives of a value y with q(t) = ∂y/∂p(t), whose conjugate transform is `conjugate_q`.
///
/// With P = V L/M, a relative error ε of |M| and an error δ of its phase at bin k change P by
/// −P (ε + jδ). Since Σ q(t) p(t) = (1/n) Σ P(k) conj Q(k) over both sides of the spectrum,
/// ∂y/∂ε(k) = −(w/n) Re(P conj Q) and ∂y/∂δ(k) = (w/n) Im(P conj Q), w = 2 but at zero frequency and
/// at n/2. The weights of the interpolation carry them to the rows.
pub fn row_derivatives(
    spectra: &Spectra,
    weights: &[RowWeights],
    conjugate_q: impl Iterator<Item = Complex<f64>>,
    out: &mut RowDerivatives,
) {
    out.clear();
    let scale = 1.0 / spectra.n as f64;
    for (k, ((p, q), row)) in spectra.pressure.iter().zip(conjugate_q).zip(weights).enumerate() {
        let c = p * q * (scale * spectra.weight(k));
        out.magnitude[row.first] -= c.re * row.magnitude[0];
        out.magnitude[row.first + 1] -= c.re * row.magnitude[1];
        out.phase[row.first] += c.im * row.phase[0];
        out.phase[row.first + 1] += c.im * row.phase[1];
    }
}

/// Derivatives by all rows of a value with the transform `q` of its gradient.
pub fn derivatives(
    spectra: &Spectra,
    weights: &[RowWeights],
    q: &[Complex<f64>],
    rows: usize,
) -> RowDerivatives {
    let mut out = RowDerivatives::none(rows);
    row_derivatives(spectra, weights, q.iter().map(|q| q.conj()), &mut out);
    out
}
