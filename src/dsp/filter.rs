//! Filtering by a spectrum, two real waveforms at a time.

use std::sync::Arc;

use rustfft::num_complex::Complex;
use rustfft::{Fft, FftNum, FftPlanner};

/// Smallest length ≥ `at_least` with no prime factor but 2 and 3: fast, and even from 2 on.
pub fn fast_length(at_least: usize) -> usize {
    let mut best = at_least.max(2).next_power_of_two();
    let mut three = 1usize;
    while three <= best {
        let mut length = three * 2;
        while length < at_least {
            length *= 2;
        }
        best = best.min(length);
        three *= 3;
    }
    best
}

/// Frequency of each bin of a transform of length `n`, Hz; negative in the upper half.
pub fn bin_frequencies(n: usize, interval_s: f64) -> impl Iterator<Item = f64> {
    (0..n).map(move |k| {
        let k = if k <= n / 2 { k as f64 } else { k as f64 - n as f64 };
        k / (n as f64 * interval_s)
    })
}

/// A linear filter given by its values on the bins of a transform of fixed length.
///
/// Two real waveforms travel as real and imaginary part of one complex transform. Since the
/// impulse response is real (the spectrum is Hermitian), they come out separately.
pub struct PairFilter<T: FftNum> {
    forward: Arc<dyn Fft<T>>,
    inverse: Arc<dyn Fft<T>>,
    spectrum: Vec<Complex<T>>,
    work: Vec<Complex<T>>,
    scratch: Vec<Complex<T>>,
}

impl<T: FftNum> PairFilter<T> {
    /// A filter from the one-sided response at bins 0 … n/2 of a transform of even length `n`;
    /// the other half is its mirror. The bins 0 and n/2 are taken real. The factor 1/n of the
    /// inverse is worked in.
    ///
    /// # Shape
    /// `response`: n/2 + 1.
    pub fn new(n: usize, response: &[Complex<f64>]) -> Self {
        let mut planner = FftPlanner::new();
        let forward = planner.plan_fft_forward(n);
        let inverse = planner.plan_fft_inverse(n);
        let scale = 1.0 / n as f64;
        let to = |c: Complex<f64>| {
            let part = |v: f64| T::from_f64(v * scale).unwrap_or_else(T::zero);
            Complex::new(part(c.re), part(c.im))
        };
        let spectrum = (0..n)
            .map(|k| {
                let mirror = k > n / 2;
                let value =
                    response.get(if mirror { n - k } else { k }).copied().unwrap_or_default();
                to(if k == 0 || 2 * k == n {
                    Complex::new(value.re, 0.0)
                } else if mirror {
                    value.conj()
                } else {
                    value
                })
            })
            .collect();
        let scratch = forward.get_inplace_scratch_len().max(inverse.get_inplace_scratch_len());
        Self {
            forward,
            inverse,
            spectrum,
            work: vec![Complex::new(T::zero(), T::zero()); n],
            scratch: vec![Complex::new(T::zero(), T::zero()); scratch],
        }
    }

    /// Filters two waveforms in place; each is padded with zeros to the transform's length and cut
    /// back to its own. Waveforms longer than the transform are cut.
    pub fn run(&mut self, first: &mut [T], second: &mut [T]) {
        let zero = T::zero();
        for (i, slot) in self.work.iter_mut().enumerate() {
            *slot = Complex::new(
                first.get(i).copied().unwrap_or(zero),
                second.get(i).copied().unwrap_or(zero),
            );
        }
        self.forward.process_with_scratch(&mut self.work, &mut self.scratch);
        for (value, factor) in self.work.iter_mut().zip(&self.spectrum) {
            *value = *value * *factor;
        }
        self.inverse.process_with_scratch(&mut self.work, &mut self.scratch);
        for (out, value) in first.iter_mut().zip(&self.work) {
            *out = value.re;
        }
        for (out, value) in second.iter_mut().zip(&self.work) {
            *out = value.im;
        }
    }
}

/// Real impulse response of length `n` that belongs to a one-sided response at bins 0 … n/2.
pub fn impulse_response(n: usize, response: &[Complex<f64>]) -> Vec<f64> {
    let mut work: Vec<Complex<f64>> = (0..n)
        .map(|k| {
            let mirror = k > n / 2;
            let value = response.get(if mirror { n - k } else { k }).copied().unwrap_or_default();
            if mirror { value.conj() } else { value }
        })
        .collect();
    FftPlanner::new().plan_fft_inverse(n).process(&mut work);
    work.iter().map(|c| c.re / n as f64).collect()
}

/// Two-sided spectrum of a real waveform, padded with zeros to length `n`; no scaling.
pub fn spectrum(waveform: &[f64], n: usize) -> Vec<Complex<f64>> {
    let mut work: Vec<Complex<f64>> =
        (0..n).map(|i| Complex::new(waveform.get(i).copied().unwrap_or(0.0), 0.0)).collect();
    FftPlanner::new().plan_fft_forward(n).process(&mut work);
    work
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fast_lengths() {
        for n in 1..3000 {
            let fast = fast_length(n);
            let mut rest = fast;
            for p in [2, 3] {
                while rest.is_multiple_of(p) {
                    rest /= p;
                }
            }
            assert!(
                fast >= n
                    && rest == 1
                    && fast.is_multiple_of(2)
                    && (fast as f64) < n as f64 * 1.34 + 2.0
            );
        }
        assert_eq!(fast_length(1126), 1152);
    }

    /// Against direct circular convolution, slow and obvious.
    #[test]
    fn a_pair_comes_out_as_two_convolutions() {
        let n = 24;
        let impulse: Vec<f64> =
            (0..n).map(|i| (-(i as f64) / 3.0).exp() * (i as f64).cos()).collect();
        let response = spectrum(&impulse, n);
        let a: Vec<f64> = (0..n).map(|i| ((i * i) as f64 * 0.1).sin()).collect();
        let b: Vec<f64> = (0..n).map(|i| (i as f64 * 0.7).cos() - 0.2).collect();
        let mut filter = PairFilter::<f64>::new(n, &response[..=n / 2]);
        let (mut x, mut y) = (a.clone(), b.clone());
        filter.run(&mut x, &mut y);
        for (signal, out) in [(&a, &x), (&b, &y)] {
            for i in 0..n {
                let direct: f64 = (0..n).map(|j| signal[j] * impulse[(n + i - j) % n]).sum();
                assert!((direct - out[i]).abs() < 1e-12);
            }
        }
    }
}
