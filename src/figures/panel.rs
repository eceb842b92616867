//! Draws a panel of curves: window, grid, bands, levels, marks, lines, axes.

use plotters_backend::DrawingBackend;

use super::axes::{self, HAIRLINE, TICK_PT};
use super::decimate::decimate;
use super::geometry::{Point, clip_area};
use super::palette::{self, Rgb};
use super::pen::{Pen, Stroke};
use super::plot::Plot;
use super::problem::DrawProblem;
use crate::report::model::{Curve, CurveStyle};

/// Radius of a dot, in points.
pub const DOT_PT: f64 = 1.1;

impl Plot<'_> {
    /// Draws all but words: window, grid, bands, levels, marks, curves, axes.
    pub fn draw<DB: DrawingBackend>(
        &self,
        pen: &mut Pen<DB>,
        grid: bool,
    ) -> Result<(), DrawProblem> {
        self.span(pen)?;
        if grid {
            let across = self.y.ticks.values.iter().map(|value| self.level_line(*value));
            let decades = self.x.ticks.values.iter().filter(|_| self.x.scale.range.log);
            for [from, to] in across.chain(decades.map(|value| self.mark_line(*value))) {
                pen.line(from, to, Stroke::new(palette::GRID, 0.4))?;
            }
        }
        let length = if self.turned { self.area.height() } else { self.area.width() };
        let sparse = length > 6.0 * self.data.marks.len() as f64;
        for (at, _) in self.data.marks.iter().filter(|(at, _)| self.shows_mark(*at)) {
            let [from, to] = self.mark_line(*at);
            if sparse {
                // Darker where it would be taken for a decade.
                let colour = if self.x.scale.range.log { palette::SOFT } else { palette::GRID };
                pen.line(from, to, Stroke::new(colour, 0.5))?;
            }
            let end = if self.turned { (to.0 - TICK_PT, to.1) } else { (to.0, to.1 + TICK_PT) };
            pen.line(to, end, Stroke::new(palette::SOFT, 0.5))?;
        }
        for curve in &self.data.curves {
            self.band(pen, curve)?;
        }
        if self.y.scale.range.low < 0.0 && self.y.scale.range.high > 0.0 {
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
            return self
                .dots(curve)
                .into_iter()
                .try_for_each(|at| pen.dot(at, DOT_PT, stroke.colour));
        }
        for line in self.lines(curve) {
            match (line.as_slice(), curve.style) {
                ([only], _) => pen.dot(*only, DOT_PT, stroke.colour)?,
                (line, CurveStyle::Dashed) => pen.dashed(line, stroke, (3.0, 2.0))?,
                (line, _) => pen.path(line, stroke)?,
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
            // A band that reaches below what a logarithmic axis shows is cut at its foot.
            let shown = self.x.scale.shows(*x) && self.y.scale.shows(*high);
            if shown && low.is_finite() {
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
