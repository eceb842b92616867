//! Probability that a quantity lies within limits.

use super::student_t;

/// Probability that a quantity lies between `low` and `high`, a limit left out being none, when its
/// distribution is normal about y with the standard deviation u, or, with a number of degrees of freedom
/// ν, y + u T with T of Student's t distribution.
///
/// p = F((high − y)/u) − F((low − y)/u), the tails with the digits of their own.
///
/// # Units
/// y, u and the limits in the same.
///
/// # Errors
/// `None` unless u > 0 and finite, ν > 0, y is finite and the limits are numbers with low ≤ high.
///
/// # Examples
/// y = −5.47, u = 0.05, at most −5.40: Φ(1.4) = 0.919.
///
/// # References
/// JCGM 106:2012, clause 7 (conformance probability); JCGM 101:2008, 6.4.9 (scaled and shifted t).
pub fn interval_probability(
    y: f64,
    u: f64,
    nu: Option<f64>,
    low: Option<f64>,
    high: Option<f64>,
) -> Option<f64> {
    let (low, high) = (low.unwrap_or(f64::NEG_INFINITY), high.unwrap_or(f64::INFINITY));
    if !(u > 0.0 && u.is_finite() && y.is_finite() && low <= high) {
        return None;
    }
    let below = |x: f64| student_t::cdf(x, nu.unwrap_or(f64::INFINITY));
    let (low, high) = ((low - y) / u, (high - y) / u);
    // From the side on which the probabilities are the smaller ones.
    Some(if low > 0.0 {
        below(-low)? - below(-high)?
    } else if high < 0.0 {
        below(high)? - below(low)?
    } else {
        1.0 - below(low)? - below(-high)?
    })
}

#[cfg(test)]
mod tests {
    use super::interval_probability;

    fn near(found: Option<f64>, expected: f64, relative: f64) {
        let found = found.expect("a probability");
        assert!((found / expected - 1.0).abs() < relative, "{found} {expected}");
    }

    /// JCGM 106:2012, clause 7: breakdown voltage of a Zener diode, y = −5.47 V, u = 0.05 V, at most
    /// −5.40 V: Φ(1.4), printed as 0.92 (value from memory); two-sided 0.8 to 1.2, y = 1.15, u = 0.04 by
    /// formula (7).
    #[test]
    fn conformance() {
        near(
            interval_probability(-5.47, 0.05, None, None, Some(-5.40)),
            0.919_243_340_766_229,
            1e-13,
        );
        near(
            interval_probability(1.15, 0.04, None, Some(0.8), Some(1.2)),
            0.894_350_226_333_145,
            1e-13,
        );
    }

    /// ILAC-G8:09/2019, table 1 (from memory but for the first and third): a value on the acceptance limit,
    /// a guard band of r U inside the tolerance limit, U = 2u: the risk of accepting wrongly.
    #[test]
    fn guard_bands() {
        for (r, risk) in [
            (0.0, 0.5),
            (0.83, 0.048_457_226_266_722_8),
            (1.0, 0.022_750_131_948_179_2),
            (1.5, 0.001_349_898_031_630_09),
            (3.0, 9.865_876_450_376_98e-10),
        ] {
            let (limit, u) = (3.0, 0.25);
            let y = limit - r * 2.0 * u;
            near(interval_probability(y, u, None, Some(limit), None), risk, 1e-12);
            near(interval_probability(y, u, None, None, Some(limit)), 1.0 - risk, 1e-14);
        }
    }

    /// Closed form, ν = 1: (atan b − atan a)/π; on both sides of the middle and far out on either.
    #[test]
    fn few_degrees_of_freedom() {
        let (y, u) = (2.0, 0.5);
        for (a, b) in [(-1.0, 2.0), (-3.0, -1.0), (0.5, 4.0), (1e6, 2e6), (-2e6, -1e6)] {
            // atan b − atan a, without the difference of nearly equal angles.
            let expected = f64::atan2(b - a, 1.0 + a * b) / std::f64::consts::PI;
            let found = interval_probability(y, u, Some(1.0), Some(y + a * u), Some(y + b * u));
            near(found, expected, 1e-9);
        }
        assert_eq!(interval_probability(y, u, Some(1.0), None, None), Some(1.0));
    }

    #[test]
    fn refused() {
        assert_eq!(interval_probability(0.0, 0.0, None, None, Some(1.0)), None);
        assert_eq!(interval_probability(0.0, 1.0, None, Some(1.0), Some(0.0)), None);
        assert_eq!(interval_probability(0.0, 1.0, Some(0.0), None, Some(1.0)), None);
        assert_eq!(interval_probability(0.0, 1.0, None, Some(f64::NAN), None), None);
        assert_eq!(interval_probability(f64::NAN, 1.0, None, None, Some(1.0)), None);
    }
}
