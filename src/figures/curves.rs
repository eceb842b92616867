//! A figure of curves: one panel with its numbers, titles and margin.

use plotters_backend::DrawingBackend;

use super::annotate::{Room, annotate, margin_width};
use super::axes::{self, GAP_PT, LINE_PT, TEXT_PT, widest_label};
use super::geometry::Rect;
use super::lettering::Anchor;
use super::look::Look;
use super::palette;
use super::pen::Pen;
use super::plot::Plot;
use super::problem::DrawProblem;
use super::ranges;
use super::title::title_within;
use crate::report::model::CurvesData;

/// Height of a figure of curves against its width, at most and in points; one that fills the sheet
/// is lower, since it has the width.
const HEIGHT_SHARE: f64 = 0.62;
const MOST_HEIGHT_PT: f64 = 152.0;
const FULL_WIDTH_PT: f64 = 400.0;
const FULL_WIDTH_HEIGHT_PT: f64 = 132.0;
/// Above the panel: a line for the title of the ordinate and one for marks, kept in every figure
/// so that the panels of a row stand alike.
const ABOVE_PT: f64 = 2.0 * LINE_PT;

/// Height that such a figure takes when it may choose, in points.
pub fn natural_height(width: f64) -> f64 {
    let most = if width < FULL_WIDTH_PT { MOST_HEIGHT_PT } else { FULL_WIDTH_HEIGHT_PT };
    (HEIGHT_SHARE * width).min(most)
}

/// Room that the numbers of the ordinate need left of a panel.
pub fn numbers_width(data: &CurvesData, look: &Look) -> f64 {
    widest_label(ranges::ordinate_range(data), look) + GAP_PT + 1.0
}

/// Where a panel stands on its paper.
pub struct Place {
    pub paper: Rect,
    /// Least room left of the panel.
    pub left: f64,
    /// Room above the panel.
    pub above: f64,
}

impl Place {
    /// A figure of its own.
    pub fn alone(paper: Rect) -> Self {
        Self { paper, left: 0.0, above: ABOVE_PT }
    }
}

/// Room that the words above a panel need.
pub fn above(data: &CurvesData) -> f64 {
    if is_marked(data) { ABOVE_PT } else { LINE_PT + 2.0 }
}

fn is_marked(data: &CurvesData) -> bool {
    data.marks.iter().any(|(_, label)| !label.is_empty())
}

/// The panel of some curves on its part of the paper.
///
/// # Errors
/// When the data contradict themselves, or there is no room.
pub fn plot<'a>(data: &'a CurvesData, place: &Place, look: &Look) -> Result<Plot<'a>, DrawProblem> {
    ranges::check(data)?;
    let paper = place.paper;
    let left = numbers_width(data, look).max(place.left);
    let x_range = ranges::abscissa_range(data);
    // Half of the last number may hang over the end of the axis.
    let right =
        margin_width(data, 0.3 * paper.width()).max(widest_label(x_range, look) / 2.0 + 1.0);
    let area = Rect {
        x0: paper.x0 + left,
        y0: paper.y0 + place.above,
        x1: paper.x1 - right,
        y1: paper.y1 - GAP_PT - 2.0 * LINE_PT,
    };
    if area.width() < 20.0 || area.height() < 15.0 {
        return Err(DrawProblem::TooSmall { width_pt: paper.width(), height_pt: paper.height() });
    }
    Ok(Plot::new(data, area, x_range, false, look))
}

/// Draws curves into a part of the paper.
pub fn draw<DB: DrawingBackend>(
    pen: &mut Pen<DB>,
    data: &CurvesData,
    place: &Place,
    look: &Look,
) -> Result<(), DrawProblem> {
    let plot = plot(data, place, look)?;
    let (paper, area) = (place.paper, plot.area);
    plot.draw(pen, true)?;
    axes::numbers_up(pen, &plot.y, area.x0)?;
    axes::numbers_across(pen, &plot.x, area.y1, (paper.x0, paper.x1))?;
    let marked = is_marked(data);
    let top = if marked { area.y0 - LINE_PT - 4.0 } else { area.y0 - 4.0 };
    let foot = area.y1 + GAP_PT + LINE_PT + 0.76 * TEXT_PT;
    let y_title = title_within(&data.y, plot.y.ticks.exponent, paper.width());
    axes::words_at(pen, &y_title, (paper.x0, top), Anchor::Start, palette::INK)?;
    let x_title = title_within(&data.x, plot.x.ticks.exponent, area.x1 - paper.x0);
    axes::words_at(pen, &x_title, (area.x1, foot), Anchor::End, palette::INK)?;
    let bounds = Rect { y0: top + 0.3 * TEXT_PT, ..paper };
    let mark_row = marked.then_some(area.y0 - 2.5);
    annotate(pen, &plot, &Room { bounds, margin: true, mark_row })
}
