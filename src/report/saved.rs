//! A saved sheet against the numbers computed now, in words.

use super::remarks::problem_texts;
use super::wording::Wording;
use crate::analysis::Saved;
use crate::base::error::Problem;
use crate::base::sheet::Sheet;

/// First whether all agree, then a line for each quantity that does not.
pub fn compared(saved: &Saved, sheet: &Sheet, words: &dyn Wording) -> Vec<String> {
    let (compared, changed) = saved.changes(&sheet.quantities);
    let code = if changed.is_empty() { "saved-agrees" } else { "saved-differs" };
    let head = Problem::new(code).with("count", compared).with("found", changed.len());
    let none = words.label("no-value").unwrap_or_default();
    let shown = |text: String| if text.is_empty() { none.to_owned() } else { text };
    let line = |change: crate::analysis::Changed| {
        Problem::new("saved-quantity")
            .with("name", super::plain_symbols(&change.name))
            .with("scan", change.scan)
            .with("before", shown(change.before))
            .with("after", shown(change.after))
    };
    let all: Vec<Problem> = std::iter::once(head).chain(changed.into_iter().map(line)).collect();
    problem_texts(&all, words).into_iter().map(|said| said.text).collect()
}
