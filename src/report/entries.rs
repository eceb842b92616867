//! `sheet.json` from the results.

use super::drive_unit;
use super::plain_symbols;
use super::provenance::sheet_number;
use super::remarks::{finding_entry, rank};
use super::rounding;
use super::software;
use super::wording::Wording;
use crate::analysis::{Picture, Results, ScanResult};
use crate::base::finding::{Finding, Severity};
use crate::base::quantity::{Quantity, Reason, entry_of};
use crate::base::sheet::{InputFile, QuantityEntry, SCHEMA, ScanSummary, Sheet};
use crate::base::units;

/// The sheet as data. `record` is the record as typed, `inputs` the files with their hashes so far.
pub fn sheet(
    results: &Results,
    record: serde_json::Value,
    inputs: &[InputFile],
    words: &dyn Wording,
) -> Sheet {
    let mut findings: Vec<_> = results.findings.iter().map(|f| finding_entry(f, words)).collect();
    let unused = results
        .unused_files
        .iter()
        .map(|file| Finding::new(Severity::Note, "unused-file").in_file(file));
    findings.extend(unused.map(|f| finding_entry(&f, words)));
    Sheet {
        schema: SCHEMA.to_owned(),
        software: software(),
        number: sheet_number(inputs, &record),
        record,
        conditions: results.conditions.clone(),
        scans: results.scans.iter().map(|scan| summary(results, scan)).collect(),
        quantities: results
            .scans
            .iter()
            .flat_map(|scan| scan.quantities.iter().map(|q| entry(results, scan, q, words)))
            .collect(),
        findings: rank(&findings).into_iter().cloned().collect(),
        transfers: results.transfers.clone(),
        depths: results.depths.clone(),
        revisits: results.revisits.clone(),
        verdicts: super::verdicts::worded(&results.verdicts, words),
        repeats: results.repeats.clone(),
        bubbles: results.bubbles.clone(),
        drives: results
            .scans
            .iter()
            .filter_map(|scan| match &scan.picture {
                Picture::Drive(curve) => Some((**curve).clone()),
                _ => None,
            })
            .collect(),
        level_fields: results.level_fields.clone(),
        ranges: results.ranges.clone(),
        safety: results.safety.clone(),
        provenance: inputs.to_vec(),
    }
}

fn summary(results: &Results, scan: &ScanResult) -> ScanSummary {
    ScanSummary {
        id: scan.id.clone(),
        role: scan.role.as_str().to_owned(),
        file: scan.file.clone(),
        points: scan.points as u64,
        samples: scan.samples as u64,
        sample_interval_s: scan.interval_s,
        fitness: scan.fitness,
        level: scan.level,
        level_unit: results.record.excitation.level_unit.clone(),
        calibration: scan.calibration.clone(),
        excluded_points: scan.excluded.iter().map(|cell| *cell as u64).collect(),
        waveform_uncertainty: scan
            .focal
            .as_ref()
            .and_then(|wave| wave.uncertainty.as_ref())
            .map(|uncertainty| uncertainty.summary.clone()),
    }
}

fn entry(
    results: &Results,
    scan: &ScanResult,
    quantity: &Quantity,
    words: &dyn Wording,
) -> QuantityEntry {
    let catalogue = entry_of(quantity.id);
    let excitation = &results.record.excitation;
    let level_unit = excitation.level_unit.as_deref().unwrap_or_default();
    let is_power = excitation.level_kind.and_then(|kind| kind.is_power()) == Some(true);
    let in_unit =
        |text: &str, root: &str| drive_unit::in_level_unit(text, level_unit, is_power, root);
    let named = words.quantity(quantity.id);
    let value = quantity.outcome.as_ref().ok().copied();
    let budget = value.and(quantity.uncertainty.as_deref().ok());
    QuantityEntry {
        id: quantity.id.to_owned(),
        scan: scan.id.clone(),
        level: scan.level,
        range: scan.range.clone(),
        symbol: catalogue.map_or("", |c| c.symbol).to_owned(),
        // Data have no use for soft hyphens.
        name: named.map_or("", |n| n.name).replace('\u{ad}', ""),
        value,
        unit: in_unit(catalogue.map_or("", |c| c.unit), "W^0.5"),
        lower_bound: quantity.lower_bound,
        u_standard: budget.map(|b| b.u_standard),
        u_expanded: budget.map(|b| b.u_expanded),
        k: budget.map(|b| b.k),
        nu_eff: budget.and_then(|b| b.nu_eff),
        u_common: budget.map(|b| b.u_common),
        u_repeatability: budget.map(|b| b.u_repeatability),
        u_reason: value
            .and(quantity.uncertainty.as_ref().err())
            .map(|reason| reason_text(reason, words)),
        value_uncorrected: quantity.uncorrected,
        corrections: quantity.corrections.clone(),
        window: quantity.window,
        time_base: quantity.time_base,
        method: quantity.method.to_owned(),
        reference: named.map_or("", |n| n.reference).replace('\u{ad}', ""),
        text: in_unit(&printed(quantity, words), "√W"),
        reason: quantity.outcome.as_ref().err().map(|reason| reason_text(reason, words)),
        sensitivities: quantity.sensitivities.clone(),
        // Those that are printed: of all quantities they would fill the file.
        budget: budget.filter(|b| b.monte_carlo.is_some()).cloned(),
    }
}

/// Digits and unit, or nothing where there is no value.
fn printed(quantity: &Quantity, words: &dyn Wording) -> String {
    let Ok(value) = quantity.outcome else { return String::new() };
    let expanded = quantity.uncertainty.as_ref().map_or(0.0, |budget| budget.u_expanded);
    value_and_unit(quantity.id, (value, expanded), quantity.lower_bound, words)
}

/// What a quantity is and how it is computed, with its source; plain text, empty for an unknown one.
pub fn explanation(id: &str, words: &dyn Wording) -> String {
    let Some(named) = words.quantity(id) else { return String::new() };
    let source = words.label("explained-source").unwrap_or_default();
    let text = match named.reference {
        "" => named.explanation.to_owned(),
        reference => format!("{} {source} {reference}.", named.explanation),
    };
    plain_symbols(text.trim_start())
}

/// `(8.30 ± 0.72) MPa`: a value of a quantity with its expanded uncertainty (zero for none).
pub fn value_and_unit(
    id: &str,
    (value, expanded): (f64, f64),
    lower_bound: bool,
    words: &dyn Wording,
) -> String {
    let unit = entry_of(id).and_then(|c| units::print_unit(c.print_unit));
    let (unit, factor) = unit.map_or(("", 1.0), |u| (u.text, u.per_si));
    let mut pair = rounding::with_uncertainty(value * factor, expanded * factor, words.marks());
    if unit == "level" {
        // As it was set.
        pair.value = rounding::shortest(value, words.marks());
    }
    let bound = if lower_bound { "≥ " } else { "" };
    let space = if unit.is_empty() { "" } else { "\u{a0}" };
    let (digits, power) = (&pair.value, &pair.power);
    match pair.expanded.as_str() {
        "" => format!("{bound}{digits}{space}{unit}"),
        expanded if unit.is_empty() && power.is_empty() => format!("{digits} ± {expanded}"),
        expanded => format!("({digits} ± {expanded}){power}{space}{unit}"),
    }
}

/// A value of a quantity in its printed unit, rounded.
pub fn digits_and_unit(id: &str, value: f64, words: &dyn Wording) -> (String, &'static str) {
    let unit = entry_of(id).and_then(|c| units::print_unit(c.print_unit));
    let (text, factor) = unit.map_or(("", 1.0), |u| (u.text, u.per_si));
    (rounding::plain(value * factor, words.marks()), text)
}

/// Why there is no value, and which blank would give it.
pub fn reason_text(reason: &Reason, words: &dyn Wording) -> String {
    let why = words.reason(&reason.code).unwrap_or(&reason.code).to_owned();
    match &reason.blank {
        Some(path) => format!("{why}: {}", words.blank(path).unwrap_or(path)),
        None => why,
    }
}
