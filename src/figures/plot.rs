//! One panel of curves: its axes, and where its curves lie on paper. `panel` draws it, `annotate`
//! places its words.

use std::collections::BTreeSet;

use super::axes::{Axis, Run};
use super::decimate::decimate;
use super::geometry::{Point, Rect, clip_line};
use super::look::Look;
use super::ranges::{given, ordinate_range};
use super::scale::{Range, is_shown};
use crate::report::model::{AxisData, Curve, CurvesData};

/// A panel on paper. When `turned`, the abscissa runs up and the ordinate to the right: a profile
/// at the side of a map.
pub struct Plot<'a> {
    pub data: &'a CurvesData,
    pub area: Rect,
    pub x: Axis,
    pub y: Axis,
    pub turned: bool,
}

impl<'a> Plot<'a> {
    /// A panel whose abscissa has the given range.
    pub fn new(
        data: &'a CurvesData,
        area: Rect,
        x_range: impl Into<Range>,
        turned: bool,
        look: &Look,
    ) -> Self {
        let x_range = x_range.into();
        let (across, up) = ((area.x0, area.x1), (area.y1, area.y0));
        let y_range = ordinate_range(data);
        let (x, y) = if turned {
            (Axis::new(x_range, up, Run::Up, look), Axis::new(y_range, across, Run::Across, look))
        } else {
            (Axis::new(x_range, across, Run::Across, look), Axis::new(y_range, up, Run::Up, look))
        };
        // Without data, numbers would state what nobody measured.
        let any_x = data.curves.iter().flat_map(|c| &c.x).any(|v| is_shown(*v, x_range.log));
        let any_y = data
            .curves
            .iter()
            .flat_map(|c| c.y.iter().flatten())
            .any(|v| is_shown(*v, y_range.log));
        let numbered = |axis: Axis, data: &AxisData, any: bool| {
            if any || given(data).is_some() { axis } else { axis.with_ticks(Vec::new()) }
        };
        let (x, y) = (numbered(x, &data.x, any_x), numbered(y, &data.y, any_y));
        Self { data, area, x, y, turned }
    }

    /// Place of a point of the data.
    pub fn at(&self, x: f64, y: f64) -> Point {
        if self.turned {
            (self.y.scale.at(y), self.x.scale.at(x))
        } else {
            (self.x.scale.at(x), self.y.scale.at(y))
        }
    }

    /// A line across the panel at one value of the ordinate.
    pub fn level_line(&self, value: f64) -> [Point; 2] {
        let at = self.y.scale.at(value);
        if self.turned {
            [(at, self.area.y1), (at, self.area.y0)]
        } else {
            [(self.area.x0, at), (self.area.x1, at)]
        }
    }

    /// A line across the panel at one value of the abscissa.
    pub fn mark_line(&self, value: f64) -> [Point; 2] {
        let at = self.x.scale.at(value);
        if self.turned {
            [(self.area.x0, at), (self.area.x1, at)]
        } else {
            [(at, self.area.y1), (at, self.area.y0)]
        }
    }

    /// True when a value lies on the shown part of the ordinate.
    pub fn shows_level(&self, value: f64) -> bool {
        self.y.scale.range.holds(value)
    }

    /// True when a value lies on the shown part of the abscissa.
    pub fn shows_mark(&self, value: f64) -> bool {
        self.x.scale.range.holds(value)
    }

    /// Place of a point of a curve; none when it has no value, or none that its axes can show.
    pub fn spot(&self, x: f64, y: Option<f64>) -> Option<Point> {
        let y = y.filter(|y| self.x.scale.shows(x) && self.y.scale.shows(*y))?;
        Some(self.at(x, y))
    }

    /// Places of the dots of a curve within the panel; of those that would cover each other, one.
    pub fn dots(&self, curve: &Curve) -> Vec<Point> {
        let mut seen = BTreeSet::new();
        let spots = curve.x.iter().zip(&curve.y).filter_map(|(x, y)| self.spot(*x, *y));
        let half_point = |at: f64| (at * 2.0).round() as i64;
        spots
            .filter(|at| self.area.has(*at) && seen.insert((half_point(at.0), half_point(at.1))))
            .collect()
    }

    /// The pieces of a curve as drawn.
    pub fn lines(&self, curve: &Curve) -> Vec<Vec<Point>> {
        let mut pieces: Vec<Vec<Point>> = vec![Vec::new()];
        for (x, y) in curve.x.iter().zip(&curve.y) {
            match self.spot(*x, *y) {
                Some(spot) => {
                    if let Some(piece) = pieces.last_mut() {
                        piece.push(spot);
                    }
                }
                None => pieces.push(Vec::new()),
            }
        }
        pieces
            .iter()
            .filter(|piece| !piece.is_empty())
            .flat_map(|piece| {
                let few = decimate(piece, self.turned);
                match few.as_slice() {
                    [only] if self.area.has(*only) => vec![vec![*only]],
                    _ => clip_line(&self.area, &few),
                }
            })
            .collect()
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::figures::grid::tests::axis;
    use crate::report::model::CurveStyle;

    pub(crate) fn curve(x: Vec<f64>, y: Vec<Option<f64>>) -> Curve {
        Curve { label: String::new(), x, y, band: vec![], style: CurveStyle::Measured }
    }

    pub(crate) fn curves(curves: Vec<Curve>) -> CurvesData {
        CurvesData {
            x: axis("t", "µs"),
            y: axis("p", "MPa"),
            curves,
            levels: vec![],
            marks: vec![],
            span: None,
            points: vec![],
            width: None,
        }
    }

    #[test]
    fn gaps_break_the_line() {
        let data = curves(vec![curve(
            vec![0.0, 1.0, 2.0, 3.0, 4.0],
            vec![Some(0.0), Some(1.0), None, Some(1.0), Some(f64::NAN)],
        )]);
        let plot =
            Plot::new(&data, Rect::new(0.0, 0.0, 100.0, 50.0), (0.0, 4.0), false, &Look::default());
        let lines = plot.lines(&data.curves[0]);
        assert_eq!(lines.iter().map(Vec::len).collect::<Vec<_>>(), [2, 1]);
    }

    #[test]
    fn what_a_logarithmic_axis_cannot_show_breaks_the_line() {
        let mut data = curves(vec![curve(
            vec![-1.0, 0.0, 1.0, 2.0, 5.0, 10.0, 20.0],
            [1.0, 1.0, 1.0, 2.0, 0.0, 10.0, -3.0].map(Some).to_vec(),
        )]);
        (data.x.log, data.y.log) = (true, true);
        let area = Rect::new(0.0, 0.0, 100.0, 50.0);
        let plot = Plot::new(&data, area, Range::log(1.0, 100.0), false, &Look::default());
        let lines = plot.lines(&data.curves[0]);
        assert_eq!(lines.iter().map(Vec::len).collect::<Vec<_>>(), [2, 1]);
        let (from, to) = (lines[0][0], lines[1][0]);
        assert!(from.0.abs() < 1e-9 && (to.0 - 50.0).abs() < 1e-9, "{from:?} {to:?}");
        assert_eq!(plot.dots(&data.curves[0]).len(), 3);
        assert!(!plot.shows_level(0.0) && !plot.shows_mark(-1.0));
    }
}
