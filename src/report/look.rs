//! What is in a file, in words.

use super::remarks::{finding_entry, problem_texts};
use super::rounding;
use super::wording::Wording;
use crate::analysis::{ArrayLook, Look};

/// Longest attribute that is printed, characters.
const LONGEST: usize = 60;

/// A listing of a file and the proposals for it, a line a string.
pub fn look_lines(name: &str, look: &Look, words: &dyn Wording) -> Vec<String> {
    let label = |key: &str| words.label(key).unwrap_or_default();
    let mut out = vec![format!("{name}")];
    for (key, value) in &look.attributes {
        out.push(format!("  {} = {}", plain(key), cut(value)));
    }
    let width = look.arrays.iter().map(|a| a.path.chars().count()).max().unwrap_or(0).min(40);
    for array in &look.arrays {
        out.extend(array_lines(array, width, words));
    }
    for note in problem_texts(&look.notes, words) {
        out.push(plain(format!("  {} {}", note.text, note.hint).trim_end()));
    }
    if !look.described.is_empty() {
        out.push(String::new());
        out.push(format!("{} {}", label("look-described"), plain(&look.described.join(", "))));
        return out;
    }
    if look.proposals.is_empty() {
        out.push(String::new());
        out.push(label("look-nothing").to_owned());
        return out;
    }
    let several = look.proposals.len() > 1;
    for (index, proposal) in look.proposals.iter().enumerate() {
        out.push(String::new());
        let number = if several { format!(" {}", index + 1) } else { String::new() };
        let role = words.label(&format!("role-{}", proposal.role)).unwrap_or_default();
        out.push(format!(
            "{}{number}: {} = {} ({role})",
            label("look-proposed"),
            plain(&proposal.array),
            words.axes(&proposal.axes)
        ));
        for reason in &proposal.reasons {
            let entry = finding_entry(reason, words);
            out.push(plain(format!("  {} {}", entry.text, entry.hint).trim_end()));
        }
        for lack in problem_texts(&proposal.lacking, words) {
            out.push(plain(&format!("  {}: {} {}", label("look-lacking"), lack.text, lack.hint)));
        }
        out.push(format!("  \"layout\": {}", proposal.snippet));
    }
    out.push(String::new());
    let complete = look.proposals.iter().filter(|p| p.lacking.is_empty()).count();
    let verdict = match (look.proposals.len(), complete) {
        (1, 1) => "look-used",
        (1, _) => "look-incomplete",
        _ => "look-choose",
    };
    out.push(label(verdict).to_owned());
    out
}

fn array_lines(array: &ArrayLook, width: usize, words: &dyn Wording) -> Vec<String> {
    let shape: Vec<String> = array.shape.iter().map(u64::to_string).collect();
    let shape = if shape.is_empty() { "1".to_owned() } else { shape.join(" × ") };
    let kind = if array.kind.is_empty() {
        words.label("look-no-number").unwrap_or_default()
    } else {
        array.kind.as_str()
    };
    let first: Vec<String> =
        array.first.iter().map(|v| rounding::digits(*v, 4, words.marks())).collect();
    let more = if array.more && !first.is_empty() { " …" } else { "" };
    let values =
        if first.is_empty() { String::new() } else { format!("  {}{more}", first.join(" ")) };
    let mut out = vec![format!("  {:width$}  {shape}  {kind}{values}", plain(&array.path))];
    for (key, value) in &array.attributes {
        out.push(format!("  {:width$}    {} = {}", "", plain(key), cut(value)));
    }
    out
}

fn cut(text: &str) -> String {
    let line = plain(text);
    if line.chars().count() <= LONGEST {
        return line;
    }
    line.chars().take(LONGEST).chain(['…']).collect()
}

/// Without control characters, which a terminal would obey.
fn plain(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}
