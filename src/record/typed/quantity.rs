//! Stated values, tolerances and uncertainties as they are typed into the sheet.

use serde_json::{Value, json};

use super::{fault, scaled, wrong_unit};
use crate::base::error::Problem;
use crate::base::quantity::entry_of;
use crate::base::typed_unit;
use crate::base::units::print_unit;
use crate::record::place::get;
use crate::record::stated_table::number::{Fault, number};
use crate::record::stated_table::split_limit;
use crate::record::stated_table::tolerance::{self, Owner, Wrong};
use crate::record::stated_table::uncertainty::{self, WrongUncertainty};

/// The quantity, SI unit and typed unit of the stated value that a path lies in.
struct Stated<'a> {
    row: String,
    si: &'static str,
    unit: Option<&'a str>,
    /// Unit in which the sheet prints the quantity.
    printed: &'static str,
}

impl<'a> Stated<'a> {
    fn at(record: &'a Value, path: &str) -> Result<Self, Problem> {
        let row = path.split('.').next().unwrap_or(path).to_owned();
        let entry =
            get(record, &format!("{row}.quantity")).and_then(Value::as_str).and_then(entry_of);
        let entry = entry.ok_or_else(|| Problem::new("typed-no-blank"))?;
        let unit = get(record, &format!("{row}.unit")).and_then(Value::as_str);
        let printed = print_unit(entry.print_unit).map_or(entry.unit, |unit| unit.text);
        Ok(Self { row, si: entry.unit, unit, printed })
    }

    fn own_unit(&self) -> &str {
        self.unit.unwrap_or(self.si)
    }

    /// A number with the unit typed behind it, in the unit of the row.
    fn in_own(&self, value: f64, typed: &str) -> Result<f64, Problem> {
        let typed = if typed.is_empty() { self.printed } else { typed };
        let factor = |unit: &str| typed_unit::factor(self.si, unit);
        match (factor(typed), factor(self.own_unit())) {
            (Some(from), Some(to)) if from == to => Ok(value),
            (Some(from), Some(to)) => Ok(scaled(value, from / to)),
            _ => Err(wrong_unit(self.si)),
        }
    }
}

/// Unit in which the sheet prints the stated value at a path; empty where there is none.
pub fn printed(record: &Value, path: &str) -> &'static str {
    Stated::at(record, path).map_or("", |stated| stated.printed)
}

/// The number of a stated value in its row's unit; a bare number is in the unit that the sheet prints.
pub fn value(record: &Value, path: &str, text: &str) -> Result<Value, Problem> {
    let stated = Stated::at(record, path)?;
    let (value, unit) = number(text).map_err(fault)?;
    stated.in_own(value, unit).map(|value| json!(value))
}

/// Limits about a stated value.
pub fn tolerance(record: &Value, path: &str, text: &str) -> Result<Value, Problem> {
    let stated = Stated::at(record, path)?;
    limits(&stated, stated.own_unit(), text)
}

fn limits(stated: &Stated<'_>, unit: &str, text: &str) -> Result<Value, Problem> {
    let owner = Owner { si: stated.si, unit, heading: None };
    let found = tolerance::tolerance(text, owner).map_err(|wrong| about(wrong, stated.si))?;
    Ok(found.map_or(Value::Null, |found| as_json(&found)))
}

/// A stated value with its unit and its limits: `7.8 MPa ± 20 %`, `≤ 9 MPa`, `7.8 MPa`. The typed unit
/// becomes the row's.
pub fn stated(record: &Value, path: &str, text: &str) -> Result<Vec<(String, Value)>, Problem> {
    let stated = Stated::at(record, path)?;
    let (limit, rest) = split_limit(text);
    let (main, limits_text) = rest.split_at(limits_start(rest));
    let (value, unit) = number(main.trim().trim_end_matches([',', ';'])).map_err(fault)?;
    let unit = if unit.is_empty() { stated.printed } else { unit };
    if typed_unit::factor(stated.si, unit).is_none() {
        return Err(wrong_unit(stated.si));
    }
    let tolerance = match (limit, limits_text.trim()) {
        (Some(limit), "") => as_json(&limit),
        (Some(_), _) => return Err(Problem::new("typed-not-a-tolerance")),
        (None, "") => Value::Null,
        (None, limits_text) => limits(&stated, unit, limits_text)?,
    };
    Ok(vec![
        (format!("{}.value", stated.row), json!(value)),
        (format!("{}.unit", stated.row), json!(unit)),
        (format!("{}.tolerance", stated.row), tolerance),
    ])
}

/// Where the limits begin: at a sign that stands behind the number and its unit, or at a bracket or a
/// comma before it.
fn limits_start(text: &str) -> usize {
    let mut before = ' ';
    let mut digits = false;
    for (at, c) in text.char_indices() {
        let sign = matches!(c, '±' | '+') || (matches!(c, '-' | '−') && before.is_whitespace());
        if sign && digits && !matches!(before, 'e' | 'E') {
            return at;
        }
        digits |= c.is_ascii_digit();
        before = c;
    }
    text.len()
}

fn as_json(tolerance: &crate::record::Tolerance) -> Value {
    serde_json::to_value(tolerance).unwrap_or(Value::Null)
}

/// An uncertainty with its kind. `unit` is that of the value it belongs to; a stated value has its own.
pub fn uncertainty(
    record: &Value,
    path: &str,
    text: &str,
    unit: Option<&'static str>,
) -> Result<Value, Problem> {
    let stated = if path.starts_with("stated[") { Some(Stated::at(record, path)?) } else { None };
    let (si, own) = match (&stated, unit) {
        (Some(stated), _) => (stated.si, stated.own_unit()),
        (None, Some(unit)) => (unit, unit),
        (None, None) => ("", ""),
    };
    // As one says it: `± 10 % (k = 2)`.
    let text = text.trim();
    let text = ["±", "+-", "+/-"].iter().find_map(|sign| text.strip_prefix(sign)).unwrap_or(text);
    let found = uncertainty::uncertainty(text, "", Owner { si, unit: own, heading: None });
    let found = found.map_err(|wrong| wrong_uncertainty(wrong, si))?;
    Ok(found.map_or(Value::Null, |found| serde_json::to_value(found).unwrap_or(Value::Null)))
}

/// What is wrong with an uncertainty of a value in an SI unit; one without takes a percentage alone.
pub fn wrong_uncertainty(wrong: WrongUncertainty, si: &str) -> Problem {
    match wrong {
        WrongUncertainty::NoKind => Problem::new("typed-no-kind"),
        WrongUncertainty::CoverageFactor
        | WrongUncertainty::Number(Wrong::Number(Fault::NotANumber) | Wrong::Form) => {
            Problem::new("typed-no-uncertainty")
        }
        WrongUncertainty::Number(Wrong::Unit | Wrong::NoUnit) if si.is_empty() => {
            Problem::new("typed-wrong-unit").with("allowed", vec!["%".to_owned()])
        }
        WrongUncertainty::Number(wrong) => about(wrong, si),
    }
}

fn about(wrong: Wrong, si: &str) -> Problem {
    match wrong {
        Wrong::Number(found) => fault(found),
        Wrong::Form => Problem::new("typed-not-a-tolerance"),
        Wrong::NoUnit | Wrong::Unit => wrong_unit(si),
        Wrong::PercentOfPercent => Problem::new("typed-percent-of-percent"),
    }
}
