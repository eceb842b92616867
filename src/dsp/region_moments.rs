//! Integrals of a map over the region above a level of another.

use super::fine_region::FineRegion;

/// What a map amounts to over a region.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RegionMoments {
    /// Area of the region.
    pub area: f64,
    /// ∫ map dA.
    pub integral: f64,
    /// Centre of gravity of the map.
    pub x: f64,
    pub y: f64,
    /// Mean squares and product of the distances from that centre, weighted with the map.
    pub xx: f64,
    pub xy: f64,
    pub yy: f64,
    /// Whether the region touches the edge of the grid.
    pub at_edge: bool,
}

/// Area and moments of `weights` over the region of `values` above `level` that holds the grid point
/// `(row, column)`: the same region, and the same fine triangles, as `contour::region`; over the part of
/// a triangle above the level both maps are linear.
///
/// `None` when the point lies below the level or the weights integrate to nothing.
///
/// # Shape
/// Both maps row-major (y.len(), x.len()); coordinates rising.
pub fn region_moments(
    x: &[f64],
    y: &[f64],
    values: &[f64],
    level: f64,
    seed: (usize, usize),
    weights: &[f64],
) -> Option<RegionMoments> {
    let fine = FineRegion::new(x, y, values, level, seed)?;
    let weights = fine.refined(x, y, weights)?;
    // About the seed, so that a far origin costs no digits.
    let origin = (*x.get(seed.1)?, *y.get(seed.0)?);
    let columns = fine.x.len();
    let corner = |i: usize| Corner {
        x: fine.x[i % columns] - origin.0,
        y: fine.y[i / columns] - origin.1,
        over: fine.values[i] - level,
        weight: weights[i],
    };
    let mut sums = [0.0; 7];
    for (_, corners) in fine.triangles() {
        for triangle in above(corners.map(corner)) {
            add(&mut sums, &triangle);
        }
    }
    let [area, integral, x1, y1, xx, xy, yy] = sums;
    if integral == 0.0 || !integral.is_finite() {
        return None;
    }
    let (cx, cy) = (x1 / integral, y1 / integral);
    Some(RegionMoments {
        area,
        integral,
        x: cx + origin.0,
        y: cy + origin.1,
        xx: xx / integral - cx * cx,
        xy: xy / integral - cx * cy,
        yy: yy / integral - cy * cy,
        at_edge: fine.at_edge,
    })
}

#[derive(Clone, Copy)]
struct Corner {
    x: f64,
    y: f64,
    over: f64,
    weight: f64,
}

impl Corner {
    fn between(self, other: Self, t: f64) -> Self {
        let mix = |a: f64, b: f64| a + t * (b - a);
        Self {
            x: mix(self.x, other.x),
            y: mix(self.y, other.y),
            over: mix(self.over, other.over),
            weight: mix(self.weight, other.weight),
        }
    }
}

/// The part of a triangle above the level, as up to two triangles.
fn above(corners: [Corner; 3]) -> impl Iterator<Item = [Corner; 3]> {
    let mut outline = Vec::with_capacity(4);
    for i in 0..3 {
        let (here, next) = (corners[i], corners[(i + 1) % 3]);
        if here.over >= 0.0 {
            outline.push(here);
        }
        if (here.over >= 0.0) != (next.over >= 0.0) {
            outline.push(here.between(next, here.over / (here.over - next.over)));
        }
    }
    (2..outline.len()).map(move |i| [outline[0], outline[i - 1], outline[i]])
}

/// Adds a triangle by the rule over the middles of its sides, exact to the second degree.
fn add(sums: &mut [f64; 7], triangle: &[Corner; 3]) {
    let [a, b, c] = triangle;
    let area = 0.5 * ((b.x - a.x) * (c.y - a.y) - (c.x - a.x) * (b.y - a.y)).abs();
    sums[0] += area;
    for (p, q) in [(a, b), (b, c), (c, a)] {
        let m = p.between(*q, 0.5);
        let w = m.weight * area / 3.0;
        let terms = [w, w * m.x, w * m.y, w * m.x * m.x, w * m.x * m.y, w * m.y * m.y];
        for (sum, term) in sums[1..].iter_mut().zip(terms) {
            *sum += term;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    /// Unit weights over the ellipse where 1 − (x/a)² − (y/b)² > 0: area πab, mean squares a²/4, b²/4
    /// about the centre (closed forms), far from the origin.
    #[test]
    fn an_ellipse() {
        let x: Vec<f64> = (0..30).map(|i| 1e3 + f64::from(i) * 0.2).collect();
        let y: Vec<f64> = (0..25).map(|i| -5.0 + f64::from(i) * 0.2).collect();
        let (a, b, cx, cy) = (2.0, 1.2, 1e3 + 2.93, -2.61);
        let values: Vec<f64> = (0..30 * 25)
            .map(|i| 1.0 - ((x[i % 30] - cx) / a).powi(2) - ((y[i / 30] - cy) / b).powi(2))
            .collect();
        let m = region_moments(&x, &y, &values, 0.0, (12, 15), &[1.0; 30 * 25]).expect("above");
        assert!(
            (m.area / (PI * a * b) - 1.0).abs() < 1e-3 && (m.integral / m.area - 1.0).abs() < 1e-9
        );
        assert!((m.x - cx).abs() < 1e-6 && (m.y - cy).abs() < 1e-6, "{m:?}");
        assert!((m.xx / (a * a / 4.0) - 1.0).abs() < 2e-3, "{m:?}");
        assert!((m.yy / (b * b / 4.0) - 1.0).abs() < 2e-3 && m.xy.abs() < 1e-6 && !m.at_edge);
        let area =
            super::super::contour::region(&x, &y, &values, 0.0, (12, 15)).expect("above").area;
        assert!((m.area / area - 1.0).abs() < 1e-12);
    }

    /// ∫ of 1 − r² over its own circle: π/2.
    #[test]
    fn a_weight_that_varies() {
        let x: Vec<f64> = (-10..=10).map(|i| f64::from(i) * 0.15).collect();
        let values: Vec<f64> =
            (0..441).map(|i| 1.0 - x[i % 21].powi(2) - x[i / 21].powi(2)).collect();
        let m = region_moments(&x, &x, &values, 0.0, (10, 10), &values).expect("above");
        assert!((m.integral / (PI / 2.0) - 1.0).abs() < 1e-3, "{}", m.integral);
        assert_eq!(region_moments(&x, &x, &values, 0.0, (0, 0), &values), None);
        assert_eq!(region_moments(&x, &x, &values, 0.0, (10, 10), &[1.0]), None);
    }
}
