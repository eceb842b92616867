//! One panel of curves: ranges, lines, bands, marks. Its words are placed by `annotate`.

use std::collections::BTreeSet;

use plotters_backend::DrawingBackend;

use super::axes::{self, Axis, HAIRLINE, Run, TICK_PT};
use super::decimate::decimate;
use super::geometry::{Point, Rect, clip_area, clip_line};
use super::look::Look;
use super::palette::{self, Rgb};
use super::pen::{Pen, Stroke};
use super::problem::DrawProblem;
use super::ranges::{ordinate_range, usable};
use crate::report::model::{Curve, CurveStyle, CurvesData};

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
        x_range: (f64, f64),
        turned: bool,
        look: &Look,
    ) -> Self {
        let (across, up) = ((area.x0, area.x1), (area.y1, area.y0));
        let y_range = ordinate_range(data);
        let (x, y) = if turned {
            (Axis::new(x_range, up, Run::Up, look), Axis::new(y_range, across, Run::Across, look))
        } else {
            (Axis::new(x_range, across, Run::Across, look), Axis::new(y_range, up, Run::Up, look))
        };
        // Without data, numbers would state what nobody measured.
        let empty = |limits: Option<(f64, f64)>, any: bool| !any && usable(limits).is_none();
        let any_x = data.curves.iter().any(|c| c.x.iter().any(|v| v.is_finite()));
        let any_y = data.curves.iter().any(|c| c.y.iter().flatten().any(|v| v.is_finite()));
        let x = if empty(data.x.limits, any_x) { x.with_ticks(Vec::new()) } else { x };
        let y = if empty(data.y.limits, any_y) { y.with_ticks(Vec::new()) } else { y };
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
        value.is_finite() && (self.y.scale.low..=self.y.scale.high).contains(&value)
    }

    /// True when a value lies on the shown part of the abscissa.
    pub fn shows_mark(&self, value: f64) -> bool {
        value.is_finite() && (self.x.scale.low..=self.x.scale.high).contains(&value)
    }

    /// The pieces of a curve as drawn.
    pub fn lines(&self, curve: &Curve) -> Vec<Vec<Point>> {
        let mut pieces: Vec<Vec<Point>> = vec![Vec::new()];
        for (x, y) in curve.x.iter().zip(&curve.y) {
            match y.filter(|y| y.is_finite() && x.is_finite()) {
                Some(y) => {
                    if let Some(piece) = pieces.last_mut() {
                        piece.push(self.at(*x, y));
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

    /// Draws all but words: window, grid, bands, levels, marks, curves, axes.
    pub fn draw<DB: DrawingBackend>(
        &self,
        pen: &mut Pen<DB>,
        grid: bool,
    ) -> Result<(), DrawProblem> {
        self.span(pen)?;
        if grid {
            for value in &self.y.ticks.values {
                let [from, to] = self.level_line(*value);
                pen.line(from, to, Stroke::new(palette::GRID, 0.4))?;
            }
        }
        let length = if self.turned { self.area.height() } else { self.area.width() };
        let sparse = length > 6.0 * self.data.marks.len() as f64;
        for (at, _) in self.data.marks.iter().filter(|(at, _)| self.shows_mark(*at)) {
            let [from, to] = self.mark_line(*at);
            if sparse {
                pen.line(from, to, Stroke::new(palette::GRID, 0.5))?;
            }
            let end = if self.turned { (to.0 - TICK_PT, to.1) } else { (to.0, to.1 + TICK_PT) };
            pen.line(to, end, Stroke::new(palette::SOFT, 0.5))?;
        }
        for curve in &self.data.curves {
            self.band(pen, curve)?;
        }
        if self.y.scale.low < 0.0 && self.y.scale.high > 0.0 {
            let [from, to] = self.level_line(0.0);
            pen.line(from, to, Stroke::new(palette::SOFT, 0.4))?;
        }
        for (level, _) in self.data.levels.iter().filter(|(level, _)| self.shows_level(*level)) {
            pen.dashed(&self.level_line(*level), Stroke::new(palette::GREY, 0.45), (2.4, 1.8))?;
        }
        let order = |curve: &&Curve| usize::from(curve.style == CurveStyle::Measured);
        let mut curves: Vec<&Curve> = self.data.curves.iter().collect();
        curves.sort_by_key(order);
        for curve in curves {
            self.curve(pen, curve)?;
        }
        self.frame(pen)
    }

    fn curve<DB: DrawingBackend>(
        &self,
        pen: &mut Pen<DB>,
        curve: &Curve,
    ) -> Result<(), DrawProblem> {
        let stroke = stroke(curve.style);
        if curve.style == CurveStyle::Dots {
            return self.dots(pen, curve);
        }
        for line in self.lines(curve) {
            match (line.as_slice(), curve.style) {
                ([only], _) => pen.dot(*only, 1.1, stroke.colour)?,
                (line, CurveStyle::Dashed) => pen.dashed(line, stroke, (3.0, 2.0))?,
                (line, _) => pen.path(line, stroke)?,
            }
        }
        Ok(())
    }

    /// Dots; those that would cover each other are drawn once.
    fn dots<DB: DrawingBackend>(
        &self,
        pen: &mut Pen<DB>,
        curve: &Curve,
    ) -> Result<(), DrawProblem> {
        let mut seen = BTreeSet::new();
        for (x, y) in curve.x.iter().zip(&curve.y) {
            let Some(y) = y.filter(|y| y.is_finite() && x.is_finite()) else { continue };
            let at = self.at(*x, y);
            if self.area.has(at)
                && seen.insert(((at.0 * 2.0).round() as i64, (at.1 * 2.0).round() as i64))
            {
                pen.dot(at, 1.1, palette::ACCENT)?;
            }
        }
        Ok(())
    }

    fn span<DB: DrawingBackend>(&self, pen: &mut Pen<DB>) -> Result<(), DrawProblem> {
        let Some((from, to, _)) =
            self.data.span.as_ref().filter(|s| s.0.is_finite() && s.1.is_finite())
        else {
            return Ok(());
        };
        let [a, b] = self.mark_line(*from);
        let [c, d] = self.mark_line(*to);
        pen.area(&clip_area(&self.area, &[a, b, d, c]), palette::SHADE)?;
        for (edge, line) in [(*from, [a, b]), (*to, [c, d])] {
            if self.shows_mark(edge) {
                pen.line(line[0], line[1], Stroke::new(palette::SOFT, 0.3))?;
            }
        }
        Ok(())
    }

    fn band<DB: DrawingBackend>(
        &self,
        pen: &mut Pen<DB>,
        curve: &Curve,
    ) -> Result<(), DrawProblem> {
        let mut run: (Vec<Point>, Vec<Point>) = (Vec::new(), Vec::new());
        let mut runs = Vec::new();
        for (x, (low, high)) in curve.x.iter().zip(&curve.band) {
            if x.is_finite() && low.is_finite() && high.is_finite() {
                run.0.push(self.at(*x, *low));
                run.1.push(self.at(*x, *high));
            } else {
                runs.push(std::mem::take(&mut run));
            }
        }
        runs.push(run);
        for (low, high) in runs {
            let mut outline = decimate(&low, self.turned);
            outline.extend(decimate(&high, self.turned).into_iter().rev());
            pen.area(&clip_area(&self.area, &outline), palette::BAND)?;
        }
        Ok(())
    }

    fn frame<DB: DrawingBackend>(&self, pen: &mut Pen<DB>) -> Result<(), DrawProblem> {
        let area = &self.area;
        pen.path(&[(area.x0, area.y0), (area.x0, area.y1), (area.x1, area.y1)], HAIRLINE)?;
        let (across, up) = if self.turned { (&self.y, &self.x) } else { (&self.x, &self.y) };
        axes::ticks_across(pen, across, area.y1, TICK_PT, axes::on_paper)?;
        axes::ticks_up(pen, up, area.x0, TICK_PT, axes::on_paper)
    }
}

/// Colour and width of a curve.
pub fn stroke(style: CurveStyle) -> Stroke {
    let (colour, width): (Rgb, f64) = match style {
        CurveStyle::Measured | CurveStyle::Dots => (palette::ACCENT, 0.8),
        CurveStyle::Reference => (palette::GREY, 0.5),
        CurveStyle::Dashed => (palette::INK, 0.6),
    };
    Stroke::new(colour, width)
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::figures::grid::tests::axis;

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
}
