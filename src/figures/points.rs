//! Points with a label beside them.

use plotters_backend::DrawingBackend;

use super::annotate::{Spot, put};
use super::axes::TEXT_PT;
use super::geometry::{Point, Rect};
use super::lettering::Anchor;
use super::palette;
use super::panel::DOT_PT;
use super::pen::{Pen, Stroke};
use super::place::{Placer, baseline, fitted, text_box};
use super::plot::Plot;
use super::problem::DrawProblem;

/// Spots around a point at growing distance, above first when `up`.
pub fn around((x, y): Point, up: bool) -> Vec<Spot> {
    let sign = if up { -1.0 } else { 1.0 };
    let mut out = Vec::new();
    for far in [3.6, 6.0, 9.0, 13.0, 19.0, 27.0] {
        let over = if up { y - far } else { y + far + 0.76 * TEXT_PT };
        let level = baseline(y + sign * 1.5, TEXT_PT);
        out.push(Spot { at: (x + far, level), anchor: Anchor::Start });
        out.push(Spot { at: (x, over), anchor: Anchor::Middle });
        out.push(Spot { at: (x - far, level), anchor: Anchor::End });
        out.push(Spot { at: (x + far * 0.6, over), anchor: Anchor::Start });
        out.push(Spot { at: (x - far * 0.6, over), anchor: Anchor::End });
    }
    out
}

fn is_on(plot: &Plot<'_>, x: f64, y: f64) -> bool {
    plot.shows_mark(x) && plot.shows_level(y)
}

/// Marks all labelled points as ground that labels avoid.
pub fn avoid(plot: &Plot<'_>, placer: &mut Placer) {
    for (x, y, _) in plot.data.points.iter().filter(|(x, y, _)| is_on(plot, *x, *y)) {
        avoid_dot(placer, plot.at(*x, *y));
    }
}

/// Marks a dot as one that labels avoid.
pub fn avoid_dot(placer: &mut Placer, (x, y): Point) {
    placer.avoid(&[(x - DOT_PT, y), (x + DOT_PT, y)]);
    placer.avoid(&[(x, y - DOT_PT), (x, y + DOT_PT)]);
}

/// Dots of the labelled points, each label joined to its dot.
pub fn label<DB: DrawingBackend>(
    pen: &mut Pen<DB>,
    plot: &Plot<'_>,
    placer: &mut Placer,
) -> Result<(), DrawProblem> {
    for (x, y, label) in &plot.data.points {
        if !is_on(plot, *x, *y) {
            continue;
        }
        let at = plot.at(*x, *y);
        let words = fitted(label, TEXT_PT, 0.6 * plot.area.width());
        let up = at.1 < plot.area.y0 / 2.0 + plot.area.y1 / 2.0;
        let mut spots = around(at, up);
        spots.extend(around(at, !up));
        // The line from a label to its dot must not run through another, nor its line.
        let edge = |ground: &Rect| {
            (at.0.clamp(ground.x0 - 1.0, ground.x1 + 1.0), at.1.clamp(ground.y0, ground.y1))
        };
        spots.retain(|s| {
            let ground = text_box(&words, TEXT_PT, s.at, s.anchor);
            !placer.is_crossed(at, edge(&ground))
        });
        let taken = put(pen, placer, &words, palette::INK, &spots, usize::MAX)?;
        pen.dot(at, 1.2, palette::INK)?;
        let Some(ground) = taken else { continue };
        pen.line(at, edge(&ground), Stroke::new(palette::INK, 0.4))?;
        placer.join(at, edge(&ground));
    }
    Ok(())
}
