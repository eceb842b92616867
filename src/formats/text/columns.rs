//! Which columns make which array.

use std::collections::BTreeSet;

use super::head::MIN_RUN;
use super::heading::Heading;
use super::number::{Cell, number};
use super::units::is_unit;
use crate::base::error::{Problem, Problems};

/// Most arrays of one file.
const MAX_ARRAYS: usize = 4096;

/// Columns that make one array.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    pub name: String,
    pub unit: Option<String>,
    /// First column, from 0.
    pub first: usize,
    pub count: usize,
    /// Whether the array has a second axis.
    pub wide: bool,
}

/// Headings that are numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct NumberHeadings {
    pub values: Vec<f64>,
    pub unit: Option<String>,
}

/// All arrays of a table.
#[derive(Debug, Default)]
pub struct Plan {
    pub groups: Vec<Group>,
    pub headings: Option<NumberHeadings>,
}

impl Plan {
    /// A table without headings: a few columns are arrays of their own, many are one array.
    pub fn bare(width: usize) -> Self {
        if width < MIN_RUN {
            let groups = (0..width).map(|first| Group {
                name: format!("column_{}", first + 1),
                unit: None,
                first,
                count: 1,
                wide: false,
            });
            return Self { groups: groups.collect(), headings: None };
        }
        let name = "table".to_owned();
        let group = Group { name, unit: None, first: 0, count: width, wide: true };
        Self { groups: vec![group], headings: None }
    }

    /// Arrays from headings.
    ///
    /// `name[0]`, `name[1]` … make one array of two axes, from one column on; so do at least
    /// eight columns `name[1]` …, `name_0` …, `name_1` …, `name0` …, `name1` …; at least eight
    /// headings that are numbers make `values`. Any other column is an array of its own.
    ///
    /// # Errors
    /// `text-column-order`, `text-column-twice`, `file-too-many-arrays`.
    pub fn of(headings: &[Heading], decimal: u8) -> Result<Self, Problems> {
        let mut plan = Self::default();
        let mut problems = Vec::new();
        let mut at = 0;
        while let Some(rest) = headings.get(at..).filter(|rest| !rest.is_empty()) {
            let (group, numbers) = match numbers(rest, decimal) {
                Some(found) => {
                    let unit = None;
                    let (name, count) = ("values".to_owned(), found.values.len());
                    (Group { name, unit, first: at, count, wide: true }, Some(found))
                }
                None => (
                    indexed(rest, at).unwrap_or_else(|problem| {
                        problems.push(problem.0);
                        Group { count: problem.1, ..single(&rest[0], at) }
                    }),
                    None,
                ),
            };
            at += group.count.max(1);
            if numbers.is_some() && plan.headings.is_none() {
                plan.headings = numbers;
            }
            plan.groups.push(group);
        }
        if plan.groups.len() > MAX_ARRAYS {
            return Err(vec![Problem::new("file-too-many-arrays").with("limit", MAX_ARRAYS)]);
        }
        let mut names: BTreeSet<&str> = plan.headings.iter().map(|_| "headings").collect();
        for group in &plan.groups {
            if !names.insert(&group.name) {
                let heading = headings.get(group.first).map_or(&group.name, |h| &h.name);
                problems.push(
                    Problem::new("text-column-twice")
                        .at(heading.clone())
                        .with("column", group.first + 1),
                );
            }
        }
        if problems.is_empty() { Ok(plan) } else { Err(problems) }
    }
}

fn single(heading: &Heading, first: usize) -> Group {
    let Heading { name, unit } = heading.clone();
    Group { name, unit, first, count: 1, wide: false }
}

/// At least [`MIN_RUN`] headings that are numbers, from the first on.
fn numbers(rest: &[Heading], decimal: u8) -> Option<NumberHeadings> {
    let read = |heading: &Heading| -> Option<(f64, Option<String>)> {
        let plain = |text: &str| match number(text.as_bytes(), decimal)? {
            Cell::Missing => None,
            cell => Some(cell.value()).filter(|v| v.is_finite()),
        };
        if let Some(value) = plain(&heading.name) {
            return Some((value, heading.unit.clone()));
        }
        let (value, unit) = heading.name.split_once(' ')?;
        is_unit(unit.trim()).then_some(())?;
        Some((plain(value)?, Some(unit.trim().to_owned())))
    };
    let found: Vec<_> = rest.iter().map_while(read).collect();
    if found.len() < MIN_RUN {
        return None;
    }
    let unit = found[0].1.clone().filter(|_| found.iter().all(|f| f.1 == found[0].1));
    Some(NumberHeadings { values: found.into_iter().map(|f| f.0).collect(), unit })
}

/// The group that begins at the first heading: indexed columns, else the one column. An error also
/// says how many columns it spans.
fn indexed(rest: &[Heading], first: usize) -> Result<Group, (Problem, usize)> {
    let name = rest[0].name.as_str();
    let unit = |count: usize| {
        rest[0].unit.clone().filter(|_| rest[..count].iter().all(|h| h.unit == rest[0].unit))
    };
    let group = |base: &str, count: usize| Group {
        name: base.to_owned(),
        unit: unit(count),
        first,
        count,
        wide: true,
    };
    if let Some((base, index)) = bracketed(name) {
        let count = run(rest, base, index, bracketed);
        if index == 0 || (index == 1 && count >= MIN_RUN && base != "waveforms") {
            return Ok(group(base, count));
        }
        let problem = Problem::new("text-column-order")
            .at(name)
            .with("column", first + 1)
            .with("expected", format!("{base}[0]"));
        return Err((problem, count));
    }
    if let Some((base, index)) = numbered(name).filter(|(_, index)| *index <= 1) {
        let count = run(rest, base, index, numbered);
        if count >= MIN_RUN {
            return Ok(group(base.strip_suffix('_').unwrap_or(base), count));
        }
    }
    Ok(single(&rest[0], first))
}

/// How many headings count on from `base` and `index`.
fn run(
    rest: &[Heading],
    base: &str,
    index: usize,
    read: fn(&str) -> Option<(&str, usize)>,
) -> usize {
    rest.iter()
        .enumerate()
        .take_while(|(i, h)| read(&h.name) == index.checked_add(*i).map(|k| (base, k)))
        .count()
}

/// `waveforms[12]` → (`waveforms`, 12).
fn bracketed(name: &str) -> Option<(&str, usize)> {
    let (base, rest) = name.split_once('[')?;
    let index = rest.strip_suffix(']')?.parse().ok()?;
    (!base.is_empty()).then_some((base, index))
}

/// `v_12` → (`v_`, 12); `v12` → (`v`, 12).
fn numbered(name: &str) -> Option<(&str, usize)> {
    let base = name.trim_end_matches(|c: char| c.is_ascii_digit());
    let index = name[base.len()..].parse().ok()?;
    (!base.trim_end_matches('_').is_empty()).then_some((base, index))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plan(names: &[String]) -> Result<Vec<(String, usize)>, Problems> {
        let headings: Vec<Heading> = names.iter().map(|n| Heading::of(n)).collect();
        let plan = Plan::of(&headings, b'.')?;
        Ok(plan.groups.into_iter().map(|g| (g.name, if g.wide { g.count } else { 0 })).collect())
    }

    fn names(
        first: &str,
        rest: impl Fn(usize) -> String,
        range: std::ops::Range<usize>,
    ) -> Vec<String> {
        std::iter::once(first.to_owned()).chain(range.map(rest)).collect()
    }

    #[test]
    fn runs_of_columns() {
        let of = |name: &str, n| (name.to_owned(), n);
        for (columns, base, n) in [
            (names("x", |i| format!("w[{i}]"), 0..2), "w", 2),
            (names("x", |i| format!("w[{i}]"), 1..9), "w", 8),
            (names("x", |i| format!("v_{i} (mV)"), 0..8), "v", 8),
            (names("x", |i| format!("v{i:03}"), 1..12), "v", 11),
            (names("x", |i| format!("{}", i as f64 * 0.5), 0..8), "values", 8),
            (names("x", |i| format!("{i} us"), 0..9), "values", 9),
        ] {
            assert_eq!(plan(&columns), Ok(vec![of("x", 0), of(base, n)]), "{columns:?}");
        }
        let few = plan(&names("x", |i| format!("v{i}"), 0..7)).expect("singles");
        assert_eq!(few.len(), 8);
        let late = plan(&names("x", |i| format!("v{i}"), 2..12)).expect("singles");
        assert_eq!(late.len(), 11);
    }

    #[test]
    fn gaps_and_twins() {
        let codes = |names: &[&str]| -> Vec<String> {
            let names: Vec<String> = names.iter().map(|n| (*n).to_owned()).collect();
            plan(&names).err().unwrap_or_default().into_iter().map(|p| p.code).collect()
        };
        assert_eq!(codes(&["w[0]", "w[1]", "w[3]"]), ["text-column-order"]);
        assert_eq!(codes(&["w[1]", "w[2]"]), ["text-column-order"]);
        assert_eq!(codes(&["x", "v", "x (mm)"]), ["text-column-twice"]);
        let many: Vec<String> = (0..5000).map(|i| format!("a{i}b")).collect();
        let many: Vec<&str> = many.iter().map(String::as_str).collect();
        assert_eq!(codes(&many), ["file-too-many-arrays"]);
    }
}
