//! `x_peak`, `y_peak`, `z_peak`: the spatial peak between the grid points.

use super::Scale;
use crate::dsp::quadratic::{top_1d, top_2d};

/// Points within this level of the largest take part in the fit, dB.
const FIT_LEVEL_DB: f64 = 1.5;
/// Level down to which the eight neighbours of the largest point may stand in, dB.
const BLOCK_LEVEL_DB: f64 = 6.0;
/// Fewest points of a fit over a plane.
pub const FEWEST_PLANE: usize = 9;
/// Fewest points of a fit along a line.
pub const FEWEST_LINE: usize = 5;

/// Where a quantity is largest, and how large.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpatialPeak {
    pub x_m: f64,
    pub y_m: f64,
    pub value: f64,
    /// Cell of the largest grid value.
    pub cell: usize,
    /// Least-squares quadratic in the logarithm; otherwise the nearest grid point.
    pub fitted: bool,
    /// Relative standard deviation of the values about the fit; without a fit, relative standard
    /// uncertainty of the largest grid value as the peak ([`between_points`]).
    pub residual: f64,
    /// The largest grid value lies on the edge of the scan.
    pub at_edge: bool,
}

/// Peak of a map by a least-squares quadratic in the logarithm over the connected points above −1.5 dB
/// (at least 9); with fewer, over the largest point and its eight neighbours, if these stand above
/// −6 dB; otherwise, or without a maximum inside, the largest grid value.
///
/// `None` when no value is positive.
///
/// # Shape
/// `values`: (y.len(), x.len()), row-major.
pub fn of_plane(x_m: &[f64], y_m: &[f64], values: &[f64], scale: Scale) -> Option<SpatialPeak> {
    let nx = x_m.len();
    let cell = largest(values)?;
    let (row, column) = (cell / nx, cell % nx);
    let level = values[cell] * scale.ratio(FIT_LEVEL_DB);
    let mut taken = vec![false; values.len()];
    let mut stack = vec![cell];
    let mut points = Vec::new();
    while let Some(i) = stack.pop() {
        if taken[i] || values[i] < level {
            continue;
        }
        taken[i] = true;
        let (r, c) = (i / nx, i % nx);
        points.push((x_m[c], y_m[r], values[i].ln()));
        if r > 0 {
            stack.push(i - nx)
        }
        if c > 0 {
            stack.push(i - 1)
        }
        if r + 1 < y_m.len() {
            stack.push(i + nx)
        }
        if c + 1 < nx {
            stack.push(i + 1)
        }
    }
    if points.len() < FEWEST_PLANE && row > 0 && column > 0 {
        let block = block_of_nine(
            x_m,
            y_m,
            values,
            (row, column),
            values[cell] * scale.ratio(BLOCK_LEVEL_DB),
        );
        points = block.unwrap_or(points);
    }
    let top = top_2d(&points);
    Some(SpatialPeak {
        x_m: top.map_or(x_m[column], |t| t.x),
        y_m: top.map_or(y_m[row], |t| t.y),
        value: top.map_or(values[cell], |t| t.value.exp()),
        cell,
        fitted: top.is_some(),
        residual: top.map_or_else(
            || {
                let along_x = |c: usize| values.get(row * nx + c).filter(|_| c < nx).copied();
                let along_y = |r: usize| values.get(r * nx + column).copied();
                let sides = [
                    (column.checked_sub(1).and_then(along_x), along_x(column + 1)),
                    (row.checked_sub(1).and_then(along_y), along_y(row + 1)),
                ];
                between_points(values[cell], &sides)
            },
            |t| t.residual,
        ),
        at_edge: row == 0 || column == 0 || row + 1 == y_m.len() || column + 1 == nx,
    })
}

/// Peak along a line, likewise, with at least five points.
pub fn of_line(along_m: &[f64], values: &[f64], scale: Scale) -> Option<SpatialPeak> {
    let cell = largest(values)?;
    let level = values[cell] * scale.ratio(FIT_LEVEL_DB);
    let first = (0..cell).rev().take_while(|i| values[*i] >= level).last().unwrap_or(cell);
    let points: Vec<(f64, f64)> = (first..values.len())
        .take_while(|i| values[*i] >= level)
        .map(|i| (along_m[i], values[i].ln()))
        .collect();
    let top = if points.len() >= FEWEST_LINE { top_1d(&points) } else { None };
    Some(SpatialPeak {
        x_m: top.map_or(along_m[cell], |t| t.x),
        y_m: 0.0,
        value: top.map_or(values[cell], |t| t.value.exp()),
        cell,
        fitted: top.is_some(),
        residual: top.map_or_else(
            || {
                let at = |i: usize| values.get(i).copied();
                between_points(values[cell], &[(cell.checked_sub(1).and_then(at), at(cell + 1))])
            },
            |t| t.residual,
        ),
        at_edge: cell == 0 || cell + 1 == along_m.len(),
    })
}

/// What the largest grid value may lack of the peak between the points, as a relative standard
/// uncertainty: along each axis, with ln v a parabola −k x², the peak lies within half a step s and the
/// value lacks at most ks²/4, and the lower of the two neighbours lies at least ks² below; so a quarter of
/// that fall, as the half-width of a rectangular distribution.
///
/// # Shape
/// `sides`: values of the neighbours before and after, an entry for each axis.
fn between_points(largest: f64, sides: &[(Option<f64>, Option<f64>)]) -> f64 {
    /// Largest fall that is told, in nepers: below, the neighbours are noise.
    const MOST: f64 = 4.0;
    let fall = |value: f64| if value > 0.0 { (largest / value).ln().min(MOST) } else { MOST };
    let along = |(a, b): &(Option<f64>, Option<f64>)| {
        0.25 * [*a, *b].into_iter().flatten().map(fall).fold(0.0, f64::max)
    };
    sides.iter().map(along).sum::<f64>() / 3f64.sqrt()
}

/// The largest point and its eight neighbours, if all stand above a level.
fn block_of_nine(
    x_m: &[f64],
    y_m: &[f64],
    values: &[f64],
    (row, column): (usize, usize),
    level: f64,
) -> Option<Vec<(f64, f64, f64)>> {
    let mut out = Vec::with_capacity(9);
    for r in row - 1..=row + 1 {
        for c in column - 1..=column + 1 {
            let (x, y) = (x_m.get(c)?, y_m.get(r)?);
            let value = values[r * x_m.len() + c];
            (value > level).then(|| out.push((*x, *y, value.ln())))?;
        }
    }
    Some(out)
}

fn largest(values: &[f64]) -> Option<usize> {
    let (cell, value) = values
        .iter()
        .enumerate()
        .filter(|(_, v)| v.is_finite())
        .max_by(|a, b| a.1.total_cmp(b.1).then(b.0.cmp(&a.0)))?;
    (*value > 0.0).then_some(cell)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A Gaussian's peak, off the grid: the quadratic in the logarithm is exact.
    #[test]
    fn gaussian_between_points() {
        let x: Vec<f64> = (0..21).map(|i| f64::from(i) * 1e-4 - 1e-3).collect();
        let values: Vec<f64> = (0..21 * 21)
            .map(|i| {
                let (dx, dy) = (x[i % 21] - 0.13e-3, x[i / 21] + 0.07e-3);
                5e6 * (-2.0 * (dx * dx + dy * dy) / 0.6e-6).exp()
            })
            .collect();
        let peak = of_plane(&x, &x, &values, Scale::Energy).expect("positive");
        assert!((peak.x_m - 0.13e-3).abs() < 1e-12 && (peak.y_m + 0.07e-3).abs() < 1e-12);
        assert!((peak.value / 5e6 - 1.0).abs() < 1e-9 && peak.fitted && !peak.at_edge);
    }

    #[test]
    fn nothing_positive_has_no_peak() {
        assert_eq!(of_plane(&[0.0, 1.0], &[0.0, 1.0], &[-1.0; 4], Scale::Energy), None);
        assert_eq!(of_line(&[], &[], Scale::Energy), None);
    }

    /// A Gaussian line at steps too coarse for a fit: wherever its top lies between the points, what the
    /// largest value lacks is within the rectangular half-width √3 u.
    #[test]
    fn what_the_grid_value_lacks_is_within_its_uncertainty() {
        for shift in [0.0, 0.1, 0.25, 0.4, 0.5] {
            let x: Vec<f64> = (-3..=3).map(f64::from).collect();
            let values: Vec<f64> = x.iter().map(|x| (-0.9 * (x - shift).powi(2)).exp()).collect();
            let peak = of_line(&x, &values, Scale::Energy).expect("positive");
            assert!(!peak.fitted, "{shift}");
            let lacking = -peak.value.ln();
            assert!(lacking <= 3f64.sqrt() * peak.residual + 1e-12, "{shift} {peak:?}");
            assert!(peak.residual < 0.4, "{peak:?}");
        }
    }

    #[test]
    fn few_points_fall_back_to_the_grid() {
        let peak = of_line(&[0.0, 1.0, 2.0], &[1.0, 9.0, 1.0], Scale::Energy).expect("positive");
        assert!(!peak.fitted && peak.value == 9.0 && peak.x_m == 1.0);
    }
}
