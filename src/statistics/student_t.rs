//! Student's t distribution, for any real number of degrees of freedom.

use super::{continued_fraction, normal, root, stirling};

/// Probability of a value up to t, for ν degrees of freedom.
///
/// Relative error below 1e-12 in the lower tail.
///
/// # Errors
/// `None` unless ν > 0 and t is a number. ν may be infinite: the normal distribution.
///
/// # Examples
/// ν = 1 is the Cauchy distribution: t = 1 → ¾.
///
/// # References
/// Incomplete beta function I_x(ν/2, ½) with x = ν/(ν + t²): NIST Digital Library of Mathematical
/// Functions, 8.17.8 near the middle; in the tails the continued fraction of A. R. DiDonato and
/// A. H. Morris, ACM Trans. Math. Softw. 18 (1992) 360, whose length does not grow with ν.
pub fn cdf(t: f64, nu: f64) -> Option<f64> {
    if t.is_nan() || nu.is_nan() || nu <= 0.0 {
        return None;
    }
    if nu.is_infinite() || t.is_infinite() {
        return Some(normal::cdf(t));
    }
    let tail = upper_tail(t.abs(), nu);
    Some(if t > 0.0 { 1.0 - tail } else { tail })
}

/// Value below which a share `p` of the distribution lies.
///
/// # Errors
/// `None` unless 0 < p < 1 and ν > 0, or when the value exceeds the largest number.
///
/// # Examples
/// p = 0.975: ν = 1 → 12.7062, ν = 10 → 2.22814.
pub fn quantile(p: f64, nu: f64) -> Option<f64> {
    let start = normal::quantile(p)?.abs();
    if nu.is_nan() || nu <= 0.0 {
        return None;
    }
    if nu.is_infinite() || start == 0.0 {
        return normal::quantile(p);
    }
    let share = if p > 0.5 { 1.0 - p } else { p };
    let part = (p - 0.5).abs();
    // In ln t and the logarithm of a probability both tail and middle are nearly straight.
    let function = |ln_t: f64| {
        let t = ln_t.exp();
        let rise = t_density(t, nu);
        if share > 0.25 {
            let found = from_middle(t, nu);
            ((found / part).ln(), rise / found)
        } else {
            let found = upper_tail(t, nu);
            ((share / found).ln(), rise / found)
        }
    };
    let distance = root::of_increasing((-90.0, start.ln(), 709.0), function)?.exp();
    Some(if p > 0.5 { distance } else { -distance })
}

/// Coverage factor: the half-width, in standard uncertainties, of the interval about the middle that
/// holds `probability`. Without a number of degrees of freedom that of the normal distribution.
///
/// # Errors
/// `None` unless 0 < probability < 1 and ν > 0.
///
/// # Examples
/// 0.95, ν = 4 → 2.776; 0.95, none → 1.960.
///
/// # References
/// JCGM 100:2008, G.3 and table G.2.
pub fn coverage_factor(probability: f64, nu: Option<f64>) -> Option<f64> {
    if !(probability > 0.0 && probability < 1.0) {
        return None;
    }
    // The lower quantile: 1 − probability keeps more digits than 1 + probability.
    let p = 0.5 * (1.0 - probability);
    let lower = nu.map_or_else(|| normal::quantile(p), |nu| quantile(p, nu))?;
    Some(-lower)
}

/// Density at t, times t.
fn t_density(t: f64, nu: f64) -> f64 {
    let ln_gammas = 0.5 * nu * (1.0 / nu).ln_1p() - 0.5 + stirling::remainder(0.5 * (nu + 1.0))
        - stirling::remainder(0.5 * nu);
    // ln(1 + t²/ν), also where the square exceeds the largest number.
    let r = t / nu.sqrt();
    let spread = if r < 1e100 { (r * r).ln_1p() } else { 2.0 * t.ln() - nu.ln() };
    // In two halves, neither of which falls below the smallest number before t is there.
    let half = (0.5 * (ln_gammas - 0.5 * (nu + 1.0) * spread)).exp();
    half * t * half / std::f64::consts::TAU.sqrt()
}

/// Probability of a value between 0 and t ≥ 0.
fn from_middle(t: f64, nu: f64) -> f64 {
    if t * t > switch(nu) {
        return 0.5 - upper_tail(t, nu);
    }
    let share = t * t / (nu + t * t);
    let (mut term, mut sum, mut odd) = (1.0, 1.0, 1.0);
    while term > f64::EPSILON * 0.1 * sum {
        term *= share * (nu + odd) / (odd + 2.0);
        odd += 2.0;
        sum += term;
    }
    t_density(t, nu) * sum
}

/// Probability of a value above t ≥ 0.
fn upper_tail(t: f64, nu: f64) -> f64 {
    if t * t <= switch(nu) {
        return 0.5 - from_middle(t, nu);
    }
    let a = 0.5 * nu;
    let r = t / nu.sqrt();
    // x = ν/(ν + t²), and y = 1 − x.
    let x = 1.0 / (1.0 + r * r);
    let y = 1.0 / (1.0 + 1.0 / (r * r));
    let part = |m: f64| {
        let middle = a * y - 0.5 * x + 1.0 + m * (1.0 + y);
        let before = if m > 0.0 { m * (0.5 - m) * x / (a + 2.0 * m - 1.0) } else { 0.0 };
        m + before + (a + m) / (a + 2.0 * m + 1.0) * middle
    };
    let fraction = continued_fraction::value(part(0.0), |m| {
        let odd = a + 2.0 * m - 1.0;
        ((a + m - 1.0) / odd * ((a + m - 0.5) / odd) * m * (0.5 - m) * x * x, part(m))
    });
    0.5 * t_density(t, nu) / fraction
}

/// The square of t beyond which the fraction converges fast: x < (a + 1)/(a + b + 2).
fn switch(nu: f64) -> f64 {
    3.0 * nu / (nu + 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// JCGM 100:2008, table G.2, to more digits: fractions 0.95 and 0.9545 (whose entry for ν = 50 is also
    /// in the table), two-sided; and t₉₉(16) of H.1.6, printed as 2.92.
    #[test]
    fn table_of_coverage_factors() {
        let near = |probability, nu: f64, expected: f64| {
            let found = coverage_factor(probability, Some(nu)).expect("a factor");
            assert!((found / expected - 1.0).abs() < 1e-11, "{probability} {nu} {found}");
        };
        for (nu, t95, t9545) in [
            (1.0, 12.706_204_736_2, 13.967_811_487_5),
            (2.0, 4.302_652_729_75, 4.526_550_760_08),
            (3.0, 3.182_446_305_28, 3.306_829_920_72),
            (4.0, 2.776_445_105_2, 2.869_315_169_7),
            (5.0, 2.570_581_835_64, 2.648_654_254_28),
            (9.0, 2.262_157_162_8, 2.319_809_441_02),
            (10.0, 2.228_138_851_99, 2.283_681_613_3),
            (20.0, 2.085_963_447_27, 2.133_028_361_89),
            (30.0, 2.042_272_456_3, 2.086_847_053_54),
            (100.0, 1.983_971_518_52, 2.025_311_652_76),
        ] {
            near(0.95, nu, t95);
            near(0.9545, nu, t9545);
        }
        near(0.9545, 50.0, 2.051_250_781_85);
        near(0.99, 16.0, 2.920_781_622_43);
    }

    /// Without a number of degrees of freedom, and with ever more: the normal distribution, from which t
    /// differs by (z³ + z)/4ν.
    #[test]
    fn many_degrees_of_freedom() {
        let z = coverage_factor(0.95, None).expect("a factor");
        assert!((z - 1.959_963_984_54).abs() < 5e-12);
        assert_eq!(coverage_factor(0.95, Some(f64::INFINITY)), Some(z));
        for nu in [1e5, 1e8, 1e12, 1e300] {
            let found = coverage_factor(0.95, Some(nu)).expect("a factor");
            let expected = z + (z.powi(3) + z) / (4.0 * nu);
            assert!((found - expected).abs() < 4e-15 + 10.0 / (nu * nu), "{nu} {found}");
        }
    }

    /// Closed forms: ν = 1 is ½ + atan(t)/π, ν = 2 is ½ + t/(2√(2 + t²)); in the lower tail without the
    /// difference: atan(1/|t|)/π, and 1/(w (w + |t|)) with w = √(2 + t²).
    #[test]
    fn one_and_two_degrees_of_freedom() {
        for t in [1e-9f64, 0.01, 0.7, 0.99, 1.0, 1.01, 1.3, 3.0, 40.0, 1e6, 1e150, 1e200] {
            let near = |found: Option<f64>, expected: f64| {
                let found = found.expect("a probability");
                assert!((found / expected - 1.0).abs() < 1e-13, "{t} {found} {expected}");
            };
            near(cdf(-t, 1.0), (1.0 / t).atan() / std::f64::consts::PI);
            near(cdf(t, 1.0), 0.5 + t.atan() / std::f64::consts::PI);
            let w = 2f64.sqrt().hypot(t);
            near(cdf(-t, 2.0), if w < 1e150 { 1.0 / (w * (w + t)) } else { return });
        }
    }

    /// No jump where the two ways meet.
    #[test]
    fn both_ways_agree() {
        for nu in [0.1, 1.0, 3.3, 40.0, 1e3, 1e7, 1e12] {
            let t = switch(nu).sqrt();
            let (inside, outside) =
                (upper_tail(t * (1.0 - 1e-9), nu), upper_tail(t * (1.0 + 1e-9), nu));
            let expected = 2e-9 * t_density(t, nu);
            assert!((inside - outside - expected).abs() < 2e-15, "{nu} {inside} {outside}");
        }
    }

    /// The quantile of the probability of t is t.
    #[test]
    fn quantile_inverts() {
        for nu in [0.3, 1.0, 2.0, 4.7, 30.0, 1e3, 1e6, 1e10] {
            for t in [1e-8, 1e-3, 0.1, 0.6, 0.8, 1.0, 1.7, 2.5, 4.0, 9.0, 30.0] {
                let below = cdf(-t, nu).expect("a probability");
                if below < 1e-290 {
                    continue;
                }
                let found = quantile(below, nu).expect("a value");
                // A probability near ½ keeps no more than 1e-16.
                let off = 1e-13 * t + 1.2e-16 * below * t / t_density(t, nu);
                assert!((found + t).abs() <= off, "{nu} {t} {found}");
                assert_eq!(quantile(0.5, nu), Some(0.0));
            }
        }
    }

    #[test]
    fn refused() {
        assert_eq!(cdf(1.0, 0.0), None);
        assert_eq!(cdf(f64::NAN, 3.0), None);
        assert_eq!(cdf(1.0, f64::NAN), None);
        assert_eq!(quantile(1.0, 3.0), None);
        assert_eq!(quantile(0.3, -1.0), None);
        assert_eq!(quantile(1e-9, 1e-3), None);
        assert_eq!(coverage_factor(1.0, None), None);
        assert_eq!(coverage_factor(0.95, Some(0.0)), None);
    }
}
