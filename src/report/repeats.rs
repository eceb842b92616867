//! Repeats of a measurement as a short table.

use super::model::Block;
use super::rounding;
use super::verdicts::{join, print_unit};
use super::wording::Wording;
use crate::base::sheet::Sheet;
use crate::base::verdict::{Repeated, Repeats};

/// Quantities that the table shows.
const SHOWN: [&str; 8] = [
    "pc",
    "pr",
    "i_on",
    "isppa",
    "width_x_6",
    "width_y_6",
    "power_on_angular",
    "power_on_plane_wave",
];

/// A table for each group of two and more.
pub fn blocks(sheet: &Sheet, words: &dyn Wording) -> Vec<Block> {
    sheet.repeats.iter().filter(|group| group.scans.len() > 1).map(|g| table(g, words)).collect()
}

fn table(group: &Repeats, words: &dyn Wording) -> Block {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let marks = words.marks();
    let percent = |p: f64| rounding::shortest(p * 100.0, marks);
    let limits = if group.reason.is_none() {
        format!(
            "{} {}\u{a0}% / {}\u{a0}%",
            label("repeats-limits"),
            percent(group.proportion),
            percent(group.confidence)
        )
    } else {
        label("repeats-few")
    };
    let shown = group.quantities.iter().filter(|q| SHOWN.contains(&q.quantity.as_str()));
    Block::Table {
        caption: format!("{} {}. {limits}.", label("repeats-of"), group.scans.join(", ")),
        head: ["quantity", "repeats-n", "repeats-mean", "repeats-s", "repeats-low", "repeats-high"]
            .map(label)
            .to_vec(),
        rows: shown.map(|repeated| row(repeated, words)).collect(),
    }
}

/// The value of a pair with its power of ten.
fn pair_text(pair: rounding::Pair) -> String {
    format!("{}{}", pair.value, pair.power)
}

fn row(repeated: &Repeated, words: &dyn Wording) -> Vec<String> {
    let marks = words.marks();
    let (factor, unit) = print_unit(&repeated.quantity);
    let name = words.quantity(&repeated.quantity).map_or("", |q| q.name);
    let text = |digits: String| join(&digits, unit);
    // Mean and limits to the place of two digits of the scatter.
    let beside = |v: f64| rounding::with_uncertainty(v * factor, repeated.s * factor, marks);
    let limit = |v: Option<f64>| v.map_or_else(|| "–".to_owned(), |v| text(pair_text(beside(v))));
    vec![
        name.to_owned(),
        repeated.n.to_string(),
        text(pair_text(beside(repeated.mean))),
        text(rounding::digits(repeated.s * factor, 2, marks)),
        limit(repeated.low),
        limit(repeated.high),
    ]
}
