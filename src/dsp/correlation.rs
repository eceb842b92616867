//! Errors of values along an axis that hang together: quadratic forms and draws without ever forming
//! a covariance matrix.

use super::noise::Noise;

/// How the errors at two places of an axis are correlated.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Correlation {
    /// All places err together: 1.
    Common,
    /// Each place errs by itself: 0.
    Independent,
    /// exp(−|Δx|/length), with the length in the unit of the axis.
    Exponential(f64),
}

impl Correlation {
    /// Σᵢⱼ aᵢ ρ(xᵢ, xⱼ) bⱼ: the covariance of two sums whose terms are aᵢ and bᵢ times standardised
    /// errors at the places xᵢ.
    ///
    /// Exponential correlation is that of a first-order Markov process, so that the sum over j < i is
    /// carried along: Aᵢ = exp(−(xᵢ − xᵢ₋₁)/l) (Aᵢ₋₁ + aᵢ₋₁), in as many steps as there are places.
    ///
    /// # Shape
    /// `x` (rising), `a` and `b` of one length; for `Common` and `Independent` `x` is not read.
    ///
    /// # Examples
    /// a = b = (3, 4): 49 where all err together, 25 where each errs by itself.
    pub fn bilinear(&self, x: &[f64], a: &[f64], b: &[f64]) -> f64 {
        match *self {
            Self::Common => a.iter().sum::<f64>() * b.iter().sum::<f64>(),
            Self::Independent => a.iter().zip(b).map(|(a, b)| a * b).sum(),
            Self::Exponential(length) => {
                let (mut sum, mut before) = (0.0, (0.0, 0.0));
                for (i, (a, b)) in a.iter().zip(b).enumerate() {
                    let kept = kept(x, i, length);
                    before = (kept * before.0, kept * before.1);
                    sum += a * b + a * before.1 + b * before.0;
                    before = (before.0 + a, before.1 + b);
                }
                sum
            }
        }
    }

    /// Standard normal numbers with this correlation, one a place.
    ///
    /// # Shape
    /// `out` as long as `x`.
    pub fn draw(&self, x: &[f64], noise: &mut Noise, out: &mut [f64]) {
        match *self {
            Self::Common => out.fill(noise.next()),
            Self::Independent => out.iter_mut().for_each(|v| *v = noise.next()),
            Self::Exponential(length) => {
                let mut last = 0.0;
                for (i, slot) in out.iter_mut().enumerate() {
                    let kept = kept(x, i, length);
                    last = kept * last + (1.0 - kept * kept).max(0.0).sqrt() * noise.next();
                    *slot = last;
                }
            }
        }
    }
}

/// Correlation with the place before; zero at the first.
fn kept(x: &[f64], i: usize, length: f64) -> f64 {
    let step = i.checked_sub(1).and_then(|before| Some(x.get(i)? - x.get(before)?));
    step.map_or(0.0, |step| (-step.abs() / length).exp())
}

#[cfg(test)]
mod tests {
    use super::*;

    const X: [f64; 6] = [0.0, 0.3, 0.5, 1.7, 1.9, 4.0];
    const A: [f64; 6] = [1.0, -2.0, 0.5, 3.0, 0.1, -1.0];
    const B: [f64; 6] = [0.2, 1.0, -0.7, 0.4, 2.0, 1.5];

    /// Against the full matrix, slow and obvious.
    fn full(rho: impl Fn(usize, usize) -> f64) -> f64 {
        let n = X.len();
        (0..n * n).map(|k| A[k / n] * rho(k / n, k % n) * B[k % n]).sum()
    }

    #[test]
    fn as_the_full_matrix() {
        for length in [0.05, 0.8, 30.0] {
            let expected = full(|i, j| (-(X[i] - X[j]).abs() / length).exp());
            let got = Correlation::Exponential(length).bilinear(&X, &A, &B);
            assert!((got - expected).abs() < 1e-12, "{length} {got} {expected}");
        }
        assert!((Correlation::Common.bilinear(&X, &A, &B) - full(|_, _| 1.0)).abs() < 1e-12);
        let alone = full(|i, j| if i == j { 1.0 } else { 0.0 });
        assert!((Correlation::Independent.bilinear(&X, &A, &B) - alone).abs() < 1e-12);
    }

    /// Limits: a length far above or below all distances is `Common` or `Independent`.
    #[test]
    fn limits_of_the_length() {
        let of = |c: Correlation| c.bilinear(&X, &A, &A);
        assert!((of(Correlation::Exponential(1e9)) - of(Correlation::Common)).abs() < 1e-6);
        assert!((of(Correlation::Exponential(1e-9)) - of(Correlation::Independent)).abs() < 1e-12);
    }

    /// The sample covariance of draws against ρ; 1/√n is 0.4 %.
    #[test]
    fn draws_are_correlated_as_stated() {
        const DRAWS: usize = 60_000;
        for (correlation, expected) in [
            (Correlation::Common, 1.0),
            (Correlation::Independent, 0.0),
            (Correlation::Exponential(0.8), (-0.5f64 / 0.8).exp()),
        ] {
            let mut noise = Noise::new(3);
            let (mut square, mut product) = (0.0, 0.0);
            let mut out = [0.0; 6];
            for _ in 0..DRAWS {
                correlation.draw(&X, &mut noise, &mut out);
                square += out[5] * out[5] / DRAWS as f64;
                product += out[0] * out[2] / DRAWS as f64;
            }
            assert!((square - 1.0).abs() < 0.03, "{correlation:?} {square}");
            assert!((product - expected).abs() < 0.02, "{correlation:?} {product}");
        }
    }
}
