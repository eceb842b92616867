//! The plain sentence about a stated value, for readers who read one sentence.

use super::rounding;
use super::verdicts::{measured, name, outcome_key, stated};
use super::wording::Wording;
use crate::analysis::Results;
use crate::base::sheet::Sheet;
use crate::base::verdict::{Outcome, VerdictEntry};

/// How many of several stated values conform, the gravest first; empty for one or none.
pub fn counted(sheet: &Sheet, words: &dyn Wording) -> String {
    let of = |outcome: Outcome| sheet.verdicts.iter().filter(|e| e.outcome == outcome).count();
    if sheet.verdicts.len() < 2 {
        return String::new();
    }
    words.counted(of(Outcome::DoesNotConform), of(Outcome::Undecided), of(Outcome::Conforms))
}

/// The measured one of the stated values that the sentence tells: the gravest, of equals the least
/// probable; the first where all conform.
pub fn told_of(sheet: &Sheet) -> Option<(usize, &VerdictEntry)> {
    let measured = || sheet.verdicts.iter().enumerate().filter(|(_, e)| e.measured.is_some());
    let graver = |a: &VerdictEntry, b: &VerdictEntry| {
        a.outcome > b.outcome
            || a.outcome == b.outcome
                && a.outcome != Outcome::Conforms
                && a.probability.unwrap_or(1.0) < b.probability.unwrap_or(1.0)
    };
    measured().reduce(|worst, entry| if graver(entry.1, worst.1) { entry } else { worst })
}

/// After the opening: measured and stated, and the verdict. Nothing where no stated value was
/// measured.
pub fn says(results: &Results, sheet: &Sheet, words: &dyn Wording) -> Option<String> {
    let (index, entry) = told_of(sheet)?;
    Some(words.judged(&told(results, index, entry, words)))
}

/// What a sentence about a stated value tells.
fn told(
    results: &Results,
    index: usize,
    entry: &VerdictEntry,
    words: &dyn Wording,
) -> Vec<(&'static str, String)> {
    let outcome = words.label(outcome_key(entry.outcome)).unwrap_or_default();
    let mut out = vec![
        ("name", name(entry, words)),
        ("stated", stated(results, index, entry, words)),
        ("outcome", outcome.to_owned()),
    ];
    if let Some(value) = measured(entry, words) {
        out.push(("measured", with_coverage(results, entry, value, words)));
    }
    out
}

/// `8.30 ± 0.72 MPa (95 %)`; without an uncertainty it says so.
fn with_coverage(
    results: &Results,
    entry: &VerdictEntry,
    value: String,
    words: &dyn Wording,
) -> String {
    let label = |key: &str| words.label(key).unwrap_or_default();
    if entry.u_expanded.is_some() {
        let coverage = rounding::shortest(results.record.decision.coverage * 100.0, words.marks());
        format!("{value} ({coverage}\u{a0}%)")
    } else {
        format!("{value} ({})", label("without-uncertainty"))
    }
}
