//! How the errors of a sensitivity table hang together from row to row.

use serde::{Deserialize, Serialize};

/// Correlation of the errors of a table's rows: the text `common` or `independent`, or a length. It
/// holds for magnitude and phase, each by itself; errors of magnitude and phase are uncorrelated.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(untagged)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum FrequencyCorrelation {
    /// All rows together, or each by itself.
    Word(CorrelationWord),
    /// Falling with the distance of the rows.
    Length(CorrelationLength),
}

impl FrequencyCorrelation {
    /// All rows err together.
    pub const COMMON: Self = Self::Word(CorrelationWord::Common);
    /// Each row errs by itself.
    pub const INDEPENDENT: Self = Self::Word(CorrelationWord::Independent);
}

/// A blank means that all rows err together, as the systematic part of a calibration does.
impl Default for FrequencyCorrelation {
    fn default() -> Self {
        Self::COMMON
    }
}

/// Correlation in one word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum CorrelationWord {
    /// All rows err together.
    Common,
    /// Each row errs by itself.
    Independent,
}

/// Correlation that falls with the distance of the rows.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct CorrelationLength {
    /// Distance at which the correlation has fallen to 1/e, Hz: exp(−|Δf|/length).
    pub length_hz: f64,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn as_typed() {
        for (text, expected) in [
            ("\"common\"", FrequencyCorrelation::COMMON),
            ("\"independent\"", FrequencyCorrelation::INDEPENDENT),
            (
                "{\"length_hz\":2000000.0}",
                FrequencyCorrelation::Length(CorrelationLength { length_hz: 2e6 }),
            ),
        ] {
            let read: FrequencyCorrelation = serde_json::from_str(text).unwrap();
            assert_eq!(read, expected);
            assert_eq!(serde_json::to_string(&read).unwrap(), text);
        }
        assert_eq!(FrequencyCorrelation::default(), FrequencyCorrelation::COMMON);
    }

    /// What is no length above zero, and no known word, is refused with its place.
    #[test]
    fn what_is_refused() {
        let told = |value: serde_json::Value| -> String {
            let record = serde_json::json!({
                "schema": "focalsheet-record/1",
                "sensor": { "response": {
                    "kind": "table", "file": "t.csv", "frequency_correlation": value,
                } },
                "scans": [{ "id": "a", "role": "point", "file": "a.csv" }],
            });
            match crate::record::read_value(&record, "record.json") {
                Ok(_) => "read".to_owned(),
                Err(problems) => problems
                    .iter()
                    .map(|p| format!("{} {} ", p.code, p.place.path.clone().unwrap_or_default()))
                    .collect(),
            }
        };
        let place = "sensor.response.frequency_correlation";
        assert_eq!(told(serde_json::json!("independent")), "read");
        assert_eq!(told(serde_json::json!(null)), "read");
        assert_eq!(told(serde_json::json!({"length_hz": 2e6})), "read");
        for value in [
            serde_json::json!({"length_hz": 0.0}),
            serde_json::json!({"length_hz": -1.0}),
            serde_json::json!({}),
            serde_json::json!("commom"),
            serde_json::json!(2e6),
        ] {
            let said = told(value.clone());
            assert!(said.starts_with("record-") && said.contains(place), "{value} {said}");
        }
    }
}
