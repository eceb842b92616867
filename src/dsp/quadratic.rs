//! Least-squares quadratics in one and two dimensions.

/// Top of a quadratic fitted to points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Top {
    pub x: f64,
    pub y: f64,
    /// Value at the top.
    pub value: f64,
    /// Residual standard deviation of the fit (n − number of terms).
    pub residual: f64,
}

/// Fewest points along a line from which the fit is of the fourth degree: an axial peak is not
/// symmetric, and a parabola over −1.5 dB would shift it by a hundredth of its length.
const FOURTH_DEGREE: usize = 7;

/// Fits a polynomial in x, of the second degree, with seven points or more of the fourth, and gives its
/// maximum; `None` for fewer than four points, or when there is no maximum inside their range.
pub fn top_1d(points: &[(f64, f64)]) -> Option<Top> {
    if points.len() < 4 {
        return None;
    }
    let (centre, half) = range(points.iter().map(|p| p.0))?;
    let degree = if points.len() >= FOURTH_DEGREE { 4 } else { 2 };
    let powers = |u: f64| (0..=degree).map(|k| u.powi(k)).collect::<Vec<f64>>();
    let rows: Vec<(Vec<f64>, f64)> =
        points.iter().map(|(x, v)| (powers((x - centre) / half), *v)).collect();
    let (c, residual) = least_squares(&rows)?;
    let value = |u: f64| powers(u).iter().zip(&c).map(|(a, b)| a * b).sum::<f64>();
    // The best of a fine raster, then the parabola through it and its neighbours.
    const STEPS: i32 = 400;
    let at = |i: i32| f64::from(i) / f64::from(STEPS);
    let best = (-STEPS..=STEPS).max_by(|a, b| value(at(*a)).total_cmp(&value(at(*b))))?;
    if best.abs() == STEPS {
        return None;
    }
    let (left, here, right) = (value(at(best - 1)), value(at(best)), value(at(best + 1)));
    let bend = left - 2.0 * here + right;
    let shift = if bend < 0.0 { 0.5 * (left - right) / bend } else { 0.0 };
    Some(Top {
        x: centre + half * (at(best) + shift / f64::from(STEPS)),
        y: 0.0,
        value: here - 0.25 * (left - right) * shift,
        residual,
    })
}

/// Fits v = c0 + c1 x + c2 y + c3 x² + c4 xy + c5 y² and gives its maximum; `None` for fewer than nine
/// points, or when the surface has no maximum inside the range of the points.
pub fn top_2d(points: &[(f64, f64, f64)]) -> Option<Top> {
    if points.len() < 9 {
        return None;
    }
    let (cx, hx) = range(points.iter().map(|p| p.0))?;
    let (cy, hy) = range(points.iter().map(|p| p.1))?;
    let rows: Vec<(Vec<f64>, f64)> = points
        .iter()
        .map(|(x, y, v)| {
            let (u, w) = ((x - cx) / hx, (y - cy) / hy);
            (vec![1.0, u, w, u * u, u * w, w * w], *v)
        })
        .collect();
    let (c, residual) = least_squares(&rows)?;
    let determinant = 4.0 * c[3] * c[5] - c[4] * c[4];
    if determinant <= 0.0 || c[3] >= 0.0 {
        return None;
    }
    let u = (c[4] * c[2] - 2.0 * c[5] * c[1]) / determinant;
    let w = (c[4] * c[1] - 2.0 * c[3] * c[2]) / determinant;
    (u.abs() <= 1.0 && w.abs() <= 1.0).then(|| Top {
        x: cx + hx * u,
        y: cy + hy * w,
        value: c[0] + c[1] * u + c[2] * w + c[3] * u * u + c[4] * u * w + c[5] * w * w,
        residual,
    })
}

fn range(values: impl Iterator<Item = f64> + Clone) -> Option<(f64, f64)> {
    let low = values.clone().fold(f64::INFINITY, f64::min);
    let high = values.fold(f64::NEG_INFINITY, f64::max);
    (high > low).then_some((0.5 * (low + high), 0.5 * (high - low)))
}

/// Solves the normal equations by elimination with pivoting; coordinates are scaled to ±1 by the
/// callers. Gives the coefficients and the residual standard deviation.
fn least_squares(rows: &[(Vec<f64>, f64)]) -> Option<(Vec<f64>, f64)> {
    let terms = rows.first()?.0.len();
    let mut m = vec![vec![0.0; terms + 1]; terms];
    for (row, v) in rows {
        for i in 0..terms {
            for j in 0..terms {
                m[i][j] += row[i] * row[j];
            }
            m[i][terms] += row[i] * v;
        }
    }
    for i in 0..terms {
        let pivot = (i..terms).max_by(|a, b| m[*a][i].abs().total_cmp(&m[*b][i].abs()))?;
        m.swap(i, pivot);
        if m[i][i].abs() < 1e-12 * rows.len() as f64 {
            return None;
        }
        let pivot_row = m[i].clone();
        for row in m.iter_mut().skip(i + 1) {
            let factor = row[i] / pivot_row[i];
            for (value, above) in row.iter_mut().zip(&pivot_row).skip(i) {
                *value -= factor * above;
            }
        }
    }
    let mut c = vec![0.0; terms];
    for i in (0..terms).rev() {
        let known: f64 = (i + 1..terms).map(|j| m[i][j] * c[j]).sum();
        c[i] = (m[i][terms] - known) / m[i][i];
    }
    let squares: f64 = rows
        .iter()
        .map(|(row, v)| {
            let fit: f64 = row.iter().zip(&c).map(|(a, b)| a * b).sum();
            (v - fit) * (v - fit)
        })
        .sum();
    let freedom = rows.len().saturating_sub(terms);
    Some((c, if freedom > 0 { (squares / freedom as f64).sqrt() } else { 0.0 }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_surface() {
        let f = |x: f64, y: f64| {
            3.0 - 2.0 * (x - 0.3).powi(2) - (y + 0.2).powi(2) + 0.4 * (x - 0.3) * (y + 0.2)
        };
        let points: Vec<(f64, f64, f64)> = (0..5)
            .flat_map(|i| (0..4).map(move |j| (f64::from(i) * 0.3 - 0.5, f64::from(j) * 0.4 - 0.8)))
            .map(|(x, y)| (x, y, f(x, y)))
            .collect();
        let top = top_2d(&points).expect("has a top");
        assert!(
            (top.x - 0.3).abs() < 1e-12
                && (top.y + 0.2).abs() < 1e-12
                && (top.value - 3.0).abs() < 1e-12
        );
        assert!(top_2d(&points[..8]).is_none());
    }

    /// (1 − u²)(1 + u/4): its maximum stands at the root of its derivative.
    #[test]
    fn a_skewed_top_is_found_where_it_is() {
        let f = |u: f64| (1.0 - u * u) * (1.0 + 0.25 * u);
        // Derivative 0.25 − 2u − 0.75u²: root u = (−2 + √(4 + 0.75))/1.5.
        let root = (-2.0 + 4.75f64.sqrt()) / 1.5;
        let points: Vec<(f64, f64)> =
            (-6..=6).map(|i| f64::from(i) * 0.08).map(|u| (u, f(u))).collect();
        let top = top_1d(&points).expect("has a top");
        assert!(
            (top.x - root).abs() < 1e-6 && (top.value - f(root)).abs() < 1e-9,
            "{} {root}",
            top.x
        );
    }

    #[test]
    fn exact_parabola_and_no_top() {
        let points: Vec<(f64, f64)> =
            (0..6).map(f64::from).map(|x| (x, 1.0 - (x - 2.2) * (x - 2.2))).collect();
        let top = top_1d(&points).expect("has a top");
        assert!((top.x - 2.2).abs() < 1e-9 && (top.value - 1.0).abs() < 1e-9);
        let rising: Vec<(f64, f64)> = (0..6).map(f64::from).map(|x| (x, x * x)).collect();
        assert!(top_1d(&rising).is_none());
    }
}
