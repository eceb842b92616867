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
    let label = |key: &str| words.label(key).unwrap_or_default();
    let first = sheet.verdicts.first()?;
    let value = measured(first, words)?;
    let mut out = format!(
        "{} {} {}",
        with_coverage(results, first, value, words),
        label("sentence-as"),
        name(first, words)
    );
    out.push_str(&format!("; {} {}: ", label("sentence-states"), stated(results, 0, first, words)));
    out.push_str(&format!("{}.", label(outcome_key(first.outcome))));
    let worst = sheet
        .verdicts
        .iter()
        .enumerate()
        .skip(1)
        .reduce(|worst, entry| if entry.1.outcome > worst.1.outcome { entry } else { worst });
    if let Some((index, worst)) = worst
        && worst.outcome > first.outcome
    {
        out.push_str(&format!(" {} {}: ", label("sentence-worst"), name(worst, words)));
        match measured(worst, words) {
            Some(value) => out.push_str(&format!(
                "{} {}, ",
                label("sentence-measured"),
                with_coverage(results, worst, value, words)
            )),
            None => out.push_str(&format!("{}, ", label("not-measured"))),
        }
        out.push_str(&format!(
            "{} {}: {}.",
            label("stated"),
            stated(results, index, worst, words),
            label(outcome_key(worst.outcome))
        ));
    }
    if sheet.verdicts.len() > 1 {
        out.push(' ');
        out.push_str(&count(&sheet.verdicts, words));
    }
    Some(out)
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
