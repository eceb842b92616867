//! The plain sentence about a stated value, for readers who read one sentence.

use super::rounding;
use super::verdicts::{measured, name, outcome_key, stated};
use super::wording::Wording;
use crate::analysis::Results;
use crate::base::sheet::Sheet;
use crate::base::verdict::{Outcome, VerdictEntry};

/// After "the head delivered": measured and stated, and the verdict; then the worst of the others.
/// Nothing where nothing is stated or the first value was not measured.
pub fn says(results: &Results, sheet: &Sheet, words: &dyn Wording) -> Option<String> {
    let first = sheet.verdicts.first()?;
    measured(first, words)?;
    let mut out = words.judged(&told(results, 0, first, words));
    let worst = sheet
        .verdicts
        .iter()
        .enumerate()
        .skip(1)
        .reduce(|worst, entry| if entry.1.outcome > worst.1.outcome { entry } else { worst });
    if let Some((index, worst)) = worst
        && worst.outcome > first.outcome
    {
        out.push_str(&words.worst(&told(results, index, worst, words)));
    }
    if sheet.verdicts.len() > 1 {
        out.push(' ');
        out.push_str(&count(&sheet.verdicts, words));
    }
    Some(out)
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

/// How many conform, how many do not, how many are undecided.
fn count(entries: &[VerdictEntry], words: &dyn Wording) -> String {
    let label = |key: &str| words.label(key).unwrap_or_default();
    let of = |outcome: Outcome| entries.iter().filter(|e| e.outcome == outcome).count();
    let parts: Vec<String> = [
        (Outcome::Conforms, "count-conform"),
        (Outcome::DoesNotConform, "count-fail"),
        (Outcome::Undecided, "count-undecided"),
    ]
    .into_iter()
    .map(|(outcome, key)| (of(outcome), key))
    .filter(|(count, _)| *count > 0)
    .map(|(count, key)| format!("{} {count}", label(key)))
    .collect();
    let all = entries.len();
    format!("{all} {}: {}.", label("count-stated"), parts.join(", "))
}
