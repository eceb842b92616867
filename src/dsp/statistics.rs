//! Means, medians and spreads.

/// Arithmetic mean in two passes, so that a large offset costs no digits; `None` of nothing.
pub fn mean(values: &[f64]) -> Option<f64> {
    if values.is_empty() {
        return None;
    }
    let n = values.len() as f64;
    let rough = values.iter().sum::<f64>() / n;
    Some(rough + values.iter().map(|v| v - rough).sum::<f64>() / n)
}

/// Sample standard deviation (n − 1); `None` of fewer than two values.
pub fn standard_deviation(values: &[f64]) -> Option<f64> {
    let m = mean(values)?;
    if values.len() < 2 {
        return None;
    }
    let squares: f64 = values.iter().map(|v| (v - m) * (v - m)).sum();
    let slip: f64 = values.iter().map(|v| v - m).sum();
    let n = values.len() as f64;
    Some(((squares - slip * slip / n) / (n - 1.0)).sqrt())
}

/// Median; the mean of the two middle values of an even number. Values that are not finite are left out.
pub fn median(values: &[f64]) -> Option<f64> {
    let mut sorted: Vec<f64> = values.iter().copied().filter(|v| v.is_finite()).collect();
    sorted.sort_by(f64::total_cmp);
    let n = sorted.len();
    match n {
        0 => None,
        _ if n % 2 == 1 => Some(sorted[n / 2]),
        _ => Some(0.5 * (sorted[n / 2 - 1] + sorted[n / 2])),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST Statistical Reference Datasets, univariate, NumAcc1 to NumAcc4: certified mean and
    /// standard deviation (sets rebuilt from their published description).
    #[test]
    fn nist_numerical_accuracy_sets() {
        let alternate = |first: f64, a: f64, b: f64| -> Vec<f64> {
            std::iter::once(first)
                .chain((0..1000).map(|i| if i % 2 == 0 { a } else { b }))
                .collect()
        };
        let sets = [
            (vec![10000001.0, 10000003.0, 10000002.0], 10000002.0, 1.0, 1e-14),
            (alternate(1.2, 1.1, 1.3), 1.2, 0.1, 1e-12),
            (alternate(1000000.2, 1000000.1, 1000000.3), 1000000.2, 0.1, 1e-8),
            (alternate(10000000.2, 10000000.1, 10000000.3), 10000000.2, 0.1, 1e-7),
        ];
        for (values, m, s, tolerance) in sets {
            assert!((mean(&values).expect("some") / m - 1.0).abs() < 1e-14);
            assert!((standard_deviation(&values).expect("some") / s - 1.0).abs() < tolerance);
        }
    }

    #[test]
    fn medians() {
        assert_eq!(median(&[3.0, 1.0, f64::NAN, 2.0]), Some(2.0));
        assert_eq!(median(&[4.0, 1.0, 3.0, 2.0]), Some(2.5));
        assert_eq!(median(&[]), None);
    }
}
