//! Problems of the record: where, expected, found, what to do.

use super::{Filled, Sentence};

/// Problems of the record.
pub fn records(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    shape(code, a)
        .or_else(|| statements(code, a))
        .or_else(|| super::stated_problems::problems(code, a))
}

fn shape(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "record-no-scans" => {
            s("The record names no scan.", "Add at least one scan with its file and role.")
        }
        "record-no-evaluated-scans" => s(
            "No scan of the record has a role that is evaluated.",
            "Use the roles plane, line, axial or point.",
        ),
        "record-too-large" => s(
            format!(
                "The record has {} bytes; at most {} are read.",
                a.get("found_bytes"),
                a.get("maximum_bytes")
            ),
            "A record holds statements, not waveforms: drop the scan as a file of its own.",
        ),
        "record-empty" => {
            s("The record is empty.", "Start from the skeleton that “focalsheet record” writes.")
        }
        "record-not-json" => s(
            format!(
                "The record is not valid JSON at line {}, column {}.",
                a.get("line"),
                a.get("column")
            ),
            "Look there for a missing comma, quote or bracket.",
        ),
        "record-too-deep" => s(
            format!("The record is nested more than {} deep.", a.get("maximum")),
            "Remove the nesting.",
        ),
        "record-key-twice" => {
            s(format!("{}: the key stands twice.", a.path()), "Keep one of them.")
        }
        "record-wrong-schema" => s(
            format!("The schema is “{}”; “{}” is expected.", a.get("found"), a.get("expected")),
            "Use a record of this version.",
        ),
        "record-unknown-key" => {
            let nearest = if a.has("nearest") {
                format!("Did you mean “{}”?", a.get("nearest"))
            } else if a.has("elsewhere") {
                format!("This key stands at {}.", a.get("elsewhere"))
            } else {
                format!("Known here: {}.", a.get("allowed"))
            };
            Sentence::new(format!("{}: unknown key.", a.path()), nearest)
        }
        "record-wrong-type" => {
            let value = if a.has("value") { format!(" {}", a.get("value")) } else { String::new() };
            s(
                format!(
                    "{}: expected {}, found {}{value}.",
                    a.path(),
                    a.get("expected"),
                    a.get("found")
                ),
                "Correct the value.",
            )
        }
        "record-not-one-of" => {
            let hint = if a.has("nearest") {
                format!("Did you mean “{}”?", a.get("nearest"))
            } else {
                String::new()
            };
            Sentence::new(
                format!("{}: “{}” is not one of {}.", a.path(), a.get("found"), a.get("allowed")),
                hint,
            )
        }
        "record-missing-key" => {
            s(format!("{}: the key “{}” is missing.", a.path(), a.get("key")), "Add it.")
        }
        "record-uncertainty-kind-missing" => s(
            format!("{}: the uncertainty does not say what it is.", a.path()),
            "Add “kind”: expanded, standard or half-width.",
        ),
        "record-out-of-range" => range(a),
        "record-wrong-length" => {
            let wanted = match (a.has("minimum"), a.has("maximum")) {
                (true, true) => format!("{} to {}", a.get("minimum"), a.get("maximum")),
                (true, false) => format!("at least {}", a.get("minimum")),
                _ => format!("at most {}", a.get("maximum")),
            };
            s(
                format!("{}: {wanted} entries expected, found {}.", a.path(), a.get("found")),
                "Correct the list.",
            )
        }
        "record-empty-text" => {
            s(format!("{}: the text is empty.", a.path()), "Fill it or remove the key.")
        }
        "record-more-problems" => s(
            format!("There are more than {} problems; only these are shown.", a.get("shown")),
            "Mend these first.",
        ),
        "record-not-understood" => s(
            format!("The record was not understood: {}.", a.get("detail")),
            "Please report this with the record.",
        ),
        _ => return None,
    })
}

fn range(a: &Filled<'_>) -> Sentence {
    let exclusive = a.get("exclusive");
    let low = if exclusive == "minimum" || exclusive == "both" { "above" } else { "at least" };
    let high = if exclusive == "maximum" || exclusive == "both" { "below" } else { "at most" };
    let mut wanted = Vec::new();
    if a.has("minimum") {
        wanted.push(format!("{low} {}", a.get("minimum")));
    }
    if a.has("maximum") {
        wanted.push(format!("{high} {}", a.get("maximum")));
    }
    s(
        format!("{}: expected {}, found {}.", a.path(), wanted.join(" and "), a.get("found")),
        "Values are in SI units: check the power of ten.",
    )
}

fn statements(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "record-id-twice" => s(
            format!(
                "{}: the id “{}” is already used at {}.",
                a.path(),
                a.get("id"),
                a.get("first")
            ),
            "Give each its own.",
        ),
        "record-unknown-range" | "record-unknown-scan" => {
            let hint = if a.has("nearest") {
                format!("Did you mean “{}”?", a.get("nearest"))
            } else {
                format!("Known: {}.", a.get("allowed"))
            };
            let what = if code == "record-unknown-range" { "gain range" } else { "scan" };
            Sentence::new(format!("{}: there is no {what} “{}”.", a.path(), a.get("found")), hint)
        }
        "record-reference-not-calibrated" => s(
            format!("{}: the reference of a check source must be calibrated itself.", a.path()),
            "State its response as a factor or a table.",
        ),
        "record-one-factor" => s(
            format!("{}: a flat response has one factor, {} are stated.", a.path(), a.get("found")),
            "State one of v_per_pa, mv_per_mpa and db_re_1v_per_upa.",
        ),
        "record-no-device-scans" => Sentence::new(
            format!("{}: no scan of the check source by this sensor is named.", a.path()),
            format!(
                "Name one for each range (ranges of this record: {}), as \"range\": \"scan id\".",
                a.get("allowed")
            ),
        ),
        "record-not-relative" => s(
            format!("{}: this uncertainty must be relative.", a.path()),
            "State it as a fraction of its value, with \"relative\": true.",
        ),
        "record-not-absolute" => s(
            format!("{}: a position has no relative uncertainty.", a.path()),
            "State it in metres, without \"relative\".",
        ),
        "record-axis-twice" => s(
            format!("{}: the axis {} stands twice.", a.path(), a.get("axis")),
            "Name each axis once.",
        ),
        "record-no-time-axis" => {
            s(format!("{}: no axis is time.", a.path()), "Name the time axis t.")
        }
        "record-zero-step" => s(format!("{}: the step is zero.", a.path()), "Correct it."),
        "record-not-below" => s(
            format!(
                "{}: {} is too large beside {} ({}).",
                a.path(),
                a.get("found"),
                a.get("limit"),
                a.get("other")
            ),
            "Correct one of the two.",
        ),
        "record-burst-exceeds-period" => s(
            format!(
                "{}: a burst of {} does not fit into a repetition period of {}.",
                a.path(),
                a.get("burst"),
                a.get("period")
            ),
            "Check cycles, frequency and repetition rate.",
        ),
        "record-not-rising" => s(
            format!("{}: {} does not rise above {}.", a.path(), a.get("found"), a.get("before")),
            "Sort the rows by frequency.",
        ),
        "record-not-a-day" => s(
            format!("{}: “{}” is not a date.", a.path(), a.get("found")),
            "Write it as 2026-05-04.",
        ),
        "record-not-an-instant" => s(
            format!("{}: “{}” is not a date with time.", a.path(), a.get("found")),
            "Write it as 2026-05-04T14:30.",
        ),
        "record-ends-before-start" => s(
            format!("{}: {} lies before {}.", a.path(), a.get("end"), a.get("start")),
            "Swap or correct them.",
        ),
        "record-not-a-fraction" => s(
            format!(
                "{}: {} is no plausible fraction; as a percentage it would be {}.",
                a.path(),
                a.get("found"),
                a.get("as_percent")
            ),
            "Relative values are fractions: 12 % is 0.12.",
        ),
        "record-tolerance-reversed" => s(
            format!(
                "{}: the lower limit {} lies above the upper {}.",
                a.path(),
                a.get("lower"),
                a.get("upper")
            ),
            "Swap them.",
        ),
        "record-coverage-factor-unused" => s(
            format!(
                "{}: a coverage factor of {} is stated for an uncertainty that is not expanded.",
                a.path(),
                a.get("k")
            ),
            "Say kind “expanded”, or remove k.",
        ),
        "record-uncertainty-exceeds-value" => s(
            format!(
                "{}: the uncertainty {} exceeds the value {}.",
                a.path(),
                a.get("found"),
                a.get("value")
            ),
            "If it is a fraction, say “relative”: true.",
        ),
        _ => return None,
    })
}

fn s(text: impl Into<String>, hint: &str) -> Sentence {
    Sentence::new(text, hint)
}
