//! The noncentral t distribution.

use super::{normal, root, stirling};

/// Probability of a value up to t of (Z + δ)/√(χ²/ν), with Z standard normal and χ² of ν degrees of
/// freedom, independent of each other.
///
/// P = ∫ Φ(t eᵘ − δ) f(u) du over the density f of u = ln √(χ²/ν), by the trapezoidal rule, which for a
/// smooth integrand that falls off on both sides converges faster than any power of the step.
/// Absolute error below 1e-13.
///
/// # Errors
/// `None` unless ν ≥ 1, all are finite, and |δ| ≤ 10⁴ √ν, beyond which the sum would grow too long.
///
/// # Examples
/// t = 0 → Φ(−δ).
///
/// # References
/// Definition: N. L. Johnson, B. L. Welch, Biometrika 31 (1940) 362. Quadrature: L. N. Trefethen,
/// J. A. C. Weideman, SIAM Rev. 56 (2014) 385.
pub fn cdf(t: f64, nu: f64, delta: f64) -> Option<f64> {
    Some(probability_and_density(t, nu, delta)?.0.min(1.0))
}

/// Value below which a share `p` of the distribution lies.
///
/// # Errors
/// `None` unless 0 < p < 1, or as [`cdf`].
pub fn quantile(p: f64, nu: f64, delta: f64) -> Option<f64> {
    let start = delta + normal::quantile(p)?;
    let below =
        |t: f64| probability_and_density(t, nu, delta).map(|(found, slope)| (found - p, slope));
    below(start)?;
    let function = |t: f64| below(t).unwrap_or((f64::NAN, f64::NAN));
    // Widened until it holds the value.
    let mut width = 1.0 + start.abs();
    while function(start - width).0 > 0.0 || function(start + width).0 < 0.0 {
        width *= 4.0;
    }
    root::of_increasing((start - width, start, start + width), function)
}

fn probability_and_density(t: f64, nu: f64, delta: f64) -> Option<(f64, f64)> {
    if !(nu >= 1.0 && nu.is_finite() && t.is_finite() && delta.abs() <= 1e4 * nu.sqrt()) {
        return None;
    }
    // Half the width of the narrowest feature: of f 1/√(2ν), of Φ, where it is not yet 0 or 1,
    // 1/(|δ| + 9); and fine enough for the exponential of an exponential.
    let steepest = delta.abs() + 9.0;
    let step = (0.5 / (2.0 * nu + steepest * steepest).sqrt()).min(0.1);
    let (mut probability, mut density) = (0.0, 0.0);
    let mut add = |u: f64| {
        let weight = (-0.5 * nu * exponential_excess(2.0 * u)).exp();
        let scale = u.exp();
        probability += weight * normal::cdf(t * scale - delta);
        density += weight * scale * normal::density(t * scale - delta);
        weight > 1e-19
    };
    add(0.0);
    for side in [-1.0, 1.0] {
        let mut k = side;
        while add(k * step) {
            k += side;
        }
    }
    let factor = step * (nu / std::f64::consts::PI).sqrt() * (-stirling::remainder(0.5 * nu)).exp();
    Some((factor * probability, factor * density))
}

/// eˣ − 1 − x, with its digits also near zero.
fn exponential_excess(x: f64) -> f64 {
    if x.abs() > 0.5 {
        return x.exp_m1() - x;
    }
    let (mut term, mut sum, mut k) = (0.5 * x * x, 0.5 * x * x, 2.0);
    while term.abs() > f64::EPSILON * sum {
        k += 1.0;
        term *= x / k;
        sum += term;
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::super::student_t;
    use super::*;

    /// Closed forms: without noncentrality Student's t; at t = 0 Φ(−δ); P(t, δ) + P(−t, −δ) = 1.
    #[test]
    fn closed_forms() {
        for nu in [1.0, 2.0, 5.0, 42.0, 1e4, 1e9] {
            for t in [-7.0, -1.3, 0.0, 0.4, 2.0, 11.0, 500.0] {
                let central = student_t::cdf(t, nu).expect("a probability");
                assert!((cdf(t, nu, 0.0).expect("one") - central).abs() < 1e-13, "{nu} {t}");
                for delta in [-3.0, 0.8, 12.0] {
                    let both = cdf(t, nu, delta).expect("one") + cdf(-t, nu, -delta).expect("one");
                    assert!((both - 1.0).abs() < 1e-13, "{nu} {t} {delta}");
                }
            }
            let zero = cdf(0.0, nu, 1.7).expect("one");
            assert!((zero - normal::cdf(-1.7)).abs() < 1e-13, "{nu}");
        }
    }

    /// The quantile of the probability of t is t.
    #[test]
    fn quantile_inverts() {
        for nu in [1.0, 3.5, 20.0, 1e3] {
            for delta in [-2.0, 0.0, 1.8, 9.0, 40.0] {
                for z in [-2.0, -0.3, 1.0, 2.5] {
                    let t = delta + z;
                    let (p, slope) = probability_and_density(t, nu, delta).expect("both");
                    if !(p > 1e-6 && p < 1.0 - 1e-6) {
                        continue;
                    }
                    let found = quantile(p, nu, delta).expect("a value");
                    assert!(
                        (found - t).abs() < 1e-13 * t.abs() + 1e-14 / slope,
                        "{nu} {delta} {z}"
                    );
                }
            }
        }
    }

    #[test]
    fn refused() {
        assert_eq!(cdf(1.0, 0.5, 1.0), None);
        assert_eq!(cdf(1.0, 4.0, 1e6), None);
        assert_eq!(cdf(f64::INFINITY, 4.0, 1.0), None);
        assert_eq!(quantile(0.0, 4.0, 1.0), None);
        assert_eq!(quantile(0.5, 4.0, f64::NAN), None);
    }
}
