//! Verdicts on stated values: does what was measured lie within what the maker states?
//!
//! ```text
//! stated ─ limits ──────────────┐
//!    └──── matching ─ measured ─┴─ rule ─ settle
//! ```
//!
//! - `limits`: stated value and tolerance in SI.
//! - `matching`: the measured quantity, and whether it was measured under the stated conditions.
//! - `rule`: the decision rules of JCGM 106.
//! - `en_ratio`: the normalised difference from a stated value with its own uncertainty.
//! - `settle`: which smaller uncertainty would have decided.
//! - `repeats`: mean, scatter and tolerance limits over repeats.

mod en_ratio;
mod limits;
mod matching;
pub mod repeats;
mod rule;
mod settle;

use crate::base::budget::Budget;
use crate::base::finding::Severity;
use crate::base::quantity::{Quantity, entry_of};
use crate::base::verdict::{Outcome, Remark, VerdictEntry};
use crate::record::{Record, Role, Stated};
pub use limits::Limits;
pub use rule::{Spread, outcome, probability};

/// What a scan gives, for the comparison with stated values.
#[derive(Debug, Clone, Copy)]
pub struct ScanValues<'a> {
    pub id: &'a str,
    pub role: Role,
    pub level: Option<f64>,
    pub range: Option<&'a str>,
    /// Place of a plane or a point, (x, y, z), m, as far as it is stated.
    pub place_m: [Option<f64>; 3],
    pub fitness: Severity,
    /// Whether compression and rarefaction may be exchanged, by the sign of the samples.
    pub sign_doubted: bool,
    pub quantities: &'a [Quantity],
}

/// Judges every stated value of a record, in its order.
pub fn judge(record: &Record, scans: &[ScanValues<'_>]) -> Vec<VerdictEntry> {
    record.stated.iter().map(|stated| one(record, stated, scans)).collect()
}

fn one(record: &Record, stated: &Stated, scans: &[ScanValues<'_>]) -> VerdictEntry {
    let decision = &record.decision;
    let limits = Limits::of(stated);
    let unit = entry_of(&stated.quantity).map_or("", |entry| entry.unit);
    let found = matching::find(record, stated, scans);
    let value = found.quantity.and_then(|q| q.outcome.as_ref().ok().copied());
    let budget = found.quantity.and_then(|q| q.uncertainty.as_ref().ok()).map(|b| &**b);
    let budget = value.and(budget);
    let spread = budget.map(Spread::of);
    let comparable = found.reasons.is_empty();
    let mut reasons = found.reasons;
    if limits.is_open() {
        reasons.push(Remark::new("verdict-no-tolerance"));
    }
    let both = value.filter(|_| comparable).zip(spread);
    let probability = both
        .filter(|_| !limits.is_open())
        .map(|(value, spread)| rule::probability(&limits, value, spread));
    let judged = value.filter(|_| reasons.is_empty()).map(|value| {
        rule::outcome(decision, &limits, value, spread).unwrap_or_else(|why| {
            reasons.push(why_without_uncertainty(why, found.quantity));
            Outcome::Undecided
        })
    });
    let mut settle = None;
    if judged == Some(Outcome::Undecided)
        && let (Some(value), Some(budget)) = (value, budget)
        && reasons.is_empty()
    {
        reasons.push(rule::why_undecided(decision, probability));
        settle = settle::settle(decision, &limits, value, budget);
    }
    let doubted = scans.iter().any(|scan| Some(scan.id) == found.scan && scan.sign_doubted);
    if judged.is_some() && doubted && rests_on_sign(&stated.quantity) {
        // The sign comes first: with the peaks exchanged another value is judged.
        reasons.push(Remark::new("verdict-sign-doubted"));
        settle = None;
    }
    let stated_u_expanded = en_ratio::stated_u_expanded(stated);
    let e_n = both.zip(budget).zip(stated_u_expanded).and_then(|(((value, _), budget), u)| {
        en_ratio::e_n(value, en_ratio::u_expanded(budget), limits.stated, u)
    });
    let with = |pick: fn(&Budget) -> f64| budget.map(pick);
    VerdictEntry {
        quantity: stated.quantity.clone(),
        scan: found.scan.map(str::to_owned),
        stated_typed: stated.value,
        unit_typed: stated.unit.clone().unwrap_or_else(|| unit.to_owned()),
        stated: limits.stated,
        unit: unit.to_owned(),
        stated_u_expanded,
        low: limits.low,
        high: limits.high,
        origin: stated.origin.clone(),
        measured: value,
        lower_bound: found.quantity.is_some_and(|q| q.lower_bound),
        u_standard: with(|b| b.u_standard),
        u_expanded: with(|b| b.u_expanded),
        k: with(|b| b.k),
        nu_eff: budget.and_then(|b| b.nu_eff),
        rule: rule::word(decision.rule).to_owned(),
        min_probability: decision.min_probability,
        probability,
        outcome: judged.unwrap_or(Outcome::Undecided),
        reasons,
        e_n,
        conditions: found.conditions,
        settle,
    }
}

/// Whether a quantity is of the compressional or the rarefactional peak alone.
fn rests_on_sign(id: &str) -> bool {
    id.split('_').any(|part| matches!(part, "pc" | "pr"))
}

/// Adds why the measured value has no uncertainty.
fn why_without_uncertainty(why: Remark, quantity: Option<&Quantity>) -> Remark {
    match quantity.and_then(|q| q.uncertainty.as_ref().err()) {
        Some(reason) => matching::explained(why, reason),
        None => why,
    }
}

#[cfg(test)]
mod tests;
