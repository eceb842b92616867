//! The double arrow that shows a width.

use plotters_backend::DrawingBackend;

use super::annotate::{Spot, put};
use super::axes::TEXT_PT;
use super::geometry::Point;
use super::lettering::Anchor;
use super::palette;
use super::pen::{Pen, Stroke};
use super::place::{Placer, baseline, fitted};
use super::plot::Plot;
use super::problem::DrawProblem;

/// Length of an arrow's head, in points.
const HEAD_PT: f64 = 4.0;

/// A double arrow as on a drawing: heads outward, or inward from outside where it is short.
pub fn width<DB: DrawingBackend>(
    pen: &mut Pen<DB>,
    plot: &Plot<'_>,
    placer: &mut Placer,
) -> Result<(), DrawProblem> {
    let Some((from, to, height, label)) = &plot.data.width else { return Ok(()) };
    if ![*from, *to].iter().all(|v| plot.shows_mark(*v)) || !plot.shows_level(*height) {
        return Ok(());
    }
    let (a, b) = (plot.at(from.min(*to), *height), plot.at(from.max(*to), *height));
    let length = (b.0 - a.0).hypot(b.1 - a.1);
    let along = if plot.turned { (0.0, -1.0) } else { (1.0, 0.0) };
    let stroke = Stroke::new(palette::INK, 0.5);
    let shift = |p: Point, by: f64| (p.0 + by * along.0, p.1 + by * along.1);
    let outside = length < 3.0 * HEAD_PT;
    let side = if outside { -1.0 } else { 1.0 };
    for (tip, inward) in [(a, 1.0), (b, -1.0)] {
        let back = shift(tip, HEAD_PT * inward * side);
        let (nx, ny) = (along.1 * 1.2, along.0 * 1.2);
        pen.area(&[tip, (back.0 + nx, back.1 + ny), (back.0 - nx, back.1 - ny)], palette::INK)?;
        if outside {
            pen.line(back, shift(back, -5.0 * inward), stroke)?;
        }
    }
    if !outside {
        pen.line(shift(a, HEAD_PT), shift(b, -HEAD_PT), stroke)?;
    }
    let reach = if outside { HEAD_PT + 5.0 } else { 0.0 };
    let (a, b) = (shift(a, -reach), shift(b, reach));
    placer.avoid(&[a, b]);
    let middle = (a.0 / 2.0 + b.0 / 2.0, a.1 / 2.0 + b.1 / 2.0);
    let cap = 0.76 * TEXT_PT;
    let mut spots = vec![
        Spot { at: (middle.0, middle.1 - 3.0), anchor: Anchor::Middle },
        Spot { at: (middle.0, middle.1 + 3.0 + cap), anchor: Anchor::Middle },
    ];
    if plot.turned {
        spots = vec![
            Spot { at: (middle.0 + 4.0, baseline(middle.1, TEXT_PT)), anchor: Anchor::Start },
            Spot { at: (middle.0 - 4.0, baseline(middle.1, TEXT_PT)), anchor: Anchor::End },
        ];
    }
    if !plot.turned {
        // Beside the curve, just below the arrow's level.
        for far in [5.0, 9.0, 14.0, 20.0] {
            spots.push(Spot { at: (b.0 + far, b.1 + 3.0 + cap), anchor: Anchor::Start });
            spots.push(Spot { at: (a.0 - far, a.1 + 3.0 + cap), anchor: Anchor::End });
        }
    }
    spots.push(Spot { at: (b.0 + 5.0, b.1 - 2.6), anchor: Anchor::Start });
    spots.push(Spot { at: (a.0 - 5.0, a.1 - 2.6), anchor: Anchor::End });
    for far in [6.0, 10.0, 16.0, 24.0] {
        spots.push(Spot { at: (b.0 + far, baseline(b.1, TEXT_PT)), anchor: Anchor::Start });
        spots.push(Spot { at: (a.0 - far, baseline(a.1, TEXT_PT)), anchor: Anchor::End });
        spots.push(Spot { at: (b.0 + far, b.1 - far), anchor: Anchor::Start });
        spots.push(Spot { at: (b.0 + far, b.1 + far), anchor: Anchor::Start });
    }
    let words = fitted(label, TEXT_PT, 0.6 * plot.area.width());
    put(pen, placer, &words, palette::INK, &spots, usize::MAX)?;
    Ok(())
}
