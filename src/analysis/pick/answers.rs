//! From answers to a layout.

use std::collections::BTreeMap;

use super::Choice;
use super::fields::{AXES, Field, size, source, unplaced};
use crate::base::error::Problem;
use crate::base::typed_unit;
use crate::record::{
    AxisName, AxisSource, AxisSteps, Layout, TimeSource, TimeSteps, Volts, number_and_unit,
};

/// The layout that the answers make, and what is wrong with them.
#[derive(Debug, Default, PartialEq)]
pub struct Answered {
    pub layout: Layout,
    pub wrong: Vec<Wrong>,
}

/// What is wrong with an answer.
#[derive(Debug, PartialEq)]
pub struct Wrong {
    pub key: String,
    pub problem: Problem,
}

/// The layout of a choice with what was typed for its fields, by key. A field that was not touched
/// keeps the text it was offered with.
pub fn answered(choice: &Choice, typed: &BTreeMap<String, String>) -> Answered {
    let mut layout = choice.proposal.layout.clone();
    let mut wrong = Vec::new();
    for field in &choice.fields {
        let text = text_of(field, typed);
        if let Err(problem) = fill(choice, &mut layout, field.key, text) {
            let problem = problem.at(field.key).with("found", text);
            wrong.push(Wrong { key: field.key.to_owned(), problem });
        }
    }
    if unplaced(&choice.proposal) && wrong.is_empty() {
        let field = choice.fields.iter().find(|field| field.key == "columns");
        let columns = field.and_then(|field| text_of(field, typed).parse().ok()).unwrap_or(1);
        place(choice, &mut layout, columns);
    }
    Answered { layout, wrong }
}

/// What was typed for a field, else what it was offered with.
fn text_of<'a>(field: &'a Field, typed: &'a BTreeMap<String, String>) -> &'a str {
    typed.get(field.key).unwrap_or(&field.text).trim()
}

fn fill(choice: &Choice, layout: &mut Layout, key: &str, text: &str) -> Result<(), Problem> {
    if key == "serpentine" {
        layout.serpentine = !text.is_empty();
        return Ok(());
    }
    if text.is_empty() {
        return Err(Problem::new("pick-needed"));
    }
    match key {
        "columns" => {
            let points = size(&choice.proposal, AxisName::Point).unwrap_or(1);
            let fits = |n: &u64| *n > 0 && points.is_multiple_of(*n);
            let columns = text.parse::<u64>().ok().filter(fits);
            columns.map(|_| ()).ok_or_else(|| Problem::new("pick-columns").with("points", points))
        }
        "volts" => {
            let (scale, unit) = quantity(text, "V")?;
            let offset = layout.volts.as_ref().and_then(|volts| volts.offset);
            layout.volts = Some(Volts { scale: Some(scale), offset, unit: Some(unit) });
            Ok(())
        }
        "t" => {
            let (number, unit) = quantity(text, "s")?;
            if let Some(TimeSource::Array(at)) = &mut layout.time {
                (at.unit, at.step) = (Some(unit), other_than_one(number));
            }
            Ok(())
        }
        "dt" => {
            let t0 = match &layout.time {
                Some(TimeSource::Steps(steps)) => steps.t0,
                _ => None,
            };
            // An interval, or a rate.
            let (dt, unit) = match quantity(text, "s") {
                Ok(found) => found,
                Err(problem) => {
                    let (rate, unit) = number_and_unit(text)?;
                    let factor = typed_unit::factor("Hz", unit).filter(|_| !unit.is_empty());
                    let hertz = factor.map(|factor| rate * factor).filter(|hertz| *hertz > 0.0);
                    (1e9 / hertz.ok_or(problem)?, "ns".to_owned())
                }
            };
            layout.time = Some(TimeSource::Steps(TimeSteps { dt, t0, unit: Some(unit) }));
            Ok(())
        }
        key => {
            let (number, unit) = quantity(text, "m")?;
            for (axis, one, step) in AXES {
                let count = size(&choice.proposal, axis).unwrap_or(1);
                let slot = source(layout, axis);
                match slot {
                    Some(AxisSource::Array(at)) if key == one => {
                        (at.unit, at.step) = (Some(unit.clone()), other_than_one(number));
                    }
                    _ if key == step => *slot = Some(steps(number, count, &unit)),
                    _ => {}
                }
            }
            Ok(())
        }
    }
}

/// Listed points without coordinates stand in rows of so many; a single row or column is a line.
fn place(choice: &Choice, layout: &mut Layout, columns: u64) {
    let points = size(&choice.proposal, AxisName::Point).unwrap_or(1);
    let rows = points / columns.max(1);
    for (axis, count) in [(AxisName::X, columns), (AxisName::Y, rows)] {
        let slot = source(layout, axis);
        *slot = match slot.take() {
            Some(AxisSource::Steps(given)) if count > 1 => {
                Some(steps(given.step, count, given.unit.as_deref().unwrap_or("m")))
            }
            _ => None,
        };
    }
}

/// Equal steps about zero.
fn steps(step: f64, count: u64, unit: &str) -> AxisSource {
    let start = -0.5 * step * (count.max(1) - 1) as f64;
    let count = u32::try_from(count).ok();
    AxisSource::Steps(AxisSteps { start, step, count, unit: Some(unit.to_owned()) })
}

fn other_than_one(number: f64) -> Option<f64> {
    (number != 1.0).then_some(number)
}

/// A number other than zero and its unit as a layout names it; `m`, `s` or `V` with a prefix.
fn quantity(text: &str, si: &'static str) -> Result<(f64, String), Problem> {
    let example = match si {
        "m" => "0.5 mm",
        "s" => "10 ns",
        _ => "0.5 mV",
    };
    let (number, unit) =
        number_and_unit(text).map_err(|problem| problem.with("example", example))?;
    let unit = unit.replace(['µ', 'μ'], "u");
    let fits = typed_unit::fitting(si).contains(&unit.as_str());
    if !fits {
        let allowed: Vec<String> =
            typed_unit::fitting(si).iter().map(|unit| unit.replace('u', "µ")).collect();
        return Err(Problem::new("typed-wrong-unit").with("allowed", allowed));
    }
    if number == 0.0 || (si == "s" && number < 0.0) {
        return Err(Problem::new("typed-not-a-number").with("example", example));
    }
    Ok((number, unit))
}
