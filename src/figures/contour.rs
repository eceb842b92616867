//! Lines of equal value on a grid: marching squares with linear interpolation.

use std::collections::BTreeMap;

use super::geometry::Point;

/// Lines on which the field has the value `level`, in the units of the axes; a closed line repeats
/// its first point.
///
/// Cells with a corner without value carry no line. Where a cell has two opposite corners above the
/// level, the mean of its corners decides which are joined.
///
/// # Shape
/// `values` row-major (ny, nx); `x` length nx, `y` length ny, both rising.
///
/// # References
/// W. E. Lorensen, H. E. Cline, SIGGRAPH 21 (1987) 163, in two dimensions.
pub fn contours(x: &[f64], y: &[f64], values: &[Option<f64>], level: f64) -> Vec<Vec<Point>> {
    let (nx, ny) = (x.len(), y.len());
    if nx < 2 || ny < 2 || values.len() != nx * ny || !level.is_finite() {
        return Vec::new();
    }
    let mut net = Net::default();
    for row in 0..ny - 1 {
        for column in 0..nx - 1 {
            let at = row * nx + column;
            let corners = [values[at], values[at + 1], values[at + nx + 1], values[at + nx]];
            let [Some(a), Some(b), Some(c), Some(d)] = corners else { continue };
            // Sides in order: lower, right, upper, left; a side is known by its cell and direction.
            let sides = [2 * at, 2 * (at + 1) + 1, 2 * (at + nx), 2 * at + 1];
            let mean = a / 4.0 + b / 4.0 + c / 4.0 + d / 4.0;
            for (from, to) in crossings([a, b, c, d].map(|v| v >= level), mean >= level) {
                net.join(sides[from], sides[to]);
            }
        }
    }
    let place = |side: usize| {
        let (at, upright) = (side / 2, side % 2 == 1);
        let (row, column) = (at / nx, at % nx);
        let other = if upright { at + nx } else { at + 1 };
        let (from, to) = (values[at].unwrap_or(level), values[other].unwrap_or(level));
        let part = ((level / 2.0 - from / 2.0) / (to / 2.0 - from / 2.0)).clamp(0.0, 1.0);
        if upright {
            (x[column], y[row] + part * (y[row + 1] - y[row]))
        } else {
            (x[column] + part * (x[column + 1] - x[column]), y[row])
        }
    };
    net.lines().into_iter().map(|line| line.into_iter().map(place).collect()).collect()
}

/// Which sides of a cell a line joins; corners and sides counted from the lower left, anticlockwise.
fn crossings(above: [bool; 4], centre_above: bool) -> Vec<(usize, usize)> {
    let crossed: Vec<usize> = (0..4).filter(|n| above[*n] != above[(n + 1) % 4]).collect();
    match crossed.as_slice() {
        [from, to] => vec![(*from, *to)],
        // Side n runs from corner n to corner n + 1: cut off the corners that differ from the centre.
        [_, _, _, _] if above[0] == centre_above => vec![(0, 1), (2, 3)],
        [_, _, _, _] => vec![(3, 0), (1, 2)],
        _ => Vec::new(),
    }
}

/// Sides joined by pieces of lines; each side has at most two neighbours.
#[derive(Default)]
struct Net {
    neighbours: BTreeMap<usize, Vec<usize>>,
}

impl Net {
    fn join(&mut self, from: usize, to: usize) {
        self.neighbours.entry(from).or_default().push(to);
        self.neighbours.entry(to).or_default().push(from);
    }

    /// All lines: first those with ends, then the closed ones.
    fn lines(mut self) -> Vec<Vec<usize>> {
        let ends: Vec<usize> = self
            .neighbours
            .iter()
            .filter(|(_, next)| next.len() == 1)
            .map(|(side, _)| *side)
            .collect();
        let mut out: Vec<Vec<usize>> = ends.into_iter().map(|end| self.walk(end)).collect();
        while let Some(side) = self.neighbours.keys().next().copied() {
            out.push(self.walk(side));
        }
        out.retain(|line| line.len() > 1);
        out
    }

    fn walk(&mut self, start: usize) -> Vec<usize> {
        let mut line = vec![start];
        let mut at = start;
        loop {
            let next = self.neighbours.get_mut(&at).and_then(Vec::pop);
            if self.neighbours.get(&at).is_some_and(Vec::is_empty) {
                self.neighbours.remove(&at);
            }
            let Some(next) = next else { return line };
            if let Some(back) = self.neighbours.get_mut(&next) {
                if let Some(index) = back.iter().position(|side| *side == at) {
                    back.remove(index);
                }
                if back.is_empty() {
                    self.neighbours.remove(&next);
                }
            }
            line.push(next);
            at = next;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn steps(count: usize, from: f64, to: f64) -> Vec<f64> {
        (0..count).map(|n| from + (to - from) * n as f64 / (count - 1) as f64).collect()
    }

    fn field(x: &[f64], y: &[f64], value: impl Fn(f64, f64) -> f64) -> Vec<Option<f64>> {
        y.iter().flat_map(|y| x.iter().map(|x| Some(value(*x, *y))).collect::<Vec<_>>()).collect()
    }

    // Exact: x² + y² = r² is a circle; linear interpolation of a parabola errs by at most
    // h²/8 · 2 / (2 r) in radius along a side.
    #[test]
    fn a_circle_has_its_exact_radius() {
        let (x, y) = (steps(41, -2.0, 2.0), steps(61, -2.0, 2.0));
        let lines = contours(&x, &y, &field(&x, &y, |x, y| x * x + y * y), 1.44);
        assert_eq!(lines.len(), 1);
        let line = &lines[0];
        assert_eq!(line.first(), line.last());
        assert!(line.len() > 100);
        for (x, y) in line {
            let radius = x.hypot(*y);
            assert!((radius - 1.2).abs() < 0.1 * 0.1 / 8.0 / 1.2 * 1.01, "{radius}");
        }
        let twice: f64 = line.windows(2).map(|w| w[0].0 * w[1].1 - w[0].1 * w[1].0).sum();
        assert!((twice.abs() / 2.0 / (std::f64::consts::PI * 1.44) - 1.0).abs() < 5e-3);
    }

    // Exact: a plane's line of equal value is straight, whatever the steps.
    #[test]
    fn a_plane_has_a_straight_open_line() {
        let (x, y) = (vec![0.0, 1.0, 4.0, 5.0], vec![0.0, 0.5, 3.0]);
        let lines = contours(&x, &y, &field(&x, &y, |x, y| 2.0 * x + y), 4.2);
        assert_eq!(lines.len(), 1);
        assert!(lines[0].iter().all(|(x, y)| (2.0 * x + y - 4.2).abs() < 1e-12));
        assert_ne!(lines[0].first(), lines[0].last());
    }

    #[test]
    fn a_saddle_is_joined_by_its_mean() {
        let (x, y) = (vec![0.0, 1.0], vec![0.0, 1.0]);
        let corners = |a, b, c, d| vec![Some(a), Some(b), Some(d), Some(c)];
        let high = contours(&x, &y, &corners(1.0, 0.0, 1.0, 0.2), 0.5);
        assert_eq!(high.len(), 2);
        // Mean above the level: the low corners are cut off, the line keeps near (1, 0) and (0, 1).
        assert!(high.iter().any(|line| line.iter().all(|(x, y)| x - y >= 0.0)));
        let low = contours(&x, &y, &corners(1.0, 0.0, 0.8, 0.0), 0.5);
        assert!(low.iter().any(|line| line.iter().all(|(x, y)| x + y <= 1.0)));
    }

    #[test]
    fn gaps_and_flat_fields_carry_no_line() {
        let (x, y) = (steps(5, 0.0, 1.0), steps(5, 0.0, 1.0));
        assert!(contours(&x, &y, &[None; 25], 0.5).is_empty());
        assert!(contours(&x, &y, &[Some(1.0); 25], 1.0).is_empty());
        assert!(contours(&x, &y, &[Some(1.0); 25], f64::NAN).is_empty());
        assert!(contours(&x, &[0.0], &[Some(1.0); 5], 0.5).is_empty());
        let mut holed = field(&x, &y, |x, _| x);
        holed[12] = None;
        let lines = contours(&x, &y, &holed, 0.4);
        assert!(lines.iter().flatten().all(|(x, _)| (x - 0.4).abs() < 1e-12));
        assert_eq!(lines.len(), 2);
    }
}
