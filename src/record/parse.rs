//! From text to a JSON value, distrustful: size, depth, and keys that stand twice.

use std::fmt;

use serde::de::{DeserializeSeed, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use serde_json::error::Category;
use serde_json::{Map, Number, Value};

use super::path::{entry_below, key_below, shortened};
use super::walk::MAX_PROBLEMS;
use crate::base::error::{Problem, Problems};

/// Largest record that is read, bytes.
pub const MAX_BYTES: usize = 4 << 20;

/// Deepest nesting that is read; a record needs 8.
pub const MAX_DEPTH: usize = 32;

/// Parses the text of a record. A byte order mark is passed over.
///
/// # Errors
/// `record-too-large`, `record-empty`, `record-not-json`, `record-too-deep`, `record-key-twice`.
pub(super) fn parse(text: &str) -> Result<Value, Problems> {
    if text.len() > MAX_BYTES {
        let problem = Problem::new("record-too-large");
        return Err(vec![problem.with("maximum_bytes", MAX_BYTES).with("found_bytes", text.len())]);
    }
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() {
        return Err(vec![Problem::new("record-empty")]);
    }
    let mut seen = Seen::default();
    let mut json = serde_json::Deserializer::from_str(text);
    let place = Here { path: String::new(), depth: 0, seen: &mut seen };
    let value = place.deserialize(&mut json).and_then(|value| json.end().map(|()| value));
    match value {
        Ok(value) if seen.twice.is_empty() => Ok(value),
        Ok(_) => Err(seen.twice),
        Err(_) if seen.too_deep.is_some() => {
            let path = seen.too_deep.unwrap_or_default();
            Err(vec![Problem::new("record-too-deep").at(path).with("maximum", MAX_DEPTH)])
        }
        Err(error) => {
            let cause = match error.classify() {
                Category::Eof => "unfinished",
                Category::Syntax | Category::Data | Category::Io => "syntax",
            };
            let problem = Problem::new("record-not-json").with("cause", cause);
            Err(vec![problem.with("line", error.line()).with("column", error.column())])
        }
    }
}

/// What was noticed while parsing.
#[derive(Default)]
struct Seen {
    twice: Problems,
    too_deep: Option<String>,
}

/// A value about to be parsed, with its place.
struct Here<'a> {
    path: String,
    depth: usize,
    seen: &'a mut Seen,
}

impl Here<'_> {
    fn check_depth<E: Error>(&mut self) -> Result<(), E> {
        if self.depth < MAX_DEPTH {
            return Ok(());
        }
        self.seen.too_deep = Some(std::mem::take(&mut self.path));
        Err(E::custom("too deep"))
    }
}

impl<'de> DeserializeSeed<'de> for Here<'_> {
    type Value = Value;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Value, D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Here<'_> {
    type Value = Value;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a JSON value")
    }

    fn visit_unit<E>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_bool<E>(self, value: bool) -> Result<Value, E> {
        Ok(Value::Bool(value))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_u64<E>(self, value: u64) -> Result<Value, E> {
        Ok(value.into())
    }

    /// A whole number may be written `12.0` or `1e3` (JSON Schema 2020-12, core 4.2.3).
    fn visit_f64<E: Error>(self, value: f64) -> Result<Value, E> {
        const EXACT: f64 = 9_007_199_254_740_992.0;
        if value.fract() == 0.0 && value.abs() <= EXACT {
            return Ok(Value::from(value as i64));
        }
        Number::from_f64(value).map(Value::Number).ok_or_else(|| E::custom("not finite"))
    }

    fn visit_str<E>(self, value: &str) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_string<E>(self, value: String) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_seq<A: SeqAccess<'de>>(mut self, mut entries: A) -> Result<Value, A::Error> {
        self.check_depth()?;
        let mut list = Vec::new();
        loop {
            let path = entry_below(&self.path, list.len());
            let entry = Here { path, depth: self.depth + 1, seen: self.seen };
            match entries.next_element_seed(entry)? {
                Some(value) => list.push(value),
                None => return Ok(Value::Array(list)),
            }
        }
    }

    fn visit_map<A: MapAccess<'de>>(mut self, mut members: A) -> Result<Value, A::Error> {
        self.check_depth()?;
        let mut object = Map::new();
        while let Some(key) = members.next_key::<String>()? {
            let path = key_below(&self.path, &key);
            if object.contains_key(&key) && self.seen.twice.len() < MAX_PROBLEMS {
                let problem = Problem::new("record-key-twice").at(path.clone());
                self.seen.twice.push(problem.with("key", shortened(&key, 60)));
            }
            let member = Here { path, depth: self.depth + 1, seen: self.seen };
            let value = members.next_value_seed(member)?;
            object.insert(key, value);
        }
        Ok(Value::Object(object))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::finding::Arg;
    use serde_json::json;

    fn only(text: &str) -> Problem {
        let mut problems = parse(text).unwrap_err();
        assert_eq!(problems.len(), 1, "{problems:?}");
        problems.remove(0)
    }

    #[test]
    fn a_byte_order_mark_is_passed_over() {
        assert_eq!(parse("\u{feff}{\"a\": [1, null]}").unwrap(), json!({"a": [1, null]}));
    }

    #[test]
    fn empty_text_is_said_to_be_empty() {
        for text in ["", " \n\t", "\u{feff}", "\u{feff} \r\n"] {
            assert_eq!(only(text).code, "record-empty");
        }
    }

    /// Line and column point at the spot, counted from 1.
    #[test]
    fn broken_json_is_located() {
        let problem = only("{\n  \"a\": 1,\n  b: 2\n}");
        assert_eq!(problem.code, "record-not-json");
        assert_eq!(problem.args["line"], Arg::Count(3));
        assert_eq!(problem.args["column"], Arg::Count(3));
        assert_eq!(problem.args["cause"], Arg::from("syntax"));
        assert_eq!(only("{\"a\": [1, 2").args["cause"], Arg::from("unfinished"));
        for text in ["{} {}", "{\"a\": NaN}", "{\"a\": 1e999}", "[1,]", "\u{0}"] {
            assert_eq!(only(text).code, "record-not-json", "{text}");
        }
    }

    #[test]
    fn depth_and_size_are_limited() {
        let nested = |depth: usize| "[".repeat(depth) + &"]".repeat(depth);
        assert!(parse(&nested(MAX_DEPTH)).is_ok());
        for text in [nested(MAX_DEPTH + 1), "[".repeat(1_000_000), "{\"a\":".repeat(100_000)] {
            assert_eq!(only(&text).code, "record-too-deep");
        }
        assert_eq!(only(&" ".repeat(MAX_BYTES + 1)).code, "record-too-large");
    }

    #[test]
    fn keys_that_stand_twice_are_all_named() {
        let problems = parse(r#"{"a": 1, "b": [{"c": 1, "c": 2}], "a": 3}"#).unwrap_err();
        let paths: Vec<_> = problems.iter().filter_map(|p| p.place.path.as_deref()).collect();
        assert_eq!(paths, ["b[0].c", "a"]);
        assert!(problems.iter().all(|problem| problem.code == "record-key-twice"));
        let many = format!("{{{}\"z\": 0}}", "\"k\": 1,".repeat(100_000));
        assert_eq!(parse(&many).unwrap_err().len(), MAX_PROBLEMS);
    }

    /// JSON Schema 2020-12, core 4.2.3: 1.0 and 1 are the same number; 1e3 is whole.
    #[test]
    fn whole_numbers_may_be_written_as_decimals() {
        assert_eq!(parse("[12.0, 1e3, 0.5]").unwrap(), json!([12, 1000, 0.5]));
        assert_eq!(parse("1e300").unwrap(), json!(1e300));
    }
}
