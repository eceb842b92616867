//! An example of what a blank takes, for a text that is no number.

use serde_json::Value;

use super::{Kind, quantity, shown};
use crate::record::place::get;

/// A text that the blank at a path takes, with a decimal point.
pub fn of(record: &Value, path: &str, kind: &Kind) -> String {
    match kind {
        Kind::Number { whole: true, .. } => "12".to_owned(),
        Kind::Number { bare: "degC", .. } => "21.4 °C".to_owned(),
        Kind::Number { bare: "", .. } if path.starts_with("decision") => "0.95".to_owned(),
        Kind::Number { bare: "", .. } => "8".to_owned(),
        Kind::Number { bare, .. } => format!("1.5 {}", shown(bare)),
        Kind::Level => {
            let unit = get(record, "excitation.level_unit").and_then(Value::as_str).unwrap_or("V");
            format!("40 {unit}")
        }
        Kind::Volts => "0.5 mV".to_owned(),
        Kind::Response => "40 mV/MPa".to_owned(),
        Kind::Tolerance => "±15 %".to_owned(),
        Kind::Stated | Kind::StatedValue => format!("7.8 {}", quantity::printed(record, path)),
        Kind::Text | Kind::Word(_) | Kind::Day | Kind::Uncertainty { .. } => String::new(),
    }
}
