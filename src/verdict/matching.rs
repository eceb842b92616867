//! The measured quantity with which a stated value is compared, and whether it was measured under
//! the stated conditions.

use crate::base::finding::Severity;
use crate::base::quantity::{Quantity, Reason, TimeBase, WindowKind};
use crate::base::verdict::{Condition, Remark};
use crate::record::{Medium, Record, Stated};

use super::ScanValues;

/// Relative difference of two levels that is rounding of typed numbers.
const ROUNDING: f64 = 1e-9;

/// What was found for a stated value.
pub struct Found<'a> {
    pub scan: Option<&'a str>,
    pub quantity: Option<&'a Quantity>,
    pub conditions: Vec<Condition>,
    /// Why the two cannot be compared; empty where they can.
    pub reasons: Vec<Remark>,
}

/// The measured quantity: that of the named scan (or one of its levels or repeats), else of the first
/// scan; of several the one at the stated level, then with the stated time base, then with a value,
/// then in the stated window.
pub fn find<'a>(record: &Record, stated: &Stated, scans: &[ScanValues<'a>]) -> Found<'a> {
    let exact = stated.scan.as_deref().is_some_and(|id| scans.iter().any(|scan| scan.id == id));
    let named = |scan: &ScanValues<'_>| match &stated.scan {
        None => true,
        Some(id) if exact => scan.id == id,
        Some(id) => scan.id.strip_prefix(id.as_str()).is_some_and(|rest| rest.starts_with('-')),
    };
    let mut best: Option<([bool; 4], &ScanValues<'a>, &'a Quantity)> = None;
    for scan in scans.iter().filter(|scan| named(scan)) {
        for quantity in scan.quantities.iter().filter(|q| q.id == stated.quantity) {
            let fits = [
                stated.level.is_none_or(|level| scan.level.is_some_and(|l| same(l, level))),
                stated.time_base.is_none_or(|base| quantity.time_base == Some(base)),
                quantity.outcome.is_ok(),
                stated.window.is_none_or(|kind| quantity.window.map(|w| w.kind) == Some(kind)),
            ];
            if best.as_ref().is_none_or(|(so_far, ..)| fits > *so_far) {
                best = Some((fits, scan, quantity));
            }
        }
    }
    let Some((_, scan, quantity)) = best else {
        return Found {
            scan: None,
            quantity: None,
            conditions: Vec::new(),
            reasons: vec![Remark::new("verdict-not-measured")],
        };
    };
    let mut reasons = Vec::new();
    if let Err(reason) = &quantity.outcome {
        reasons.push(explained(Remark::new("verdict-no-value"), reason));
    }
    if scan.fitness == Severity::Unfit {
        reasons.push(Remark::new("verdict-unfit").with("scan", scan.id));
    }
    if quantity.lower_bound && quantity.outcome.is_ok() {
        reasons.push(Remark::new("verdict-lower-bound"));
    }
    let conditions = conditions(record, stated, scan, quantity);
    for condition in conditions.iter().filter(|c| !c.agrees) {
        let code = match (&condition.measured, condition.condition.as_str()) {
            (None, _) => "verdict-level-unknown",
            (_, "level") => "verdict-level-differs",
            (_, "window") => "verdict-window-differs",
            (_, "time_base") => "verdict-time-base-differs",
            _ => "verdict-medium-differs",
        };
        reasons.push(
            Remark::new(code)
                .with("stated", condition.stated.as_str())
                .with("measured", condition.measured.as_deref().unwrap_or_default()),
        );
    }
    Found { scan: Some(scan.id), quantity: Some(quantity), conditions, reasons }
}

/// Adds the reason for which a value or its uncertainty is missing.
pub fn explained(remark: Remark, reason: &Reason) -> Remark {
    let remark = remark.with("reason", reason.code.as_str());
    match &reason.blank {
        Some(path) => remark.with("blank", path.as_str()),
        None => remark,
    }
}

/// Stated conditions beside the measured ones. Window and time base of a quantity that has none (a
/// width, say) are not compared.
fn conditions(
    record: &Record,
    stated: &Stated,
    scan: &ScanValues<'_>,
    quantity: &Quantity,
) -> Vec<Condition> {
    let condition = |name: &str, stated: String, measured: Option<String>, agrees: bool| {
        Condition { condition: name.to_owned(), stated, measured, agrees }
    };
    let mut out = Vec::new();
    if let Some(level) = stated.level {
        let unit = record.excitation.level_unit.as_deref().unwrap_or_default();
        let text = |level: f64| format!("{level} {unit}").trim_end().to_owned();
        let agrees = scan.level.is_some_and(|measured| same(measured, level));
        out.push(condition("level", text(level), scan.level.map(text), agrees));
    }
    if let (Some(kind), Some(window)) = (stated.window, quantity.window) {
        let words = (window_word(kind).to_owned(), window_word(window.kind).to_owned());
        out.push(condition("window", words.0, Some(words.1), kind == window.kind));
    }
    if let (Some(base), Some(measured)) = (stated.time_base, quantity.time_base) {
        let words = (base_word(base).to_owned(), base_word(measured).to_owned());
        out.push(condition("time_base", words.0, Some(words.1), base == measured));
    }
    if let Some(medium) = stated.medium {
        let word = if medium == Medium::Water { "water" } else { "derated" };
        let water = Some("water".to_owned());
        out.push(condition("medium", word.to_owned(), water, medium == Medium::Water));
    }
    out
}

fn window_word(kind: WindowKind) -> &'static str {
    match kind {
        WindowKind::WholePulse => "whole-pulse",
        WindowKind::SteadyState => "steady-state",
    }
}

fn base_word(base: TimeBase) -> &'static str {
    match base {
        TimeBase::On => "on",
        TimeBase::Tank => "tank",
        TimeBase::Exposure => "exposure",
    }
}

/// Whether two numbers are the same but for rounding.
pub fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= ROUNDING * a.abs().max(b.abs())
}
