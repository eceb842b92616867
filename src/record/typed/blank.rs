//! What kind of text a blank takes, by the documented schema and the unit in its key.

use serde_json::Value;

use crate::record::ending::unit_of;
use crate::record::place::{Step, steps};
use crate::record::schema::DOCUMENTED;
use crate::record::shape::Shapes;

/// What a blank takes.
#[derive(Debug, Clone, PartialEq)]
pub enum Kind {
    Text,
    Word(Vec<String>),
    Day,
    /// In the unit of the key; a bare number is in the unit in which the sheet prints it.
    Number {
        unit: Option<&'static str>,
        bare: &'static str,
        whole: bool,
    },
    Level,
    /// With the unit of the value it belongs to; none for a relative one.
    Uncertainty {
        unit: Option<&'static str>,
    },
    Tolerance,
    StatedValue,
    /// A stated value with its unit and tolerance in one text.
    Stated,
    /// A sensitivity with its uncertainty in one text.
    Response,
    /// What one number of a file is.
    Volts,
}

/// Units of bare numbers, as the sheet prints them; others are the key's own.
const BARE: &[(&str, &str)] =
    &[("m", "mm"), ("m2", "mm2"), ("Pa", "MPa"), ("V", "mV"), ("s", "us")];
/// Keys whose bare numbers are in another unit than others of their dimension.
const BARE_BY_KEY: &[(&str, &str)] = &[
    ("repetition_hz", "Hz"),
    ("frequency_hz", "MHz"),
    ("nominal_frequency_hz", "MHz"),
    ("cutoff_hz", "MHz"),
    ("burst_s", "ms"),
    ("train_s", "s"),
];
/// Keys that hold days.
const DAYS: [&str; 4] = ["date", "issued", "calibrated", "due"];

/// The kind of a blank; `None` where a path names no blank, or one that takes no text.
pub fn kind_of(path: &str) -> Option<Kind> {
    let steps = steps(path)?;
    let key = steps.iter().rev().find_map(|step| match step {
        Step::Key(key) => Some(*key),
        Step::Entry(_) => None,
    })?;
    if steps.first() == Some(&Step::Key("changes")) || matches!(path, "schema" | "typed") {
        return None;
    }
    match steps.as_slice() {
        [Step::Key("stated"), Step::Entry(_)] => return Some(Kind::Stated),
        [Step::Key("stated"), Step::Entry(_), Step::Key("value")] => {
            return Some(Kind::StatedValue);
        }
        [Step::Key("stated"), Step::Entry(_), Step::Key("tolerance")] => {
            return Some(Kind::Tolerance);
        }
        [Step::Key("excitation" | "exposure"), Step::Key("level")]
        | [Step::Key("scans" | "stated"), Step::Entry(_), Step::Key("level")] => {
            return Some(Kind::Level);
        }
        [Step::Key("sensor"), Step::Key("response")] => return Some(Kind::Response),
        [Step::Key("scans"), Step::Entry(_), Step::Key("layout"), Step::Key("volts")] => {
            return Some(Kind::Volts);
        }
        _ => {}
    }
    let shapes = Shapes::new(&DOCUMENTED);
    let leaves = at(shapes, &steps);
    if leaves.is_empty() {
        return None;
    }
    let has = |wanted: &str| {
        leaves.iter().any(|leaf| shapes.types(leaf).is_some_and(|types| types.contains(&wanted)))
    };
    if matches!(steps.last(), Some(Step::Key(_)))
        && (key == "uncertainty" || key.starts_with("u_"))
        && has("object")
    {
        let unit = if key == "u_position" { Some("m") } else { None };
        return Some(Kind::Uncertainty { unit });
    }
    if has("number") || has("integer") {
        let unit = unit_of(key);
        let whole = !has("number");
        return Some(Kind::Number { unit, bare: bare(key, unit), whole });
    }
    if has("string") {
        let words: Vec<String> = leaves
            .iter()
            .filter_map(|leaf| shapes.words(leaf))
            .flatten()
            .map(str::to_owned)
            .collect();
        return Some(match words.is_empty() {
            _ if DAYS.contains(&key) => Kind::Day,
            true => Kind::Text,
            false => Kind::Word(words),
        });
    }
    None
}

fn bare(key: &str, unit: Option<&'static str>) -> &'static str {
    let by_key = BARE_BY_KEY.iter().find(|(of, _)| *of == key);
    let by_unit = || BARE.iter().find(|(of, _)| Some(*of) == unit);
    by_key.or_else(by_unit).map_or(unit.unwrap_or(""), |(_, bare)| *bare)
}

/// The schemas of a path, behind all alternatives.
fn at<'s>(shapes: Shapes<'s>, steps: &[Step<'_>]) -> Vec<&'s Value> {
    let mut found = vec![shapes.root()];
    for step in steps {
        let mut next = Vec::new();
        for schema in found.into_iter().flat_map(|schema| behind(shapes, schema)) {
            match step {
                Step::Key(key) => next.extend(schema.get("properties").and_then(|p| p.get(*key))),
                Step::Entry(_) => next.extend(schema.get("items")),
            }
        }
        found = next;
    }
    found.into_iter().flat_map(|schema| behind(shapes, schema)).collect()
}

/// A schema behind its references, or all its alternatives.
fn behind<'s>(shapes: Shapes<'s>, schema: &'s Value) -> Vec<&'s Value> {
    let schema = shapes.resolve(schema);
    match shapes.alternatives(schema) {
        Some(alternatives) => alternatives.iter().flat_map(|one| behind(shapes, one)).collect(),
        None => vec![schema],
    }
}
