//! A figure of curves: one panel with its numbers, titles and margin.

use plotters_backend::DrawingBackend;

use super::annotate::{Room, annotate, margin_width};
use super::axes::{self, GAP_PT, LINE_PT, TEXT_PT, widest_label};
use super::geometry::Rect;
use super::lettering::Anchor;
use super::look::Look;
use super::palette;
use super::pen::Pen;
use super::place;
use super::plot::Plot;
use super::problem::DrawProblem;
use super::ranges;
use crate::report::model::CurvesData;

/// Height of a figure of curves against its width, at most and in points.
const HEIGHT_SHARE: f64 = 0.62;
const MOST_HEIGHT_PT: f64 = 152.0;

/// Height that such a figure takes when it may choose, in points.
pub fn natural_height(width: f64) -> f64 {
    (HEIGHT_SHARE * width).min(MOST_HEIGHT_PT)
}

/// Room that the numbers of the ordinate need left of a panel.
pub fn numbers_width(data: &CurvesData, look: &Look) -> f64 {
    widest_label(ranges::ordinate_range(data), look) + GAP_PT + 1.0
}

/// Draws curves into a part of the paper, with at least so much room left of the panel.
pub fn draw<DB: DrawingBackend>(
    pen: &mut Pen<DB>,
    data: &CurvesData,
    paper: Rect,
    least_left: f64,
    look: &Look,
) -> Result<(), DrawProblem> {
    ranges::check(data)?;
    let left = numbers_width(data, look).max(least_left);
    let x_range = ranges::abscissa_range(data);
    // Half of the last number may hang over the end of the axis.
    let right =
        margin_width(data, 0.3 * paper.width()).max(widest_label(x_range, look) / 2.0 + 1.0);
    let marked = data.marks.iter().any(|(_, label)| !label.is_empty());
    let above = LINE_PT + 1.0 + if marked { LINE_PT - 1.0 } else { 0.0 };
    let area = Rect {
        x0: paper.x0 + left,
        y0: paper.y0 + above,
        x1: paper.x1 - right,
        y1: paper.y1 - GAP_PT - 2.0 * LINE_PT,
    };
    if area.width() < 20.0 || area.height() < 15.0 {
        return Err(DrawProblem::TooSmall { width_pt: paper.width(), height_pt: paper.height() });
    }
    let plot = Plot::new(data, area, x_range, false, look);
    plot.draw(pen, true)?;
    axes::numbers_up(pen, &plot.y, area.x0)?;
    axes::numbers_across(pen, &plot.x, area.y1, (paper.x0, paper.x1))?;
    let title = |words: &str| place::fitted(words, TEXT_PT, paper.width());
    let top = paper.y0 + 0.8 * TEXT_PT;
    let foot = area.y1 + GAP_PT + LINE_PT + 0.76 * TEXT_PT;
    axes::words_at(pen, &title(&plot.y.title), (paper.x0, top), Anchor::Start, palette::INK)?;
    let x_title = place::fitted(&plot.x.title, TEXT_PT, area.x1 - paper.x0);
    axes::words_at(pen, &x_title, (area.x1, foot), Anchor::End, palette::INK)?;
    let bounds = Rect { y0: top + 0.3 * TEXT_PT, ..paper };
    let mark_row = marked.then_some(area.y0 - 2.5);
    annotate(pen, &plot, &Room { bounds, margin: true, mark_row })
}
