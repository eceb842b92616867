//! The region of a surface above a level, on a finer grid.

use std::ops::Range;

use super::interpolate::lagrange_weights;

/// Sub-cells per grid cell along each axis.
pub(super) const FINE: usize = 8;

/// A part of a grid.
#[derive(Clone, PartialEq)]
pub(super) struct Cut {
    pub columns: Range<usize>,
    pub rows: Range<usize>,
}

/// The region above a level on the finer grid.
pub(super) struct FineRegion {
    /// The part of the grid that was refined.
    pub cut: Cut,
    pub x: Vec<f64>,
    pub y: Vec<f64>,
    /// Row-major (y, x), likewise `inside`.
    pub values: Vec<f64>,
    pub inside: Vec<bool>,
    /// Whether the region touches the edge of the whole grid.
    pub at_edge: bool,
}

impl FineRegion {
    /// Refines no more of the grid than the region needs, but all of it when the region goes further
    /// on the finer grid than on the given one.
    pub fn new(
        x: &[f64],
        y: &[f64],
        values: &[f64],
        level: f64,
        seed: (usize, usize),
    ) -> Option<Self> {
        let (nx, ny) = (x.len(), y.len());
        let all = Cut { columns: 0..nx, rows: 0..ny };
        if nx < 2
            || ny < 2
            || values.len() != nx * ny
            || seed.1 >= nx
            || *values.get(seed.0 * nx + seed.1)? < level
        {
            return None;
        }
        let near = around(nx, ny, values, level, seed);
        let (found, cramped) = Self::of_cut(x, y, values, level, seed, near.clone())?;
        if cramped && near != all {
            return Self::of_cut(x, y, values, level, seed, all).map(|(found, _)| found);
        }
        Some(found)
    }

    /// The region within a part, and whether it comes near a border of the part inside the grid.
    fn of_cut(
        x: &[f64],
        y: &[f64],
        values: &[f64],
        level: f64,
        seed: (usize, usize),
        cut: Cut,
    ) -> Option<(Self, bool)> {
        let (fx, fy) = (refine(&x[cut.columns.clone()]), refine(&y[cut.rows.clone()]));
        let fine = resample(x, y, values, &cut, &fx, &fy)?;
        let (mx, my) = (fx.len(), fy.len());
        let mut inside = vec![false; fine.len()];
        let start = (seed.0 - cut.rows.start) * FINE * mx + (seed.1 - cut.columns.start) * FINE;
        let mut stack = vec![start];
        let (mut left, mut right, mut low, mut high) = (mx, 0, my, 0);
        while let Some(i) = stack.pop() {
            if inside[i] || fine[i] < level {
                continue;
            }
            inside[i] = true;
            let (r, c) = (i / mx, i % mx);
            (left, right, low, high) = (left.min(c), right.max(c), low.min(r), high.max(r));
            if r > 0 {
                stack.push(i - mx)
            }
            if c > 0 {
                stack.push(i - 1)
            }
            if r + 1 < my {
                stack.push(i + mx)
            }
            if c + 1 < mx {
                stack.push(i + 1)
            }
        }
        let sides = [
            (cut.columns.start == 0, left),
            (cut.columns.end == x.len(), mx - 1 - right),
            (cut.rows.start == 0, low),
            (cut.rows.end == y.len(), my - 1 - high),
        ];
        // In the outermost cells of a part the interpolation is one-sided.
        let cramped = sides.iter().any(|(border, distance)| !border && *distance <= FINE);
        let at_edge = sides.iter().any(|(border, distance)| *border && *distance == 0);
        Some((Self { cut, x: fx, y: fy, values: fine, inside, at_edge }, cramped))
    }

    /// Another map of the same grid on the finer grid.
    pub fn refined(&self, x: &[f64], y: &[f64], values: &[f64]) -> Option<Vec<f64>> {
        if values.len() != x.len() * y.len() {
            return None;
        }
        resample(x, y, values, &self.cut, &self.x, &self.y)
    }

    /// Two triangles for each fine cell with a corner inside: area and corners.
    pub fn triangles(&self) -> impl Iterator<Item = (f64, [usize; 3])> {
        let (mx, my) = (self.x.len(), self.y.len());
        (0..my - 1)
            .flat_map(move |r| (0..mx - 1).map(move |c| (r, c)))
            .map(move |(r, c)| {
                let i = r * mx + c;
                let half = 0.5 * (self.x[c + 1] - self.x[c]) * (self.y[r + 1] - self.y[r]);
                (half, [i, i + 1, i + mx + 1, i + mx])
            })
            .filter(|(_, corners)| corners.iter().any(|i| self.inside[*i]))
            .flat_map(|(half, [a, b, d, e])| [(half, [a, b, d]), (half, [a, d, e])])
    }
}

/// The part of a grid that holds the points above a level connected to one of them, and three more on
/// each side.
fn around(nx: usize, ny: usize, values: &[f64], level: f64, seed: (usize, usize)) -> Cut {
    const MORE: usize = 3;
    let mut cut = Cut { columns: seed.1..seed.1 + 1, rows: seed.0..seed.0 + 1 };
    let mut taken = vec![false; values.len()];
    let mut stack = vec![seed];
    while let Some((r, c)) = stack.pop() {
        let i = r * nx + c;
        if taken[i] || values[i] < level {
            continue;
        }
        taken[i] = true;
        cut.columns = cut.columns.start.min(c)..cut.columns.end.max(c + 1);
        cut.rows = cut.rows.start.min(r)..cut.rows.end.max(r + 1);
        for near in r.saturating_sub(1)..(r + 2).min(ny) {
            stack.extend((c.saturating_sub(1)..(c + 2).min(nx)).map(|c| (near, c)));
        }
    }
    Cut {
        columns: cut.columns.start.saturating_sub(MORE)..(cut.columns.end + MORE).min(nx),
        rows: cut.rows.start.saturating_sub(MORE)..(cut.rows.end + MORE).min(ny),
    }
}

fn refine(x: &[f64]) -> Vec<f64> {
    let mut out: Vec<f64> = x
        .windows(2)
        .flat_map(|w| (0..FINE).map(move |k| w[0] + (w[1] - w[0]) * k as f64 / FINE as f64))
        .collect();
    out.extend(x.last());
    out
}

fn resample(
    x: &[f64],
    y: &[f64],
    values: &[f64],
    cut: &Cut,
    fx: &[f64],
    fy: &[f64],
) -> Option<Vec<f64>> {
    let (nx, rows) = (x.len(), &cut.rows);
    let (x, y) = (&x[cut.columns.clone()], &y[rows.clone()]);
    let mut wide = vec![0.0; y.len() * fx.len()];
    for (c, at) in fx.iter().enumerate() {
        let (first, weights) = lagrange_weights(x, *at)?;
        let first = cut.columns.start + first;
        for r in 0..y.len() {
            let start = (rows.start + r) * nx + first;
            let row = &values[start..start + weights.len()];
            wide[r * fx.len() + c] = row.iter().zip(&weights).map(|(v, w)| v * w).sum();
        }
    }
    let mut out = vec![0.0; fy.len() * fx.len()];
    for (r, at) in fy.iter().enumerate() {
        let (first, weights) = lagrange_weights(y, *at)?;
        for (k, w) in weights.iter().enumerate() {
            let source = &wide[(first + k) * fx.len()..(first + k + 1) * fx.len()];
            for (o, v) in out[r * fx.len()..(r + 1) * fx.len()].iter_mut().zip(source) {
                *o += w * v;
            }
        }
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A region in a corner of a large grid, on its edge, and one that a fine bridge carries further
    /// than its grid points: the same with and without the rest of the grid refined.
    #[test]
    fn the_part_that_is_refined_changes_nothing() {
        let x: Vec<f64> = (0..50).map(|i| f64::from(i) * 0.3).collect();
        let hill = |i: i32, cx: f64, cy: f64| {
            let (a, b) = (x[i as usize % 50] - cx, x[i as usize / 50] - cy);
            (-0.7 * (a * a + b * b)).exp()
        };
        for (cx, cy, bridge) in
            [(7.1, 8.3, 0.0), (0.2, 7.0, 0.0), (14.6, 14.9, 0.0), (7.1, 8.3, 2.56)]
        {
            let values: Vec<f64> =
                (0..2500).map(|i| hill(i, cx, cy) + hill(i, cx - bridge, cy - bridge)).collect();
            let top = (0..2500).max_by(|a, b| values[*a].total_cmp(&values[*b])).expect("some");
            let (seed, level) = ((top / 50, top % 50), 0.25 * values[top]);
            let all = Cut { columns: 0..50, rows: 0..50 };
            let (whole, _) = FineRegion::of_cut(&x, &x, &values, level, seed, all).expect("above");
            let part = FineRegion::new(&x, &x, &values, level, seed).expect("above");
            let count = |fine: &FineRegion| fine.inside.iter().filter(|v| **v).count();
            assert_eq!(count(&whole), count(&part));
            assert_eq!(whole.at_edge, part.at_edge);
        }
    }
}
