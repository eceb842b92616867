//! Text typed into a blank of the sheet: the value that it means for the record.
//!
//! | blank | accepted |
//! |---|---|
//! | number with a unit in its key | `21,4 °C`, `1.5 MHz`, `120 mm`; without a unit in the blank's own |
//! | number without one | `12`, `1.5e3`; of cycles also `8 cycles` |
//! | rate, temperature | also `50 per second`, `50/s`; `22,5 degrees`, `22.5 C` |
//! | radius | also `diameter 0,4 mm`, `Ø 0,4 mm`: half of it |
//! | drive level | with the record's `level_unit`, or the unit that it then gets |
//! | uncertainty | `3 % (k=2)`, `0.2 mm standard`; never without its kind |
//! | sensitivity | `40 mV/MPa at 1 MHz, 12 % (k=2)`, `-268 dB` |
//! | unit of a file's samples | `1 mV`, for counts `0.1 mV` |
//! | stated value | `7.8 MPa ± 20 %`, `≤ 9 MPa` |
//! | tolerance | `±15 %`, `+20 % / -10 %` |
//! | day | `2026-05-04`, `4.5.2026` |
//! | word | one of those that the schema allows |
//!
//! `1,500` and `1.500` may each be one and a half or fifteen hundred: both readings are given back.

mod ambiguous;
mod as_said;
mod blank;
mod example;
mod quantity;
mod sensitivity;

pub use ambiguous::Reading;
pub(super) use blank::Kind;
pub(super) use blank::kind_of;

use serde_json::{Value, json};

use super::date::Day;
use super::path::shortened;
use super::stated_table::number::{self, Fault};
use crate::base::error::Problem;
use crate::base::typed_unit;

/// Longest text that a blank takes, characters.
pub const LONGEST_TEXT: usize = 2000;

/// What a typed text means.
#[derive(Debug, Clone, PartialEq)]
pub enum Typed {
    /// Values by path: one, or several where a text says several things.
    Values(Vec<(String, Value)>),
    /// It may be read in two ways: as text, the decimal one first.
    Ambiguous([String; 2]),
}

/// The value or values that a text means in the blank at a path of a record. An empty text leaves
/// the blank blank (null).
///
/// # Errors
/// When the blank takes no text, or not this one: with what it does take.
///
/// # Examples
/// `21,4 °C` at `water.temperature_c` is 21.4; `120 mm` at `device.radius_of_curvature_m` is 0.12.
pub fn typed(
    record: &Value,
    path: &str,
    text: &str,
    reading: Option<Reading>,
) -> Result<Typed, Problem> {
    let text = text.trim();
    let kind = kind_of(path).ok_or_else(|| Problem::new("typed-no-blank").at(path))?;
    if text.chars().count() > LONGEST_TEXT {
        let long = Problem::new("typed-too-long").at(path);
        return Err(long.with("limit", LONGEST_TEXT));
    }
    if text.is_empty() {
        return Ok(one(path, Value::Null));
    }
    let example = example::of(record, path, &kind);
    let about = |problem: Problem| {
        let about = problem.at(path).with("found", shortened(text, 60));
        if about.code == "typed-not-a-number" { about.with("example", example) } else { about }
    };
    let numeric = matches!(
        kind,
        Kind::Number { .. }
            | Kind::Level
            | Kind::StatedValue
            | Kind::Stated
            | Kind::Response
            | Kind::Volts
    );
    let plain = match (numeric, ambiguous::readings(text)) {
        (true, Some(readings)) => match reading {
            None => return Ok(Typed::Ambiguous(readings.shown)),
            Some(reading) => readings.plain(reading),
        },
        _ => text.to_owned(),
    };
    match kind {
        Kind::Text => Ok(one(path, json!(text))),
        Kind::Word(words) => word(text, &words).map_err(about).map(|found| one(path, found)),
        Kind::Day => day(text).map_err(about).map(|found| one(path, found)),
        Kind::Number { unit, bare, whole } => {
            let (plain, share) = as_said::number(path, &plain);
            let found = number_in(plain, share, unit, bare, whole);
            found.map_err(about).map(|found| one(path, found))
        }
        Kind::Level => level(record, path, &plain).map_err(about),
        Kind::Uncertainty { unit } => {
            quantity::uncertainty(record, path, text, unit).map_err(about).map(|v| one(path, v))
        }
        Kind::Tolerance => {
            quantity::tolerance(record, path, text).map_err(about).map(|v| one(path, v))
        }
        Kind::StatedValue => {
            quantity::value(record, path, &plain).map_err(about).map(|v| one(path, v))
        }
        Kind::Response => {
            sensitivity::response(record, path, &plain).map_err(about).map(|v| one(path, v))
        }
        Kind::Volts => {
            sensitivity::volts(record, path, &plain).map_err(about).map(|v| one(path, v))
        }
        Kind::Stated => quantity::stated(record, path, &plain).map_err(about).map(Typed::Values),
    }
}

/// A number and the unit behind it, as typed.
///
/// # Errors
/// `typed-not-a-number`, `typed-ambiguous`.
pub fn number_and_unit(text: &str) -> Result<(f64, &str), Problem> {
    number::number(text).map_err(fault)
}

/// Whether a blank at a path takes text.
pub fn takes_text(path: &str) -> bool {
    kind_of(path).is_some()
}

/// Whether a text still means what the record holds: what is kept as typed may be stale.
pub(super) fn still_means(record: &Value, path: &str, text: &str) -> bool {
    // `1500` and `1500.0` are one number.
    let same = |a: &Value, b: &Value| a == b || a.as_f64().is_some_and(|a| Some(a) == b.as_f64());
    let held = |path: &str| super::place::get(record, path).unwrap_or(&Value::Null);
    let holds = |reading| match typed(record, path, text, reading) {
        Ok(Typed::Values(values)) => values.iter().all(|(path, value)| same(held(path), value)),
        _ => false,
    };
    [None, Some(Reading::Decimal), Some(Reading::Thousands)].into_iter().any(holds)
}

fn one(path: &str, value: Value) -> Typed {
    Typed::Values(vec![(path.to_owned(), value)])
}

fn fault(fault: Fault) -> Problem {
    match fault {
        Fault::NotANumber => Problem::new("typed-not-a-number"),
        Fault::Ambiguous => Problem::new("typed-ambiguous"),
    }
}

/// A share of a number with or without a unit, in the unit of its key.
fn number_in(
    text: &str,
    share: f64,
    unit: Option<&'static str>,
    bare: &'static str,
    whole: bool,
) -> Result<Value, Problem> {
    let (value, typed) = number::number(text).map_err(fault)?;
    let factor = match (unit, typed) {
        (Some(unit), "") => typed_unit::factor(unit, bare).unwrap_or(1.0),
        (Some(unit), typed) => typed_unit::factor(unit, typed).ok_or_else(|| wrong_unit(unit))?,
        (None, "") => 1.0,
        (None, _) => return Err(Problem::new("typed-no-unit")),
    };
    let value = scaled(value * share, factor);
    if whole && value.fract() != 0.0 {
        return Err(Problem::new("typed-not-whole"));
    }
    if whole && value.abs() < 1e15 { Ok(json!(value as i64)) } else { Ok(json!(value)) }
}

/// A product as its decimal digits say it: 1.1 MHz is 1100000 Hz, 0.3 mm is 0.0003 m, without the
/// last digits of a binary product.
pub(super) fn scaled(value: f64, factor: f64) -> f64 {
    let power = factor.log10().round();
    if factor == 1.0 {
        value
    } else if (10f64.powf(power) / factor - 1.0).abs() < 1e-12 {
        let text = format!("{value:e}");
        let (digits, exponent) = text.split_once('e').unwrap_or((&text, "0"));
        let exponent = exponent.parse::<i32>().unwrap_or(0) + power as i32;
        format!("{digits}e{exponent}").parse().unwrap_or(value * factor)
    } else {
        value * factor
    }
}

/// A unit as the trade writes it.
fn shown(unit: &str) -> String {
    match unit.strip_prefix('u') {
        Some(rest) => format!("µ{rest}"),
        None => unit.replace('2', "²"),
    }
}

pub(super) fn wrong_unit(unit: &str) -> Problem {
    let fitting: Vec<String> = typed_unit::fitting(unit).iter().map(|one| shown(one)).collect();
    Problem::new("typed-wrong-unit").with("allowed", fitting)
}

/// A drive level: its unit is the record's, and becomes it where the record has none.
fn level(record: &Value, path: &str, text: &str) -> Result<Typed, Problem> {
    let (value, unit) = number::number(text).map_err(fault)?;
    let known = super::place::get(record, "excitation.level_unit").and_then(Value::as_str);
    let mut values = vec![(path.to_owned(), json!(value))];
    match (known, unit) {
        (_, "") => {}
        (Some(known), unit) if known == unit => {}
        (Some(known), _) => {
            return Err(Problem::new("typed-wrong-unit").with("allowed", vec![known.to_owned()]));
        }
        (None, unit) => values.push(("excitation.level_unit".to_owned(), json!(unit))),
    }
    Ok(Typed::Values(values))
}

fn word(text: &str, words: &[String]) -> Result<Value, Problem> {
    let wanted = text.to_lowercase().replace(' ', "-");
    match words.iter().find(|word| **word == wanted) {
        Some(word) => Ok(json!(word)),
        None => Err(Problem::new("typed-not-one-of").with("allowed", words.to_vec())),
    }
}

/// A day as ISO 8601 has it; also with points, the day first.
fn day(text: &str) -> Result<Value, Problem> {
    let parts: Vec<&str> = text.split('.').map(str::trim).collect();
    let iso = match parts.as_slice() {
        [day, month, year] => format!("{year}-{month:0>2}-{day:0>2}"),
        _ => text.to_owned(),
    };
    match Day::parse(&iso) {
        Some(_) => Ok(json!(iso)),
        None => Err(Problem::new("typed-not-a-day")),
    }
}

#[cfg(test)]
mod tests;
