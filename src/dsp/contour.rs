//! Area inside a level contour around a point.

use super::fine_region::{FINE, FineRegion};

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
    let fine = FineRegion::new(x, y, values, level, seed)?;
    let area = fine
        .triangles()
        .map(|(half, corners)| half * above_fraction(corners.map(|i| fine.values[i]), level))
        .sum();
    let mut grid = vec![false; values.len()];
    let (columns, rows) = (&fine.cut.columns, &fine.cut.rows);
    for (r, c) in rows.clone().flat_map(|r| columns.clone().map(move |c| (r, c))) {
        let i = (r - rows.start) * FINE * fine.x.len() + (c - columns.start) * FINE;
        grid[r * x.len() + c] = fine.inside[i];
    }
    let islands = grid.iter().zip(values).filter(|(inside, v)| !**inside && **v >= level).count();
    Some(Region { area, at_edge: fine.at_edge, islands, inside: grid })
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
