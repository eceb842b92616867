//! A figure of one map: its field under vector axes, titles, scale bar beside.

use plotters_backend::DrawingBackend;

use super::axes::{self, GAP_PT, LINE_PT, Run, TEXT_PT};
use super::bar::{self, BAR_PT};
use super::field::Field;
use super::geometry::Rect;
use super::ground::Ground;
use super::lettering::Anchor;
use super::look::Look;
use super::palette;
use super::pen::Pen;
use super::place;
use super::problem::DrawProblem;
use super::title::title_within;
use crate::report::model::MapData;

/// Between the map and its scale bar, in points.
const BAR_GAP_PT: f64 = 8.0;
/// Room that is always kept for the numbers of the bar, so that maps in a row are equally large.
const BAR_NUMBERS_PT: f64 = 18.0;
/// Greatest height that a map takes when it may choose, in points.
const MOST_HEIGHT_PT: f64 = 280.0;
/// Share of the line above that the title of the y axis may take.
const TITLE_SHARE: f64 = 0.45;

/// Where the parts of a map figure stand.
pub struct MapFigure<'a> {
    field: Field<'a>,
    look: Look,
    area: Rect,
    bar: Rect,
    left: f64,
    height: f64,
}

impl<'a> MapFigure<'a> {
    /// Lays a map out in a width, and in a height when it is given.
    pub fn new(
        map: &'a MapData,
        width: f64,
        height: Option<f64>,
        look: &Look,
    ) -> Result<Self, DrawProblem> {
        let field = Field::new(map)?;
        let numbers = axes::widest_label(field.y_range, look);
        let out = Self::with_numbers(field, numbers, width, height, look)?;
        // A map that was widened to be seen has other numbers than its data alone.
        let shown = axes::widest_label(out.field.y_range, look);
        if shown <= numbers {
            Ok(out)
        } else {
            Self::with_numbers(Field::new(map)?, shown + 2.0, width, height, look)
        }
    }

    fn with_numbers(
        mut field: Field<'a>,
        numbers: f64,
        width: f64,
        height: Option<f64>,
        look: &Look,
    ) -> Result<Self, DrawProblem> {
        let map = field.map;
        let below = GAP_PT + 2.0 * LINE_PT;
        let numbers = numbers.max(8.0) + GAP_PT;
        let bar_numbers = bar::axis(map, field.values, (80.0, 0.0), Run::Up, look)
            .widest()
            .max(axes::widest_label(field.values, look))
            .max(BAR_NUMBERS_PT);
        let beside = BAR_GAP_PT + BAR_PT + GAP_PT + bar_numbers;
        let room = width - numbers - beside - 2.0;
        let above = LINE_PT + 2.0;
        let high = height.map_or((1.2 * width).min(MOST_HEIGHT_PT), |h| h - above - below);
        if room < 20.0 || high < 20.0 {
            return Err(DrawProblem::TooSmall {
                width_pt: width,
                height_pt: height.unwrap_or(high),
            });
        }
        let (wide, tall) = field.fit((room, high));
        let left = ((room - wide) / 2.0).max(0.0);
        let area = Rect::new(left + numbers + 1.0, above, wide, tall);
        let bar = Rect::new(area.x1 + BAR_GAP_PT, area.y0, BAR_PT, tall);
        Ok(Self { field, look: *look, area, bar, left, height: above + tall + below })
    }

    /// Height that the figure takes, in points.
    pub fn height(&self) -> f64 {
        self.height
    }

    /// Where its points lie.
    pub fn ground(&self) -> Ground<'a> {
        let (x, y) = self.field.axes(&self.area, &self.look);
        Ground::Map { map: self.field.map, area: self.area, x: x.scale, y: y.scale }
    }

    /// Draws the figure.
    pub fn draw<DB: DrawingBackend>(&self, pen: &mut Pen<DB>) -> Result<(), DrawProblem> {
        let (area, paper, map) = (&self.area, pen.paper(), self.field.map);
        let (x, y) = self.field.axes(area, &self.look);
        let bar_axis =
            bar::axis(map, self.field.values, (self.bar.y1, self.bar.y0), Run::Up, &self.look);
        self.field.draw(pen, area, (&x, &y))?;
        axes::numbers_up(pen, &y, area.x0)?;
        axes::numbers_across(pen, &x, area.y1, (paper.x0, paper.x1))?;
        let (above, below) = (area.y0 - 4.0, area.y1 + GAP_PT + LINE_PT + 0.76 * TEXT_PT);
        let y_title = title_within(&map.y, y.ticks.exponent, TITLE_SHARE * paper.width());
        axes::words_at(pen, &y_title, (self.left, above), Anchor::Start, palette::INK)?;
        let x_title = title_within(&map.x, x.ticks.exponent, area.x1);
        axes::words_at(pen, &x_title, (area.x1, below), Anchor::End, palette::INK)?;
        if !self.field.has_scale() {
            return Ok(());
        }
        bar::upright(pen, map, self.bar, &bar_axis)?;
        let room = paper.x1 - self.left - place::width(&y_title, TEXT_PT) - 8.0;
        let words = title_within(&map.value, bar_axis.ticks.exponent, room);
        let from = self.bar.x0.min(paper.x1 - place::width(&words, TEXT_PT));
        axes::words_at(pen, &words, (from, above), Anchor::Start, palette::INK)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::field::LEAST_SIDE_PT;
    use crate::figures::grid::tests::map;

    #[test]
    fn both_axes_have_one_scale() {
        let values = vec![Some(1.0); 12];
        let data = map(vec![0.0, 1.0, 2.0, 3.0], vec![0.0, 2.0, 4.0], values);
        let figure = MapFigure::new(&data, 230.0, None, &Look::default()).unwrap();
        let (x, y) = figure.field.axes(&figure.area, &figure.look);
        let across = (x.scale.at(1.0) - x.scale.at(0.0)).abs();
        let up = (y.scale.at(1.0) - y.scale.at(0.0)).abs();
        assert!((across - up).abs() < 1e-9, "{across} {up}");
        assert!(y.scale.at(4.0) < y.scale.at(0.0) && x.scale.at(3.0) > x.scale.at(0.0));
    }

    #[test]
    fn a_line_of_points_keeps_one_scale_too() {
        let data = map((0..200).map(f64::from).collect(), vec![0.0, 1.0], vec![Some(1.0); 400]);
        let figure = MapFigure::new(&data, 230.0, None, &Look::default()).unwrap();
        let (x, y) = figure.field.axes(&figure.area, &figure.look);
        assert!(figure.area.height() >= LEAST_SIDE_PT);
        let across = x.scale.at(1.0) - x.scale.at(0.0);
        let up = y.scale.at(0.0) - y.scale.at(1.0);
        assert!((across / up - 1.0).abs() < 1e-9);
    }

    #[test]
    fn maps_of_a_row_stand_alike_whatever_their_words() {
        let values = |most: f64| (0..12).map(|n| Some(most * f64::from(n) / 11.0)).collect();
        let placed = |label: &str, most: f64| {
            let mut data = map(vec![0.0, 1.0, 2.0, 3.0], vec![0.0, 2.0, 4.0], values(most));
            data.value.label = label.to_owned();
            let figure = MapFigure::new(&data, 154.0, None, &Look::default()).unwrap();
            (figure.area, figure.bar, figure.height)
        };
        let short = placed("p_{c}", 7.9);
        assert_eq!(placed("a quantity with a long name", 15.8), short);
        assert_eq!(placed("p_{r}", 0.49), short);
    }

    #[test]
    fn no_room_is_said() {
        let data = map(vec![0.0], vec![0.0], vec![None]);
        assert!(matches!(
            MapFigure::new(&data, 20.0, None, &Look::default()),
            Err(DrawProblem::TooSmall { .. })
        ));
    }
}
