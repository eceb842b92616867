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
            format!("The scan {} is unfit; see Fitness of the data.", a.get("scan"))
        }
        "verdict-lower-bound" => {
            "The measured value is a lower bound: the true one may be higher.".to_owned()
        }
        "verdict-level-differs" => format!(
            "It is stated for a level of {}, but was measured at {}.",
            a.get("stated"),
            a.get("measured")
        ),
        "verdict-level-unknown" => format!(
            "It is stated for a level of {}; the level of the measurement is not stated.",
            a.get("stated")
        ),
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
        "verdict-probability" => format!(
            "The probability of conformity, {}, lies between {} and {}.",
            a.get("probability"),
            a.get("most"),
            a.get("least")
        ),
        "verdict-straddles" => {
            "The measured value with its uncertainty lies across a limit.".to_owned()
        }
        "settle-measurement" => format!(
            "To settle it: reduce the expanded uncertainty of this measurement from {} to {}; the same value then {}.",
            a.get("from"),
            a.get("to"),
            a.get("would")
        ),
        "settle-calibration" => format!(
            "To settle it: reduce the calibration’s expanded uncertainty from {} to {}; the same value then {}.",
            a.get("from"),
            a.get("to"),
            a.get("would")
        ),
        "settle-none" => {
            "No smaller uncertainty would settle it: the value lies on the limit.".to_owned()
        }
        "rule-guarded-both-sides" => format!(
            "Rule (JCGM 106): conforms from a probability of {} on, does not conform up to {}, else undecided.",
            a.get("least"),
            a.get("most")
        ),
        "rule-simple" => {
            "Rule (JCGM 106, simple acceptance): conforms if the measured value lies within the tolerance.".to_owned()
        }
        "rule-guard-expanded" => {
            "Rule (JCGM 106): conforms if y ± U lies within the tolerance, does not conform if outside, else undecided.".to_owned()
        }
        _ => return None,
    })
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
