//! Draws in points on a target of finer integer units, and notes what a plain target can't take.

use plotters::style::{RGBColor, ShapeStyle};
use plotters_backend::{DrawingBackend, DrawingErrorKind};

use super::backend::{Measured, Target};
use super::geometry::{Point, Rect};
use super::lettering::{Anchor, Lettering};
use super::palette::Rgb;
use super::problem::DrawProblem;
use super::raster::Raster;
use super::text::{self, Run};

/// A stroke's colour and width in points.
#[derive(Debug, Clone, Copy)]
pub struct Stroke {
    pub colour: Rgb,
    pub width: f64,
}

impl Stroke {
    pub const fn new(colour: Rgb, width: f64) -> Self {
        Self { colour, width }
    }
}

/// A text and its place: `at` is on the baseline.
#[derive(Debug, Clone)]
pub struct Label<'a> {
    /// With `_{}` marks.
    pub text: &'a str,
    pub at: Point,
    pub anchor: Anchor,
    /// In points.
    pub size: f64,
    pub colour: Rgb,
    /// Outline that lifts the text from its ground.
    pub halo: Option<Rgb>,
}

/// A text as drawn, for targets that set the marks themselves.
#[derive(Debug, Clone)]
pub struct SetText {
    pub runs: Vec<Run>,
    pub at: Point,
    pub anchor: Anchor,
    pub size: f64,
    pub colour: Rgb,
    pub halo: Option<Rgb>,
}

/// A raster under the strokes.
#[derive(Debug, Clone)]
pub struct Picture {
    pub area: Rect,
    pub raster: Raster,
}

/// What a document's finishing step needs besides the strokes, in drawing order, in points.
#[derive(Debug, Clone, Default)]
pub struct Notes {
    pub texts: Vec<SetText>,
    pub pictures: Vec<Picture>,
}

/// A drawing target in points.
pub struct Pen<DB> {
    backend: Measured<DB>,
    units_per_pt: f64,
    notes: Notes,
}

/// Room between baseline and lower edge of a text, in sizes, as targets count it.
const DESCENT: f64 = 0.21;

impl<DB: DrawingBackend> Pen<DB> {
    /// A pen for a target with so many units to the point.
    pub fn new(backend: DB, target: Target, units_per_pt: f64) -> Self {
        Self { backend: Measured::new(backend, target), units_per_pt, notes: Notes::default() }
    }

    /// The paper, in points.
    pub fn paper(&self) -> Rect {
        let (width, height) = self.backend.get_size();
        Rect::new(
            0.0,
            0.0,
            f64::from(width) / self.units_per_pt,
            f64::from(height) / self.units_per_pt,
        )
    }

    /// Ends the drawing.
    pub fn finish(mut self) -> Result<Notes, DrawProblem> {
        self.backend.present().map_err(refused)?;
        Ok(self.notes)
    }

    fn unit(&self, value: f64) -> i32 {
        (value.clamp(-1e5, 1e5) * self.units_per_pt).round() as i32
    }

    fn spot(&self, (x, y): Point) -> (i32, i32) {
        (self.unit(x), self.unit(y))
    }

    fn style(&self, stroke: Stroke) -> ShapeStyle {
        let (r, g, b) = stroke.colour;
        let width = self.unit(stroke.width).max(1).unsigned_abs();
        ShapeStyle { color: RGBColor(r, g, b).into(), filled: false, stroke_width: width }
    }

    /// A line through points; fewer than two draw nothing.
    pub fn path(&mut self, points: &[Point], stroke: Stroke) -> Result<(), DrawProblem> {
        let mut spots: Vec<(i32, i32)> = points.iter().map(|p| self.spot(*p)).collect();
        spots.dedup();
        match spots.as_slice() {
            [] => Ok(()),
            [_] => match points {
                [_] => Ok(()),
                _ => self.dot(points[0], stroke.width / 2.0, stroke.colour),
            },
            _ => {
                let style = self.style(stroke);
                self.backend.draw_path(spots, &style).map_err(refused)
            }
        }
    }

    /// A straight line.
    pub fn line(&mut self, from: Point, to: Point, stroke: Stroke) -> Result<(), DrawProblem> {
        let (from, to) = (self.spot(from), self.spot(to));
        let style = self.style(stroke);
        self.backend.draw_line(from, to, &style).map_err(refused)
    }

    /// A dashed line, dash and gap in points.
    pub fn dashed(
        &mut self,
        points: &[Point],
        stroke: Stroke,
        dash: (f64, f64),
    ) -> Result<(), DrawProblem> {
        let (mut drawing, mut left) = (true, dash.0);
        let mut piece: Vec<Point> = points.first().copied().into_iter().collect();
        for pair in points.windows(2) {
            let (mut from, to) = (pair[0], pair[1]);
            let mut length = (to.0 - from.0).hypot(to.1 - from.1);
            while length > left {
                let part = left / length;
                from = (from.0 + part * (to.0 - from.0), from.1 + part * (to.1 - from.1));
                length -= left;
                if drawing {
                    piece.push(from);
                    self.path(&piece, stroke)?;
                }
                drawing = !drawing;
                left = if drawing { dash.0 } else { dash.1 };
                piece = vec![from];
            }
            left -= length;
            piece.push(to);
        }
        if drawing { self.path(&piece, stroke) } else { Ok(()) }
    }

    /// A filled area; fewer than three points draw nothing.
    pub fn area(&mut self, points: &[Point], colour: Rgb) -> Result<(), DrawProblem> {
        if points.len() < 3 {
            return Ok(());
        }
        let spots: Vec<(i32, i32)> = points.iter().map(|p| self.spot(*p)).collect();
        let style = self.style(Stroke::new(colour, 0.0));
        self.backend.fill_polygon(spots, &style).map_err(refused)
    }

    /// A filled disc.
    pub fn dot(&mut self, at: Point, radius: f64, colour: Rgb) -> Result<(), DrawProblem> {
        let at = self.spot(at);
        let radius = self.unit(radius).max(1).unsigned_abs();
        let style = self.style(Stroke::new(colour, 0.0));
        self.backend.draw_circle(at, radius, &style, true).map_err(refused)
    }

    /// A text; an empty one draws nothing.
    pub fn text(&mut self, label: &Label<'_>) -> Result<(), DrawProblem> {
        let words = text::clean(label.text);
        let runs = text::runs(&words);
        if runs.is_empty() {
            return Ok(());
        }
        let lettering = Lettering {
            size: label.size * self.units_per_pt,
            colour: label.colour,
            italic: false,
            anchor: label.anchor,
        };
        let spot = self.spot((label.at.0, label.at.1 + DESCENT * label.size));
        self.backend.draw_text(&words, &lettering, spot).map_err(refused)?;
        if self.backend.target() == Target::Document {
            self.notes.texts.push(SetText {
                runs,
                at: label.at,
                anchor: label.anchor,
                size: label.size,
                colour: label.colour,
                halo: label.halo,
            });
        }
        Ok(())
    }

    /// A raster stretched over an area.
    pub fn picture(&mut self, area: Rect, raster: Raster) -> Result<(), DrawProblem> {
        if self.backend.target() == Target::Document {
            self.notes.pictures.push(Picture { area, raster });
            return Ok(());
        }
        let (columns, rows) = raster.size();
        let (dx, dy) = (area.width() / columns as f64, area.height() / rows as f64);
        for row in 0..rows {
            for column in 0..columns {
                let Some(colour) = raster.get(column, row) else { continue };
                let from = self.spot((area.x0 + dx * column as f64, area.y0 + dy * row as f64));
                let to = self
                    .spot((area.x0 + dx * (column + 1) as f64, area.y0 + dy * (row + 1) as f64));
                let style = self.style(Stroke::new(colour, 0.0));
                self.backend.draw_rect(from, to, &style, true).map_err(refused)?;
            }
        }
        Ok(())
    }
}

fn refused<E: std::error::Error + Send + Sync>(problem: DrawingErrorKind<E>) -> DrawProblem {
    DrawProblem::Backend(problem.to_string())
}
