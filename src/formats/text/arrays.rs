//! The list of arrays of a table, and where the numbers of each are.

use std::collections::BTreeMap;

use super::super::container::{Access, ArrayInfo, Attribute, NumberKind};
use super::attribute::Attributes;
use super::columns::{Group, Plan};
use super::fold::{Fold, Role};
use super::pass::Passed;
use super::watch::MAX_COLUMNS;

/// Where the numbers of an array are.
#[derive(Debug)]
pub enum Stored {
    /// In memory: one axis.
    Held(Vec<f64>),
    /// In the file, a row of the table an index: one axis, or a second one along the columns.
    Rows { column: usize },
    /// In one column of the file, so many rows for an index of the first axis.
    Blocks { column: usize, block: u64 },
}

/// Arrays in order of path, each with the place of its numbers.
pub fn arrays(
    plan: &Plan,
    attributes: &Attributes,
    passed: &Passed,
    (fold, alone): (Option<&Fold>, &[usize]),
    access: Access,
) -> Vec<(ArrayInfo, Stored)> {
    let info = |name: &str, shape: Vec<u64>, whole: bool, unit: Option<&str>| ArrayInfo {
        path: format!("/{name}"),
        shape,
        reversed: false,
        kind: if whole {
            NumberKind::Integer { bits: 32, signed: true }
        } else {
            NumberKind::Float { bits: 64 }
        },
        access,
        chunk: Vec::new(),
        scales: Vec::new(),
        attributes: unit
            .map(|unit| ("units".to_owned(), Attribute::Text(unit.to_owned())))
            .into_iter()
            .collect::<BTreeMap<_, _>>(),
    };
    let rows = passed.rows;
    let is_whole = |group: &Group| {
        let columns = passed.whole.get(group.first..group.first + group.count);
        columns.unwrap_or_default().iter().all(|whole| *whole)
    };
    let mut all = Vec::new();
    for group in &plan.groups {
        let unit = group.unit.as_deref();
        let slot = Some(alone)
            .filter(|alone| alone.len() <= MAX_COLUMNS)
            .and_then(|alone| alone.iter().position(|column| *column == group.first));
        let folded = fold
            .zip(slot)
            .and_then(|(fold, slot)| Some((fold, *fold.roles.get(slot)?, fold.axes.get(slot)?)));
        all.push(match folded {
            Some((fold, Role::Value, _)) => (
                info(&group.name, vec![fold.blocks, fold.block], is_whole(group), unit),
                Stored::Blocks { column: group.first, block: fold.block },
            ),
            Some((_, _, axis)) => (
                info(&group.name, vec![axis.len() as u64], false, unit),
                Stored::Held(axis.clone()),
            ),
            None if group.wide => (
                info(
                    &group.name,
                    vec![rows, group.count as u64],
                    is_whole(group) && group.name != "table",
                    unit,
                ),
                Stored::Rows { column: group.first },
            ),
            None => (
                info(&group.name, vec![rows], group.name == "waveforms" && is_whole(group), unit),
                slot.and_then(|slot| passed.watch.column(slot))
                    .map_or(Stored::Rows { column: group.first }, Stored::Held),
            ),
        });
    }
    if let Some(headings) = &plan.headings {
        let stated =
            ["headings units", "heading units"].iter().find_map(|key| match attributes.get(*key) {
                Some(Attribute::Text(unit)) => Some(unit.as_str()),
                _ => None,
            });
        let unit = headings.unit.as_deref().or(stated);
        all.push((
            info("headings", vec![headings.values.len() as u64], false, unit),
            Stored::Held(headings.values.clone()),
        ));
    }
    all.sort_by(|a, b| a.0.path.cmp(&b.0.path));
    all
}
