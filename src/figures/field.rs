//! The inside of a map: raster, hatches, contours, peak, frame, on axes of one scale.

use plotters_backend::DrawingBackend;

use super::axes::{self, Axis, Run, TICK_PT};
use super::bar;
use super::contour::contours;
use super::geometry::{Point, Rect};
use super::grid::Grid;
use super::hatch::hatch;
use super::isolines::{self, Level};
use super::look::Look;
use super::palette::{self, Rgb};
use super::pen::{Pen, Stroke};
use super::place::{self, Placer};
use super::problem::DrawProblem;
use super::ranges::usable;
use super::raster::Raster;
use super::ticks::sane_range;
use crate::report::model::{ColourScale, MapData};

/// Least side of a map's box, in points; a thinner map gets blank ground beside it.
pub const LEAST_SIDE_PT: f64 = 32.0;
/// Least side of a hatched point, in points; a smaller cell is hatched beyond its edge to be seen.
const LEAST_HATCH_PT: f64 = 4.0;
/// Cells of a resampled raster to the point.
const CELLS_PER_PT: f64 = 2.5;

/// A map with its grid and the ranges that its axes show.
pub struct Field<'a> {
    pub map: &'a MapData,
    pub grid: Grid,
    pub x_range: (f64, f64),
    pub y_range: (f64, f64),
    pub values: (f64, f64),
}

impl<'a> Field<'a> {
    /// Checks the data.
    pub fn new(map: &'a MapData) -> Result<Self, DrawProblem> {
        let grid = Grid::new(map)?;
        let (x, y) = grid.ends();
        let chosen = |limits, (low, high)| usable(limits).unwrap_or_else(|| sane_range(low, high));
        let (x_range, y_range) = (chosen(map.x.limits, x), chosen(map.y.limits, y));
        let values = bar::value_range(map, &grid);
        Ok(Self { map, grid, x_range, y_range, values })
    }

    /// Size of the box on paper within the given room, both axes on one scale; widens the ranges of
    /// a map that would be too thin to see.
    pub fn fit(&mut self, room: (f64, f64)) -> (f64, f64) {
        let (dx, dy) = (self.x_range.1 - self.x_range.0, self.y_range.1 - self.y_range.0);
        let scale = (room.0 / dx).min(room.1 / dy);
        let least = LEAST_SIDE_PT.min(room.0).min(room.1);
        let widen = |range: &mut (f64, f64), side: f64| {
            if side >= least {
                return side;
            }
            let middle = range.0 / 2.0 + range.1 / 2.0;
            let half = least / scale / 2.0;
            *range = sane_range(middle - half, middle + half);
            least
        };
        (widen(&mut self.x_range, dx * scale), widen(&mut self.y_range, dy * scale))
    }

    /// False when the map has neither a value nor limits, so that a scale bar would say nothing.
    pub fn has_scale(&self) -> bool {
        usable(self.map.value.limits).is_some() || self.grid.value_range().is_some()
    }

    fn colour(&self, value: f64) -> Rgb {
        bar::colour(self.map.scale, self.values, value)
    }

    /// The two axes for a box.
    pub fn axes(&self, area: &Rect, look: &Look) -> (Axis, Axis) {
        (
            Axis::new(self.x_range, (area.x0, area.x1), Run::Across, look),
            Axis::new(self.y_range, (area.y1, area.y0), Run::Up, look),
        )
    }

    /// Draws everything inside the box, with frame and ticks but without numbers.
    pub fn draw<DB: DrawingBackend>(
        &self,
        pen: &mut Pen<DB>,
        area: &Rect,
        (x, y): (&Axis, &Axis),
    ) -> Result<(), DrawProblem> {
        let paper = |(px, py): Point| (x.scale.at(px), y.scale.at(py));
        let cell = |(px, py): Point| self.grid.cell(x.scale.value(px), y.scale.value(py));
        let ground = |at: Point| cell(at).and_then(|i| self.grid.values[i]).map(|v| self.colour(v));
        self.picture(pen, area, x, y)?;
        let steps = (self.grid.x_edges.len() - 1, self.grid.y_edges.len() - 1);
        let ((x0, x1), (y0, y1)) = self.grid.ends();
        let shown = (paper((x0, y1)), paper((x1, y0)));
        let step = ((shown.1.0 - shown.0.0) / steps.0 as f64)
            .min((shown.1.1 - shown.0.1) / steps.1 as f64);
        if self.grid.values.iter().any(Option::is_none) {
            for [from, to] in hatch(area, step.clamp(1.5, 4.5), false, |p| {
                cell(p).is_some_and(|i| self.grid.values[i].is_none())
            }) {
                pen.line(from, to, Stroke::new(palette::FAINT, 0.4))?;
            }
        }
        if self.grid.replaced.contains(&true) {
            let grow = ((LEAST_HATCH_PT - step) / 2.0).max(0.0);
            let corners = [(-grow, -grow), (grow, -grow), (-grow, grow), (grow, grow)];
            let strokes = hatch(area, step.clamp(1.4, 3.0), true, |p| {
                let mut near = corners.iter().filter_map(|c| cell((p.0 + c.0, p.1 + c.1)));
                near.any(|i| self.grid.replaced[i])
            });
            for (colour, width) in [(palette::PAPER, 0.9), (palette::INK, 0.4)] {
                for [from, to] in &strokes {
                    pen.line(*from, *to, Stroke::new(colour, width))?;
                }
            }
        }
        let data = Rect {
            x0: shown.0.0.max(area.x0),
            y0: shown.0.1.max(area.y0),
            x1: shown.1.0.min(area.x1),
            y1: shown.1.1.min(area.y1),
        };
        let mut placer = Placer::new(data);
        let peak = self.map.peak.map(paper).filter(|p| area.has(*p));
        if let Some((px, py)) = peak {
            placer.take(Rect::new(px - 5.0, py - 5.0, 10.0, 10.0));
        }
        let levels = self.map.contours.iter().map(|(level, label)| Level {
            lines: contours(&self.grid.x, &self.grid.y, &self.grid.values, *level)
                .into_iter()
                .map(|line| line.into_iter().map(paper).collect())
                .collect(),
            label: place::fitted(label, isolines::LABEL_PT, area.width() / 2.0),
            dashed: self.map.scale == ColourScale::Diverging && *level < 0.0,
        });
        isolines::draw(pen, &data, levels.collect(), &mut placer, ground)?;
        if let Some(at) = peak {
            cross(pen, at)?;
        }
        axes::frame(pen, area)?;
        let ink = |at: Point| ground(at).map_or(palette::INK, palette::readable_on);
        axes::ticks_across(pen, x, area.y1, TICK_PT, ink)?;
        axes::ticks_across(pen, x, area.y0, -TICK_PT, ink)?;
        axes::ticks_up(pen, y, area.x0, TICK_PT, ink)?;
        axes::ticks_up(pen, y, area.x1, -TICK_PT, ink)
    }

    /// One pixel a point where the steps are even and the whole grid is shown, else resampled to
    /// true coordinates.
    fn picture<DB: DrawingBackend>(
        &self,
        pen: &mut Pen<DB>,
        area: &Rect,
        x: &Axis,
        y: &Axis,
    ) -> Result<(), DrawProblem> {
        let grid = &self.grid;
        let ((x0, x1), (y0, y1)) = grid.ends();
        let whole =
            Rect { x0: x.scale.at(x0), x1: x.scale.at(x1), y0: y.scale.at(y1), y1: y.scale.at(y0) };
        let (nx, ny) = (grid.x.len(), grid.y.len());
        if grid.is_regular() && area.grown(1e-6).holds(&whole) {
            let cell = |column: usize, row: usize| {
                grid.values[(ny - 1 - row) * nx + column].map(|v| self.colour(v))
            };
            return pen.picture(whole, Raster::from_cells(nx, ny, cell));
        }
        let shown = Rect {
            x0: whole.x0.max(area.x0),
            x1: whole.x1.min(area.x1),
            y0: whole.y0.max(area.y0),
            y1: whole.y1.min(area.y1),
        };
        if shown.width() <= 0.0 || shown.height() <= 0.0 {
            return Ok(());
        }
        let count = |side: f64| (side * CELLS_PER_PT).ceil().clamp(1.0, 800.0) as usize;
        let (columns, rows) = (count(shown.width()), count(shown.height()));
        let cell = |column: usize, row: usize| {
            let px = shown.x0 + shown.width() * (column as f64 + 0.5) / columns as f64;
            let py = shown.y0 + shown.height() * (row as f64 + 0.5) / rows as f64;
            let index = grid.cell(x.scale.value(px), y.scale.value(py))?;
            grid.values[index].map(|v| self.colour(v))
        };
        pen.picture(shown, Raster::from_cells(columns, rows, cell))
    }
}

/// A small open cross.
fn cross<DB: DrawingBackend>(pen: &mut Pen<DB>, (x, y): Point) -> Result<(), DrawProblem> {
    for (colour, width, over) in [(palette::INK, 1.7, 0.45), (palette::PAPER, 0.8, 0.0)] {
        for (dx, dy) in [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)] {
            let (near, far) = (1.4 - over, 4.2 + over);
            pen.line(
                (x + near * dx, y + near * dy),
                (x + far * dx, y + far * dy),
                Stroke::new(colour, width),
            )?;
        }
    }
    Ok(())
}
