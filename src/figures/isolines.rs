//! Contours on a map: double strokes that read on any ground, each level with its label on the
//! line, or beside it where the line is too short to carry one.

use plotters_backend::DrawingBackend;

use super::geometry::{Point, Rect, clip_line, cut_out};
use super::lettering::Anchor;
use super::palette::{self, Rgb};
use super::pen::{Label, Pen, Stroke};
use super::place::{self, Placer, baseline};
use super::problem::DrawProblem;

/// Size of labels on contours, in points.
pub const LABEL_PT: f64 = 6.3;
const UNDER: Stroke = Stroke::new(palette::INK, 1.25);
const OVER: Stroke = Stroke::new(palette::PAPER, 0.6);
const DASH: (f64, f64) = (3.2, 2.6);

/// The lines of one level, on paper.
pub struct Level {
    pub lines: Vec<Vec<Point>>,
    pub label: String,
    pub dashed: bool,
}

/// A label's place, and the line that leads to it when it stands beside its contour.
struct Placed {
    ground: Rect,
    leader: Option<(Point, Point)>,
}

/// Draws the levels inside `area`. `ground` tells the colour under a point.
pub fn draw<DB: DrawingBackend>(
    pen: &mut Pen<DB>,
    area: &Rect,
    levels: Vec<Level>,
    placer: &mut Placer,
    ground: impl Fn(Point) -> Option<Rgb>,
) -> Result<(), DrawProblem> {
    let levels: Vec<Level> = levels
        .into_iter()
        .map(|level| Level {
            lines: level.lines.iter().flat_map(|l| clip_line(area, l)).collect(),
            ..level
        })
        .collect();
    let mut others: Vec<Placer> = Vec::new();
    for at in 0..levels.len() {
        let mut lines = Placer::new(*area);
        for (_, level) in levels.iter().enumerate().filter(|(index, _)| *index != at) {
            level.lines.iter().for_each(|line| lines.avoid(line));
        }
        others.push(lines);
    }
    let mut labels = Vec::new();
    for (level, others) in levels.iter().zip(&others) {
        let placed = place_label(area, level, others, placer);
        for line in &level.lines {
            let pieces = match &placed {
                Some(Placed { ground, leader: None }) => cut_out(ground, line),
                _ => vec![line.clone()],
            };
            for piece in pieces {
                if level.dashed {
                    pen.dashed(&piece, UNDER, DASH)?;
                    pen.dashed(&piece, OVER, DASH)?;
                } else {
                    pen.path(&piece, UNDER)?;
                    pen.path(&piece, OVER)?;
                }
            }
        }
        labels.extend(placed.map(|placed| (placed, level.label.as_str())));
    }
    for (placed, words) in labels {
        if let Some((from, to)) = placed.leader {
            pen.line(from, to, Stroke::new(palette::INK, 0.9))?;
            pen.line(from, to, Stroke::new(palette::PAPER, 0.4))?;
        }
        let (colour, halo) = on_ground(&placed.ground, &ground);
        let middle = (
            placed.ground.x0 / 2.0 + placed.ground.x1 / 2.0,
            placed.ground.y0 / 2.0 + placed.ground.y1 / 2.0,
        );
        let at = (middle.0, baseline(middle.1, LABEL_PT));
        pen.text(&Label {
            text: words,
            at,
            anchor: Anchor::Middle,
            size: LABEL_PT,
            colour,
            halo: Some(halo),
        })?;
    }
    Ok(())
}

/// Ink on light ground, paper on dark, each with an edge of the other.
fn on_ground(area: &Rect, ground: &impl Fn(Point) -> Option<Rgb>) -> (Rgb, Rgb) {
    let mut light = 0.0;
    for n in 0..15 {
        let x = area.x0 + area.width() * (f64::from(n % 5) + 0.5) / 5.0;
        let y = area.y0 + area.height() * (f64::from(n / 5) + 0.5) / 3.0;
        light += ground((x, y)).map_or(1.0, palette::luminance) / 15.0;
    }
    if light > 0.3 { (palette::INK, palette::PAPER) } else { (palette::PAPER, palette::INK) }
}

fn place_label(area: &Rect, level: &Level, others: &Placer, placer: &mut Placer) -> Option<Placed> {
    if level.label.is_empty() {
        return None;
    }
    let wide = place::width(&level.label, LABEL_PT) + 1.0;
    let line = level.lines.iter().max_by(|a, b| length(a).total_cmp(&length(b)))?;
    let placed = if length(line) > 6.5 * wide { on_line(line, wide, others, placer) } else { None };
    let placed = placed.or_else(|| beside(area, line, wide, others, placer))?;
    placer.take(placed.ground);
    Some(placed)
}

fn length(line: &[Point]) -> f64 {
    line.windows(2).map(|w| (w[1].0 - w[0].0).hypot(w[1].1 - w[0].1)).sum()
}

/// The ground of a label centred on a point.
fn ground_at((x, y): Point, wide: f64) -> Rect {
    Rect::new(x - wide / 2.0, y - 0.5 * LABEL_PT, wide, LABEL_PT)
}

/// The flattest free stretch of the line.
fn on_line(line: &[Point], wide: f64, others: &Placer, placer: &Placer) -> Option<Placed> {
    let mut best: Option<(f64, Rect)> = None;
    let step = (line.len() / 120).max(1);
    let mut own = Placer::new(Rect::new(-1e6, -1e6, 2e6, 2e6));
    own.avoid(line);
    for point in line.iter().step_by(step) {
        let ground = ground_at(*point, wide);
        if !placer.is_free(&ground) || others.ink_in(&ground.grown(1.5)) > 0 {
            continue;
        }
        // A flat line runs through the whole width, a steep one only through the height.
        let through = own.ink_in(&ground) as f64 * 2.0;
        let score = (through - wide).abs() + 0.02 * point.1;
        if best.is_none_or(|(least, _)| score < least) {
            best = Some((score, ground));
        }
    }
    best.map(|(_, ground)| Placed { ground, leader: None })
}

/// A free place off the line, with a leader to it.
fn beside(
    area: &Rect,
    line: &[Point],
    wide: f64,
    others: &Placer,
    placer: &Placer,
) -> Option<Placed> {
    let count = line.len().max(1) as f64;
    let centre = line.iter().fold((0.0, 0.0), |sum, p| (sum.0 + p.0 / count, sum.1 + p.1 / count));
    let mut best: Option<(f64, Placed)> = None;
    for (preference, degrees) in
        [-40.0f64, 40.0, -140.0, 140.0, -15.0, 15.0, -75.0, 75.0].iter().enumerate()
    {
        let (sin, cos) = degrees.to_radians().sin_cos();
        let reach = |p: &Point| {
            let (dx, dy) = (p.0 - centre.0, p.1 - centre.1);
            (dx * cos + dy * sin) - 3.0 * (dx * sin - dy * cos).abs()
        };
        let Some(foot) = line.iter().max_by(|a, b| reach(a).total_cmp(&reach(b))) else { continue };
        for far in [7.0, 11.0, 16.0, 22.0, 30.0, 40.0, 52.0, 66.0] {
            let tip = (foot.0 + far * cos, foot.1 + far * sin);
            let middle = (tip.0 + cos.signum() * (wide / 2.0 + 1.0), tip.1);
            let ground = ground_at(middle, wide);
            if !area.grown(-1.5).holds(&ground) || !placer.is_free(&ground) {
                continue;
            }
            let crossed = others.ink_in(&ground.grown(1.0));
            let way = (1..8).map(|n| {
                let part = f64::from(n) / 8.0;
                let at = (foot.0 + part * (tip.0 - foot.0), foot.1 + part * (tip.1 - foot.1));
                usize::from(!placer.is_free(&Rect::new(at.0 - 0.3, at.1 - 0.3, 0.6, 0.6)))
            });
            let score = 4.0 * crossed as f64
                + 20.0 * way.sum::<usize>() as f64
                + 0.15 * far
                + 0.5 * preference as f64;
            if best.as_ref().is_none_or(|(least, _)| score < *least) {
                best = Some((score, Placed { ground, leader: Some((*foot, tip)) }));
            }
        }
    }
    best.map(|(_, placed)| placed)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(radius: f64) -> Level {
        let point = |n: usize| {
            let (sin, cos) = (n as f64 / 40.0 * std::f64::consts::TAU).sin_cos();
            (100.0 + radius * cos, 100.0 + radius * sin)
        };
        Level {
            lines: vec![(0..=40).map(point).collect()],
            label: "−6 dB".to_owned(),
            dashed: false,
        }
    }

    #[test]
    fn long_lines_carry_their_label_short_ones_lead_to_it() {
        let area = Rect::new(0.0, 0.0, 200.0, 200.0);
        let mut placer = Placer::new(area);
        let none = Placer::new(area);
        let wide = place_label(&area, &ring(60.0), &none, &mut placer).unwrap();
        assert!(wide.leader.is_none());
        let small = place_label(&area, &ring(4.0), &none, &mut placer).unwrap();
        assert!(small.leader.is_some());
        assert!(!small.ground.overlaps(&wide.ground));
        assert!(area.holds(&small.ground) && area.holds(&wide.ground));
    }
}
