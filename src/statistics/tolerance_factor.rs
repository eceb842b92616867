//! Factor of a one-sided tolerance limit.

use super::{noncentral_t, normal};

/// Factor k so that mean + k s of a sample of n from a normal distribution lies, with the stated
/// `confidence`, above at least the stated `proportion` of that distribution.
///
/// k = t′(confidence; n − 1, √n z)/√n, with t′ the quantile of the noncentral t distribution and z that
/// of the normal distribution at `proportion`.
///
/// # Errors
/// `None` of fewer than two values, or unless both probabilities lie between 0 and 1.
///
/// # Examples
/// 90 % with 90 % confidence: n = 3 → 4.258, n = 10 → 2.066.
///
/// # References
/// ISO 16269-6 (one-sided interval, unknown mean and standard deviation); NIST/SEMATECH e-Handbook of
/// Statistical Methods, 7.2.6.3.
pub fn tolerance_factor(n: usize, proportion: f64, confidence: f64) -> Option<f64> {
    if n < 2 {
        return None;
    }
    let root = (n as f64).sqrt();
    let delta = root * normal::quantile(proportion)?;
    Some(noncentral_t::quantile(confidence, (n - 1) as f64, delta)? / root)
}

#[cfg(test)]
mod tests {
    use super::tolerance_factor;

    fn near(n: usize, proportion: f64, confidence: f64, expected: f64, tolerance: f64) {
        let found = tolerance_factor(n, proportion, confidence).expect("a factor");
        assert!((found / expected - 1.0).abs() < tolerance, "{n} {found} {expected}");
    }

    /// ISO 16269-6, one-sided, 90 %/90 % and 95 %/95 %: the same formula in a reference library, 12 digits.
    #[test]
    fn one_sided_factors() {
        for (n, expected) in [
            (2, 10.252_714_027_9),
            (3, 4.258_164_936_71),
            (4, 3.187_844_335_31),
            (5, 2.742_348_202_95),
            (6, 2.493_690_204_86),
            (7, 2.332_646_815_1),
            (8, 2.218_594_184_89),
            (9, 2.132_874_684_06),
            (10, 2.065_668_32),
            (15, 1.866_841_097_53),
            (20, 1.765_206_311_77),
            (30, 1.657_064_913_13),
            (50, 1.559_467_649_14),
            (100, 1.470_061_565_19),
        ] {
            near(n, 0.90, 0.90, expected, 1e-9);
        }
        for (n, expected) in [
            (3, 7.655_900_133_15),
            (5, 4.202_680_741_26),
            (10, 2.910_963_413_08),
            (20, 2.396_001_683_75),
            (30, 2.219_837_532_04),
        ] {
            near(n, 0.95, 0.95, expected, 1e-9);
        }
    }

    /// NIST/SEMATECH e-Handbook, 7.2.6.3: n = 43, 90 % with 99 % confidence. It prints 1.8752, which is
    /// Natrella's approximation; the formula itself gives 1.87395.
    #[test]
    fn handbook_example() {
        near(43, 0.90, 0.99, 1.873_953_605_85, 1e-9);
        near(43, 0.90, 0.99, 1.8752, 1e-3);
        let found = tolerance_factor(43, 0.90, 0.99).expect("a factor");
        assert!((found - 1.8752).abs() > 1e-3, "the approximation");
    }

    /// Ever more values: the quantile itself.
    #[test]
    fn large_samples() {
        near(1_000_000_000_000, 0.90, 0.90, 1.281_551_565_5, 5e-6);
        assert_eq!(tolerance_factor(1, 0.9, 0.9), None);
        assert_eq!(tolerance_factor(5, 1.0, 0.9), None);
        assert_eq!(tolerance_factor(5, 0.9, 0.0), None);
    }
}
