//! Why a verdict is undecided, what would settle it, and the rules.

use super::Filled;
use super::{labels, reasons};

/// The sentence of a remark on a verdict.
pub fn remark(code: &str, a: &Filled<'_>) -> Option<String> {
    Some(match code {
        "verdict-not-measured" => "No scan gives this quantity.".to_owned(),
        "verdict-no-value" => format!("It could not be measured: {}.", why(a)),
        "verdict-no-uncertainty" => {
            format!("Without an uncertainty there is no verdict: {}.", why(a))
        }
        "verdict-no-tolerance" => "No tolerance is stated.".to_owned(),
        "verdict-unfit" => {
            a.fill("The scan {scan} is unfit; see Fitness of the data.")
        }
        "verdict-lower-bound" => {
            "The measured value is a lower bound: the true one may be higher.".to_owned()
        }
        "verdict-level-differs" => a.fill("It is stated for a level of {stated}, but was measured at {measured}."),
        "verdict-level-unknown" => a.fill("It is stated for a level of {stated}; the level of the measurement is not stated."),
        "verdict-window-differs" => format!(
            "It is stated for the {}, but was measured over the {}.",
            window(&a.get("stated")),
            window(&a.get("measured"))
        ),
        "verdict-time-base-differs" => format!(
            "It is stated {}, but was measured {}.",
            base(&a.get("stated")),
            base(&a.get("measured"))
        ),
        "verdict-medium-differs" => {
            "It is stated with an allowance for tissue, but was measured in water.".to_owned()
        }
        "verdict-probability" => a.fill("The probability of conformity, {probability}, lies between {most} and {least}."),
        "verdict-straddles" => {
            "The measured value with its uncertainty lies across a limit.".to_owned()
        }
        "settle-measurement" => a.fill("To settle it: reduce the expanded uncertainty of this measurement from {from} to {to}; the same value then {would}."),
        "settle-calibration" => a.fill("To settle it: reduce the calibration’s expanded uncertainty from {from} to {to}; the same value then {would}."),
        "settle-both" => a.fill("To settle it: reduce the expanded uncertainty of this measurement from {from} to {to}, which takes a better calibration too (now {calibration}); the same value then {would}."),
        "settle-out-of-reach" => a.fill("It takes an expanded uncertainty of {to} in place of {from}, less than the best calibrations leave: no better measurement of this value is to be expected to settle it."),
        "verdict-sign-doubted" => {
            "First check the polarity: the rarefactional peak is the larger one, so that the two may be exchanged; see Fitness of the data.".to_owned()
        }
        "settle-none" => {
            "No smaller uncertainty would settle it: the value lies on the limit.".to_owned()
        }
        "rule-guarded-both-sides" => a.fill("Rule (JCGM 106): conforms from a probability of {least} on, does not conform up to {most}, else undecided."),
        "rule-simple" => {
            "Rule (JCGM 106, simple acceptance): conforms if the measured value lies within the tolerance.".to_owned()
        }
        "rule-guard-expanded" => {
            "Rule (JCGM 106): conforms if y ± U lies within the tolerance, does not conform if outside, else undecided.".to_owned()
        }
        _ => return None,
    })
}

/// A stated condition as a short text: `level 90 Vpp`.
pub fn condition(condition: &str, stated: &str) -> String {
    match (condition, stated) {
        ("level", level) => format!("level {level}"),
        ("window", word) => window(word).to_owned(),
        ("time_base", word) => base(word).to_owned(),
        ("medium", "water") => "in water".to_owned(),
        ("medium", _) => "with an allowance for tissue".to_owned(),
        (_, other) => other.to_owned(),
    }
}

/// Why there is no value or no uncertainty.
fn why(a: &Filled<'_>) -> String {
    let code = a.get("reason");
    let reason = match code.as_str() {
        "" => "none was evaluated".to_owned(),
        code => reasons::reason(code).unwrap_or(code).to_owned(),
    };
    if a.has("blank") {
        let path = a.get("blank");
        format!("{reason}: {}", labels::blank(&path).unwrap_or(&path))
    } else {
        reason
    }
}

fn window(word: &str) -> &str {
    match word {
        "whole-pulse" => "whole pulse",
        "steady-state" => "steady state",
        other => other,
    }
}

fn base(word: &str) -> &str {
    match word {
        "on" => "while the burst is on",
        "tank" => "as a mean over the excitation in the tank",
        "exposure" => "as a mean over the treatment exposure",
        other => other,
    }
}
