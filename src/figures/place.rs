//! Where labels go: never over one another, never over the edge, off the curves where possible.

use super::geometry::{Point, Rect, clip_line, cross};
use super::lettering::Anchor;
use super::text;

/// Free room around a label, in points.
const AIR: f64 = 0.8;
/// Distance at which lines are sampled as obstacles, in points.
const SAMPLE_PT: f64 = 2.0;

/// Width that a marked-up text needs, in the unit of `size`.
pub fn width(words: &str, size: f64) -> f64 {
    text::runs_width(&text::runs(&text::clean(words)), size)
}

/// The ground that a text covers; `at` lies on its baseline.
pub fn text_box(words: &str, size: f64, at: Point, anchor: Anchor) -> Rect {
    let wide = width(words, size);
    let left = match anchor {
        Anchor::Start => at.0,
        Anchor::Middle => at.0 - wide / 2.0,
        Anchor::End => at.0 - wide,
    };
    Rect::new(left, at.1 - 0.78 * size, wide, 1.0 * size)
}

/// Baseline that centres a text on a height.
pub fn baseline(middle: f64, size: f64) -> f64 {
    middle + 0.36 * size
}

/// Text shortened to a width, with an ellipsis where something was cut.
pub fn fitted(words: &str, size: f64, room: f64) -> String {
    let words = text::clean(words);
    if width(&words, size) <= room {
        return words;
    }
    let mut kept: Vec<char> = words.chars().collect();
    while kept.pop().is_some() {
        let mut short: String = kept.iter().collect();
        if let Some(open) = short.rfind("_{").filter(|at| !short[*at..].contains('}')) {
            short.truncate(open);
        }
        let short = format!("{}…", short.trim_end());
        if width(&short, size) <= room {
            return short;
        }
    }
    String::new()
}

/// Room that is taken by words, and lines that words should avoid.
#[derive(Debug, Clone)]
pub struct Placer {
    bounds: Rect,
    taken: Vec<Rect>,
    ink: Vec<Point>,
    joined: Vec<(Point, Point)>,
}

impl Placer {
    /// An empty paper.
    pub fn new(bounds: Rect) -> Self {
        Self { bounds, taken: Vec::new(), ink: Vec::new(), joined: Vec::new() }
    }

    /// Marks ground as taken.
    pub fn take(&mut self, area: Rect) {
        self.taken.push(area.grown(AIR));
    }

    /// Marks a line as one that labels avoid.
    pub fn avoid(&mut self, line: &[Point]) {
        if let [only] = line {
            self.ink.push(*only);
        }
        for pair in line.windows(2) {
            let (from, to) = (pair[0], pair[1]);
            let steps =
                ((to.0 - from.0).hypot(to.1 - from.1) / SAMPLE_PT).ceil().clamp(1.0, 1000.0);
            for step in 0..=steps as usize {
                let part = step as f64 / steps;
                self.ink.push((from.0 + part * (to.0 - from.0), from.1 + part * (to.1 - from.1)));
            }
        }
    }

    /// True when a label there would stand free of other words and wholly on the paper.
    pub fn is_free(&self, area: &Rect) -> bool {
        self.bounds.holds(area) && !self.taken.iter().any(|t| t.overlaps(area))
    }

    /// Marks the line that joins a label to what it names.
    pub fn join(&mut self, from: Point, to: Point) {
        self.avoid(&[from, to]);
        self.joined.push((from, to));
    }

    /// True when a straight line would run through words or across a line that joins some.
    pub fn is_crossed(&self, from: Point, to: Point) -> bool {
        self.taken.iter().any(|t| !clip_line(&t.grown(-AIR), &[from, to]).is_empty())
            || self.joined.iter().any(|(a, b)| cross((from, to), (*a, *b)))
    }

    /// How much of the avoided lines runs through an area.
    pub fn ink_in(&self, area: &Rect) -> usize {
        let area = area.grown(0.5);
        self.ink.iter().filter(|p| area.has(**p)).count()
    }

    /// Index of the best of some places, in order of preference; takes it. None when all are taken
    /// or cross more than `most_ink` samples of lines.
    pub fn choose(&mut self, places: &[Rect], most_ink: usize) -> Option<usize> {
        let mut best: Option<(usize, usize)> = None;
        for (index, place) in places.iter().enumerate().filter(|(_, place)| self.is_free(place)) {
            let ink = self.ink_in(place);
            if ink <= most_ink && best.is_none_or(|(_, least)| ink < least) {
                best = Some((index, ink));
            }
            if ink == 0 {
                break;
            }
        }
        let (index, _) = best?;
        self.take(*places.get(index)?);
        Some(index)
    }
}

/// A label in a column: the height it belongs to and how much it matters.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wanted {
    pub height: f64,
    pub rank: u32,
    /// Dropped when it would stand further than this from its height.
    pub most_shift: f64,
}

/// Heights for labels in one column, `line` apart within `low..high`, as near as possible to where
/// they belong; what finds no room is dropped, the least rank first.
pub fn spread(wanted: &[Wanted], line: f64, low: f64, high: f64) -> Vec<Option<f64>> {
    let mut kept: Vec<usize> = (0..wanted.len()).collect();
    kept.sort_by(|a, b| wanted[*a].height.total_cmp(&wanted[*b].height));
    loop {
        let room = ((high - low) / line + 1e-9).floor() + 1.0;
        let heights =
            spaced(&kept.iter().map(|i| wanted[*i].height).collect::<Vec<_>>(), line, low, high);
        let misfit = |at: usize| {
            let w = &wanted[kept[at]];
            kept.len() as f64 > room || (heights[at] - w.height).abs() > w.most_shift
        };
        let worst =
            (0..kept.len()).filter(|at| misfit(*at)).min_by_key(|at| wanted[kept[*at]].rank);
        let Some(mut worst) = worst else {
            let mut out = vec![None; wanted.len()];
            for (index, height) in kept.iter().zip(heights) {
                out[*index] = Some(height);
            }
            return out;
        };
        // Of a crowd, the one that matters least goes, not the one that was pushed furthest.
        for at in worst.saturating_sub(1)..(worst + 2).min(kept.len()) {
            if wanted[kept[at]].rank < wanted[kept[worst]].rank {
                worst = at;
            }
        }
        kept.remove(worst);
    }
}

/// Least-squares heights with a least distance: pools of neighbours that push each other.
fn spaced(sorted: &[f64], line: f64, low: f64, high: f64) -> Vec<f64> {
    let mut pools: Vec<(f64, usize)> = Vec::new();
    for (index, height) in sorted.iter().enumerate() {
        let mut pool = (height - line * index as f64, 1usize);
        while let Some(last) = pools.last().copied().filter(|last| last.0 > pool.0) {
            pools.pop();
            let count = last.1 + pool.1;
            pool = ((last.0 * last.1 as f64 + pool.0 * pool.1 as f64) / count as f64, count);
        }
        pools.push(pool);
    }
    let top = (high - line * sorted.len().saturating_sub(1) as f64).max(low);
    let flat = pools.iter().flat_map(|(at, count)| std::iter::repeat_n(*at, *count));
    flat.enumerate().map(|(index, at)| at.clamp(low, top) + line * index as f64).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wanted(height: f64, rank: u32) -> Wanted {
        Wanted { height, rank, most_shift: 30.0 }
    }

    #[test]
    fn crowded_labels_are_pushed_apart_evenly() {
        let out = spread(&[wanted(50.0, 1), wanted(50.0, 1), wanted(10.0, 1)], 8.0, 0.0, 100.0);
        assert_eq!(out, vec![Some(46.0), Some(54.0), Some(10.0)]);
        let edge = spread(&[wanted(99.0, 1), wanted(100.0, 1)], 8.0, 0.0, 100.0);
        assert_eq!(edge, vec![Some(92.0), Some(100.0)]);
    }

    #[test]
    fn the_least_important_goes_first() {
        let out = spread(&[wanted(5.0, 1), wanted(5.0, 9), wanted(5.0, 9)], 8.0, 0.0, 10.0);
        assert_eq!(out[0], None);
        assert!(out[1].is_some() && out[2].is_some());
        let near = Wanted { height: 50.0, rank: 1, most_shift: 2.0 };
        let out = spread(&[near, wanted(51.0, 5)], 8.0, 0.0, 100.0);
        assert_eq!(out, vec![None, Some(51.0)]);
    }

    #[test]
    fn chosen_places_never_overlap_and_avoid_lines() {
        let paper = Rect::new(0.0, 0.0, 100.0, 20.0);
        let mut placer = Placer::new(paper);
        placer.avoid(&[(0.0, 5.0), (100.0, 5.0)]);
        let places = [Rect::new(10.0, 0.0, 20.0, 8.0), Rect::new(10.0, 10.0, 20.0, 8.0)];
        assert_eq!(placer.choose(&places, 100), Some(1));
        assert_eq!(placer.choose(&places, 100), Some(0));
        assert_eq!(placer.choose(&places, 100), None);
        assert_eq!(placer.choose(&[Rect::new(95.0, 0.0, 20.0, 8.0)], 100), None);
        assert_eq!(placer.choose(&[Rect::new(60.0, 0.0, 20.0, 8.0)], 2), None);
        assert!(placer.is_crossed((0.0, 4.0), (100.0, 4.0)));
        assert!(!placer.is_crossed((0.0, 9.0), (100.0, 9.0)));
        placer.join((60.0, 8.0), (60.0, 20.0));
        assert!(placer.is_crossed((0.0, 9.0), (100.0, 9.0)));
    }

    #[test]
    fn long_words_are_cut_to_their_room() {
        let short = fitted("acoustic pressure p_{compressional}", 7.0, 80.0);
        assert!(short.ends_with('…') && !short.contains("_{") && width(&short, 7.0) <= 80.0);
        assert_eq!(fitted("x", 7.0, 80.0), "x");
        assert_eq!(fitted("xyz", 7.0, 1.0), "");
    }
}
