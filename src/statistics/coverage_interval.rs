//! Coverage intervals from the values of a Monte Carlo calculation.

/// Shortest interval that holds a share `probability` of the values: (low, high).
///
/// Of M values in order, with q = pM rounded half up, the least y(r + q) − y(r); the first of equals.
///
/// # Shape
/// `sorted` in increasing order.
///
/// # Errors
/// `None` unless 0 < probability < 1 and 1 ≤ q < M, or when the values are not in order.
///
/// # Examples
/// 0, 4, 5, 6, 20 at 0.4: q = 2 → (4, 6).
///
/// # References
/// JCGM 101:2008, 5.3.4 and 7.7.
pub fn shortest_interval(sorted: &[f64], probability: f64) -> Option<(f64, f64)> {
    let q = covered(sorted, probability)?;
    let mut best: Option<(f64, f64)> = None;
    for (low, high) in sorted.iter().zip(&sorted[q..]) {
        if best.is_none_or(|(l, h)| high - low < h - l) {
            best = Some((*low, *high));
        }
    }
    best
}

/// Probabilistically symmetric interval that holds a share `probability` of the values: (low, high),
/// with as many values below it as above.
///
/// y(r) to y(r + q), counted from 1, with r = (M − q)/2, or (M − q + 1)/2 where that is no integer.
///
/// # Shape
/// `sorted` in increasing order.
///
/// # Errors
/// As [`shortest_interval`].
///
/// # Examples
/// 0, 4, 5, 6, 20 at 0.4: q = 2, r = 2 → (4, 6).
///
/// # References
/// JCGM 101:2008, 5.3.4 and 7.7.
pub fn symmetric_interval(sorted: &[f64], probability: f64) -> Option<(f64, f64)> {
    let q = covered(sorted, probability)?;
    let first = (sorted.len() - q).div_ceil(2) - 1;
    Some((sorted[first], sorted[first + q]))
}

/// Number q of steps from one end of an interval to the other.
fn covered(sorted: &[f64], probability: f64) -> Option<usize> {
    if !(probability > 0.0 && probability < 1.0 && sorted.is_sorted()) {
        return None;
    }
    let q = (probability * sorted.len() as f64 + 0.5).floor() as usize;
    (q >= 1 && q < sorted.len()).then_some(q)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Values at the probabilities (r − ½)/M of the exponential distribution, −ln(1 − P).
    fn exponential(count: u32) -> Vec<f64> {
        (1..=count).map(|r| -(1.0 - (f64::from(r) - 0.5) / f64::from(count)).ln()).collect()
    }

    /// Closed form: the density falls, so the shortest 95 % interval starts at zero, 0 to −ln 0.05, and
    /// the symmetric one is −ln 0.975 to −ln 0.025.
    #[test]
    fn exponential_distribution() {
        let values = exponential(100_000);
        let (low, high) = shortest_interval(&values, 0.95).expect("an interval");
        assert_eq!(low, values[0]);
        assert!((high + 0.05f64.ln()).abs() < 2e-4, "{high}");
        let (low, high) = symmetric_interval(&values, 0.95).expect("an interval");
        assert!((low + 0.975f64.ln()).abs() < 2e-5, "{low}");
        assert!((high + 0.025f64.ln()).abs() < 4e-4, "{high}");
    }

    /// JCGM 101:2008, 7.7.2, counted by hand: M = 9, p = 0.5 gives q = 5, r = 2, so y(2) and y(7);
    /// M = 10, p = 0.5 gives q = 5, r = 3, so y(3) and y(8).
    #[test]
    fn counted_by_hand() {
        let nine: Vec<f64> = (1..=9).map(f64::from).collect();
        assert_eq!(symmetric_interval(&nine, 0.5), Some((2.0, 7.0)));
        let ten: Vec<f64> = (1..=10).map(f64::from).collect();
        assert_eq!(symmetric_interval(&ten, 0.5), Some((3.0, 8.0)));
        assert_eq!(shortest_interval(&ten, 0.5), Some((1.0, 6.0)));
        assert_eq!(shortest_interval(&[0.0, 4.0, 5.0, 6.0, 20.0], 0.4), Some((4.0, 6.0)));
    }

    #[test]
    fn no_interval() {
        let ten: Vec<f64> = (1..=10).map(f64::from).collect();
        for p in [0.0, 1.0, 0.04, 0.96, f64::NAN] {
            assert_eq!(shortest_interval(&ten, p), None);
            assert_eq!(symmetric_interval(&ten, p), None);
        }
        assert_eq!(shortest_interval(&[], 0.5), None);
        assert_eq!(shortest_interval(&[2.0, 1.0, 3.0], 0.5), None);
        assert_eq!(symmetric_interval(&[1.0, f64::NAN, 3.0], 0.5), None);
    }
}
