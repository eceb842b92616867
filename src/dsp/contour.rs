//! Area inside a level contour around a point.

use super::interpolate::lagrange_weights;

/// Sub-cells per grid cell along each axis.
const FINE: usize = 8;

/// The region above a level that holds a point.
#[derive(Debug, Clone, PartialEq)]
pub struct Region {
    /// Area in the product of the coordinates' units.
    pub area: f64,
    /// Whether the region touches the edge of the grid: the area is then too small.
    pub at_edge: bool,
    /// Points of the grid above the level that are not connected to the region.
    pub islands: usize,
    /// Grid points (row-major) inside.
    pub inside: Vec<bool>,
}

/// Region of a surface above `level` connected to the grid point `(row, column)`.
///
/// The surface is interpolated by four-point Lagrange polynomials along both axes on a grid eight
/// times finer; the area of each fine triangle above the level is counted exactly for the linear
/// surface over it. Holes are not counted.
///
/// # Shape
/// `values`: row-major (y.len(), x.len()); coordinates rising.
pub fn region(
    x: &[f64],
    y: &[f64],
    values: &[f64],
    level: f64,
    seed: (usize, usize),
) -> Option<Region> {
    let (nx, ny) = (x.len(), y.len());
    if nx < 2 || ny < 2 || values.len() != nx * ny || *values.get(seed.0 * nx + seed.1)? < level {
        return None;
    }
    let fx = refine(x);
    let fy = refine(y);
    let fine = resample(x, y, values, &fx, &fy)?;
    let (mx, my) = (fx.len(), fy.len());
    let above = |i: usize| fine[i] >= level;
    let mut inside = vec![false; fine.len()];
    let mut stack = vec![seed.0 * FINE * mx + seed.1 * FINE];
    let mut at_edge = false;
    while let Some(i) = stack.pop() {
        if inside[i] || !above(i) {
            continue;
        }
        inside[i] = true;
        let (r, c) = (i / mx, i % mx);
        at_edge |= r == 0 || c == 0 || r == my - 1 || c == mx - 1;
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
    let mut area = 0.0;
    for r in 0..my - 1 {
        for c in 0..mx - 1 {
            let corners = [r * mx + c, r * mx + c + 1, (r + 1) * mx + c + 1, (r + 1) * mx + c];
            if !corners.iter().any(|i| inside[*i]) {
                continue;
            }
            let half = 0.5 * (fx[c + 1] - fx[c]) * (fy[r + 1] - fy[r]);
            let [a, b, d, e] = corners.map(|i| fine[i]);
            area += half * (above_fraction([a, b, d], level) + above_fraction([a, d, e], level));
        }
    }
    let grid: Vec<bool> =
        (0..nx * ny).map(|i| inside[(i / nx) * FINE * mx + (i % nx) * FINE]).collect();
    let islands = grid.iter().zip(values).filter(|(inside, v)| !**inside && **v >= level).count();
    Some(Region { area, at_edge, islands, inside: grid })
}

fn refine(x: &[f64]) -> Vec<f64> {
    let mut out: Vec<f64> = x
        .windows(2)
        .flat_map(|w| (0..FINE).map(move |k| w[0] + (w[1] - w[0]) * k as f64 / FINE as f64))
        .collect();
    out.extend(x.last());
    out
}

fn resample(x: &[f64], y: &[f64], values: &[f64], fx: &[f64], fy: &[f64]) -> Option<Vec<f64>> {
    let nx = x.len();
    let mut wide = vec![0.0; y.len() * fx.len()];
    for (c, at) in fx.iter().enumerate() {
        let (first, weights) = lagrange_weights(x, *at)?;
        for r in 0..y.len() {
            let row = &values[r * nx + first..r * nx + first + weights.len()];
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

/// Fraction of a triangle's area above a level, its values linear between the corners.
fn above_fraction(corners: [f64; 3], level: f64) -> f64 {
    let mut v = corners.map(|c| c - level);
    v.sort_by(f64::total_cmp);
    let [low, middle, high] = v;
    if low >= 0.0 {
        1.0
    } else if high <= 0.0 {
        0.0
    } else if middle <= 0.0 {
        (high / (high - low)) * (high / (high - middle))
    } else {
        1.0 - (low / (low - high)) * (low / (low - middle))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Gaussian exp(−2r²/w²): area above −6 dB is 0.690775528 π w² (closed form), with eight points
    /// across the width; a second hill apart is an island.
    #[test]
    fn gaussian_area_and_island() {
        let w = 1.0;
        let x: Vec<f64> = (0..60).map(|i| f64::from(i) * 0.2077 - 6.0).collect();
        let y: Vec<f64> = (0..40).map(|i| f64::from(i) * 0.2077 - 4.1).collect();
        let mut values = Vec::new();
        for b in &y {
            for a in &x {
                let hill = |cx: f64, cy: f64| {
                    (-2.0 * ((a - cx).powi(2) + (b - cy).powi(2)) / (w * w)).exp()
                };
                values.push(hill(0.05, -0.03) + 0.5 * hill(4.0, 0.0));
            }
        }
        let seed = values
            .iter()
            .enumerate()
            .max_by(|a, b| a.1.total_cmp(b.1))
            .map(|(i, _)| (i / x.len(), i % x.len()))
            .expect("some");
        let region = region(&x, &y, &values, 10f64.powf(-0.6), seed).expect("above");
        let exact = 0.690_775_527_898_2 * std::f64::consts::PI * w * w;
        assert!((region.area / exact - 1.0).abs() < 2e-3, "{}", region.area / exact);
        assert!(region.islands > 0 && !region.at_edge);
    }
}
