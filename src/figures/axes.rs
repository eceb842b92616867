//! Axes: a scale from values to paper, ticks inside, numbers outside, a title at the end.

use plotters_backend::DrawingBackend;

use super::geometry::{Point, Rect};
use super::lettering::Anchor;
use super::look::Look;
use super::palette::{self, Rgb};
use super::pen::{Label, Pen, Stroke};
use super::place::{self, baseline};
use super::problem::DrawProblem;
use super::ticks::{self, Ticks, ticks};

/// Size of numbers and titles, in points.
pub const TEXT_PT: f64 = 7.5;
/// Height of a line of words, in points.
pub const LINE_PT: f64 = 10.0;
/// Length of a tick, in points.
pub const TICK_PT: f64 = 3.0;
/// Distance from an axis to its numbers, in points.
pub const GAP_PT: f64 = 3.0;
/// The stroke of axes.
pub const HAIRLINE: Stroke = Stroke::new(palette::INK, 0.4);

/// A linear scale from values to a coordinate on paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    pub low: f64,
    pub high: f64,
    pub from_pt: f64,
    pub to_pt: f64,
}

impl Scale {
    /// Coordinate of a value; far outside the axis it is held at a finite distance.
    pub fn at(&self, value: f64) -> f64 {
        let part = (value / 2.0 - self.low / 2.0) / (self.high / 2.0 - self.low / 2.0);
        let part = if part.is_nan() { 0.0 } else { part.clamp(-1e4, 1e4) };
        self.from_pt + part * (self.to_pt - self.from_pt)
    }

    /// Value at a coordinate.
    pub fn value(&self, at: f64) -> f64 {
        let part = (at - self.from_pt) / (self.to_pt - self.from_pt);
        self.low * (1.0 - part) + self.high * part
    }
}

/// A scale with its ticks and their words.
#[derive(Debug, Clone)]
pub struct Axis {
    pub scale: Scale,
    pub ticks: Ticks,
    labels: Vec<String>,
}

/// Which way an axis runs; decides how many numbers find room.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Run {
    Across,
    Up,
}

impl Axis {
    /// An axis over a range, from one coordinate on paper to another.
    pub fn new(range: (f64, f64), paper: (f64, f64), run: Run, look: &Look) -> Self {
        let (low, high) = ticks::sane_range(range.0, range.1);
        let scale = Scale { low, high, from_pt: paper.0, to_pt: paper.1 };
        let length = (paper.1 - paper.0).abs();
        let most = match run {
            Run::Across => (length / 26.0).floor().clamp(1.0, 9.0),
            Run::Up => (length / 14.0).floor().clamp(1.0, 8.0),
        } as usize;
        let fits = |made: &Ticks| {
            let step = (scale.at(low + made.step) - scale.at(low)).abs();
            let need = match run {
                Run::Across => widest(&made.labels(look.decimal_mark)) + 4.0,
                Run::Up => LINE_PT,
            };
            made.values.len() >= 2 && step >= need
        };
        // More than `most` only where a coarser step would leave a single number.
        let chosen = (1..=most)
            .rev()
            .chain(most + 1..=most + 6)
            .map(|wanted| ticks(low, high, wanted))
            .find(fits)
            .unwrap_or_else(|| ticks(low, high, 1));
        let labels = chosen.labels(look.decimal_mark);
        Self { scale, ticks: chosen, labels }
    }

    /// Replaces the ticks by given positions with their words.
    pub fn with_ticks(mut self, named: Vec<(f64, String)>) -> Self {
        (self.ticks.values, self.labels) = named.into_iter().unzip();
        self
    }

    /// Width of the widest number.
    pub fn widest(&self) -> f64 {
        widest(&self.labels)
    }

    /// Coordinates on paper and words of the ticks.
    pub fn marks(&self) -> impl Iterator<Item = (f64, &str)> {
        self.ticks
            .values
            .iter()
            .zip(&self.labels)
            .map(|(v, words)| (self.scale.at(*v), words.as_str()))
    }
}

/// Width of the widest number that an axis over this range may carry, whatever its length.
pub fn widest_label(range: (f64, f64), look: &Look) -> f64 {
    let (low, high) = ticks::sane_range(range.0, range.1);
    (1..=8).map(|n| widest(&ticks(low, high, n).labels(look.decimal_mark))).fold(0.0, f64::max)
}

fn widest(labels: &[String]) -> f64 {
    labels.iter().map(|words| place::width(words, TEXT_PT)).fold(0.0, f64::max)
}

/// Ink on paper, for ticks that stand on no coloured ground.
pub fn on_paper(_: Point) -> Rgb {
    palette::INK
}

/// Numbers of an axis that runs across, below `y`, held within `left..right`.
pub fn numbers_across<DB: DrawingBackend>(
    pen: &mut Pen<DB>,
    axis: &Axis,
    y: f64,
    (left, right): (f64, f64),
) -> Result<(), DrawProblem> {
    let mut free_from = left;
    for (x, words) in axis.marks() {
        let half = place::width(words, TEXT_PT) / 2.0;
        let middle = x.min(right - half).max(left + half);
        if middle - half < free_from {
            continue;
        }
        free_from = middle + half + 2.0;
        let at = (middle, y + GAP_PT + 0.76 * TEXT_PT);
        words_at(pen, words, at, Anchor::Middle, palette::INK)?;
    }
    Ok(())
}

/// Numbers of an axis that runs up, left of `x`.
pub fn numbers_up<DB: DrawingBackend>(
    pen: &mut Pen<DB>,
    axis: &Axis,
    x: f64,
) -> Result<(), DrawProblem> {
    for (y, words) in axis.marks() {
        words_at(pen, words, (x - GAP_PT, baseline(y, TEXT_PT)), Anchor::End, palette::INK)?;
    }
    Ok(())
}

/// Ticks of an axis that runs across, upward from `y` by `length` (downward when negative), each
/// in the colour that suits the ground at its end.
pub fn ticks_across<DB: DrawingBackend>(
    pen: &mut Pen<DB>,
    axis: &Axis,
    y: f64,
    length: f64,
    colour: impl Fn(Point) -> Rgb,
) -> Result<(), DrawProblem> {
    axis.marks().try_for_each(|(x, _)| {
        let end = (x, y - length);
        pen.line((x, y), end, Stroke::new(colour(end), 0.5))
    })
}

/// Ticks of an axis that runs up, to the right from `x` by `length`, each in the colour that suits
/// the ground at its end.
pub fn ticks_up<DB: DrawingBackend>(
    pen: &mut Pen<DB>,
    axis: &Axis,
    x: f64,
    length: f64,
    colour: impl Fn(Point) -> Rgb,
) -> Result<(), DrawProblem> {
    axis.marks().try_for_each(|(y, _)| {
        let end = (x + length, y);
        pen.line((x, y), end, Stroke::new(colour(end), 0.5))
    })
}

/// A closed hairline around a box.
pub fn frame<DB: DrawingBackend>(pen: &mut Pen<DB>, area: &Rect) -> Result<(), DrawProblem> {
    let [a, b, c, d] = area.corners();
    pen.path(&[a, b, c, d, a], HAIRLINE)
}

/// Words in the size of figures.
pub fn words_at<DB: DrawingBackend>(
    pen: &mut Pen<DB>,
    words: &str,
    at: Point,
    anchor: Anchor,
    colour: Rgb,
) -> Result<(), DrawProblem> {
    pen.text(&Label { text: words, at, anchor, size: TEXT_PT, colour, halo: None })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_of_an_axis_never_touch() {
        let look = Look::default();
        for range in [(0.0, 1.0), (-1e-9, 3e-9), (0.0, 123_456.0), (1e4, 1.0001e4), (-0.3, 0.29)] {
            for length in [12.0, 30.0, 70.0, 200.0, 460.0] {
                let made = Axis::new(range, (10.0, 10.0 + length), Run::Across, &look);
                let boxes: Vec<(f64, f64)> = made
                    .marks()
                    .map(|(x, w)| {
                        (x - place::width(w, TEXT_PT) / 2.0, x + place::width(w, TEXT_PT) / 2.0)
                    })
                    .collect();
                if length > 60.0 {
                    assert!(
                        boxes.windows(2).all(|b| b[0].1 + 3.0 < b[1].0),
                        "{range:?} {length} {boxes:?}"
                    );
                    assert!(boxes.len() >= 2, "{range:?} {length}");
                }
            }
        }
    }

    #[test]
    fn a_scale_is_exact_and_finite() {
        let scale = Scale { low: -2.0, high: 6.0, from_pt: 100.0, to_pt: 20.0 };
        assert_eq!((scale.at(-2.0), scale.at(2.0), scale.at(6.0)), (100.0, 60.0, 20.0));
        assert!((scale.value(scale.at(1.3)) - 1.3).abs() < 1e-12);
        let huge = Scale { low: -1e300, high: 1e300, from_pt: 0.0, to_pt: 1.0 };
        assert!(
            [f64::MAX, f64::MIN, f64::NAN, f64::INFINITY].iter().all(|v| huge.at(*v).is_finite())
        );
    }
}
