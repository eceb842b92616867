//! Which inputs a sheet rests on.

use serde_json::Value;
use sha2::{Digest, Sha256};

use crate::base::sheet::InputFile;

/// Short number of a sheet, from the hashes of its files in order of name and what the record states: same
/// inputs, same number; another number where anything else is stated. The record's own file does not count,
/// neither its name nor how it is written: order of keys, white space, 1500 or 1500.0, a blank as null or
/// left out. `None` until every file is hashed.
pub fn sheet_number(inputs: &[InputFile], record: &Value) -> Option<String> {
    // A sheet that stands in folders is the same where its files are given alone.
    let bare = |name: &str| name.rsplit(['/', '\\']).next().unwrap_or_default().to_owned();
    let mut lines: Vec<String> = inputs
        .iter()
        .filter(|input| input.role != "record")
        .map(|input| Some(format!("{} {}\n", bare(&input.name), input.sha256.as_ref()?)))
        .collect::<Option<_>>()?;
    if lines.is_empty() {
        return None;
    }
    lines.sort();
    lines.push(format!("{}\n", plain(record)));
    let digest = Sha256::digest(lines.concat().as_bytes());
    let hex: String = digest.iter().take(4).map(|byte| format!("{byte:02X}")).collect();
    Some(format!("{}-{}", &hex[..4], &hex[4..]))
}

/// What a record states, always written in one way.
fn plain(value: &Value) -> Value {
    let states =
        |value: &Value| !value.is_null() && value.as_object().is_none_or(|o| !o.is_empty());
    match value {
        Value::Object(object) => {
            let mut keys: Vec<(&String, Value)> =
                object.iter().map(|(key, value)| (key, plain(value))).collect();
            keys.retain(|(_, value)| states(value));
            keys.sort_by_key(|(key, _)| *key);
            Value::Object(keys.into_iter().map(|(key, value)| (key.clone(), value)).collect())
        }
        Value::Array(list) => Value::Array(list.iter().map(plain).collect()),
        Value::Number(number) => number.as_f64().map_or_else(|| value.clone(), Value::from),
        other => other.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn input(name: &str, hash: Option<&str>) -> InputFile {
        InputFile {
            name: name.to_owned(),
            role: String::new(),
            bytes: 1,
            sha256: hash.map(str::to_owned),
        }
    }

    #[test]
    fn number_follows_inputs_and_record() {
        let record = serde_json::json!({"title": "t"});
        let a = [input("a", Some("00")), input("b", Some("11"))];
        let b = [input("b", Some("11")), input("a", Some("00"))];
        let c = [input("a", Some("01")), input("b", Some("11"))];
        assert_eq!(sheet_number(&a, &record), sheet_number(&b, &record));
        assert_ne!(sheet_number(&a, &record), sheet_number(&c, &record));
        let other = serde_json::json!({"title": "u"});
        assert_ne!(sheet_number(&a, &record), sheet_number(&a, &other));
        assert_eq!(sheet_number(&[input("a", None)], &record), None);
    }

    /// A saved sheet keeps its record in another order of bytes and without a file of its own; the scans are
    /// the same.
    #[test]
    fn the_file_of_the_record_does_not_count() {
        let of = |name: &str, record: &str, role: &str, hash: Option<&str>| {
            let own = InputFile { role: role.to_owned(), ..input(name, hash) };
            let text = record.to_owned();
            sheet_number(&[input("a.csv", Some("00")), own], &serde_json::from_str(&text).unwrap())
        };
        let record = r#"{"title":"t","excitation":{"frequency_hz":1500000,"cycles":8},"scans":[{"id":"a"}]}"#;
        let first = of("record.json", record, "record", Some("22"));
        assert!(first.is_some());
        let saved = r#"{ "scans": [ { "id": "a", "level": null } ], "water": {},
            "excitation": { "cycles": 8.0, "frequency_hz": 1.5e6 }, "title": "t" }"#;
        assert_eq!(of("sheet.html", saved, "record", Some("33")), first);
        assert_eq!(of("sheet.html", saved, "record", None), first, "not hashed yet");
        let none =
            sheet_number(&[input("a.csv", Some("00"))], &serde_json::from_str(saved).unwrap());
        assert_eq!(none, first, "no file of its own");
        let moved = [input("folder/a.csv", Some("00"))];
        assert_eq!(sheet_number(&moved, &serde_json::from_str(saved).unwrap()), first);
        let edited = record.replace("\"cycles\":8", "\"cycles\":9");
        assert_ne!(of("record.json", &edited, "record", Some("22")), first);
        let turned = record.replace("{\"id\":\"a\"}", "{\"id\":\"a\"},{\"id\":\"b\"}");
        assert_ne!(of("record.json", &turned, "record", Some("22")), first);
        assert_ne!(of("b.csv", record, "plane", Some("22")), first, "another file");
        let only = [InputFile { role: "record".to_owned(), ..input("record.json", Some("22")) }];
        assert_eq!(sheet_number(&only, &serde_json::json!({})), None);
    }
}
