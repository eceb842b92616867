//! Limits and conditions of the stated values.

use super::model::Block;
use super::rounding;
use super::verdicts::{join, measured, name, outcome_key, print_unit, probability};
use super::wording::Wording;
use crate::base::sheet::Sheet;
use crate::base::verdict::VerdictEntry;

/// Limits and conditions of the stated values, and the repeats.
pub fn blocks(sheet: &Sheet, words: &dyn Wording) -> Vec<Block> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let mut blocks = Vec::new();
    if !sheet.verdicts.is_empty() {
        blocks.push(Block::Table {
            caption: label("verdicts-table"),
            head: [
                "quantity",
                "scan",
                "verdict-limits",
                "verdict-conditions",
                "measured",
                "probability",
                "verdict",
            ]
            .map(label)
            .to_vec(),
            rows: sheet.verdicts.iter().map(|entry| limits_row(entry, words)).collect(),
        });
    }
    blocks.extend(super::repeats::blocks(sheet, words));
    blocks
}

fn limits_row(entry: &VerdictEntry, words: &dyn Wording) -> Vec<String> {
    let label = |key: &str| words.label(key).unwrap_or_default();
    let (factor, unit) = print_unit(&entry.quantity);
    let limit = |side: Option<f64>| side.map(|v| rounding::shortest(v * factor, words.marks()));
    let within = match (limit(entry.low), limit(entry.high)) {
        (Some(low), Some(high)) => join(&format!("{low} … {high}"), unit),
        (None, Some(high)) => format!("≤ {}", join(&high, unit)),
        (Some(low), None) => format!("≥ {}", join(&low, unit)),
        (None, None) => "–".to_owned(),
    };
    let conditions: Vec<String> = entry
        .conditions
        .iter()
        .map(|condition| words.condition(&condition.condition, &condition.stated))
        .collect();
    vec![
        name(entry, words),
        entry.scan.clone().unwrap_or_default(),
        within,
        conditions.join(", "),
        measured(entry, words).unwrap_or_else(|| label("not-measured").to_owned()),
        probability(entry, words),
        label(outcome_key(entry.outcome)).to_owned(),
    ]
}
