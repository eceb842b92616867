//! Real waveforms from one-sided spectra, two at a time.

use std::sync::Arc;

use rustfft::num_complex::Complex;
use rustfft::{Fft, FftPlanner};

/// Inverse transforms of a fixed even length; two real waveforms come out of one complex transform
/// as its real and imaginary parts.
pub struct PairSynthesis {
    inverse: Arc<dyn Fft<f64>>,
    work: Vec<Complex<f64>>,
    scratch: Vec<Complex<f64>>,
}

impl PairSynthesis {
    /// For waveforms of `n` samples.
    pub fn new(n: usize) -> Self {
        let inverse = FftPlanner::new().plan_fft_inverse(n);
        let scratch = vec![Complex::default(); inverse.get_inplace_scratch_len()];
        Self { inverse, work: vec![Complex::default(); n], scratch }
    }

    /// x(t) = (1/n) Σ X(k) exp(2πi kt/n), the upper half being the mirror. Values beyond the length of
    /// a spectrum are zero; at zero frequency and at n/2 the real part counts. Outputs are cut to their
    /// own length.
    ///
    /// # Shape
    /// `first`, `second`: up to n/2 + 1 values each.
    pub fn run(
        &mut self,
        first: &[Complex<f64>],
        second: &[Complex<f64>],
        out: (&mut [f64], &mut [f64]),
    ) {
        let n = self.work.len();
        let scale = 1.0 / n as f64;
        let j = Complex::new(0.0, 1.0);
        self.work.fill(Complex::default());
        for k in 0..first.len().max(second.len()).min(n / 2 + 1) {
            let at = |s: &[Complex<f64>]| s.get(k).copied().unwrap_or_default() * scale;
            let (a, b) = (at(first), at(second));
            if k == 0 || 2 * k == n {
                self.work[k] = Complex::new(a.re, b.re);
            } else {
                self.work[k] = a + j * b;
                self.work[n - k] = a.conj() + j * b.conj();
            }
        }
        self.inverse.process_with_scratch(&mut self.work, &mut self.scratch);
        for (slot, value) in out.0.iter_mut().zip(&self.work) {
            *slot = value.re;
        }
        for (slot, value) in out.1.iter_mut().zip(&self.work) {
            *slot = value.im;
        }
    }

    /// One waveform, all n samples of it.
    pub fn one(&mut self, spectrum: &[Complex<f64>]) -> Vec<f64> {
        let mut out = vec![0.0; self.work.len()];
        self.run(spectrum, &[], (&mut out, &mut []));
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dsp::filter::spectrum;

    /// Back from the forward transform; both waveforms, whole and cut.
    #[test]
    fn there_and_back() {
        let n = 36;
        let a: Vec<f64> = (0..n).map(|i| ((i * i) as f64 * 0.1).sin()).collect();
        let b: Vec<f64> = (0..n).map(|i| (i as f64 * 0.7).cos() - 0.2).collect();
        let half = |w: &[f64]| spectrum(w, n)[..=n / 2].to_vec();
        let mut synthesis = PairSynthesis::new(n);
        let (mut x, mut y) = (vec![0.0; n], vec![0.0; 20]);
        synthesis.run(&half(&a), &half(&b), (&mut x, &mut y));
        for (expected, got) in a.iter().zip(&x).chain(b.iter().zip(&y)) {
            assert!((expected - got).abs() < 1e-14);
        }
        let alone = synthesis.one(&half(&b));
        assert!(b.iter().zip(&alone).all(|(e, g)| (e - g).abs() < 1e-14));
    }
}
