//! The JSON Schema of a record: generated from the types, kept in `docs/record.schema.json`, and
//! read back by the walker, so that what is documented is what is enforced.

use std::sync::LazyLock;

use serde_json::Value;

/// Text of `docs/record.schema.json`.
pub const SCHEMA_TEXT: &str = include_str!("../../docs/record.schema.json");

/// The schema of `docs/record.schema.json`. Text that is no JSON would become the schema that
/// allows everything; a test below keeps that from happening.
pub(super) static DOCUMENTED: LazyLock<Value> =
    LazyLock::new(|| serde_json::from_str(SCHEMA_TEXT).unwrap_or(Value::Bool(true)));

/// The schema as the types give it, with the ranges of `limits`, and with null allowed for every
/// key that may be missing.
#[cfg(not(target_arch = "wasm32"))]
pub fn schema() -> Value {
    let mut schema = schemars::schema_for!(super::Record).to_value();
    if let Some(word) = schema.pointer_mut("/properties/schema")
        && let Some(word) = word.as_object_mut()
    {
        word.insert("const".to_owned(), super::SCHEMA.into());
    }
    generate::ranges(&mut schema);
    generate::whole_numbers(&mut schema);
    generate::blanks(&mut schema);
    schema
}

/// What the types alone do not say.
#[cfg(not(target_arch = "wasm32"))]
mod generate {
    use serde_json::{Map, Value, json};

    use crate::record::limits::{LIMITS, NEVER_EMPTY_LISTS, NEVER_EMPTY_TEXTS};

    /// Adds the ranges of numbers and the least lengths of lists and texts.
    pub(super) fn ranges(schema: &mut Value) {
        for limit in LIMITS {
            each_key(schema, limit.holder, limit.key, &mut |key| {
                let lower = if limit.above { "exclusiveMinimum" } else { "minimum" };
                let upper = if limit.below { "exclusiveMaximum" } else { "maximum" };
                key.remove("minimum");
                key.insert(lower.to_owned(), json!(limit.minimum));
                key.insert(upper.to_owned(), json!(limit.maximum));
            });
        }
        for (holder, key) in NEVER_EMPTY_LISTS {
            each_key(schema, holder, key, &mut |key| {
                key.insert("minItems".to_owned(), json!(1));
            });
        }
        for (holder, key) in NEVER_EMPTY_TEXTS {
            each_key(schema, holder, key, &mut |key| {
                key.insert("minLength".to_owned(), json!(1));
            });
        }
    }

    /// Visits the schema of a key of a type; of every variant that has the key.
    pub(super) fn each_key(
        schema: &mut Value,
        holder: &str,
        key: &str,
        visit: &mut dyn FnMut(&mut Map<String, Value>),
    ) {
        let holder = if schema["title"] == holder {
            Some(schema)
        } else {
            schema.pointer_mut(&format!("/$defs/{holder}"))
        };
        let Some(holder) = holder else { return };
        for properties in property_lists(holder) {
            if let Some(Value::Object(found)) = properties.get_mut(key) {
                visit(found);
            }
        }
    }

    /// The properties of an object's schema, or of each of its variants.
    fn property_lists(holder: &mut Value) -> Vec<&mut Map<String, Value>> {
        let mut lists = Vec::new();
        let Value::Object(holder) = holder else { return lists };
        for (name, part) in holder {
            match (name.as_str(), part) {
                ("properties", Value::Object(properties)) => lists.push(properties),
                ("oneOf" | "anyOf", Value::Array(variants)) => {
                    lists.extend(variants.iter_mut().flat_map(property_lists));
                }
                _ => {}
            }
        }
        lists
    }

    /// Gives whole numbers that have no largest value yet that of their type.
    pub(super) fn whole_numbers(schema: &mut Value) {
        match schema {
            Value::Object(object) => {
                object.values_mut().for_each(whole_numbers);
                if object.get("format") == Some(&json!("uint32")) {
                    object.entry("maximum").or_insert(json!(u32::MAX));
                }
            }
            Value::Array(parts) => parts.iter_mut().for_each(whole_numbers),
            _ => {}
        }
    }

    /// Lets every key that may be missing be null as well: a blank.
    pub(super) fn blanks(schema: &mut Value) {
        match schema {
            Value::Object(object) => {
                object.values_mut().for_each(blanks);
                let required = object.get("required").cloned().unwrap_or_default();
                let required = required.as_array().cloned().unwrap_or_default();
                if let Some(Value::Object(properties)) = object.get_mut("properties") {
                    for (key, property) in properties {
                        if !required.contains(&Value::from(key.as_str())) {
                            allow_null(property);
                        }
                    }
                }
            }
            Value::Array(parts) => parts.iter_mut().for_each(blanks),
            _ => {}
        }
    }

    fn allow_null(property: &mut Value) {
        let Value::Object(property) = property else { return };
        if let Some(Value::String(kind)) = property.get("type") {
            let kind = kind.clone();
            property.insert("type".to_owned(), json!([kind, "null"]));
        } else if let Some(reference) = property.remove("$ref") {
            property.insert("anyOf".to_owned(), json!([{"$ref": reference}, {"type": "null"}]));
        }
    }

    #[cfg(test)]
    mod tests {
        use super::*;

        /// Every entry of the tables names a key that exists.
        #[test]
        fn tables_name_existing_keys() {
            let mut schema = super::super::schema();
            let ranges = LIMITS.iter().map(|limit| (limit.holder, limit.key));
            let all = ranges.chain(NEVER_EMPTY_LISTS.iter().chain(NEVER_EMPTY_TEXTS).copied());
            for (holder, key) in all {
                let mut hits = 0;
                each_key(&mut schema, holder, key, &mut |_| hits += 1);
                assert!(hits > 0, "{holder}.{key}");
            }
        }

        /// Numbers that are typed have a range; those that carry their own unit cannot, and a few
        /// are tested across fields in `check`.
        #[test]
        fn numbers_have_a_range() {
            let free = [
                ("Tolerance", "lower"),
                ("Tolerance", "upper"),
                ("Reading", "value"),
                ("Stated", "value"),
                ("ArrayRef", "step"),
                ("AxisSteps", "start"),
                ("AxisSteps", "step"),
                ("TimeSteps", "t0"),
                ("Volts", "scale"),
                ("Volts", "offset"),
            ];
            let mut schema = super::super::schema();
            let holders: Vec<String> =
                schema["$defs"].as_object().unwrap().keys().cloned().collect();
            for holder in &holders {
                let object = schema.pointer_mut(&format!("/$defs/{holder}")).unwrap();
                for properties in property_lists(object) {
                    for (key, property) in properties {
                        let kind = property["type"].to_string();
                        if !(kind.contains("number") || kind.contains("integer")) {
                            continue;
                        }
                        let bounded = property.get("minimum").is_some()
                            || property.get("exclusiveMinimum").is_some();
                        let is_free = free.contains(&(holder.as_str(), key.as_str()));
                        assert!(bounded != is_free, "{holder}.{key}");
                    }
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The documented schema is that of the types. With `FOCALSHEET_BLESS=1` the file is written
    /// anew instead.
    #[test]
    fn documented_schema_is_that_of_the_types() {
        let generated = serde_json::to_string_pretty(&schema()).unwrap() + "\n";
        if std::env::var_os("FOCALSHEET_BLESS").is_some() {
            let path = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/record.schema.json");
            std::fs::write(path, generated).unwrap();
            return;
        }
        assert_eq!(*DOCUMENTED, schema(), "run once more with FOCALSHEET_BLESS=1");
        assert_eq!(SCHEMA_TEXT.replace("\r\n", "\n"), generated);
    }

    /// JSON Schema 2020-12, core section 8.1.1: the dialect is named by its URI.
    #[test]
    fn schema_names_its_dialect() {
        assert_eq!(DOCUMENTED["$schema"], "https://json-schema.org/draft/2020-12/schema");
    }
}
