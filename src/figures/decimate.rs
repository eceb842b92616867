//! Fewer points for long curves without losing a peak.

use super::geometry::Point;

/// Width of the columns within which only the extremes are kept, in points on paper: well below
/// the width of a curve's stroke.
const COLUMN_PT: f64 = 0.5;

/// Keeps of each run of points within one column of the abscissa only the lowest and the highest,
/// in their order, and the line's two ends.
///
/// `along_y` says that the abscissa runs down the paper.
pub fn decimate(line: &[Point], along_y: bool) -> Vec<Point> {
    let abscissa = |p: &Point| if along_y { p.1 } else { p.0 };
    let ordinate = |p: &Point| if along_y { p.0 } else { p.1 };
    let column = |p: &Point| (abscissa(p) / COLUMN_PT).floor();
    let mut out = Vec::new();
    let mut start = 0;
    while start < line.len() {
        let end = line[start..]
            .iter()
            .position(|p| column(p) != column(&line[start]))
            .map_or(line.len(), |n| start + n);
        let run = &line[start..end];
        let (mut low, mut high) = (0, 0);
        for (index, point) in run.iter().enumerate() {
            if ordinate(point) < ordinate(&run[low]) {
                low = index;
            }
            if ordinate(point) > ordinate(&run[high]) {
                high = index;
            }
        }
        let mut keep = vec![low.min(high), low.max(high)];
        if start == 0 {
            keep.insert(0, 0);
        }
        if end == line.len() {
            keep.push(run.len() - 1);
        }
        keep.dedup();
        out.extend(keep.into_iter().map(|index| run[index]));
        start = end;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn peaks_and_ends_survive() {
        let line: Vec<Point> = (0..100_000)
            .map(|n| {
                let x = f64::from(n) / 1000.0;
                (x, if n == 54_321 { 99.0 } else { (x * 40.0).sin() })
            })
            .collect();
        let few = decimate(&line, false);
        assert!(few.len() <= 402, "{}", few.len());
        assert_eq!((few[0], few[few.len() - 1]), (line[0], line[99_999]));
        assert!(few.contains(&(54.321, 99.0)));
        assert!(few.windows(2).all(|w| w[0].0 <= w[1].0));
    }

    #[test]
    fn few_points_stay_as_they_are() {
        let line = vec![(0.0, 1.0), (10.0, 2.0), (20.0, 0.0)];
        assert_eq!(decimate(&line, false), line);
        assert_eq!(decimate(&[], true), vec![]);
        assert_eq!(decimate(&[(1.0, 1.0)], true), vec![(1.0, 1.0)]);
    }
}
