//! The part of a drive curve that is found linear.

use crate::statistics::weighted_line::{WeightedLine, weighted_line};

/// Departure from the line, as a part of it, within which a level counts as linear whatever its
/// uncertainty. Common practice, no source.
pub const LINEAR_WITHIN: f64 = 0.02;
/// Standard uncertainties of a level within which it counts as linear.
pub const STANDARD_UNCERTAINTIES: f64 = 2.0;
/// Fewest different levels of a line.
pub const FEWEST_LEVELS: usize = 3;

/// A level of the drive with its pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LevelPoint {
    /// Place on the abscissa.
    pub x: f64,
    pub y: f64,
    /// Standard uncertainty of y, of what differs from level to level.
    pub u: f64,
}

/// Line through the lowest levels, and how far it holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LinearPart {
    /// With uncertainties widened where the points scatter more than theirs.
    pub line: WeightedLine,
    /// Largest abscissa of its points.
    pub x_max: f64,
}

impl LinearPart {
    /// Departure of a point from the line, as a part of it, with its standard uncertainty.
    pub fn departure(&self, point: &LevelPoint) -> (f64, f64) {
        let expected = self.line.at(point.x);
        let ratio = point.y / expected;
        let u = (point.u / expected).hypot(ratio * self.line.u_at(point.x) / expected);
        (ratio - 1.0, u)
    }
}

/// The longest range of levels, from the lowest up, in which every point lies within two standard
/// uncertainties or 2 % of the weighted line through all of them. At least three different levels; `None`
/// where no such range is.
///
/// # References
/// The rule: common practice, no source. The line: see `statistics::weighted_line`.
pub fn linear_part(points: &[LevelPoint]) -> Option<LinearPart> {
    let mut points: Vec<LevelPoint> = points.to_vec();
    points.retain(|p| p.x.is_finite() && p.y.is_finite() && p.u > 0.0 && p.u.is_finite());
    points.sort_by(|a, b| a.x.total_cmp(&b.x));
    let mut ends: Vec<f64> = points.iter().map(|p| p.x).collect();
    ends.dedup();
    let candidates = ends.get(FEWEST_LEVELS - 1..).unwrap_or(&[]);
    candidates.iter().rev().find_map(|x_max| {
        let count = points.partition_point(|p| p.x <= *x_max);
        let part = &points[..count];
        let triples: Vec<(f64, f64, f64)> = part.iter().map(|p| (p.x, p.y, p.u)).collect();
        let line = weighted_line(&triples)?;
        let fits = part.iter().all(|p| {
            let limit = (STANDARD_UNCERTAINTIES * p.u).max(LINEAR_WITHIN * line.at(p.x).abs());
            (p.y - line.at(p.x)).abs() <= limit
        });
        let wider = line.scatter_ratio().map_or(1.0, |ratio| ratio.max(1.0));
        (fits && line.slope > 0.0).then(|| LinearPart { line: line.widened(wider), x_max: *x_max })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn curve(of: impl Fn(f64) -> f64, u: f64) -> Vec<LevelPoint> {
        (1..=10).map(|n| f64::from(n) * 10.0).map(|x| LevelPoint { x, y: of(x), u }).collect()
    }

    /// Closed form: proportional up to 50, then bent by 0.4 %/unit: at 60 it is 4 % off and out.
    #[test]
    fn the_bend_ends_it() {
        let of = |x: f64| 2.0 * x * (1.0 + 0.004 * (x - 50.0).max(0.0));
        let part = linear_part(&curve(of, 0.1)).expect("a part");
        assert_eq!(part.x_max, 50.0);
        assert!((part.line.slope - 2.0).abs() < 1e-12);
        assert!(part.line.intercept.abs() < 1e-10);
        let (departure, u) = part.departure(&LevelPoint { x: 100.0, y: of(100.0), u: 2.0 });
        assert!((departure - 0.2).abs() < 1e-12);
        assert!(u > 2.0 / 200.0 && u < 0.0105, "{u}");
    }

    #[test]
    fn a_whole_line_and_an_offset() {
        let part = linear_part(&curve(|x| 3.0 + 2.0 * x, 0.05)).expect("a part");
        assert_eq!(part.x_max, 100.0);
        assert!((part.line.intercept - 3.0).abs() < 1e-10);
    }

    #[test]
    fn none() {
        assert_eq!(linear_part(&curve(|x| x, 1.0)[..2]), None);
        assert_eq!(linear_part(&curve(|x| x * x, 1e-3)), None);
        assert_eq!(linear_part(&curve(|x| -x, 1e-3)), None);
    }
}
