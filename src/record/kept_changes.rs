//! Changes of a draft that bear on a verdict: kept in the record from the first computation on.

use serde_json::{Value, json};

use super::Change;
use super::place::get;
use super::tiers::changed_paths;

/// Beginnings of paths of which a change bears on a verdict: what is stated, the rule, uncertainties,
/// the calibration.
const BEARING: [&str; 7] =
    ["stated", "decision", "uncertainties", "sensor", "analysis", "exposure", "readings"];

/// Keeps a change that bears on a verdict.
pub(super) fn note(draft: &mut Value, path: &str, old: &Value, new: &Value, when: Option<&str>) {
    let Some(when) = when.filter(|_| bears(path)) else { return };
    let change = json!({"time": when, "field": path, "old": old, "new": new});
    let Some(object) = draft.as_object_mut() else { return };
    let list = object.entry("changes").or_insert_with(|| json!([]));
    match list.as_array_mut() {
        Some(list) => list.push(change),
        None => *list = json!([change]),
    }
}

/// Keeps all that differs between two drafts and bears on a verdict, value by value; an uncertainty and
/// each part of a layout are one value.
pub fn note_between(before: &Value, after: &mut Value, when: Option<&str>) {
    let mut last = String::new();
    for path in changed_paths(before, after) {
        let path = whole(&path);
        let of = |draft: &Value| get(draft, path).cloned().unwrap_or(Value::Null);
        let (old, new) = (of(before), of(after));
        // Of a response that comes or goes the values tell enough.
        let named = path.ends_with("response.kind") && (old.is_null() || new.is_null());
        if path != last && !named && !both_numbers(&old, &new) {
            note(after, path, &old, &new, when);
        }
        path.clone_into(&mut last);
    }
}

/// The path of the value that is told as one.
fn whole(path: &str) -> &str {
    const LAYOUT: &str = "].layout.";
    if let Some(at) = path.find(".uncertainty") {
        return &path[..at + ".uncertainty".len()];
    }
    match path.find(LAYOUT) {
        Some(at) if !path[at..].contains(".volts.") => {
            let from = at + LAYOUT.len();
            let end = path[from..].find(['.', '[']).map_or(path.len(), |end| from + end);
            &path[..end]
        }
        _ => path,
    }
}

/// `90` and `90.0` are one number.
pub(super) fn both_numbers(a: &Value, b: &Value) -> bool {
    a.as_f64().zip(b.as_f64()).is_some_and(|(a, b)| a == b)
}

/// Whether a change at a path bears on a verdict; what a scan leaves out, how it is read and how far
/// from the head it lies do too.
pub(super) fn bears(path: &str) -> bool {
    let under = |start: &str| {
        path.strip_prefix(start)
            .is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[', '_']))
    };
    BEARING.iter().any(|start| under(start))
        || path.contains(".u_")
        || (under("scans")
            && (path.contains("exclu")
                || path.contains(".layout")
                || path.ends_with(".role")
                || path.ends_with(".distance_m")))
}

impl Change {
    /// Whether it bears on a verdict, so that the sheet prints it above the signatures.
    pub fn bears_on_a_verdict(&self) -> bool {
        bears(&self.field)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Another reading of a file: each part of its layout is told as one.
    #[test]
    fn another_reading_is_kept() {
        let before = json!({"scans": [{"role": "plane", "layout": {"axes": ["y", "x", "t"],
            "x": {"start": 0, "step": 1}, "volts": {"scale": 1.0}}}]});
        let mut after = json!({"scans": [{"role": "line", "layout": {"axes": ["x", "y", "t"],
            "x": {"start": -2, "step": 2}, "volts": {"scale": 1}}}]});
        note_between(&before, &mut after, Some("2026-05-05T10:00:00"));
        let fields: Vec<_> =
            after["changes"].as_array().unwrap().iter().map(|c| &c["field"]).collect();
        assert_eq!(fields, ["scans[0].role", "scans[0].layout.axes", "scans[0].layout.x"]);
    }
}
