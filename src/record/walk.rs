//! The draft of a record against the documented schema: every problem, with the path, what was
//! expected, what was found, and the key or word that was probably meant.

use serde_json::{Map, Value};

use super::ending::unit_of;
use super::known::{KNOWN, Meant};
use super::nearest::nearest;
use super::path::{entry_below, key_below, shortened};
use super::schema::DOCUMENTED;
use super::shape::{Choice, Shapes, json_type};
use crate::base::error::{Problem, Problems};
use crate::base::finding::Arg;

/// Problems after which the walk stops.
pub(super) const MAX_PROBLEMS: usize = 100;

/// Longest value that a problem quotes, characters.
const LONGEST_QUOTE: usize = 40;

/// Definition whose missing `kind` has a problem of its own.
const UNCERTAINTY: &str = "Uncertainty";

/// All problems of a draft; none when it has the shape of a record. The walk stops after
/// [`MAX_PROBLEMS`], and says so by `record-more-problems`.
pub(super) fn walk(draft: &Value) -> Problems {
    let shapes = Shapes::new(&DOCUMENTED);
    let mut walker = Walker { shapes, problems: Problems::new() };
    walker.visit(shapes.root(), draft, "");
    if walker.is_full() {
        let more = Problem::new("record-more-problems").with("shown", MAX_PROBLEMS);
        walker.problems.push(more);
    }
    walker.problems
}

struct Walker<'s> {
    shapes: Shapes<'s>,
    problems: Problems,
}

impl<'s> Walker<'s> {
    fn is_full(&self) -> bool {
        self.problems.len() >= MAX_PROBLEMS
    }

    fn add(&mut self, code: &str, path: &str, with: impl FnOnce(Problem) -> Problem) {
        if !self.is_full() {
            let problem = with(Problem::new(code));
            self.problems.push(if path.is_empty() { problem } else { problem.at(path) });
        }
    }

    fn visit(&mut self, schema: &'s Value, value: &Value, path: &str) {
        if self.is_full() {
            return;
        }
        let schema = self.shapes.resolve(schema);
        if !self.shapes.admits(schema, value) {
            self.wrong_type(schema, value, path);
            return;
        }
        if let (Some(words), Value::String(found)) = (self.shapes.words(schema), value) {
            self.one_of(&words, found, path);
            return;
        }
        if let Some(alternatives) = self.shapes.alternatives(schema) {
            match self.shapes.choose(alternatives, value) {
                Some(Choice::One(chosen)) => self.visit(chosen, value, path),
                Some(Choice::ByWord { key, words }) => {
                    self.word_under(value, key, &words, path);
                }
                None => {}
            }
            return;
        }
        match value {
            Value::Object(object) => self.object(schema, object, path),
            Value::Array(list) => self.list(schema, list, path),
            Value::Number(number) => self.range(schema, number, path),
            Value::String(text) => {
                if text.trim().is_empty() && schema.get("minLength").is_some() {
                    self.add("record-empty-text", path, |problem| problem);
                }
            }
            Value::Null | Value::Bool(_) => {}
        }
    }

    fn object(&mut self, schema: &'s Value, object: &Map<String, Value>, path: &str) {
        let properties = schema.get("properties").and_then(Value::as_object);
        let required: Vec<&'s str> = match schema.get("required").and_then(Value::as_array) {
            Some(keys) => keys.iter().filter_map(Value::as_str).collect(),
            None => Vec::new(),
        };
        for (key, value) in object {
            let below = key_below(path, key);
            match (properties.and_then(|known| known.get(key)), schema.get("additionalProperties"))
            {
                // A null is a blank: told below as missing where the key is required.
                (Some(_), _) if value.is_null() && required.contains(&key.as_str()) => {}
                (Some(property), _) => self.visit(property, value, &below),
                (None, Some(Value::Bool(false))) => self.unknown_key(properties, key, &below),
                (None, Some(others)) => self.visit(others, value, &below),
                (None, None) => {}
            }
            if self.is_full() {
                return;
            }
        }
        for key in required {
            if object.get(key).is_none_or(Value::is_null) {
                let property = properties.and_then(|known| known.get(key));
                self.missing_key(schema, property, key, path);
            }
        }
    }

    fn missing_key(
        &mut self,
        holder: &'s Value,
        property: Option<&'s Value>,
        key: &str,
        path: &str,
    ) {
        let uncertainty = self.shapes.definition(UNCERTAINTY);
        let is_uncertainty = uncertainty.is_some_and(|one| std::ptr::eq(one, holder));
        let code = match key {
            "kind" if is_uncertainty => "record-uncertainty-kind-missing",
            _ => "record-missing-key",
        };
        let words = property.and_then(|one| self.shapes.words(one));
        self.add(code, &key_below(path, key), |mut problem| {
            if let Some(words) = words {
                problem = problem.with("allowed", owned(&words));
            }
            problem.with("key", key)
        });
    }

    fn unknown_key(&mut self, properties: Option<&'s Map<String, Value>>, key: &str, path: &str) {
        let siblings = || properties.into_iter().flat_map(|known| known.keys()).map(String::as_str);
        let meant = KNOWN.meant(key, siblings());
        self.add("record-unknown-key", path, |mut problem| {
            match meant {
                Meant::One(nearest) => problem = problem.with("nearest", nearest),
                Meant::OneOf(elsewhere) => problem = problem.with("elsewhere", elsewhere),
                Meant::Unclear => {}
            }
            let allowed: Vec<String> = siblings().map(str::to_owned).collect();
            problem.with("key", shortened(key, LONGEST_QUOTE)).with("allowed", allowed)
        });
    }

    /// The word that tells an object's kind is missing or not one of those known.
    fn word_under(&mut self, value: &Value, key: &str, words: &[&str], path: &str) {
        let below = key_below(path, key);
        match value.get(key) {
            None | Some(Value::Null) => self.add("record-missing-key", &below, |problem| {
                problem.with("key", key).with("allowed", owned(words))
            }),
            Some(Value::String(found)) => self.one_of(words, found, &below),
            Some(other) => self.add("record-wrong-type", &below, |problem| {
                let problem = problem.with("allowed", owned(words));
                quoted(problem.with("expected", owned(&["string"])), other)
            }),
        }
    }

    fn one_of(&mut self, words: &[&str], found: &str, path: &str) {
        if words.contains(&found) {
            return;
        }
        self.add("record-not-one-of", path, |mut problem| {
            if let Some((word, _)) = nearest(found, words.iter().copied()) {
                problem = problem.with("nearest", word);
            }
            problem.with("allowed", owned(words)).with("found", shortened(found, LONGEST_QUOTE))
        });
    }

    fn wrong_type(&mut self, schema: &'s Value, value: &Value, path: &str) {
        let mut expected = self.shapes.types(schema).unwrap_or_default();
        expected.retain(|one| *one != "null");
        let words = self.shapes.words(schema);
        self.add("record-wrong-type", path, |mut problem| {
            if let Some(words) = words {
                problem = problem.with("allowed", owned(&words));
            }
            quoted(problem.with("expected", owned(&expected)), value)
        });
    }

    fn list(&mut self, schema: &'s Value, list: &[Value], path: &str) {
        let bound = |name: &str| schema.get(name).and_then(Value::as_u64);
        let (least, most) = (bound("minItems"), bound("maxItems"));
        let length = list.len() as u64;
        if least.is_some_and(|least| length < least) || most.is_some_and(|most| length > most) {
            self.add("record-wrong-length", path, |mut problem| {
                for (name, count) in [("minimum", least), ("maximum", most)] {
                    if let Some(count) = count {
                        problem = problem.with(name, count);
                    }
                }
                problem.with("found", length)
            });
            return;
        }
        let Some(items) = schema.get("items") else { return };
        for (index, value) in list.iter().enumerate() {
            self.visit(items, value, &entry_below(path, index));
            if self.is_full() {
                return;
            }
        }
    }

    fn range(&mut self, schema: &'s Value, number: &serde_json::Number, path: &str) {
        let Some(found) = number.as_f64() else { return };
        let bound = |name: &str| schema.get(name).and_then(Value::as_f64);
        let (at_least, above) = (bound("minimum"), bound("exclusiveMinimum"));
        let (at_most, below) = (bound("maximum"), bound("exclusiveMaximum"));
        let is_inside = at_least.is_none_or(|bound| found >= bound)
            && above.is_none_or(|bound| found > bound)
            && at_most.is_none_or(|bound| found <= bound)
            && below.is_none_or(|bound| found < bound);
        if is_inside {
            return;
        }
        let measure = |value: f64| match unit_of(path) {
            Some(unit) => Arg::measure(value, unit),
            None => Arg::Number(value),
        };
        self.add("record-out-of-range", path, |mut problem| {
            for (name, bound) in [("minimum", at_least.or(above)), ("maximum", at_most.or(below))] {
                if let Some(bound) = bound {
                    problem = problem.with(name, measure(bound));
                }
            }
            let exclusive = match (above, below) {
                (Some(_), Some(_)) => Some("both"),
                (Some(_), None) => Some("minimum"),
                (None, Some(_)) => Some("maximum"),
                (None, None) => None,
            };
            if let Some(exclusive) = exclusive {
                problem = problem.with("exclusive", exclusive);
            }
            problem.with("found", measure(found))
        });
    }
}

fn owned(words: &[&str]) -> Vec<String> {
    words.iter().map(|word| (*word).to_owned()).collect()
}

/// Adds what was found: its JSON type, and the value itself if it is short enough to be quoted.
fn quoted(problem: Problem, value: &Value) -> Problem {
    let problem = problem.with("found", json_type(value));
    match value {
        Value::String(text) => problem.with("value", shortened(text, LONGEST_QUOTE)),
        Value::Bool(_) | Value::Number(_) => problem.with("value", value.to_string()),
        Value::Null | Value::Array(_) | Value::Object(_) => problem,
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;
    use crate::record::SCHEMA;

    /// The only problem of a record with one more section.
    fn only(key: &str, section: Value) -> Problem {
        let scan = json!({"id": "a", "role": "point", "file": "a.csv"});
        let mut problems = walk(&json!({"schema": SCHEMA, "scans": [scan], key: section}));
        assert_eq!(problems.len(), 1, "{problems:?}");
        problems.remove(0)
    }

    fn list(words: &[&str]) -> Arg {
        Arg::List(owned(words))
    }

    #[test]
    fn an_unknown_key_is_told_with_what_was_meant() {
        let problem = only("device", json!({"nominal_freqency_hz": 1e6}));
        assert_eq!(problem.place.path.as_deref(), Some("device.nominal_freqency_hz"));
        assert_eq!(problem.args["nearest"], Arg::from("nominal_frequency_hz"));
        let problem = only("repetition_hz", json!(10));
        assert_eq!(
            problem.args["elsewhere"],
            list(&["excitation.repetition_hz", "exposure.repetition_hz"])
        );
        let problem = only("device", json!({"colour of housing": "grey"}));
        assert_eq!(problem.place.path.as_deref(), Some("device[\"colour of housing\"]"));
        assert!(!problem.args.contains_key("nearest") && problem.args.contains_key("allowed"));
    }

    #[test]
    fn a_word_is_told_with_those_allowed() {
        let problem = only("frame", json!({"handedness": "Right"}));
        assert_eq!(problem.code, "record-not-one-of");
        assert_eq!(problem.args["allowed"], list(&["right", "left"]));
        assert_eq!(problem.args["nearest"], Arg::from("right"));
        let problem = only("frame", json!({"handedness": true}));
        assert_eq!(problem.code, "record-wrong-type");
        assert_eq!(problem.args["allowed"], list(&["right", "left"]));
        assert_eq!(problem.args["value"], Arg::from("true"));
        let problem = only("analysis", json!({"lowpass": "automatic"}));
        assert_eq!(problem.args["allowed"], list(&["auto"]));
    }

    #[test]
    fn either_of_two_types_is_told() {
        let problem = only("analysis", json!({"lowpass": 80}));
        assert_eq!(problem.args["expected"], list(&["string", "object"]));
        let problem = only("sensor", json!({"effective_radius_m": "0.2 mm"}));
        assert_eq!(problem.args["expected"], list(&["number", "array"]));
        assert_eq!(problem.args["value"], Arg::from("0.2 mm"));
    }

    #[test]
    fn lengths_of_lists_are_told() {
        let problem = only("device", json!({"steering_m": [0, 0]}));
        assert_eq!(problem.code, "record-wrong-length");
        assert_eq!(problem.args["minimum"], Arg::Count(3));
        assert_eq!(problem.args["maximum"], Arg::Count(3));
        assert_eq!(problem.args["found"], Arg::Count(2));
        let problem = only("sensor", json!({"effective_radius_m": [[1e6, 1e-4], [2e6]]}));
        assert_eq!(problem.place.path.as_deref(), Some("sensor.effective_radius_m[1]"));
    }

    #[test]
    fn a_missing_key_is_told_with_its_words() {
        let problem = only("analysis", json!({"lowpass": {"cutoff_hz": 8e7}}));
        assert_eq!(problem.code, "record-missing-key");
        assert_eq!(problem.place.path.as_deref(), Some("analysis.lowpass.kind"));
        assert_eq!(problem.args["allowed"], list(&["one-pole", "cosine"]));
        let source = json!([{"source": "drift", "uncertainty": {"value": 0.1, "kind": null}}]);
        let problem = only("uncertainties", source);
        assert_eq!(problem.code, "record-uncertainty-kind-missing");
        assert_eq!(problem.args["allowed"], list(&["expanded", "standard", "half-width"]));
    }

    #[test]
    fn ranges_name_their_unit_and_open_ends() {
        let problem = only("decision", json!({"coverage": 1}));
        assert_eq!(problem.args["exclusive"], Arg::from("both"));
        let problem = only("water", json!({"temperature_c": 120}));
        assert_eq!(problem.args["maximum"], Arg::measure(95.0, "degC"));
        assert_eq!(problem.args["found"], Arg::measure(120.0, "degC"));
        assert!(!problem.args.contains_key("exclusive"));
    }
}
