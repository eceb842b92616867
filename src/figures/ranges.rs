//! What a panel of curves shows: checks, and the ranges of its axes.

use super::problem::DrawProblem;
use super::scale::{Range, SMALLEST, is_shown};
use super::ticks::{LARGEST, extent, sane_range, ticks};
use crate::report::model::{AxisData, CurveStyle, CurvesData};

/// Air beyond the data of an ordinate as a share of its length, and where labelled points need
/// room for a line of words beyond them.
const AIR: f64 = 0.06;
const AIR_FOR_WORDS: f64 = 0.28;
/// Least length of a logarithmic axis, in decades.
const LEAST_DECADES: f64 = 0.6;
/// A logarithmic axis ends on a decade where that costs at most this share of its length.
const TO_A_DECADE: f64 = 0.06;

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

/// Range of an axis of curves as given, when its limits span one; a logarithmic one is positive.
pub fn given(axis: &AxisData) -> Option<Range> {
    if !axis.log {
        return usable(axis.limits).map(Range::from);
    }
    let (a, b) = axis.limits.filter(|(a, b)| is_shown(*a, true) && is_shown(*b, true) && a != b)?;
    Some(Range::log(a, b))
}

/// Range of the abscissa: as given, else that of the curves; a logarithmic one that shows dots or
/// labelled points with some air.
pub fn abscissa_range(data: &CurvesData) -> Range {
    if let Some(range) = given(&data.x) {
        return range;
    }
    let all = data.curves.iter().flat_map(|c| c.x.iter().copied());
    if data.x.log {
        let dots = data.curves.iter().any(|c| c.style == CurveStyle::Dots);
        return around(all, if dots || !data.points.is_empty() { AIR } else { 0.0 });
    }
    let (low, high) = extent(all).unwrap_or((0.0, 1.0));
    Range::linear(low, high)
}

/// Range of the ordinate: as given, else that of all that is drawn, with some air, from zero where
/// that is near, and out to a round number where that costs little.
pub fn ordinate_range(data: &CurvesData) -> Range {
    if let Some(range) = given(&data.y) {
        return range;
    }
    let abscissa = abscissa_range(data);
    let shown = |x: f64| abscissa.holds(x);
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
    let all = curves.chain(marked);
    let air = if data.points.is_empty() { AIR } else { AIR_FOR_WORDS };
    if data.y.log {
        return around(all, air.min(0.5 * AIR_FOR_WORDS));
    }
    let Some((low, high)) = extent(all) else { return Range::linear(0.0, 1.0) };
    let (low, high) = sane_range(low, high);
    let air = air * (high - low);
    let from_zero = low >= 0.0 && low <= 0.2 * high;
    let padded =
        (if from_zero { 0.0 } else { low - air }, if high == 0.0 { 0.0 } else { high + air });
    let (low, high) = sane_range(padded.0, padded.1);
    let step = ticks(low, high, 5).step;
    let near = |end: f64, round: f64| if (end - round).abs() <= 0.4 * step { round } else { end };
    Range::linear(near(low, (low / step).floor() * step), near(high, (high / step).ceil() * step))
}

/// Logarithmic range of the positive values with some air, never without a whole decade, out to a
/// decade where that costs little.
fn around(values: impl Iterator<Item = f64>, air: f64) -> Range {
    let Some(data) = extent(values.filter(|v| is_shown(*v, true))) else {
        return Range::log(1.0, 10.0);
    };
    let (mut low, mut high) = (data.0.log10(), data.1.log10());
    let air = (air * (high - low)).max((LEAST_DECADES - (high - low)) / 2.0).max(0.0);
    (low, high) = (low - air, high + air);
    let few = TO_A_DECADE * (high - low);
    if low - low.floor() <= few {
        low = low.floor();
    }
    if high.ceil() - high <= few {
        high = high.ceil();
    }
    if low.ceil() > high.floor() {
        if high.ceil() - high <= low - low.floor() {
            high = high.ceil();
        } else {
            low = low.floor();
        }
    }
    let ten = |power: f64| 10f64.powf(power).clamp(SMALLEST, LARGEST);
    Range::log(ten(low).min(data.0), ten(high).max(data.1))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::plot::tests::{curve, curves};

    #[test]
    fn ranges_hold_the_data_and_end_on_round_numbers() {
        let data = curves(vec![curve(vec![0.0, 1.0, 2.0], vec![Some(-2.3), None, Some(9.7)])]);
        assert_eq!(abscissa_range(&data), (0.0, 2.0).into());
        let Range { low, high, .. } = ordinate_range(&data);
        assert!(low <= -2.3 && (9.7..=12.0).contains(&high), "{low} {high}");
        let positive = curves(vec![curve(vec![0.0, 1.0], vec![Some(0.1), Some(0.97)])]);
        assert_eq!(ordinate_range(&positive).low, 0.0);
        assert_eq!(ordinate_range(&curves(vec![])), (0.0, 1.0).into());
    }

    fn log(values: &[f64]) -> Range {
        let y = values.iter().map(|v| Some(*v)).collect();
        let mut data = curves(vec![curve((0..values.len()).map(|n| n as f64).collect(), y)]);
        data.y.log = true;
        ordinate_range(&data)
    }

    // Common practice, no source: a logarithmic axis shows a whole decade at least.
    #[test]
    fn logarithmic_ranges_hold_the_positive_data_and_a_decade() {
        let lists: [&[f64]; 9] = [
            &[5.0],
            &[1.0],
            &[2.0, 7.0],
            &[3.1, 3.2],
            &[0.0, -4.0, f64::NAN, 0.02, 30.0, f64::INFINITY],
            &[1.0, 1000.0],
            &[1e-300, 1e300],
            &[5e-324, 1e-300],
            &[0.011, 0.99],
        ];
        for values in lists {
            let range = log(values);
            assert!(range.log && range.length() >= 0.29, "{values:?} {range:?}");
            let decade = (-300..=300)
                .map(|n| 10f64.powi(n))
                .any(|v| range.holds(v * (1.0 + 1e-12)) || range.holds(v));
            assert!(decade, "{values:?} {range:?}");
            assert!(values.iter().filter(|v| is_shown(**v, true)).all(|v| range.holds(*v)));
        }
        assert_eq!(log(&[0.0, -1.0, f64::NAN]), Range::log(1.0, 10.0));
        assert_eq!(log(&[0.02, 0.7]).high, 1.0);
        assert_eq!(log(&[2.0, 7.0]).high, 10.0);
    }

    #[test]
    fn limits_of_a_logarithmic_axis_are_positive() {
        let axis = |limits, log| AxisData { limits: Some(limits), log, ..AxisData::default() };
        assert_eq!(given(&axis((100.0, 0.1), true)), Some(Range::log(0.1, 100.0)));
        for bad in [(0.0, 10.0), (-1.0, 10.0), (f64::NAN, 1.0), (2.0, 2.0)] {
            assert_eq!(given(&axis(bad, true)), None, "{bad:?}");
        }
        assert_eq!(given(&axis((-1.0, 10.0), false)), Some(Range::linear(-1.0, 10.0)));
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
