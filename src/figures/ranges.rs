//! What a panel of curves shows: checks, and the ranges of its axes.

use super::problem::DrawProblem;
use super::ticks::{extent, sane_range, ticks};
use crate::report::model::CurvesData;

/// Refuses curves whose lists contradict each other.
pub fn check(data: &CurvesData) -> Result<(), DrawProblem> {
    for curve in &data.curves {
        let expected = curve.x.len();
        if curve.y.len() != expected {
            return Err(DrawProblem::Length { what: "curve y", expected, found: curve.y.len() });
        }
        if !curve.band.is_empty() && curve.band.len() != expected {
            return Err(DrawProblem::Length {
                what: "curve band",
                expected,
                found: curve.band.len(),
            });
        }
    }
    Ok(())
}

/// Limits as given, when they span a range.
pub fn usable(limits: Option<(f64, f64)>) -> Option<(f64, f64)> {
    let (a, b) = limits.filter(|(a, b)| a.is_finite() && b.is_finite() && a != b)?;
    Some(sane_range(a, b))
}

/// Range of the abscissa: as given, else that of the curves.
pub fn abscissa_range(data: &CurvesData) -> (f64, f64) {
    usable(data.x.limits).unwrap_or_else(|| {
        let all = data.curves.iter().flat_map(|c| c.x.iter().copied());
        let (low, high) = extent(all).unwrap_or((0.0, 1.0));
        sane_range(low, high)
    })
}

/// Range of the ordinate: as given, else that of all that is drawn, with some air, from zero where
/// that is near, and out to a round number where that costs little.
pub fn ordinate_range(data: &CurvesData) -> (f64, f64) {
    if let Some(range) = usable(data.y.limits) {
        return range;
    }
    let (from, to) = abscissa_range(data);
    let shown = |x: f64| (from..=to).contains(&x);
    let curves = data.curves.iter().flat_map(|c| {
        let values = c.x.iter().zip(&c.y).filter(|(x, _)| shown(**x)).filter_map(|(_, y)| *y);
        let bands =
            c.x.iter().zip(&c.band).filter(|(x, _)| shown(**x)).flat_map(|(_, b)| [b.0, b.1]);
        values.chain(bands)
    });
    let marked = data
        .levels
        .iter()
        .map(|l| l.0)
        .chain(data.points.iter().filter(|p| shown(p.0)).map(|p| p.1));
    let Some((low, high)) = extent(curves.chain(marked)) else { return (0.0, 1.0) };
    let (low, high) = sane_range(low, high);
    // Labelled points need room for a line of words beyond them.
    let air = (if data.points.is_empty() { 0.06 } else { 0.28 }) * (high - low);
    let from_zero = low >= 0.0 && low <= 0.2 * high;
    let padded =
        (if from_zero { 0.0 } else { low - air }, if high == 0.0 { 0.0 } else { high + air });
    let (low, high) = sane_range(padded.0, padded.1);
    let step = ticks(low, high, 5).step;
    let near = |end: f64, round: f64| if (end - round).abs() <= 0.4 * step { round } else { end };
    sane_range(near(low, (low / step).floor() * step), near(high, (high / step).ceil() * step))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::plot::tests::{curve, curves};

    #[test]
    fn ranges_hold_the_data_and_end_on_round_numbers() {
        let data = curves(vec![curve(vec![0.0, 1.0, 2.0], vec![Some(-2.3), None, Some(9.7)])]);
        assert_eq!(abscissa_range(&data), (0.0, 2.0));
        let (low, high) = ordinate_range(&data);
        assert!(low <= -2.3 && (9.7..=12.0).contains(&high), "{low} {high}");
        let positive = curves(vec![curve(vec![0.0, 1.0], vec![Some(0.1), Some(0.97)])]);
        assert_eq!(ordinate_range(&positive).0, 0.0);
        assert_eq!(ordinate_range(&curves(vec![])), (0.0, 1.0));
    }

    #[test]
    fn lists_must_match() {
        let mut bad = curve(vec![0.0, 1.0], vec![Some(0.0)]);
        assert!(check(&curves(vec![bad.clone()])).is_err());
        bad.y.push(None);
        bad.band = vec![(0.0, 1.0)];
        assert!(check(&curves(vec![bad])).is_err());
    }
}
