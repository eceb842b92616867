//! Mean, standard deviations and autocorrelation of a sample.

/// Arithmetic mean; `None` of nothing.
pub fn mean(values: &[f64]) -> Option<f64> {
    if values.is_empty() {
        return None;
    }
    Some(sum(values.iter().copied()) / values.len() as f64)
}

/// Sample standard deviation s = √(Σ(v − mean)²/(n − 1)); `None` of fewer than two values.
///
/// # Examples
/// 1, 2, 3 → 1.
///
/// # References
/// JCGM 100:2008, 4.2.2. Corrected two-pass sum: T. F. Chan, G. H. Golub, R. J. LeVeque, Am. Stat. 37
/// (1983) 242.
pub fn standard_deviation(values: &[f64]) -> Option<f64> {
    let m = mean(values)?;
    if values.len() < 2 {
        return None;
    }
    let n = values.len() as f64;
    let squares = sum(values.iter().map(|v| (v - m) * (v - m)));
    let slip = sum(values.iter().map(|v| v - m));
    Some(((squares - slip * slip / n) / (n - 1.0)).sqrt())
}

/// Standard deviation of the mean, s/√n, of independent values; `None` of fewer than two.
///
/// # References
/// JCGM 100:2008, 4.2.3.
pub fn standard_deviation_of_mean(values: &[f64]) -> Option<f64> {
    Some(standard_deviation(values)? / (values.len() as f64).sqrt())
}

/// Autocorrelation at lag 1: Σ(vᵢ − mean)(vᵢ₊₁ − mean)/Σ(vᵢ − mean)²; `None` of fewer than two values,
/// or when all are equal.
///
/// # References
/// NIST Statistical Reference Datasets, univariate summary statistics.
pub fn lag_1_autocorrelation(values: &[f64]) -> Option<f64> {
    let m = mean(values)?;
    let squares = sum(values.iter().map(|v| (v - m) * (v - m)));
    let products = sum(values.windows(2).map(|w| (w[0] - m) * (w[1] - m)));
    (values.len() > 1 && squares > 0.0).then(|| products / squares)
}

/// Sum that carries what each addition rounds off.
///
/// # References
/// A. Neumaier, Z. Angew. Math. Mech. 54 (1974) 39.
fn sum(values: impl Iterator<Item = f64>) -> f64 {
    let (mut total, mut lost) = (0.0f64, 0.0);
    for v in values {
        let next = total + v;
        lost += if total.abs() >= v.abs() { (total - next) + v } else { (v - next) + total };
        total = next;
    }
    total + lost
}

#[cfg(test)]
mod tests {
    use super::*;

    fn alternating(first: f64, a: f64, b: f64) -> Vec<f64> {
        let rest = (0..1000).map(|i| if i % 2 == 0 { a } else { b });
        std::iter::once(first).chain(rest).collect()
    }

    /// NIST Statistical Reference Datasets, NumAcc1 to NumAcc4, built from their published description:
    /// mean, standard deviation and autocorrelation are certified, and exact by construction. The
    /// tolerance of the spread is the rounding of the stored decimals: half a unit in the last place of the
    /// offset, beside 0.1.
    #[test]
    fn numerical_accuracy_sets() {
        let sets = [
            (vec![10000001.0, 10000003.0, 10000002.0], 10000002.0, 1.0, -0.5, 1e-15),
            (alternating(1.2, 1.1, 1.3), 1.2, 0.1, -0.999, 1.2e-15),
            (alternating(1000000.2, 1000000.1, 1000000.3), 1000000.2, 0.1, -0.999, 6e-10),
            (alternating(10000000.2, 10000000.1, 10000000.3), 10000000.2, 0.1, -0.999, 1e-8),
        ];
        for (values, m, s, r, tolerance) in sets {
            assert!((mean(&values).expect("some") / m - 1.0).abs() < 3e-16, "{m}");
            let found = standard_deviation(&values).expect("two");
            assert!((found / s - 1.0).abs() < tolerance, "{m}: {found}");
            let found = lag_1_autocorrelation(&values).expect("two");
            assert!((found - r).abs() < tolerance, "{m}: {found}");
        }
    }

    /// NIST Statistical Reference Datasets, Michelso (A. A. Michelson's speeds of light of 1879, in
    /// thousands of km/s; values and certified results from memory, which agree to all digits).
    #[test]
    fn speeds_of_light() {
        let thousandths = [
            850, 740, 900, 1070, 930, 850, 950, 980, 980, 880, 1000, 980, 930, 650, 760, 810, 1000,
            1000, 960, 960, 960, 940, 960, 940, 880, 800, 850, 880, 900, 840, 830, 790, 810, 880,
            880, 830, 800, 790, 760, 800, 880, 880, 880, 860, 720, 720, 620, 860, 970, 950, 880,
            910, 850, 870, 840, 840, 850, 840, 840, 840, 890, 810, 810, 820, 800, 770, 760, 740,
            750, 760, 910, 920, 890, 860, 880, 720, 840, 850, 850, 780, 890, 840, 780, 810, 760,
            810, 790, 810, 820, 850, 870, 870, 810, 740, 810, 940, 950, 800, 810, 870,
        ];
        let values: Vec<f64> =
            thousandths.iter().map(|v| f64::from(299_000 + v) / 1000.0).collect();
        assert!((mean(&values).expect("some") - 299.8524).abs() < 1e-13);
        let spread = standard_deviation(&values).expect("two");
        assert!((spread / 0.079_010_547_819_051_8 - 1.0).abs() < 1e-12, "{spread}");
        let lag = lag_1_autocorrelation(&values).expect("two");
        assert!((lag / 0.535_199_668_621_283 - 1.0).abs() < 1e-12, "{lag}");
    }

    /// National Physical Laboratory, guide to the measurement of acoustic output power: two sets of twelve
    /// readings in mW with mean, s and s/√n as printed (99.00, 0.254, 0.073; 97.39, 1.541, 0.445).
    #[test]
    fn power_readings() {
        let sets = [
            (
                [
                    99.48, 99.15, 99.20, 99.07, 99.20, 98.74, 99.12, 98.83, 99.06, 98.81, 98.64,
                    98.70,
                ],
                (99.00, 0.254, 0.073),
            ),
            (
                [
                    94.22, 96.91, 95.64, 97.99, 96.38, 98.16, 96.89, 98.49, 97.21, 99.17, 97.76,
                    99.84,
                ],
                (97.39, 1.541, 0.445),
            ),
        ];
        for (values, (m, s, u)) in sets {
            assert!((mean(&values).expect("some") - m).abs() <= 0.005);
            assert!((standard_deviation(&values).expect("two") - s).abs() <= 0.0005);
            assert!((standard_deviation_of_mean(&values).expect("two") - u).abs() <= 0.0005);
        }
    }

    #[test]
    fn too_few() {
        assert_eq!(mean(&[]), None);
        assert_eq!(standard_deviation(&[1.0]), None);
        assert_eq!(standard_deviation_of_mean(&[1.0]), None);
        assert_eq!(lag_1_autocorrelation(&[1.0]), None);
        assert_eq!(lag_1_autocorrelation(&[2.0, 2.0, 2.0]), None);
    }
}
