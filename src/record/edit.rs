//! The draft of a record with one blank filled in.

use serde_json::{Value, json};

use super::Record;
use super::kept_changes::{bears, both_numbers, note, note_between};
use super::place::{get, set};
use super::read::read_value;
use super::stated_table::stated_rows;
use super::tiers::{Tier, tier_between};
use super::typed::{Kind, Reading, Typed, kind_of, typed};
use crate::base::error::{Problem, Problems};

/// What came of an edit.
#[derive(Debug, Clone, PartialEq)]
pub enum Edited {
    /// The new draft, and what has to be computed again; none where nothing changed.
    Done { draft: Value, tier: Option<Tier> },
    /// The text can be read in two ways, as shown; the decimal one first.
    Ambiguous([String; 2]),
}

/// The draft with a text in the blank at a path. `when`, the present time, is given once something was
/// computed: changes that bear on a verdict are then kept.
///
/// # Errors
/// When the blank does not take the text, or the record would not hold together.
pub fn edit(
    draft: &Value,
    path: &str,
    text: &str,
    reading: Option<Reading>,
    when: Option<&str>,
) -> Result<Edited, Problems> {
    let values = match typed(draft, path, text, reading).map_err(|problem| vec![problem])? {
        Typed::Values(values) => values,
        Typed::Ambiguous(readings) => return Ok(Edited::Ambiguous(readings)),
    };
    let mut new = draft.clone();
    let old = told(draft, path);
    for (at, value) in values {
        put(&mut new, &at, value, path, when)?;
    }
    if matches!(kind_of(path), Some(Kind::Response | Kind::Volts)) {
        note_between(draft, &mut new, when);
    } else {
        let now = told(&new, path);
        if old != now && bears(path) {
            note(&mut new, path, &old, &now, when);
        }
    }
    keep_typed(&mut new, path, text.trim());
    finish(draft, new)
}

/// The draft with one more stated value, from its text: `7.8 MPa ± 20 %`.
///
/// # Errors
/// As [`edit`].
pub fn add_stated(
    draft: &Value,
    quantity: &str,
    text: &str,
    reading: Option<Reading>,
    when: Option<&str>,
) -> Result<Edited, Problems> {
    let index = get(draft, "stated").and_then(Value::as_array).map_or(0, Vec::len);
    let path = format!("stated[{index}]");
    let mut new = draft.clone();
    if !set(&mut new, &path, json!({"quantity": quantity, "value": 0.0})) {
        return Err(vec![Problem::new("typed-no-blank").at(path)]);
    }
    if text.trim().is_empty() {
        return Err(vec![Problem::new("typed-not-a-number").at(path).with("found", "")]);
    }
    let values = match typed(&new, &path, text, reading).map_err(|problem| vec![problem])? {
        Typed::Values(values) => values,
        Typed::Ambiguous(readings) => return Ok(Edited::Ambiguous(readings)),
    };
    for (at, value) in values {
        set(&mut new, &at, value);
    }
    keep_typed(&mut new, &path, text.trim());
    let row = get(&new, &path).cloned().unwrap_or_default();
    note(&mut new, &path, &Value::Null, &row, when);
    finish(draft, new)
}

/// The draft with the stated values of a table behind its own, from text with headings as a spreadsheet
/// gives it. All of it counts as one edit.
///
/// # Errors
/// All that is wrong with the table, each with its line.
pub fn paste_stated(draft: &Value, text: &str, when: Option<&str>) -> Result<Edited, Problems> {
    let rows = stated_rows(&read_value(draft, "")?, text.as_bytes())?;
    let first = get(draft, "stated").and_then(Value::as_array).map_or(0, Vec::len);
    let mut new = draft.clone();
    for (index, row) in rows.iter().enumerate() {
        let path = format!("stated[{}]", first + index);
        let row = json!(row);
        if !set(&mut new, &path, row.clone()) {
            return Err(vec![Problem::new("typed-no-blank").at(path)]);
        }
        note(&mut new, &path, &Value::Null, &row, when);
    }
    finish(draft, new)
}

/// The draft without an entry of a list.
///
/// # Errors
/// When there is no such entry, or the record would not hold together.
pub fn remove(draft: &Value, path: &str, when: Option<&str>) -> Result<Edited, Problems> {
    let missing = || vec![Problem::new("typed-no-blank").at(path)];
    let (list, index) = path
        .strip_suffix(']')
        .and_then(|path| path.rsplit_once('['))
        .and_then(|(list, index)| Some((list, index.parse::<usize>().ok()?)))
        .ok_or_else(missing)?;
    let old = get(draft, path).cloned().ok_or_else(missing)?;
    let mut new = draft.clone();
    if !set(&mut new, path, Value::Null) {
        return Err(missing());
    }
    // The texts of later entries go with them.
    if let Some(kept) = new.get_mut("typed").and_then(Value::as_object_mut) {
        let moved = std::mem::take(kept).into_iter().filter_map(|(of, text)| {
            let Some((at, rest)) = entry_of_list(&of, list) else { return Some((of, text)) };
            match at.cmp(&index) {
                std::cmp::Ordering::Less => Some((of, text)),
                std::cmp::Ordering::Equal => None,
                std::cmp::Ordering::Greater => Some((format!("{list}[{}]{rest}", at - 1), text)),
            }
        });
        *kept = moved.collect();
    }
    note(&mut new, path, &old, &Value::Null, when);
    finish(draft, new)
}

/// Index and rest of a path inside a list.
fn entry_of_list<'a>(path: &'a str, list: &str) -> Option<(usize, &'a str)> {
    let (index, rest) = path.strip_prefix(list)?.strip_prefix('[')?.split_once(']')?;
    Some((index.parse().ok()?, rest))
}

/// What a change tells of the blank at a path: of a stated value what its one text says.
fn told(draft: &Value, path: &str) -> Value {
    let value = get(draft, path).cloned().unwrap_or(Value::Null);
    match (kind_of(path), value) {
        (Some(Kind::Stated), Value::Object(row)) => {
            let said =
                |(key, _): &(String, Value)| matches!(key.as_str(), "value" | "unit" | "tolerance");
            Value::Object(row.into_iter().filter(said).collect())
        }
        (_, value) => value,
    }
}

/// Puts one of the values that the text of a blank means; what lies outside that blank is told by itself.
fn put(
    draft: &mut Value,
    path: &str,
    value: Value,
    blank: &str,
    when: Option<&str>,
) -> Result<(), Problems> {
    let old = get(draft, path).cloned().unwrap_or(Value::Null);
    if old == value || both_numbers(&old, &value) {
        return Ok(());
    }
    if !set(draft, path, value.clone()) {
        return Err(vec![Problem::new("typed-no-blank").at(path)]);
    }
    if !path.starts_with(blank) {
        note(draft, path, &old, &value, when);
    }
    Ok(())
}

/// Keeps a text beside its value, where it says it otherwise.
fn keep_typed(draft: &mut Value, path: &str, text: &str) {
    let says_itself = match kind_of(path) {
        Some(Kind::Text | Kind::Word(_)) | None => true,
        _ => get(draft, path).is_some_and(|value| match value {
            Value::String(same) => same == text,
            number => serde_json::from_str(text).is_ok_and(|typed: Value| typed == *number),
        }),
    };
    let Some(object) = draft.as_object_mut() else { return };
    let kept = object.entry("typed").or_insert_with(|| json!({}));
    if !kept.is_object() {
        *kept = json!({});
    }
    if let Some(kept) = kept.as_object_mut() {
        let within = |a: &str, b: &str| {
            a.strip_prefix(b).is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
        };
        kept.retain(|of, _| !within(of, path) && !within(path, of));
        if !says_itself && !text.is_empty() {
            kept.insert(path.to_owned(), json!(text));
        }
        if kept.is_empty() {
            object.shift_remove("typed");
        }
    }
}

fn finish(before: &Value, draft: Value) -> Result<Edited, Problems> {
    // Without a file's name: the problems are those of a blank.
    read_value(&draft, "").map_err(|problems| {
        problems
            .into_iter()
            .map(|mut problem| {
                problem.place.file = None;
                problem
            })
            .collect::<Problems>()
    })?;
    let tier = tier_between(before, &draft);
    Ok(Edited::Done { draft, tier })
}

impl Record {
    /// The text that was typed for the value at a path, where a sheet shows it: a day is the same in
    /// whatever order it was typed.
    pub fn as_typed(&self, path: &str) -> Option<&str> {
        let text = self.typed.get(path)?;
        (kind_of(path) != Some(Kind::Day)).then_some(text.as_str())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::Change;

    fn draft() -> Value {
        json!({
            "schema": "focalsheet-record/1",
            "water": {"temperature_c": 20.0},
            "scans": [{"id": "a", "role": "point", "file": "a.csv"}],
            "stated": [
                {"quantity": "pc", "value": 7.8, "unit": "MPa", "tolerance": {"lower": -0.2, "upper": 0.2, "relative": true}},
                {"quantity": "pr", "value": 4.8, "unit": "MPa"}
            ]
        })
    }

    fn done(edited: Result<Edited, Problems>) -> (Value, Option<Tier>) {
        match edited {
            Ok(Edited::Done { draft, tier }) => (draft, tier),
            other => panic!("{other:?}"),
        }
    }

    const NOW: Option<&str> = Some("2026-05-05T10:00:00");

    #[test]
    fn a_blank_is_filled_and_its_text_kept() {
        let (new, tier) = done(edit(&draft(), "water.temperature_c", "21,4 °C", None, NOW));
        assert_eq!(tier, Some(Tier::Map));
        assert_eq!(new["water"]["temperature_c"], json!(21.4));
        assert_eq!(new["typed"], json!({"water.temperature_c": "21,4 °C"}));
        assert_eq!(new.get("changes"), None);
        let record = read_value(&new, "").unwrap();
        assert_eq!(record.as_typed("water.temperature_c"), Some("21,4 °C"));
        let mut stale = new.clone();
        stale["water"]["temperature_c"] = json!(22.0);
        assert_eq!(read_value(&stale, "").unwrap().as_typed("water.temperature_c"), None);
        let (again, tier) = done(edit(&new, "water.temperature_c", "20", None, NOW));
        assert_eq!(
            (again["water"]["temperature_c"].as_f64(), again.get("typed")),
            (Some(20.0), Some(&json!({"water.temperature_c": "20"})))
        );
        assert_eq!(tier, Some(Tier::Map));
        let (empty, _) = done(edit(&again, "water.temperature_c", "", None, NOW));
        assert_eq!((empty["water"].get("temperature_c"), empty.get("typed")), (None, None));
    }

    /// It stays in the record.
    #[test]
    fn a_day_has_no_other_text_on_the_sheet() {
        let (new, _) = done(edit(&draft(), "date", "24.11.2026", None, NOW));
        assert_eq!(new["date"], json!("2026-11-24"));
        assert_eq!(new["typed"], json!({"date": "24.11.2026"}));
        let record = read_value(&new, "").unwrap();
        assert_eq!((record.as_typed("date"), record.typed.len()), (None, 1));
    }

    #[test]
    fn the_same_again_is_no_change() {
        let (new, tier) = done(edit(&draft(), "water.temperature_c", "20.0", None, NOW));
        assert_eq!((new["water"].clone(), tier), (json!({"temperature_c": 20.0}), None));
    }

    #[test]
    fn changes_of_what_is_judged_are_kept() {
        let (new, tier) = done(edit(&draft(), "stated[0]", "8 MPa ± 20 %", None, NOW));
        assert_eq!(tier, Some(Tier::Sheet));
        assert_eq!(
            new["changes"],
            json!([{
                "time": "2026-05-05T10:00:00",
                "field": "stated[0]",
                "old": {"value": 7.8, "unit": "MPa", "tolerance": {"lower": -0.2, "upper": 0.2, "relative": true}},
                "new": {"value": 8.0, "unit": "MPa", "tolerance": {"lower": -0.2, "upper": 0.2, "relative": true}}
            }])
        );
        assert!(read_value(&new, "").unwrap().changes[0].bears_on_a_verdict());
        let (before, _) = done(edit(&draft(), "stated[0]", "8 MPa ± 20 %", None, None));
        assert_eq!(before.get("changes"), None);
        let (site, _) = done(edit(&draft(), "site", "tank 2", None, NOW));
        assert_eq!(site.get("changes"), None);
    }

    /// Single values: of a new factor the factor, of an uncertainty all of it.
    #[test]
    fn a_changed_sensitivity_and_unit_are_kept() {
        let mut from = draft();
        from["scans"][0]["layout"] =
            json!({"waveforms": "/w", "axes": ["t"], "volts": {"scale": 1.0, "unit": "V"}});
        let (new, tier) = done(edit(&from, "sensor.response", "40 mV/MPa", None, NOW));
        assert_eq!(tier, Some(Tier::Read));
        let fields = |draft: &Value| -> Vec<(String, Value, Value)> {
            let all = draft["changes"].as_array().cloned().unwrap_or_default();
            let text = |c: &Value| c["field"].as_str().unwrap_or_default().to_owned();
            all.iter().map(|c| (text(c), c["old"].clone(), c["new"].clone())).collect()
        };
        let mv = || "sensor.response.mv_per_mpa".to_owned();
        assert_eq!(fields(&new), [(mv(), Value::Null, json!(40.0))]);
        let (next, _) = done(edit(&new, "sensor.response", "45 mV/MPa, 10 % (k=2)", None, NOW));
        let u = json!({"value": 0.1, "kind": "expanded", "k": 2.0, "relative": true});
        assert_eq!(next["sensor"]["response"]["uncertainty"], u);
        assert_eq!(
            fields(&next)[1..],
            [
                (mv(), json!(40.0), json!(45.0)),
                ("sensor.response.uncertainty".to_owned(), Value::Null, u)
            ]
        );
        assert_eq!(
            read_value(&next, "").unwrap().as_typed("sensor.response"),
            Some("45 mV/MPa, 10 % (k=2)")
        );
        let (volts, tier) = done(edit(&from, "scans[0].layout.volts", "0,1 mV", None, NOW));
        assert_eq!(tier, Some(Tier::Read));
        let at = |key: &str| format!("scans[0].layout.volts.{key}");
        assert_eq!(
            fields(&volts),
            [(at("scale"), json!(1.0), json!(0.1)), (at("unit"), json!("V"), json!("mV"))]
        );
        assert!(read_value(&volts, "").unwrap().changes.iter().all(Change::bears_on_a_verdict));
        let (none, _) = done(edit(&new, "sensor.response", "", None, NOW));
        assert_eq!(none["sensor"].get("response"), None);
        assert_eq!(fields(&none)[1], (mv(), json!(40.0), Value::Null));
        // Before anything was computed nothing is kept.
        let (first, _) = done(edit(&from, "sensor.response", "40 mV/MPa", None, None));
        assert_eq!(first.get("changes"), None);
    }

    #[test]
    fn stated_values_are_added_and_removed() {
        let (new, tier) = done(add_stated(&draft(), "td", "5,2 µs ±15 %", None, NOW));
        assert_eq!(tier, Some(Tier::Sheet));
        assert_eq!(
            new["stated"][2],
            json!({"quantity": "td", "value": 5.2, "unit": "µs", "tolerance": {"lower": -0.15, "upper": 0.15, "relative": true}})
        );
        assert_eq!(new["changes"][0]["field"], json!("stated[2]"));
        let (less, _) = done(remove(&new, "stated[0]", NOW));
        assert_eq!(less["stated"][1]["quantity"], json!("td"));
        assert_eq!(less["typed"], json!({"stated[1]": "5,2 µs ±15 %"}));
        assert_eq!(less["changes"][1]["new"], Value::Null);
        assert!(remove(&draft(), "stated[7]", NOW).is_err());
        assert!(add_stated(&draft(), "nothing", "5", None, NOW).is_err());
        assert!(matches!(
            add_stated(&draft(), "pc", "1,500 MPa", None, NOW),
            Ok(Edited::Ambiguous(_))
        ));
    }

    /// Cells as a spreadsheet copies them: tabs, headings, decimal commas.
    #[test]
    fn a_pasted_table_fills_rows_and_says_which_are_wrong() {
        let table = "quantity\tvalue\tunit\ttolerance\npc\t8,3\tMPa\t±15 %\npr\t5\tMPa\t\n";
        let (new, tier) = done(paste_stated(&draft(), table, NOW));
        assert_eq!(tier, Some(Tier::Sheet));
        assert_eq!(new["stated"].as_array().unwrap().len(), 4);
        assert_eq!(new["stated"][2]["value"], json!(8.3));
        assert_eq!(new["changes"].as_array().unwrap().len(), 2);
        let wrong = paste_stated(&draft(), "quantity;value\npc;much\nnothing;5\npr;1\n", NOW);
        let lines: Vec<_> = wrong.unwrap_err().into_iter().filter_map(|p| p.place.path).collect();
        assert_eq!(lines.len(), 2);
        assert!(lines[0].starts_with("line 2") && lines[1].starts_with("line 3"), "{lines:?}");
    }

    /// What the record's own checks refuse is refused here, with the same codes.
    #[test]
    fn the_record_still_holds_together() {
        let code = |path: &str, text: &str| {
            edit(&draft(), path, text, None, NOW).unwrap_err()[0].code.clone()
        };
        assert_eq!(code("water.temperature_c", "295.5"), "record-out-of-range");
        assert_eq!(code("excitation.frequency_hz", "1 Hz"), "record-out-of-range");
        assert_eq!(code("stated[0].value", ""), "record-missing-key");
    }
}
