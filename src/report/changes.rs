//! Changes of the record after the first computation, where they bear on a verdict.

use super::model::Block;
use super::rounding;
use super::wording::Wording;
use crate::analysis::Results;

/// Most of them that the front prints; the others stand in their section.
const ON_FRONT: usize = 4;
/// Longest value that is printed, characters.
const LONGEST: usize = 60;

/// A change as it is printed.
struct Changed<'a> {
    time: String,
    field: &'a str,
    old: &'a serde_json::Value,
    new: &'a serde_json::Value,
}

/// One line each for the front, above the signatures, under a heading line.
pub fn lines(results: &Results, words: &dyn Wording) -> Vec<String> {
    let label = |key: &str| words.label(key).unwrap_or_default();
    let changes = bearing(results);
    if changes.is_empty() {
        return Vec::new();
    }
    let mut out = vec![label("changes-lead").to_owned()];
    for change in changes.iter().take(ON_FRONT) {
        let time = &change.time;
        let time = if time.is_empty() { String::new() } else { format!("{time}: ") };
        out.push(format!(
            "{time}{}, {} → {}",
            field(results, change.field, words),
            value(change.old, words),
            value(change.new, words)
        ));
    }
    if changes.len() > ON_FRONT {
        out.push(format!("{} {}", changes.len() - ON_FRONT, label("changes-more")));
    }
    out
}

/// All of them as a table.
pub fn blocks(results: &Results, words: &dyn Wording) -> Vec<Block> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let changes = bearing(results);
    if changes.is_empty() {
        return Vec::new();
    }
    let rows = changes
        .iter()
        .map(|change| {
            vec![
                change.time.clone(),
                field(results, change.field, words),
                value(change.old, words),
                value(change.new, words),
            ]
        })
        .collect();
    vec![Block::Table {
        caption: label("changes-caption"),
        head: ["changes-time", "changes-field", "changes-old", "changes-new"].map(label).to_vec(),
        rows,
    }]
}

/// The changes that bear on a verdict.
fn bearing(results: &Results) -> Vec<Changed<'_>> {
    results
        .record
        .changes
        .iter()
        .filter(|change| change.bears_on_a_verdict())
        .map(|change| Changed {
            time: change.time.as_deref().unwrap_or_default().replace('T', " "),
            field: &change.field,
            old: &change.old,
            new: &change.new,
        })
        .collect()
}

/// What a path means, in words; the path itself where it says more.
fn field(results: &Results, path: &str, words: &dyn Wording) -> String {
    let (head, rest) = path.split_at(path.find(['.', '[']).unwrap_or(path.len()));
    let word = words.label(&format!("changed-{head}")).unwrap_or(head);
    let index: Option<usize> =
        rest.strip_prefix('[').and_then(|rest| rest.split(']').next()?.parse().ok());
    let key = path.rsplit('.').next().filter(|key| *key != path && !key.contains('['));
    let key = key.map(|key| words.label(&format!("changed-key-{key}")).unwrap_or(key));
    let of = match (head, index) {
        ("stated", Some(index)) => {
            let stated = results.record.stated.get(index);
            stated.map(|s| {
                words.quantity(&s.quantity).map_or(s.quantity.as_str(), |q| q.name).to_owned()
            })
        }
        ("scans", Some(index)) => results.record.scans.get(index).map(|scan| scan.id.clone()),
        _ => None,
    };
    let parts: Vec<String> = [of, key.map(str::to_owned)].into_iter().flatten().collect();
    if parts.is_empty() { word.to_owned() } else { format!("{word}: {}", parts.join(", ")) }
}

fn value(value: &serde_json::Value, words: &dyn Wording) -> String {
    let text = match value {
        serde_json::Value::Null => return words.label("not-stated").unwrap_or_default().to_owned(),
        serde_json::Value::String(text) => text.clone(),
        serde_json::Value::Object(object) if object.contains_key("value") => said(object, words),
        other => other.to_string(),
    };
    if text.chars().count() <= LONGEST {
        return text;
    }
    text.chars().take(LONGEST).chain(['…']).collect()
}

/// A stated value or an uncertainty: `8.2 MPa, +15 % / −15 %`, `2 % expanded`.
fn said(object: &serde_json::Map<String, serde_json::Value>, words: &dyn Wording) -> String {
    let marks = words.marks();
    let is = |of: &serde_json::Value, key: &str| of.get(key).and_then(serde_json::Value::as_bool);
    let whole = serde_json::Value::Object(object.clone());
    let text = |key: &str| object.get(key).and_then(serde_json::Value::as_str).unwrap_or_default();
    let number =
        |of: &serde_json::Value, key: &str| of.get(key).and_then(serde_json::Value::as_f64);
    let sized = |v: f64, relative: bool, unit: &str| {
        let (v, unit) = if relative { (v * 100.0, "%") } else { (v, unit) };
        format!("{}\u{a0}{unit}", rounding::shortest(v, marks)).trim_end().to_owned()
    };
    let relative = is(&whole, "relative") == Some(true);
    let value = sized(number(&whole, "value").unwrap_or(0.0), relative, text("unit"));
    let mut out = format!("{value} {}", text("kind")).trim_end().to_owned();
    if let Some(tolerance) = object.get("tolerance").filter(|t| t.is_object()) {
        let relative = is(tolerance, "relative") == Some(true);
        let side = |key: &str| number(tolerance, key).map(|v| sized(v, relative, text("unit")));
        let sides = [side("upper").map(|v| format!("+{v}")), side("lower")];
        let sides: Vec<String> = sides.into_iter().flatten().collect();
        out.push_str(&format!(", {}", sides.join(" / ")));
    }
    out
}
