//! The field at a glance: the map, its two profiles on the same axes, the waveform beside them, or
//! below where the figure is narrow.

use plotters_backend::DrawingBackend;

use super::annotate::{Room, annotate};
use super::axes::{self, Axis, GAP_PT, LINE_PT, Run, TEXT_PT};
use super::bar::{self, BAR_PT};
use super::curves::{self, Place, numbers_width};
use super::field::Field;
use super::geometry::Rect;
use super::glance_layout::{ABOVE_PT, GUTTER_PT, Layout, Needs};
use super::ground::Ground;
use super::lettering::Anchor;
use super::look::Look;
use super::palette;
use super::pen::Pen;
use super::place;
use super::plot::Plot;
use super::problem::DrawProblem;
use super::ranges;
use super::title::title_within;
use crate::report::model::{CurvesData, MapData};

/// The parts with their places.
pub struct GlanceFigure<'a> {
    field: Field<'a>,
    x_profile: &'a CurvesData,
    y_profile: &'a CurvesData,
    waveform: Option<&'a CurvesData>,
    look: Look,
    layout: Layout,
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
        let profile = numbers_width(x_profile, look);
        let place = |numbers: f64| {
            let mut field = Field::new(map)?;
            let numbers = profile.max(numbers + GAP_PT + 1.0);
            let needs = Needs { numbers, waveform: waveform.map(curves::above) };
            let layout = Layout::new(&mut field, &needs, width, height)?;
            Ok((field, layout))
        };
        let (mut field, mut layout) = place(axes::widest_label(Field::new(map)?.y_range, look))?;
        // A map that was widened to be seen has other numbers than its data alone.
        let shown = axes::widest_label(field.y_range, look);
        if shown + GAP_PT + 1.0 > layout.map.x0 {
            (field, layout) = place(shown + 2.0)?;
        }
        Ok(Self { field, x_profile, y_profile, waveform, look: *look, layout })
    }

    /// Height that the figure takes, in points.
    pub fn height(&self) -> f64 {
        self.layout.height
    }

    /// Where the points of its panels lie: map, profile above, profile beside, waveform.
    ///
    /// # Errors
    /// When the waveform has no room.
    pub fn grounds(&self) -> Result<Vec<Ground<'a>>, DrawProblem> {
        let (area, look) = (self.layout.map, &self.look);
        let (x, y) = self.field.axes(&area, look);
        let mut out = vec![
            Ground::Map { map: self.field.map, area, x: x.scale, y: y.scale },
            Ground::Curves(self.top()),
            Ground::Curves(self.side()),
        ];
        if let Some((data, place)) = self.waveform.zip(self.waveform_place()) {
            out.push(Ground::Curves(curves::plot(data, &place, look)?));
        }
        Ok(out)
    }

    fn top(&self) -> Plot<'a> {
        Plot::new(self.x_profile, self.layout.top, self.field.x_range, false, &self.look)
    }

    fn side(&self) -> Plot<'a> {
        Plot::new(self.y_profile, self.layout.side, self.field.y_range, true, &self.look)
    }

    fn waveform_place(&self) -> Option<Place> {
        let left = if self.layout.stacked { self.layout.map.x0 } else { 0.0 };
        let (data, paper) = self.waveform.zip(self.layout.waveform)?;
        Some(Place { paper, left, above: curves::above(data) })
    }

    /// Draws the figure.
    pub fn draw<DB: DrawingBackend>(&self, pen: &mut Pen<DB>) -> Result<(), DrawProblem> {
        self.draw_map(pen)?;
        self.draw_top(pen)?;
        self.draw_side(pen)?;
        self.draw_bar(pen)?;
        let Some((data, place)) = self.waveform.zip(self.waveform_place()) else { return Ok(()) };
        curves::draw(pen, data, &place, &self.look)
    }

    fn draw_map<DB: DrawingBackend>(&self, pen: &mut Pen<DB>) -> Result<(), DrawProblem> {
        let (area, data) = (&self.layout.map, self.field.map);
        let (x, y) = self.field.axes(area, &self.look);
        self.field.draw(pen, area, (&x, &y))?;
        axes::numbers_up(pen, &y, area.x0)?;
        axes::numbers_across(pen, &x, area.y1, (0.0, area.x1 + 0.4 * GUTTER_PT))?;
        let title = title_within(&data.y, y.ticks.exponent, self.layout.side.x0);
        axes::words_at(pen, &title, (0.0, area.y0 - 4.0), Anchor::Start, palette::INK)?;
        let title = title_within(&data.x, x.ticks.exponent, area.width());
        axes::words_at(pen, &title, (area.x1, below(area)), Anchor::End, palette::INK)
    }

    fn draw_top<DB: DrawingBackend>(&self, pen: &mut Pen<DB>) -> Result<(), DrawProblem> {
        let area = self.layout.top;
        let plot = self.top();
        plot.draw(pen, false)?;
        axes::numbers_up(pen, &plot.y, area.x0)?;
        let title = title_within(&self.x_profile.y, plot.y.ticks.exponent, area.x1);
        axes::words_at(pen, &title, (0.0, area.y0 - 4.0), Anchor::Start, palette::INK)?;
        let bounds = Rect { x0: 0.0, y0: ABOVE_PT - 2.0, x1: area.x1 + GUTTER_PT - 3.0, ..area };
        annotate(pen, &plot, &Room { bounds, margin: false, mark_row: None })
    }

    fn draw_side<DB: DrawingBackend>(&self, pen: &mut Pen<DB>) -> Result<(), DrawProblem> {
        let (area, end) = (self.layout.side, self.layout.side_end);
        let plot = self.side();
        plot.draw(pen, false)?;
        axes::numbers_across(pen, &plot.y, area.y1, (area.x0 - 0.4 * GUTTER_PT, end))?;
        let title = title_within(&self.y_profile.y, plot.y.ticks.exponent, end - area.x0);
        let from = area.x0.max(area.x1 - place::width(&title, TEXT_PT));
        axes::words_at(pen, &title, (from, below(&area)), Anchor::Start, palette::INK)?;
        let bounds = Rect { x1: end, ..area };
        annotate(pen, &plot, &Room { bounds, margin: false, mark_row: None })
    }

    /// The scale bar lies in the corner that the profiles leave free.
    fn draw_bar<DB: DrawingBackend>(&self, pen: &mut Pen<DB>) -> Result<(), DrawProblem> {
        if !self.field.has_scale() {
            return Ok(());
        }
        let (side, top, end) = (self.layout.side, self.layout.top, self.layout.side_end);
        let middle = top.y0 / 2.0 + top.y1 / 2.0;
        let area = Rect::new(side.x0, middle - BAR_PT / 2.0, side.width().min(150.0), BAR_PT);
        let (map, values) = (self.field.map, self.field.values);
        let axis: Axis = bar::axis(map, values, (area.x0, area.x1), Run::Across, &self.look);
        bar::lying(pen, map, area, &axis, (side.x0 - 3.0, end))?;
        let title = title_within(&map.value, axis.ticks.exponent, end - area.x0);
        axes::words_at(pen, &title, (area.x0, area.y0 - 4.0), Anchor::Start, palette::INK)
    }
}

/// Baseline of the title of an axis that runs across, below its numbers.
fn below(area: &Rect) -> f64 {
    area.y1 + GAP_PT + LINE_PT + 0.76 * TEXT_PT
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
        assert_eq!(
            (figure.layout.top.x0, figure.layout.top.x1),
            (figure.layout.map.x0, figure.layout.map.x1)
        );
        assert_eq!(
            (figure.layout.side.y0, figure.layout.side.y1),
            (figure.layout.map.y0, figure.layout.map.y1)
        );
        let (x, y) = figure.field.axes(&figure.layout.map, &figure.look);
        let top = Plot::new(&profile, figure.layout.top, figure.field.x_range, false, &figure.look);
        let side =
            Plot::new(&profile, figure.layout.side, figure.field.y_range, true, &figure.look);
        assert_eq!((top.x.scale, side.x.scale), (x.scale, y.scale));
        assert_eq!((&top.x.ticks, &side.x.ticks), (&x.ticks, &y.ticks));
    }

    #[test]
    fn the_waveform_stands_beside_where_there_is_room() {
        let (map, profile, wave) =
            (gallery::focal_plane(41), gallery::profile(), gallery::burst(4000));
        let layout = |width| {
            let parts = (&profile, &profile, &wave);
            GlanceFigure::new(&map, parts, width, None, &Look::default()).unwrap().layout
        };
        let (wide, narrow) = (layout(493.0), layout(232.0));
        let beside = wide.waveform.unwrap();
        assert!(beside.x0 > wide.side.x1 && beside.x1 == 493.0 && wide.height < 0.5 * 493.0);
        assert!(wide.map.width() > 95.0);
        let below = narrow.waveform.unwrap();
        assert!(below.y0 > narrow.map.y1 && below.width() == 232.0);
    }
}
