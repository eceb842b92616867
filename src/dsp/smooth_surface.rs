//! Smoothing of a map by local least-squares quadratics.

use super::weighted_surface::{Weighted, WeightedSurface};

/// Furthest neighbours that take part, in steps.
const FURTHEST: f64 = 8.0;

/// Each value replaced by that of the least-squares quadratic over the points within `radius` of it, at
/// most eight steps; quadratic courses are kept, white noise falls to about 2/√n of n points.
///
/// The kernel is that of equal steps, their means; near the edges the quadratic is fitted to what there
/// is. A radius below a step and a half leaves the map as it is, and so does a map with values that are
/// not finite.
///
/// # Shape
/// `values`: row-major (y.len(), x.len()); coordinates rising.
///
/// # References
/// Savitzky and Golay, Anal. Chem. 36 (1964) 1627, in two dimensions.
pub fn smoothed(x: &[f64], y: &[f64], values: &[f64], radius: f64) -> Vec<f64> {
    let (nx, ny) = (x.len(), y.len());
    let kernel = match (mean_step(x), mean_step(y)) {
        (Some(dx), Some(dy)) if radius >= 1.5 * dx.min(dy) => kernel(dx, dy, radius),
        _ => None,
    };
    let Some(kernel) = kernel.filter(|_| values.iter().all(|v| v.is_finite())) else {
        return values.to_vec();
    };
    let reach = |f: fn(&Tap) -> i64| kernel.iter().map(f).max().unwrap_or(0);
    let (wide, high) = (reach(|t| t.columns), reach(|t| t.rows));
    (0..values.len())
        .map(|i| {
            let (r, c) = ((i / nx) as i64, (i % nx) as i64);
            let inside = r >= high && c >= wide && r + high < ny as i64 && c + wide < nx as i64;
            if inside {
                let at = |t: &Tap| values[((r + t.rows) * nx as i64 + c + t.columns) as usize];
                return kernel.iter().map(|t| t.weight * at(t)).sum();
            }
            let near: Vec<Weighted> = kernel
                .iter()
                .map(|t| (r + t.rows, c + t.columns))
                .filter(|(r, c)| *r >= 0 && *c >= 0 && *r < ny as i64 && *c < nx as i64)
                .map(|(row, column)| Weighted {
                    x: x[column as usize] - x[c as usize],
                    y: y[row as usize] - y[r as usize],
                    value: values[(row * nx as i64 + column) as usize],
                    weight: 1.0,
                })
                .collect();
            WeightedSurface::fit(&near).map_or(values[i], |fit| fit.c[0])
        })
        .collect()
}

struct Tap {
    rows: i64,
    columns: i64,
    weight: f64,
}

/// Weights α + β x² + γ y² of the fit's value at its centre: over points that lie alike on all sides the
/// other terms drop out.
fn kernel(dx: f64, dy: f64, radius: f64) -> Option<Vec<Tap>> {
    let radius = radius.min(FURTHEST * dx.max(dy));
    let (wide, high) = ((radius / dx) as i64, (radius / dy) as i64);
    let taps: Vec<(i64, i64, [f64; 3])> = (-high..=high)
        .flat_map(|r| (-wide..=wide).map(move |c| (r, c)))
        .map(|(r, c)| (r, c, (r as f64 * dy / radius, c as f64 * dx / radius)))
        .filter(|(_, _, (b, a))| a * a + b * b <= 1.0 + 1e-9)
        .map(|(r, c, (b, a))| (r, c, [1.0, a * a, b * b]))
        .collect();
    let mut m = [[0.0; 3]; 3];
    for (_, _, row) in &taps {
        for i in 0..3 {
            for j in 0..3 {
                m[i][j] += row[i] * row[j] / taps.len() as f64;
            }
        }
    }
    // First row of the inverse, by cofactors.
    let minor = |a: usize, b: usize| m[1][a] * m[2][b] - m[1][b] * m[2][a];
    let cofactors = [minor(1, 2), -minor(0, 2), minor(0, 1)];
    let determinant: f64 = m[0].iter().zip(cofactors).map(|(a, b)| a * b).sum();
    (determinant > 1e-9).then(|| {
        let scale = 1.0 / (determinant * taps.len() as f64);
        taps.iter()
            .map(|(rows, columns, terms)| Tap {
                rows: *rows,
                columns: *columns,
                weight: scale * terms.iter().zip(cofactors).map(|(a, b)| a * b).sum::<f64>(),
            })
            .collect()
    })
}

fn mean_step(x: &[f64]) -> Option<f64> {
    let step = (x.last()? - x.first()?) / x.len().checked_sub(1).filter(|n| *n > 0)? as f64;
    (step > 0.0).then_some(step)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dsp::noise::Noise;

    fn axes() -> (Vec<f64>, Vec<f64>) {
        (
            (0..30).map(|i| f64::from(i) * 0.5).collect(),
            (0..25).map(|i| f64::from(i) * 0.4).collect(),
        )
    }

    fn map(mut f: impl FnMut(f64, f64) -> f64) -> Vec<f64> {
        let (x, y) = axes();
        (0..x.len() * y.len()).map(|i| f(x[i % x.len()], y[i / x.len()])).collect()
    }

    /// A quadratic is its own best fit, at the edges too; too small a radius changes nothing.
    #[test]
    fn a_quadratic_stays() {
        let (x, y) = axes();
        let values =
            map(|x, y| 1.0 - 0.3 * x + 0.2 * y + 0.05 * x * x - 0.1 * x * y + 0.07 * y * y);
        for radius in [0.75, 1.3, 2.6] {
            let found = smoothed(&x, &y, &values, radius);
            assert!(found.iter().zip(&values).all(|(a, b)| (a - b).abs() < 1e-9), "{radius}");
        }
        let spiky = map(|x, y| f64::from(x == 5.0 && y == 4.0));
        assert_eq!(smoothed(&x, &y, &spiky, 0.5), spiky);
    }

    /// White noise falls to about 2/√n (a disc of n points, closed form for many), here 69 points: 0.24.
    #[test]
    fn noise_falls() {
        let (x, y) = axes();
        let mut noise = Noise::new(9);
        let values = map(|_, _| noise.next());
        let found = smoothed(&x, &y, &values, 2.1);
        let inside: Vec<f64> = (0..found.len())
            .filter(|i| (6..24).contains(&(i % 30)) && (6..19).contains(&(i / 30)))
            .map(|i| found[i])
            .collect();
        let square = inside.iter().map(|v| v * v).sum::<f64>() / inside.len() as f64;
        assert!((0.16..0.32).contains(&square.sqrt()), "{}", square.sqrt());
    }
}
