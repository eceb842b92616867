//! Places in a draft by path: `scans[2].role`.

use serde_json::{Map, Value};

/// Longest list into which an entry is set: a path is text, and may ask for any.
const LONGEST_LIST: usize = 10_000;

/// A step of a path.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Step<'a> {
    Key(&'a str),
    Entry(usize),
}

/// The steps of a path of plain keys; `None` for other text.
pub(super) fn steps(path: &str) -> Option<Vec<Step<'_>>> {
    let mut out = Vec::new();
    for part in path.split('.') {
        let (key, entries) = part.split_at(part.find('[').unwrap_or(part.len()));
        if key.is_empty() || !key.chars().all(|c| c.is_ascii_alphanumeric() || c == '_' || c == '-')
        {
            return None;
        }
        out.push(Step::Key(key));
        let mut rest = entries;
        while !rest.is_empty() {
            let (index, after) = rest.strip_prefix('[')?.split_once(']')?;
            out.push(Step::Entry(index.parse().ok()?));
            rest = after;
        }
    }
    Some(out)
}

/// What stands at a path.
pub(super) fn get<'v>(draft: &'v Value, path: &str) -> Option<&'v Value> {
    steps(path)?.iter().try_fold(draft, |value, step| match step {
        Step::Key(key) => value.get(*key),
        Step::Entry(index) => value.get(*index),
    })
}

/// Puts a value at a path, with the objects that lead there; null takes the key away. An entry one
/// behind the last of a list is added. `false` where something else stands in the way.
pub(super) fn set(draft: &mut Value, path: &str, value: Value) -> bool {
    let Some(steps) = steps(path) else { return false };
    let Some((last, lead)) = steps.split_last() else { return false };
    let mut at = draft;
    for (i, step) in lead.iter().enumerate() {
        let list = matches!(steps.get(i + 1), Some(Step::Entry(_)));
        let empty = || if list { Value::Array(Vec::new()) } else { Value::Object(Map::new()) };
        let next = match (step, at) {
            (Step::Key(key), Value::Object(object)) => {
                let slot = object.entry((*key).to_owned()).or_insert(Value::Null);
                if slot.is_null() {
                    if value.is_null() {
                        return true;
                    }
                    *slot = empty();
                }
                Some(slot)
            }
            (Step::Entry(index), Value::Array(list)) => list.get_mut(*index),
            _ => None,
        };
        let Some(next) = next else { return false };
        at = next;
    }
    match (last, at) {
        (Step::Key(key), Value::Object(object)) => {
            if value.is_null() {
                object.shift_remove(*key);
            } else {
                object.insert((*key).to_owned(), value);
            }
            true
        }
        (Step::Entry(index), Value::Array(list)) if value.is_null() => {
            let there = *index < list.len();
            if there {
                list.remove(*index);
            }
            there
        }
        (Step::Entry(index), Value::Array(list)) if *index <= list.len().min(LONGEST_LIST) => {
            if *index == list.len() {
                list.push(value);
            } else if let Some(slot) = list.get_mut(*index) {
                *slot = value;
            }
            true
        }
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn values_are_found_and_put() {
        let mut draft = json!({"scans": [{"id": "a"}], "water": null});
        assert_eq!(get(&draft, "scans[0].id"), Some(&json!("a")));
        assert_eq!(get(&draft, "scans[1].id"), None);
        assert!(set(&mut draft, "water.temperature_c", json!(21.4)));
        assert!(set(&mut draft, "stated[0]", json!({"quantity": "pc"})));
        assert!(set(&mut draft, "scans[0].id", json!("b")));
        assert_eq!(
            draft,
            json!({"scans": [{"id": "b"}], "water": {"temperature_c": 21.4}, "stated": [{"quantity": "pc"}]})
        );
        assert!(set(&mut draft, "stated[0]", Value::Null));
        assert!(set(&mut draft, "water.temperature_c", Value::Null));
        assert!(set(&mut draft, "sensor.serial", Value::Null));
        assert_eq!(draft["stated"], json!([]));
        assert_eq!(draft["water"], json!({}));
        for path in ["", "a b", "scans[", "scans[x]", "scans[7].id", "scans[0].id.x", "stated[5]"] {
            assert!(!set(&mut draft, path, json!(1)), "{path}");
        }
    }
}
