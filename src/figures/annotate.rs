//! The words of a panel: labelled points, widths, ends of curves, levels, the window, marks.
//!
//! Placed in order of importance; what finds no free place is left out, never drawn over another.

use plotters_backend::DrawingBackend;

use super::arrow;
use super::axes::{LINE_PT, TEXT_PT, TICK_PT, words_at};
use super::geometry::{Point, Rect};
use super::lettering::Anchor;
use super::palette::{self, Rgb};
use super::panel::stroke;
use super::pen::{Pen, Stroke};
use super::place::{self, Placer, Wanted, baseline, fitted, spread, text_box};
use super::plot::Plot;
use super::points::{self, around};
use super::problem::DrawProblem;
use crate::report::model::{Curve, CurveStyle, CurvesData};

/// Where the words of a panel may go.
pub struct Room {
    /// Ground that the panel may use.
    pub bounds: Rect,
    /// True when a margin is kept right of the panel for labels of curves and levels.
    pub margin: bool,
    /// Baseline of a row above the panel for marks.
    pub mark_row: Option<f64>,
}

/// Samples of lines that a less important label may cross.
const SOME_INK: usize = 2;
/// Distance from the panel to the labels in its margin, in points.
const MARGIN_GAP_PT: f64 = 5.0;

/// Places and draws all words of a panel.
pub fn annotate<DB: DrawingBackend>(
    pen: &mut Pen<DB>,
    plot: &Plot<'_>,
    room: &Room,
) -> Result<(), DrawProblem> {
    let (area, bounds) = (&plot.area, &room.bounds);
    let mut placer = Placer::new(*bounds);
    // Numbers and titles stand left and below.
    placer.take(Rect { x0: bounds.x0, y0: bounds.y0, x1: area.x0 - 0.5, y1: bounds.y1 });
    placer.take(Rect { x0: bounds.x0, y0: area.y1 - 0.5, x1: bounds.x1, y1: bounds.y1 });
    for curve in &plot.data.curves {
        if curve.style == CurveStyle::Dots {
            plot.dots(curve).into_iter().for_each(|at| points::avoid_dot(&mut placer, at));
        } else {
            plot.lines(curve).iter().for_each(|line| placer.avoid(line));
        }
    }
    points::avoid(plot, &mut placer);
    for (level, _) in plot.data.levels.iter().filter(|(level, _)| plot.shows_level(*level)) {
        placer.avoid(&plot.level_line(*level));
    }
    for edge in plot.data.span.iter().flat_map(|s| [s.0, s.1]).filter(|edge| plot.shows_mark(*edge))
    {
        placer.avoid(&plot.mark_line(edge));
    }
    let across = if plot.turned { &plot.y } else { &plot.x };
    for (x, _) in across.marks() {
        placer.avoid(&[(x, area.y1), (x, area.y1 - TICK_PT - 2.0)]);
    }
    points::label(pen, plot, &mut placer)?;
    arrow::width(pen, plot, &mut placer)?;
    if room.margin {
        margin(pen, plot, room, &mut placer)?;
    } else {
        inside(pen, plot, &mut placer)?;
    }
    span(pen, plot, &mut placer)?;
    marks(pen, plot, room, &mut placer)
}

/// Width that labels of curves and levels need in the margin.
pub fn margin_width(plot: &CurvesData, most: f64) -> f64 {
    let labels = plot.curves.iter().map(|c| &c.label).chain(plot.levels.iter().map(|l| &l.1));
    let widest = labels.map(|words| place::width(words, TEXT_PT)).fold(0.0, f64::max);
    if widest == 0.0 { 0.0 } else { widest.min(most) + MARGIN_GAP_PT + 1.0 }
}

/// A text and the anchor by which it is drawn, at a place.
pub struct Spot {
    pub at: Point,
    pub anchor: Anchor,
}

/// Draws words at the best of some spots; gives back the ground taken.
pub fn put<DB: DrawingBackend>(
    pen: &mut Pen<DB>,
    placer: &mut Placer,
    words: &str,
    colour: Rgb,
    spots: &[Spot],
    most_ink: usize,
) -> Result<Option<Rect>, DrawProblem> {
    let boxes: Vec<Rect> = spots.iter().map(|s| text_box(words, TEXT_PT, s.at, s.anchor)).collect();
    let Some(index) = placer.choose(&boxes, most_ink).filter(|_| !words.is_empty()) else {
        return Ok(None);
    };
    words_at(pen, words, spots[index].at, spots[index].anchor, colour)?;
    Ok(Some(boxes[index]))
}

/// The last point of a curve inside the panel.
fn end_of(plot: &Plot<'_>, curve: &Curve) -> Option<Point> {
    let spots = curve.x.iter().zip(&curve.y).rev().filter_map(|(x, y)| plot.spot(*x, *y));
    spots
        .clone()
        .find(|at| plot.area.has(*at))
        .or_else(|| plot.lines(curve).last().and_then(|line| line.last().copied()))
}

/// Labels of curves and levels in a column right of the panel.
fn margin<DB: DrawingBackend>(
    pen: &mut Pen<DB>,
    plot: &Plot<'_>,
    room: &Room,
    placer: &mut Placer,
) -> Result<(), DrawProblem> {
    let area = &plot.area;
    let x = area.x1 + MARGIN_GAP_PT;
    let mut column: Vec<(Wanted, &str, Rgb)> = Vec::new();
    let mut short = Vec::new();
    for curve in plot.data.curves.iter().filter(|c| !c.label.is_empty()) {
        let Some(end) = end_of(plot, curve) else { continue };
        let colour = stroke(curve.style).colour;
        if end.0 > area.x1 - 0.1 * area.width() {
            column.push((
                Wanted { height: end.1, rank: 10, most_shift: 60.0 },
                &curve.label,
                colour,
            ));
        } else {
            short.push((end, &curve.label, colour));
        }
    }
    for (level, label) in
        plot.data.levels.iter().filter(|(v, l)| plot.shows_level(*v) && !l.is_empty())
    {
        let height = plot.y.scale.at(*level);
        column.push((Wanted { height, rank: 5, most_shift: 6.0 }, label, palette::GREY));
    }
    let wanted: Vec<Wanted> = column.iter().map(|(w, ..)| *w).collect();
    let heights = spread(&wanted, TEXT_PT + 1.2, area.y0 + 1.0, area.y1 - 0.85 * TEXT_PT);
    for ((wanted, label, colour), height) in column.into_iter().zip(heights) {
        let Some(height) = height else { continue };
        let words = fitted(label, TEXT_PT, room.bounds.x1 - x);
        let at = (x, baseline(height, TEXT_PT));
        let ground = text_box(&words, TEXT_PT, at, Anchor::Start);
        if words.is_empty() || !placer.is_free(&ground) {
            continue;
        }
        placer.take(ground);
        words_at(pen, &words, at, Anchor::Start, colour)?;
        if (height - wanted.height).abs() > 2.0 {
            pen.line(
                (area.x1 + 0.5, wanted.height),
                (x - 1.0, height),
                Stroke::new(palette::SOFT, 0.3),
            )?;
        }
    }
    for (end, label, colour) in short {
        let words = fitted(label, TEXT_PT, 0.5 * area.width());
        put(pen, placer, &words, colour, &around(end, true), 8)?;
    }
    Ok(())
}

/// Labels of curves and levels within a panel that has no margin.
fn inside<DB: DrawingBackend>(
    pen: &mut Pen<DB>,
    plot: &Plot<'_>,
    placer: &mut Placer,
) -> Result<(), DrawProblem> {
    let area = &plot.area;
    for curve in plot.data.curves.iter().filter(|c| !c.label.is_empty()) {
        let Some(end) = end_of(plot, curve) else { continue };
        let words = fitted(&curve.label, TEXT_PT, 0.6 * area.width());
        let mut spots = Vec::new();
        for far in [3.0, 7.0, 12.0, 18.0] {
            spots.push(Spot { at: (end.0, end.1 - far), anchor: Anchor::End });
            spots.push(Spot { at: (end.0 + far, baseline(end.1, TEXT_PT)), anchor: Anchor::Start });
            spots.push(Spot { at: (end.0 + far, end.1 + far + TEXT_PT), anchor: Anchor::Start });
        }
        put(pen, placer, &words, stroke(curve.style).colour, &spots, SOME_INK)?;
    }
    for (level, label) in plot.data.levels.iter().filter(|(v, _)| plot.shows_level(*v)) {
        let words = fitted(label, TEXT_PT, 0.5 * area.width());
        let [from, to] = plot.level_line(*level);
        let (above, below) = (-2.2, 2.0 + 0.76 * TEXT_PT);
        let spots = if plot.turned {
            vec![
                Spot { at: (to.0 + 2.5, to.1 + TEXT_PT), anchor: Anchor::Start },
                Spot { at: (from.0 + 2.5, from.1 - 4.0), anchor: Anchor::Start },
                Spot { at: (to.0 - 2.5, to.1 + TEXT_PT), anchor: Anchor::End },
                Spot { at: (from.0 - 2.5, from.1 - 4.0), anchor: Anchor::End },
            ]
        } else {
            vec![
                Spot { at: (to.0 - 1.0, to.1 + above), anchor: Anchor::End },
                Spot { at: (from.0 + 5.0, from.1 + above), anchor: Anchor::Start },
                Spot { at: (to.0 - 1.0, to.1 + below), anchor: Anchor::End },
                Spot { at: (from.0 + 5.0, from.1 + below), anchor: Anchor::Start },
            ]
        };
        put(pen, placer, &words, palette::GREY, &spots, SOME_INK)?;
    }
    Ok(())
}

fn span<DB: DrawingBackend>(
    pen: &mut Pen<DB>,
    plot: &Plot<'_>,
    placer: &mut Placer,
) -> Result<(), DrawProblem> {
    let Some((from, to, label)) =
        plot.data.span.as_ref().filter(|s| s.0.is_finite() && s.1.is_finite())
    else {
        return Ok(());
    };
    let area = &plot.area;
    let words = fitted(label, TEXT_PT, area.width() - 8.0);
    let (top, foot) = (area.y0 + TEXT_PT + 0.5, area.y1 - 4.0);
    let across =
        |v: f64| if plot.turned { area.x0 } else { plot.x.scale.at(v).clamp(area.x0, area.x1) };
    let (mut a, mut b) = (across(*from), across(*to));
    if plot.turned || a > b {
        (a, b) = (a.min(b), if plot.turned { area.x1 } else { a.max(b) });
    }
    let spots: Vec<Spot> = [top, foot, top + LINE_PT, foot - LINE_PT]
        .into_iter()
        .flat_map(|y| {
            [
                Spot { at: (a + 3.0, y), anchor: Anchor::Start },
                Spot { at: (b - 3.0, y), anchor: Anchor::End },
                Spot { at: (a / 2.0 + b / 2.0, y), anchor: Anchor::Middle },
                Spot { at: (b + 3.0, y), anchor: Anchor::Start },
            ]
        })
        .collect();
    put(pen, placer, &words, palette::GREY, &spots, 6)?;
    Ok(())
}

fn marks<DB: DrawingBackend>(
    pen: &mut Pen<DB>,
    plot: &Plot<'_>,
    room: &Room,
    placer: &mut Placer,
) -> Result<(), DrawProblem> {
    let area = &plot.area;
    for (at, label) in plot.data.marks.iter().filter(|(at, _)| plot.shows_mark(*at)) {
        let words = fitted(label, TEXT_PT, 0.4 * area.width());
        let [_, end] = plot.mark_line(*at);
        let spots = match room.mark_row {
            Some(row) => vec![
                Spot { at: (end.0, row), anchor: Anchor::Middle },
                Spot { at: (end.0 - 1.0, row), anchor: Anchor::Start },
                Spot { at: (end.0 + 1.0, row), anchor: Anchor::End },
            ],
            None if plot.turned => {
                vec![Spot { at: (end.0 - 2.0, end.1 - 2.0), anchor: Anchor::End }]
            }
            None => vec![
                Spot { at: (end.0 + 2.0, end.1 + TEXT_PT), anchor: Anchor::Start },
                Spot { at: (end.0 - 2.0, end.1 + TEXT_PT), anchor: Anchor::End },
            ],
        };
        if let Some(ground) = put(pen, placer, &words, palette::INK, &spots, SOME_INK)? {
            // Numbers in a row need more than air between them to be read apart.
            placer.take(Rect { x0: ground.x0 - 3.0, x1: ground.x1 + 3.0, ..ground });
        }
    }
    Ok(())
}
