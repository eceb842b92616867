//! Axes: ticks inside, numbers outside, a title at the end.

use plotters_backend::DrawingBackend;

use super::decades;
use super::geometry::{Point, Rect};
use super::lettering::Anchor;
use super::look::Look;
use super::palette::{self, Rgb};
use super::pen::{Label, Pen, Stroke};
use super::place::{self, baseline};
use super::problem::DrawProblem;
use super::scale::{Range, Scale};
use super::ticks::{Ticks, ticks};

/// Size of numbers and titles, in points.
pub const TEXT_PT: f64 = 7.5;
/// Height of a line of words, in points.
pub const LINE_PT: f64 = 10.0;
/// Length of a tick, in points.
pub const TICK_PT: f64 = 3.0;
/// Length of a tick without a number against one with.
const MINOR_TICK: f64 = 0.55;
/// Least air between two numbers of an axis that runs across, in points.
const APART_PT: f64 = 4.0;
/// Distance from an axis to its numbers, in points.
pub const GAP_PT: f64 = 3.0;
/// The stroke of axes.
pub const HAIRLINE: Stroke = Stroke::new(palette::INK, 0.4);

/// A scale with its ticks and their words.
#[derive(Debug, Clone)]
pub struct Axis {
    pub scale: Scale,
    pub ticks: Ticks,
    labels: Vec<String>,
    /// Ticks without a number.
    minor: Vec<f64>,
}

/// Which way an axis runs; decides how many numbers find room.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Run {
    Across,
    Up,
}

impl Axis {
    /// An axis over a range, from one coordinate on paper to another.
    pub fn new(range: impl Into<Range>, paper: (f64, f64), run: Run, look: &Look) -> Self {
        let scale = Scale { range: range.into(), from_pt: paper.0, to_pt: paper.1 };
        if scale.range.log { Self::log(scale, run, look) } else { Self::linear(scale, run, look) }
    }

    fn linear(scale: Scale, run: Run, look: &Look) -> Self {
        let Range { low, high, .. } = scale.range;
        let length = (scale.to_pt - scale.from_pt).abs();
        let most = match run {
            Run::Across => (length / 26.0).floor().clamp(1.0, 9.0),
            Run::Up => (length / 14.0).floor().clamp(1.0, 8.0),
        } as usize;
        let fits = |made: &Ticks| {
            let step = (scale.at(low + made.step) - scale.at(low)).abs();
            let need = match run {
                Run::Across => widest(&made.labels(look.decimal_mark)) + APART_PT,
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
        Self { scale, ticks: chosen, labels, minor: Vec::new() }
    }

    fn log(scale: Scale, run: Run, look: &Look) -> Self {
        let half = |words: &str| match run {
            Run::Across => place::width(words, TEXT_PT) / 2.0 + APART_PT / 2.0,
            Run::Up => LINE_PT / 2.0,
        };
        let fits = |made: &decades::Numbers| {
            let mut marks = made.values.iter().map(|v| scale.at(*v)).zip(&made.words);
            let mut before = marks.next();
            marks.all(|mark| {
                let apart = before
                    .is_none_or(|(at, words)| (mark.0 - at).abs() >= half(words) + half(mark.1));
                before = Some(mark);
                apart
            })
        };
        let mut all = decades::choices(scale.range, look.decimal_mark);
        let best = all
            .iter()
            .position(|made| made.values.len() >= 2 && fits(made))
            .or_else(|| all.iter().position(|made| made.values.len() == 1))
            .unwrap_or(0);
        let numbers = all.swap_remove(best);
        let minor = decades::minor(scale.range, &numbers, (scale.to_pt - scale.from_pt).abs());
        let ticks = Ticks::given(numbers.values, numbers.exponent);
        Self { scale, ticks, labels: numbers.words, minor }
    }

    /// Replaces the ticks by given positions with their words.
    pub fn with_ticks(mut self, named: Vec<(f64, String)>) -> Self {
        (self.ticks.values, self.labels) = named.into_iter().unzip();
        self.minor.clear();
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

    /// Coordinates and lengths of all ticks, those without a number shorter.
    fn strokes(&self, length: f64) -> impl Iterator<Item = (f64, f64)> {
        let named = self.ticks.values.iter().map(move |v| (*v, length));
        let minor = self.minor.iter().map(move |v| (*v, MINOR_TICK * length));
        named.chain(minor).map(|(v, length)| (self.scale.at(v), length))
    }
}

/// Width of the widest number that an axis over this range may carry, whatever its length.
pub fn widest_label(range: impl Into<Range>, look: &Look) -> f64 {
    let range = range.into();
    let mark = look.decimal_mark;
    let all: Vec<Vec<String>> = if range.log {
        decades::choices(range, mark).into_iter().map(|made| made.words).collect()
    } else {
        (1..=8).map(|n| ticks(range.low, range.high, n).labels(mark)).collect()
    };
    all.iter().map(|words| widest(words)).fold(0.0, f64::max)
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
    axis.strokes(length).try_for_each(|(x, length)| {
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
    axis.strokes(length).try_for_each(|(y, length)| {
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
    fn numbers_of_a_logarithmic_axis_never_touch() {
        let look = Look::default();
        let ends =
            [(1.0, 100.0), (0.7, 9.0), (1e-3, 1e5), (1e-300, 1e300), (3.1, 3.4), (2e-7, 0.4)];
        for (low, high) in ends {
            for length in [30.0, 70.0, 200.0, 460.0] {
                let made =
                    Axis::new(Range::log(low, high), (10.0, 10.0 + length), Run::Across, &look);
                let mut free_from = f64::NEG_INFINITY;
                for (x, words) in made.marks() {
                    let half = place::width(words, TEXT_PT) / 2.0;
                    assert!(x - half > free_from + 3.0, "{low} {high} {length} {words}");
                    free_from = x + half;
                }
                assert!(
                    made.marks().count() >= if length > 60.0 { 2 } else { 1 },
                    "{low} {length}"
                );
                let up = Axis::new(Range::log(low, high), (10.0 + length, 10.0), Run::Up, &look);
                let at: Vec<f64> = up.marks().map(|(y, _)| y).collect();
                assert!(at.windows(2).all(|w| w[0] - w[1] >= LINE_PT), "{low} {high} {length}");
            }
        }
    }
}
