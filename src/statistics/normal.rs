//! The standard normal distribution.

use super::continued_fraction;

/// 1/√(2π).
const FRAC_1_SQRT_TAU: f64 = 0.398_942_280_401_432_7;

/// Beyond this distance from the middle the tail is computed, within it the part from the middle.
const TAIL: f64 = 1.25;

/// Density φ(x) = exp(−x²/2)/√(2π).
pub(super) fn density(x: f64) -> f64 {
    FRAC_1_SQRT_TAU * (-0.5 * x * x).exp()
}

/// Probability Φ(x) of a value up to x.
///
/// Relative error below 1e-13 down to the smallest numbers.
///
/// # Examples
/// Φ(0) = ½, Φ(1.4) = 0.9192, Φ(2) = 0.9772.
///
/// # References
/// Middle: φ(x)(x + x³/3 + x⁵/15 + …), G. Marsaglia, J. Stat. Softw. 11 (4), 2004. Tails: continued
/// fraction of the incomplete gamma function, NIST Digital Library of Mathematical Functions, 8.9.2.
pub fn cdf(x: f64) -> f64 {
    sf(-x)
}

/// Probability 1 − Φ(x) of a value above x, with the digits of its own in the upper tail.
pub fn sf(x: f64) -> f64 {
    if x > TAIL {
        upper_tail(x)
    } else if x < -TAIL {
        1.0 - upper_tail(-x)
    } else {
        0.5 - from_middle(x)
    }
}

/// Value below which a share `p` of the distribution lies.
///
/// # Errors
/// `None` unless 0 < p < 1.
///
/// # Examples
/// 0.975 → 1.959964.
pub fn quantile(p: f64) -> Option<f64> {
    if !(p > 0.0 && p < 1.0) {
        return None;
    }
    // 1 − p and p − ½ are exact where they are used.
    let share = if p > 0.5 { 1.0 - p } else { p };
    let distance =
        if share < 0.1 { tail_quantile(share) } else { middle_quantile((0.5 - p).abs()) };
    Some(if p > 0.5 { distance } else { -distance })
}

/// Φ(x) − ½.
fn from_middle(x: f64) -> f64 {
    let square = x * x;
    let (mut term, mut sum, mut odd) = (x, x, 1.0);
    while term.abs() > f64::EPSILON * 0.1 * sum.abs() {
        odd += 2.0;
        term *= square / odd;
        sum += term;
    }
    density(x) * sum
}

/// 1 − Φ(x) for x well above zero.
fn upper_tail(x: f64) -> f64 {
    if x > 39.0 {
        // Less than the smallest number.
        return 0.0;
    }
    let z = 0.5 * x * x;
    let fraction = continued_fraction::value(z + 0.5, |m| (m * (0.5 - m), z + 0.5 + 2.0 * m));
    0.5 * x * density(x) / fraction
}

/// Distance x > 0 with 1 − Φ(x) = share. Newton's method on the logarithm, which is concave: from a start
/// beyond, as exp(−x²/2)/2 ≥ 1 − Φ(x) gives it, the steps close in from one side.
fn tail_quantile(share: f64) -> f64 {
    let wanted = share.ln();
    let mut x = (-2.0 * (2.0 * share).ln()).sqrt();
    for _ in 0..30 {
        let tail = sf(x);
        let step = (tail.ln() - wanted) * tail / density(x);
        x += step;
        if step.abs() <= 2.0 * f64::EPSILON * x {
            break;
        }
    }
    x
}

/// Distance x ≥ 0 with Φ(x) − ½ = part, which is concave as well; from a start before.
fn middle_quantile(part: f64) -> f64 {
    let mut x = part / FRAC_1_SQRT_TAU;
    for _ in 0..30 {
        let step = (part - from_middle(x)) / density(x);
        x += step;
        if step.abs() <= 2.0 * f64::EPSILON * x {
            break;
        }
    }
    x
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Tables of the normal distribution: Φ and quantiles to 12 digits.
    #[test]
    fn tables() {
        for (x, expected) in [
            (1.4, 0.919_243_340_766_229),
            (1.645, 0.950_015_094_460_879),
            (1.96, 0.975_002_104_851_78),
            (2.0, 0.977_249_868_051_821),
        ] {
            assert!((cdf(x) - expected).abs() < 2e-15, "{x}");
        }
        assert!((sf(2.0) - 0.022_750_131_948_179_2).abs() < 1e-15);
        for (p, expected) in [(0.95, 1.644_853_626_95), (0.975, 1.959_963_984_54)] {
            assert!((quantile(p).expect("a share") - expected).abs() < 5e-12, "{p}");
        }
    }

    /// Closed forms: Φ(0) = ½, both tails together are 1; far out the tail is φ(x)/x (1 − 1/x² + 3/x⁴ …),
    /// whose partial sums lie on either side of it.
    #[test]
    fn closed_forms() {
        assert_eq!(cdf(0.0), 0.5);
        assert_eq!(quantile(0.5), Some(0.0));
        for i in -60..=60 {
            let x = 0.13 * f64::from(i);
            assert!((cdf(x) + sf(x) - 1.0).abs() < 1e-15, "{x}");
        }
        for x in [20.0, 30.0, 37.5] {
            let w = 1.0 / (x * x);
            let more = density(x) / x * (1.0 - w + 3.0 * w * w);
            let less = density(x) / x * (1.0 - w + 3.0 * w * w - 15.0 * w * w * w);
            assert!(less < sf(x) && sf(x) < more, "{x}");
        }
        assert_eq!((sf(f64::INFINITY), sf(f64::NEG_INFINITY)), (0.0, 1.0));
        assert!(cdf(f64::NAN).is_nan());
    }

    /// No jump where the two ways meet.
    #[test]
    fn both_ways_agree() {
        for x in [0.8, 1.0, 1.25, 2.0, 3.0] {
            assert!((0.5 - from_middle(x) - upper_tail(x)).abs() < 1e-15, "{x}");
        }
    }

    /// The quantile of the probability of x is x, from the middle to 1e-300.
    #[test]
    fn quantile_inverts() {
        for i in 0..=370 {
            let x = -0.1 * f64::from(i);
            let found = quantile(cdf(x)).expect("a share");
            assert!((found - x).abs() <= 1e-13 * x.abs(), "{x} {found}");
        }
        for i in 1..=45 {
            // Above the middle the probability itself keeps no more than 1e-16.
            let x = 0.1 * f64::from(i);
            let found = quantile(cdf(x)).expect("a share");
            assert!((found - x).abs() <= 1e-15 + 2.3e-16 / density(x), "{x} {found}");
        }
    }

    #[test]
    fn no_quantile() {
        for p in [0.0, 1.0, -0.1, 1.1, f64::NAN] {
            assert_eq!(quantile(p), None);
        }
    }
}
