//! Reading a JSON Schema: references, alternatives, types, words. As much of it as the generated
//! schema uses.

use serde_json::{Map, Value};

use super::nearest::distance;

/// Longest chain of references that is followed.
const LONGEST_CHAIN: usize = 8;

/// A schema in which references can be followed.
#[derive(Debug, Clone, Copy)]
pub(super) struct Shapes<'s> {
    root: &'s Value,
}

/// Which alternative a value means.
pub(super) enum Choice<'s> {
    /// This one.
    One(&'s Value),
    /// One of those that carry these words under a key, but the value's word is none of them.
    ByWord { key: &'s str, words: Vec<&'s str> },
}

impl<'s> Shapes<'s> {
    pub(super) fn new(root: &'s Value) -> Self {
        Self { root }
    }

    pub(super) fn root(&self) -> &'s Value {
        self.root
    }

    /// A named definition.
    pub(super) fn definition(&self, name: &str) -> Option<&'s Value> {
        self.root.get("$defs")?.get(name)
    }

    /// The schema itself, behind references.
    pub(super) fn resolve(&self, mut schema: &'s Value) -> &'s Value {
        for _ in 0..LONGEST_CHAIN {
            let reference = schema.get("$ref").and_then(Value::as_str);
            let Some(pointer) = reference.and_then(|text| text.strip_prefix('#')) else { break };
            let Some(target) = self.root.pointer(pointer) else { break };
            schema = target;
        }
        schema
    }

    /// The alternatives of a schema, if it has any.
    pub(super) fn alternatives(&self, schema: &'s Value) -> Option<&'s Vec<Value>> {
        let schema = self.resolve(schema);
        schema.get("oneOf").or_else(|| schema.get("anyOf"))?.as_array()
    }

    /// JSON types that a schema admits, each once; `None` when it admits any.
    pub(super) fn types(&self, schema: &'s Value) -> Option<Vec<&'s str>> {
        let schema = self.resolve(schema);
        let mut types = match (schema.get("type"), self.alternatives(schema)) {
            (Some(Value::String(one)), _) => vec![one.as_str()],
            (Some(Value::Array(several)), _) => several.iter().filter_map(Value::as_str).collect(),
            (_, Some(alternatives)) => {
                let mut all = Vec::new();
                for alternative in alternatives {
                    all.extend(self.types(alternative)?);
                }
                all
            }
            _ => return None,
        };
        let mut seen = Vec::new();
        types.retain(|one| {
            let fresh = !seen.contains(one);
            seen.push(*one);
            fresh
        });
        Some(types)
    }

    /// Whether a schema admits the JSON type of a value.
    pub(super) fn admits(&self, schema: &'s Value, value: &Value) -> bool {
        self.admits_type(schema, json_type(value))
    }

    fn admits_type(&self, schema: &'s Value, found: &str) -> bool {
        let fits = |one: &str| one == found || (one == "number" && found == "integer");
        let schema = self.resolve(schema);
        match (schema.get("type"), self.alternatives(schema)) {
            (Some(Value::String(one)), _) => fits(one),
            (Some(Value::Array(several)), _) => several.iter().filter_map(Value::as_str).any(fits),
            (_, Some(alternatives)) => alternatives.iter().any(|one| self.admits_type(one, found)),
            _ => true,
        }
    }

    /// The texts that a schema admits, when it admits only some.
    pub(super) fn words(&self, schema: &'s Value) -> Option<Vec<&'s str>> {
        let schema = self.resolve(schema);
        if let Some(word) = schema.get("const").and_then(Value::as_str) {
            return Some(vec![word]);
        }
        if let Some(words) = schema.get("enum").and_then(Value::as_array) {
            return Some(words.iter().filter_map(Value::as_str).collect());
        }
        let of_text = |one: &&Value| self.admits_type(one, "string");
        let mut words = Vec::new();
        for alternative in self.alternatives(schema)?.iter().filter(of_text) {
            words.extend(self.words(alternative)?);
        }
        (!words.is_empty()).then_some(words)
    }

    /// The alternative that a value means, among those that admit its JSON type. Objects are told
    /// apart by the word under a common key, or else by the keys they have. `None` if no
    /// alternative admits the type.
    pub(super) fn choose(&self, alternatives: &'s [Value], value: &Value) -> Option<Choice<'s>> {
        let mut fitting: Vec<&'s Value> =
            alternatives.iter().filter(|one| self.admits(one, value)).collect();
        if let (Value::Object(object), [_, _, ..]) = (value, fitting.as_slice()) {
            if let Some(choice) = self.choose_by_word(&fitting, object) {
                return Some(choice);
            }
            fitting.sort_by_key(|one| std::cmp::Reverse(self.likeness(one, object)));
        }
        fitting.first().map(|one| Choice::One(one))
    }

    fn choose_by_word(
        &self,
        fitting: &[&'s Value],
        object: &Map<String, Value>,
    ) -> Option<Choice<'s>> {
        let mut common = None;
        let mut words = Vec::new();
        for alternative in fitting {
            let properties = self.resolve(alternative).get("properties")?.as_object()?;
            let (key, word) = properties
                .iter()
                .find_map(|(key, one)| Some((key.as_str(), one.get("const")?.as_str()?)))?;
            if *common.get_or_insert(key) != key {
                return None;
            }
            if object.get(key).and_then(Value::as_str) == Some(word) {
                return Some(Choice::One(alternative));
            }
            words.push(word);
        }
        Some(Choice::ByWord { key: common?, words })
    }

    /// How many of an object's keys an alternative knows, near misses counting half.
    fn likeness(&self, alternative: &'s Value, object: &Map<String, Value>) -> usize {
        let properties = self.resolve(alternative).get("properties").and_then(Value::as_object);
        let Some(properties) = properties else { return 0 };
        let known = |key: &String| {
            if properties.contains_key(key) {
                2
            } else {
                usize::from(properties.keys().any(|one| distance(key, one).is_some()))
            }
        };
        object.keys().map(known).sum()
    }
}

/// JSON type of a value; a whole number is an `integer`.
pub(super) fn json_type(value: &Value) -> &'static str {
    match value {
        Value::Null => "null",
        Value::Bool(_) => "boolean",
        Value::Number(number) if number.is_f64() => "number",
        Value::Number(_) => "integer",
        Value::String(_) => "string",
        Value::Array(_) => "array",
        Value::Object(_) => "object",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn schema() -> Value {
        json!({
            "$defs": {
                "Colour": {"oneOf": [{"type": "string", "const": "red"},
                                     {"type": "string", "const": "blue"}]},
                "Round": {"type": "object", "properties": {"kind": {"const": "round"}}},
                "Square": {"type": "object", "properties": {"kind": {"const": "square"}}},
                "Loop": {"$ref": "#/$defs/Loop"}
            },
            "maybe": {"anyOf": [{"$ref": "#/$defs/Colour"}, {"type": "null"}]},
            "either": {"anyOf": [{"type": "object", "properties": {"array": {}, "unit": {}}},
                                 {"type": "object", "properties": {"start": {}, "step": {}}}]},
            "tagged": {"oneOf": [{"$ref": "#/$defs/Round"}, {"$ref": "#/$defs/Square"}]},
            "free": {"anyOf": [{"type": "string"}, {"$ref": "#/$defs/Colour"}]}
        })
    }

    #[test]
    fn types_and_words_are_found_behind_references() {
        let root = schema();
        let shapes = Shapes::new(&root);
        assert_eq!(shapes.types(&root["maybe"]), Some(vec!["string", "null"]));
        assert_eq!(shapes.words(&root["maybe"]), Some(vec!["red", "blue"]));
        assert_eq!(shapes.words(&root["free"]), None);
        assert_eq!(shapes.types(&json!(true).clone()), None);
        assert!(shapes.admits(&root["maybe"], &Value::Null));
        assert!(!shapes.admits(&root["maybe"], &json!(1)));
        // A chain without an end is left off, not followed for ever.
        assert_eq!(shapes.types(&root["$defs"]["Loop"]), None);
    }

    #[test]
    fn alternatives_are_chosen_by_word_or_by_keys() {
        let root = schema();
        let shapes = Shapes::new(&root);
        let chosen = |name: &str, value: Value| {
            let alternatives = shapes.alternatives(&root[name]).unwrap();
            match shapes.choose(alternatives, &value) {
                Some(Choice::One(one)) => alternatives.iter().position(|a| a == one),
                _ => None,
            }
        };
        assert_eq!(chosen("tagged", json!({"kind": "square"})), Some(1));
        assert_eq!(chosen("tagged", json!({"kind": "oval"})), None);
        assert_eq!(chosen("either", json!({"step": 1})), Some(1));
        assert_eq!(chosen("either", json!({"stpe": 1})), Some(1));
        assert_eq!(chosen("either", json!({"unit": "mm", "array": "x"})), Some(0));
        assert_eq!(chosen("either", json!({})), Some(0));
    }
}
