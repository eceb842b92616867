//! The quantities in their tables.

use super::entries::{digits_and_unit, explanation};
use super::model::{Block, QuantityRow};
use super::rounding;
use super::wording::Wording;
use crate::analysis::Results;
use crate::base::quantity::{TimeBase, WindowKind, entry_of, is_safety};
use crate::base::sheet::{QuantityEntry, Sheet};
use crate::base::units;

/// A table for each scan.
pub fn blocks(results: &Results, sheet: &Sheet, words: &dyn Wording) -> Vec<Block> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let mut blocks = vec![Block::Paragraph { text: label("uncertainty-columns") }];
    for scan in results.scans.iter().filter(|scan| !super::drive::is_level(results, &scan.id)) {
        let role = label(&format!("role-{}", scan.role.as_str()));
        blocks.push(Block::Quantities {
            heading: format!("{} ({role})", scan.id),
            rows: sheet
                .quantities
                .iter()
                .filter(|q| q.scan == scan.id && !is_safety(&q.id))
                .map(|q| quantity_row(q, words))
                .collect(),
        });
    }
    blocks
}

/// A quantity as a row of the table.
pub fn quantity_row(entry: &QuantityEntry, words: &dyn Wording) -> QuantityRow {
    let label = |key: &str| words.label(key).unwrap_or_default();
    let unit = entry_of(&entry.id).and_then(|c| units::print_unit(c.print_unit));
    let (unit, per_si) = unit.map_or(("", 1.0), |u| (u.text, u.per_si));
    let (value, uncertainty) = entry.value.map_or_else(Default::default, |value| {
        let expanded = entry.u_expanded.unwrap_or(0.0);
        let mut pair = rounding::with_uncertainty(value * per_si, expanded * per_si, words.marks());
        if unit == "level" {
            // As it was set.
            pair.value = rounding::shortest(value, words.marks());
        }
        let expanded = match pair.expanded.as_str() {
            "" => String::new(),
            expanded => format!("± {expanded}{}", pair.power),
        };
        let digits = pair.value + &pair.power;
        (if entry.lower_bound { format!("≥ {digits}") } else { digits }, expanded)
    });
    let uncorrected = entry.value_uncorrected.map_or_else(String::new, |v| {
        let (digits, _) = digits_and_unit(&entry.id, v, words);
        let names: Vec<&str> = entry
            .corrections
            .iter()
            .filter_map(|c| words.label(&format!("correction-{}", c.name)))
            .collect();
        format!("{digits} {}", names.join(", "))
    });
    let mut basis: Vec<String> = Vec::new();
    if let Some(window) = &entry.window {
        let key = match window.kind {
            WindowKind::WholePulse => "window-whole-pulse",
            WindowKind::SteadyState => "window-steady-state",
        };
        basis.push(label(key).to_owned());
    }
    if let Some(base) = entry.time_base {
        let key = match base {
            TimeBase::On => "base-on",
            TimeBase::Tank => "base-tank",
            TimeBase::Exposure => "base-exposure",
        };
        basis.push(label(key).to_owned());
    }
    if let Some(method) = words.method(&entry.method).filter(|m| !m.is_empty()) {
        basis.push(method.to_owned());
    }
    QuantityRow {
        id: entry.id.clone(),
        symbol: entry.symbol.clone(),
        name: words.quantity(&entry.id).map_or("", |q| q.name).to_owned(),
        value,
        // Of the drive level the entry has the operator's unit.
        unit: match unit {
            "level" => entry.unit.clone(),
            _ => match (unit.strip_suffix("level"), entry.unit.rsplit_once('/')) {
                (Some(before), Some((_, own))) => format!("{before}{}", rooted(own)),
                (Some(before), None) => before.trim_end_matches('/').to_owned(),
                _ => unit.to_owned(),
            },
        },
        uncertainty,
        uncorrected,
        basis: basis.join("; "),
        reference: words.quantity(&entry.id).map_or("", |q| q.reference).to_owned(),
        reason: entry
            .reason
            .as_ref()
            .map_or_else(String::new, |r| format!("{}: {r}", label("not-measurable"))),
        explanation: explanation(&entry.id, words),
        scan: entry.scan.clone(),
    }
}

/// `√W` for `W^0.5`.
fn rooted(unit: &str) -> String {
    unit.strip_suffix("^0.5").map_or_else(|| unit.to_owned(), |of| format!("√{of}"))
}
