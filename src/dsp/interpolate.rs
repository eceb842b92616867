//! Interpolation of sampled functions at true coordinates.

/// Index `i` of the interval `[x(i), x(i+1)]` that holds `at` in rising coordinates, clamped to the
/// first and last interval. `None` with fewer than two coordinates.
pub fn interval(x: &[f64], at: f64) -> Option<usize> {
    if x.len() < 2 {
        return None;
    }
    Some(x.partition_point(|v| *v <= at).saturating_sub(1).min(x.len() - 2))
}

/// Linear interpolation in rising coordinates, constant beyond the ends.
pub fn linear(x: &[f64], y: &[f64], at: f64) -> Option<f64> {
    match (x, y) {
        ([_], [only]) => return Some(*only),
        _ if x.len() != y.len() => return None,
        _ => {}
    }
    let i = interval(x, at)?;
    let t = ((at - x[i]) / (x[i + 1] - x[i])).clamp(0.0, 1.0);
    Some(y[i] + t * (y[i + 1] - y[i]))
}

/// Weights of the four-point Lagrange interpolation at `at`, with the index of the first point; fewer
/// points where the data are fewer.
pub fn lagrange_weights(x: &[f64], at: f64) -> Option<(usize, Vec<f64>)> {
    weights_of(x, at, 4)
}

/// Weights of the Lagrange interpolation over an even number of points about `at`.
pub(super) fn weights_of(x: &[f64], at: f64, count: usize) -> Option<(usize, Vec<f64>)> {
    let i = interval(x, at)?;
    let n = x.len().min(count);
    let first = (i + 1).saturating_sub(count / 2).min(x.len() - n);
    let points = &x[first..first + n];
    let weights = (0..n)
        .map(|j| {
            (0..n).filter(|m| *m != j).map(|m| (at - points[m]) / (points[j] - points[m])).product()
        })
        .collect();
    Some((first, weights))
}

/// Four-point Lagrange interpolation in rising coordinates; clamps to the ends' interval.
pub fn cubic(x: &[f64], y: &[f64], at: f64) -> Option<f64> {
    let (first, weights) = lagrange_weights(x, at)?;
    let values = y.get(first..first + weights.len())?;
    Some(values.iter().zip(&weights).map(|(v, w)| v * w).sum())
}

/// Ratio of the smallest to the largest of four values down to which their logarithm is interpolated:
/// near a null the logarithm is no smooth function, the energy itself is.
const LOGARITHM_RANGE: f64 = 0.1;

/// Where the interpolated profile crosses `level` nearest to `from`, going up (`forward`) or down the
/// coordinates; positive values, the level below the value at `from`.
///
/// The interpolation is cubic in the logarithm where the four values lie within a factor of ten, else
/// over six points of the values themselves. `None` when the profile does not fall to the level on that side.
pub fn crossing(x: &[f64], y: &[f64], from: f64, level: f64, forward: bool) -> Option<f64> {
    let start = interval(x, from)?;
    let n = x.len();
    let value = |at: f64| -> Option<f64> {
        let (first, weights) = lagrange_weights(x, at)?;
        let values = y.get(first..first + weights.len())?;
        let top = values.iter().copied().fold(0.0, f64::max);
        if values.iter().all(|v| *v > LOGARITHM_RANGE * top) {
            Some(values.iter().zip(&weights).map(|(v, w)| v.ln() * w).sum::<f64>().exp())
        } else {
            let (first, weights) = weights_of(x, at, 6)?;
            let values = y.get(first..first + weights.len())?;
            Some(values.iter().zip(&weights).map(|(v, w)| v * w).sum())
        }
    };
    let steps: Vec<usize> =
        if forward { (start..n - 1).collect() } else { (0..=start).rev().collect() };
    for i in steps {
        let (near, far) = if forward { (x[i], x[i + 1]) } else { (x[i + 1], x[i]) };
        let near = if i == start { from } else { near };
        if value(near)? >= level && value(far)? < level {
            let (mut a, mut b) = (near, far);
            for _ in 0..60 {
                let middle = 0.5 * (a + b);
                if value(middle)? >= level { a = middle } else { b = middle }
            }
            return Some(0.5 * (a + b));
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cubic_is_exact_on_a_cubic() {
        let x = [0.0, 0.5, 1.3, 2.0, 2.4];
        let f = |v: f64| 1.0 - 2.0 * v + 0.3 * v * v - 0.7 * v * v * v;
        let y: Vec<f64> = x.iter().map(|v| f(*v)).collect();
        for at in [0.1, 0.9, 1.7, 2.3] {
            assert!((cubic(&x, &y, at).expect("inside") - f(at)).abs() < 1e-12);
        }
    }

    /// Gaussian exp(−2x²/w²): −6 dB half width w·sqrt(0.6·ln10/2), eight points across the width.
    #[test]
    fn gaussian_crossing() {
        let w: f64 = 1.0;
        let half = w * (0.6 * std::f64::consts::LN_10 / 2.0).sqrt();
        let step = 2.0 * half / 8.0;
        let x: Vec<f64> = (-15..=15).map(|i| f64::from(i) * step + 0.03).collect();
        let y: Vec<f64> = x.iter().map(|v| (-2.0 * v * v / (w * w)).exp()).collect();
        let level = 10f64.powf(-0.6);
        let right = crossing(&x, &y, 0.0, level, true).expect("falls");
        let left = crossing(&x, &y, 0.0, level, false).expect("falls");
        assert!((right - half).abs() < 1e-9 && (left + half).abs() < 1e-9);
        assert_eq!(crossing(&x[..17], &y[..17], 0.0, level, true), None);
    }
}
