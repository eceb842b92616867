//! Changes of the record after the first computation, where they bear on a verdict.

use super::model::Block;
use super::rounding;
use super::wording::{Wording, stated_measure};
use crate::analysis::Results;

/// Most of them that the front prints; the others stand in their section.
const ON_FRONT: usize = 3;
/// Longest value that is printed, characters.
const LONGEST: usize = 60;

/// A change as it is printed.
struct Changed<'a> {
    time: String,
    field: &'a str,
    old: &'a serde_json::Value,
    new: &'a serde_json::Value,
}

/// For the front, above the signatures: a heading line and what was changed, newest first, each blank from
/// what it first was to what it is; then how many blanks were filled in that had been empty.
pub fn lines(results: &Results, words: &dyn Wording) -> Vec<String> {
    let label = |key: &str| words.label(key).unwrap_or_default();
    let (entered, changed) = by_blank(bearing(results));
    let mut out = Vec::new();
    if !changed.is_empty() {
        out.push(label("changes-lead").to_owned());
    }
    for change in changed.iter().take(ON_FRONT) {
        let time = &change.time;
        let time = if time.is_empty() { String::new() } else { format!("{time}: ") };
        out.push(format!(
            "{time}{}, {} → {}",
            field(results, change.field, words),
            value(change.field, change.old, words),
            value(change.field, change.new, words)
        ));
    }
    if changed.len() > ON_FRONT {
        out.push(format!("{} {}", changed.len() - ON_FRONT, label("changes-more")));
    }
    if entered > 0 {
        out.push(label("changes-entered").replace("{}", &entered.to_string()));
    }
    out
}

/// How many blanks were empty before, and the changes of the others, newest first, one a blank; what is
/// as it was again has none.
fn by_blank(changes: Vec<Changed<'_>>) -> (usize, Vec<Changed<'_>>) {
    let mut blanks: Vec<Changed<'_>> = Vec::new();
    for change in changes {
        let before = blanks.iter().position(|blank| blank.field == change.field);
        let old = before.map_or(change.old, |at| blanks.remove(at).old);
        blanks.push(Changed { old, ..change });
    }
    blanks.retain(|blank| blank.old != blank.new);
    let (entered, mut changed): (Vec<_>, Vec<_>) =
        blanks.into_iter().partition(|blank| blank.old.is_null());
    changed.reverse();
    (entered.len(), changed)
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
                value(change.field, change.old, words),
                value(change.field, change.new, words),
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
    let key = key.map(|key| key_name(key, words));
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
    let parts: Vec<String> = [of, key].into_iter().flatten().collect();
    if parts.is_empty() { word.to_owned() } else { format!("{word}: {}", parts.join(", ")) }
}

/// What a key holds: a word for it, the name of its blank, or the key itself.
fn key_name(key: &str, words: &dyn Wording) -> String {
    let blank = || {
        let (bare, _) = split_unit(key);
        let name = bare.replace('_', "-");
        words.label(&name)
    };
    words.label(&format!("changed-key-{key}")).or_else(blank).unwrap_or(key).to_owned()
}

/// A key without its unit, and the unit.
fn split_unit(key: &str) -> (&str, &'static str) {
    let units = [
        ("_m2", "m2"),
        ("_m", "m"),
        ("_hz", "Hz"),
        ("_s", "s"),
        ("_c", "°C"),
        ("_db", "dB"),
        ("_pa", "Pa"),
        ("_v", "V"),
    ];
    let found = units.iter().find_map(|(end, unit)| Some((key.strip_suffix(end)?, *unit)));
    found.unwrap_or((key, ""))
}

/// A value that a blank holds, with its unit.
fn value(path: &str, value: &serde_json::Value, words: &dyn Wording) -> String {
    let marks = words.marks();
    let key = path.rsplit('.').next().unwrap_or(path);
    let text = match value {
        serde_json::Value::Null => return words.label("not-stated").unwrap_or_default().to_owned(),
        serde_json::Value::String(text) => text.clone(),
        serde_json::Value::Object(object) if object.contains_key("value") => said(object, words),
        serde_json::Value::Number(number) => {
            let number = number.as_f64().unwrap_or_default();
            match key {
                "v_per_pa" => format!("{}\u{a0}mV/MPa", rounding::shortest(number * 1e9, marks)),
                "mv_per_mpa" => format!("{}\u{a0}mV/MPa", rounding::shortest(number, marks)),
                "db_re_1v_per_upa" => format!("{}\u{a0}dB", rounding::shortest(number, marks)),
                _ => stated_measure(number, split_unit(key).1, marks),
            }
        }
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

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use super::*;
    use crate::report::wording::{en::English, of};

    /// Blanks that were empty are counted; a blank changed twice is told once, one put back not at all.
    #[test]
    fn a_change_for_each_blank() {
        let values: Vec<Value> = vec![Value::Null, json!(48), json!(47), json!(46.5), json!(2)];
        let change = |field, old: usize, new: usize| Changed {
            time: String::new(),
            field,
            old: &values[old],
            new: &values[new],
        };
        let (entered, changed) = by_blank(vec![
            change("a", 0, 1),
            change("b", 1, 2),
            change("c", 4, 1),
            change("d", 1, 4),
            change("b", 2, 3),
            change("d", 4, 1),
        ]);
        assert_eq!(entered, 1);
        let told: Vec<_> =
            changed.iter().map(|c| (c.field, c.old.clone(), c.new.clone())).collect();
        assert_eq!(told, [("b", json!(48), json!(46.5)), ("c", json!(2), json!(48))]);
    }

    #[test]
    fn values_with_their_units() {
        for (path, is, said) in [
            ("sensor.effective_radius_m", json!(2e-4), "0.2\u{a0}mm"),
            ("sensor.response.v_per_pa", json!(4.65e-8), "46.5\u{a0}mV/MPa"),
            ("exposure.repetition_hz", json!(50), "50\u{a0}Hz"),
            ("sensor.response.gain_db", json!(-20), "−20\u{a0}dB"),
            ("decision.min_probability", json!(0.95), "0.95"),
            ("sensor.serial", json!("N-07"), "N-07"),
        ] {
            assert_eq!(value(path, &is, &English), said, "{path}");
        }
        assert_eq!(value("sensor.effective_radius_m", &json!(2.5e-4), of("de")), "0,25\u{a0}mm");
        assert_eq!(key_name("effective_radius_m", &English), "Effective radius");
        assert_eq!(key_name("serial", &English), "Serial number");
        assert_eq!(key_name("no_such_key", &English), "no_such_key");
    }
}
