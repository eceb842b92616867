//! A saved sheet that is given again: its record, its files, and what its numbers were.

use serde_json::Value;

use crate::base::error::Problem;
use crate::base::sheet::{QuantityEntry, SCHEMA};

/// Largest block of data that is read, bytes.
const MOST_BYTES: usize = 32 << 20;
/// Where the block begins and ends; inside, every `<` is escaped.
const BEGIN: &str = "<script type=\"application/json\" id=\"focalsheet-sheet\">";
const END: &str = "</script>";
/// Largest relative difference of values that are the same but for their last digits.
const SAME: f64 = 1e-9;

/// What a saved sheet says.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Saved {
    /// The record as it was typed.
    pub record: Value,
    /// Names and sizes of the files it was made from, but for the record.
    pub files: Vec<(String, f64)>,
    quantities: Vec<Value>,
}

/// A quantity that is not what it was.
#[derive(Debug, Clone, PartialEq)]
pub struct Changed {
    pub name: String,
    pub scan: String,
    /// As printed; empty where there was, or is, no value.
    pub before: String,
    pub after: String,
}

/// Reads the data of a saved sheet; nothing else of the file is looked at.
///
/// # Errors
/// `saved-no-data`, `saved-too-long`, `saved-broken`, `saved-other-kind`.
pub fn saved(html: &str) -> Result<Saved, Problem> {
    let block = html.split_once(BEGIN).and_then(|(_, rest)| rest.split_once(END));
    let (block, _) = block.ok_or_else(|| Problem::new("saved-no-data"))?;
    if block.len() > MOST_BYTES {
        return Err(Problem::new("saved-too-long").with("limit", MOST_BYTES >> 20));
    }
    let sheet: Value = serde_json::from_str(block)
        .map_err(|error| Problem::new("saved-broken").with("found", error.to_string()))?;
    let schema = sheet.get("schema").and_then(Value::as_str).unwrap_or_default();
    let record = sheet.get("record").filter(|record| record.is_object());
    let (true, Some(record)) = (schema == SCHEMA, record) else {
        let shown: String = schema.chars().take(60).collect();
        return Err(Problem::new("saved-other-kind").with("expected", SCHEMA).with("found", shown));
    };
    let list = |key: &str| sheet.get(key).and_then(Value::as_array).cloned().unwrap_or_default();
    let file = |input: &Value| {
        let role = input.get("role").and_then(Value::as_str);
        let name = input.get("name").and_then(Value::as_str).filter(|_| role != Some("record"))?;
        Some((name.to_owned(), input.get("bytes").and_then(Value::as_f64).unwrap_or(0.0)))
    };
    Ok(Saved {
        record: record.clone(),
        files: list("provenance").iter().filter_map(file).collect(),
        quantities: list("quantities"),
    })
}

impl Saved {
    /// How many quantities were compared, and those that differ.
    pub fn changes(&self, now: &[QuantityEntry]) -> (usize, Vec<Changed>) {
        let text = |old: &Value, key: &str| {
            old.get(key).and_then(Value::as_str).unwrap_or_default().to_owned()
        };
        let same_one = |old: &Value, new: &QuantityEntry| {
            text(old, "id") == new.id
                && text(old, "scan") == new.scan
                && old.get("level").and_then(Value::as_f64) == new.level
                && text(old, "range") == new.range.clone().unwrap_or_default()
        };
        let mut changed = Vec::new();
        let mut left: Vec<&Value> = self.quantities.iter().collect();
        let mut compared = left.len();
        for new in now {
            // The same quantity may stand several times: in order.
            let at = left.iter().position(|old| same_one(old, new));
            let old = at.map(|at| left.remove(at));
            compared += usize::from(old.is_none());
            let before = old.and_then(|old| old.get("value")).and_then(Value::as_f64);
            let same = match (before, new.value) {
                (Some(a), Some(b)) => (a - b).abs() <= SAME * a.abs().max(b.abs()),
                (a, b) => a.is_none() && b.is_none(),
            };
            if !same {
                changed.push(Changed {
                    name: new.name.clone(),
                    scan: new.scan.clone(),
                    before: old.map(|old| text(old, "text")).unwrap_or_default(),
                    after: new.text.clone(),
                });
            }
        }
        let gone = left.into_iter().filter(|old| old.get("value").is_some_and(Value::is_number));
        changed.extend(gone.map(|old| Changed {
            name: text(old, "name"),
            scan: text(old, "scan"),
            before: text(old, "text"),
            after: String::new(),
        }));
        (compared, changed)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn html(data: &str) -> String {
        format!("<html><script>evil()</script>{BEGIN}{data}{END}</html>")
    }

    #[test]
    fn a_sheet_gives_its_record_and_files() {
        let data = r#"{"schema":"focalsheet-sheet/1","record":{"title":"\u003cb>"},
            "provenance":[{"name":"record.json","role":"record","bytes":9},{"name":"a.csv","role":"plane","bytes":120}],
            "quantities":[{"id":"pc","scan":"a","name":"pc","value":2.0,"text":"2"}]}"#;
        let saved = saved(&html(data)).unwrap();
        assert_eq!(saved.record["title"], "<b>");
        assert_eq!(saved.files, [("a.csv".to_owned(), 120.0)]);
        let (compared, changed) = saved.changes(&[]);
        assert_eq!((compared, changed.len(), changed[0].before.as_str()), (1, 1, "2"));
    }

    #[test]
    fn hostile_blocks_are_refused() {
        let code = |text: &str| saved(text).unwrap_err().code;
        assert_eq!(code("<html></html>"), "saved-no-data");
        assert_eq!(code(BEGIN), "saved-no-data");
        assert_eq!(code(&html("{\"schema\":")), "saved-broken");
        assert_eq!(code(&html(&"[".repeat(100_000))), "saved-broken");
        assert_eq!(code(&html("[1]")), "saved-other-kind");
        assert_eq!(
            code(&html(r#"{"schema":"focalsheet-sheet/1","record":5}"#)),
            "saved-other-kind"
        );
        assert_eq!(
            code(&html(r#"{"schema":"focalsheet-record/1","record":{}}"#)),
            "saved-other-kind"
        );
        assert_eq!(code(&html(&" ".repeat(MOST_BYTES + 1))), "saved-too-long");
    }
}
