//! The field at a glance: the map, its two profiles on the same axes, the waveform below.

use plotters_backend::DrawingBackend;

use super::annotate::{Room, annotate};
use super::axes::{self, Axis, GAP_PT, LINE_PT, Run, TEXT_PT};
use super::bar::{self, BAR_PT};
use super::curves::{self, numbers_width};
use super::field::Field;
use super::geometry::Rect;
use super::lettering::Anchor;
use super::look::Look;
use super::palette;
use super::pen::Pen;
use super::place;
use super::plot::Plot;
use super::problem::DrawProblem;
use super::ranges;
use crate::report::model::{CurvesData, MapData};

const PROFILE_PT: f64 = 50.0;
const WAVEFORM_PT: f64 = 112.0;
/// Between the map and the profile beside it, and above it, where the title of y stands.
const GUTTER_PT: f64 = 8.0;
const TITLE_GUTTER_PT: f64 = 13.0;
/// Share of the width that a map may take, and its greatest height.
const MAP_SHARE: f64 = 0.44;
const MAP_PT: f64 = 184.0;

/// Where the parts stand.
pub struct GlanceFigure<'a> {
    field: Field<'a>,
    x_profile: &'a CurvesData,
    y_profile: &'a CurvesData,
    waveform: Option<&'a CurvesData>,
    look: Look,
    left: f64,
    map: Rect,
    top: Rect,
    side: Rect,
    below: Rect,
    height: f64,
}

impl<'a> GlanceFigure<'a> {
    /// Lays the parts out in a width, and in a height when it is given.
    pub fn new(
        map: &'a MapData,
        (x_profile, y_profile, waveform): (&'a CurvesData, &'a CurvesData, &'a CurvesData),
        width: f64,
        height: Option<f64>,
        look: &Look,
    ) -> Result<Self, DrawProblem> {
        for data in [x_profile, y_profile, waveform] {
            ranges::check(data)?;
        }
        let waveform = Some(waveform).filter(|data| !data.curves.is_empty());
        let mut field = Field::new(map)?;
        let below_map = GAP_PT + 2.0 * LINE_PT;
        let above = LINE_PT + 2.0 + PROFILE_PT + TITLE_GUTTER_PT;
        let lower = if waveform.is_some() { 6.0 + WAVEFORM_PT } else { 0.0 };
        let tall = height.map_or(MAP_PT, |h| (h - above - below_map - lower).min(MAP_PT));
        let wide = MAP_SHARE * width;
        if width < 220.0 || tall < 20.0 {
            return Err(DrawProblem::TooSmall {
                width_pt: width,
                height_pt: height.unwrap_or(tall),
            });
        }
        let (wide, tall) = field.fit((wide, tall));
        let left = [Some(x_profile), waveform]
            .into_iter()
            .flatten()
            .map(|data| numbers_width(data, look))
            .fold(axes::widest_label(field.y_range, look) + GAP_PT + 1.0, f64::max);
        let map = Rect::new(left, above, wide, tall);
        let top = Rect::new(left, LINE_PT + 2.0, wide, PROFILE_PT);
        let side = Rect { x0: map.x1 + GUTTER_PT, x1: width - 10.0, y0: map.y0, y1: map.y1 };
        let end = map.y1 + below_map;
        let below =
            Rect::new(0.0, end + 6.0, width, if waveform.is_some() { WAVEFORM_PT } else { 0.0 });
        Ok(Self {
            field,
            x_profile,
            y_profile,
            waveform,
            look: *look,
            left,
            map,
            top,
            side,
            below,
            height: end + lower,
        })
    }

    /// Height that the figure takes, in points.
    pub fn height(&self) -> f64 {
        self.height
    }

    /// Draws the figure.
    pub fn draw<DB: DrawingBackend>(&self, pen: &mut Pen<DB>) -> Result<(), DrawProblem> {
        let paper = pen.paper();
        self.draw_map(pen)?;
        self.draw_top(pen)?;
        self.draw_side(pen, paper.x1)?;
        self.draw_bar(pen, paper.x1)?;
        match self.waveform {
            Some(data) => curves::draw(pen, data, self.below, self.left, &self.look),
            None => Ok(()),
        }
    }

    fn draw_map<DB: DrawingBackend>(&self, pen: &mut Pen<DB>) -> Result<(), DrawProblem> {
        let area = &self.map;
        let (x, y) = self.field.axes(area, &self.look);
        self.field.draw(pen, area, (&x, &y))?;
        axes::numbers_up(pen, &y, area.x0)?;
        axes::numbers_across(pen, &x, area.y1, (0.0, area.x1 + 0.5 * GUTTER_PT - 0.5))?;
        let title = place::fitted(&y.title, TEXT_PT, self.side.x0);
        axes::words_at(pen, &title, (0.0, area.y0 - 4.0), Anchor::Start, palette::INK)?;
        title_below(pen, &x.title, area)
    }

    fn draw_top<DB: DrawingBackend>(&self, pen: &mut Pen<DB>) -> Result<(), DrawProblem> {
        let plot = Plot::new(self.x_profile, self.top, self.field.x_range, false, &self.look);
        plot.draw(pen, false)?;
        axes::numbers_up(pen, &plot.y, self.top.x0)?;
        let title = place::fitted(&plot.y.title, TEXT_PT, self.top.x1);
        axes::words_at(pen, &title, (0.0, 0.8 * TEXT_PT), Anchor::Start, palette::INK)?;
        let bounds =
            Rect { x0: 0.0, y0: LINE_PT, x1: self.top.x1 + GUTTER_PT - 2.0, y1: self.top.y1 };
        annotate(pen, &plot, &Room { bounds, margin: false, mark_row: None })
    }

    fn draw_side<DB: DrawingBackend>(
        &self,
        pen: &mut Pen<DB>,
        right: f64,
    ) -> Result<(), DrawProblem> {
        let plot = Plot::new(self.y_profile, self.side, self.field.y_range, true, &self.look);
        plot.draw(pen, false)?;
        axes::numbers_across(
            pen,
            &plot.y,
            self.side.y1,
            (self.side.x0 - 0.5 * GUTTER_PT + 0.5, right),
        )?;
        title_below(pen, &plot.y.title, &self.side)?;
        let bounds = Rect { x1: right, ..self.side };
        annotate(pen, &plot, &Room { bounds, margin: false, mark_row: None })
    }

    /// The scale bar lies in the corner that the profiles leave free.
    fn draw_bar<DB: DrawingBackend>(
        &self,
        pen: &mut Pen<DB>,
        right: f64,
    ) -> Result<(), DrawProblem> {
        if !self.field.has_scale() {
            return Ok(());
        }
        let wide = self.side.width().min(150.0);
        let middle = self.top.y0 / 2.0 + self.top.y1 / 2.0;
        let area = Rect::new(self.side.x0, middle - BAR_PT / 2.0, wide, BAR_PT);
        let (map, values) = (self.field.map, self.field.values);
        let axis: Axis = bar::axis(map, values, (area.x0, area.x1), Run::Across, &self.look);
        bar::lying(pen, map, area, &axis, (self.side.x0 - 3.0, right))?;
        let title = place::fitted(&axis.title, TEXT_PT, right - area.x0);
        axes::words_at(pen, &title, (area.x0, area.y0 - 4.0), Anchor::Start, palette::INK)
    }
}

/// The title of an axis that runs across, at its end below the numbers.
fn title_below<DB: DrawingBackend>(
    pen: &mut Pen<DB>,
    title: &str,
    area: &Rect,
) -> Result<(), DrawProblem> {
    let words = place::fitted(title, TEXT_PT, area.width());
    let at = (area.x1, area.y1 + GAP_PT + LINE_PT + 0.76 * TEXT_PT);
    axes::words_at(pen, &words, at, Anchor::End, palette::INK)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::gallery;

    #[test]
    fn profiles_share_the_axes_of_the_map() {
        let (map, profile, wave) =
            (gallery::focal_plane(41), gallery::profile(), gallery::burst(4000));
        let figure =
            GlanceFigure::new(&map, (&profile, &profile, &wave), 482.0, None, &Look::default())
                .unwrap();
        assert_eq!((figure.top.x0, figure.top.x1), (figure.map.x0, figure.map.x1));
        assert_eq!((figure.side.y0, figure.side.y1), (figure.map.y0, figure.map.y1));
        let (x, y) = figure.field.axes(&figure.map, &figure.look);
        let top = Plot::new(&profile, figure.top, figure.field.x_range, false, &figure.look);
        let side = Plot::new(&profile, figure.side, figure.field.y_range, true, &figure.look);
        assert_eq!((top.x.scale, side.x.scale), (x.scale, y.scale));
        assert_eq!((&top.x.ticks, &side.x.ticks), (&x.ticks, &y.ticks));
    }
}
