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
            a.fill("The record has {found_bytes} bytes; at most {maximum_bytes} are read."),
            "A record holds statements, not waveforms: drop the scan as a file of its own.",
        ),
        "record-empty" => {
            s("The record is empty.", "Start from the skeleton that “focalsheet record” writes.")
        }
        "record-not-json" => s(
            a.fill("The record is not valid JSON at line {line}, column {column}."),
            "Look there for a missing comma, quote or bracket.",
        ),
        "record-too-deep" => {
            s(a.fill("The record is nested more than {maximum} deep."), "Remove the nesting.")
        }
        "record-key-twice" => s(a.fill("{}: the key stands twice."), "Keep one of them."),
        "record-wrong-schema" => s(
            a.fill("The schema is “{found}”; “{expected}” is expected."),
            "Use a record of this version.",
        ),
        "record-unknown-key" => {
            let nearest = if a.has("nearest") {
                a.fill("Did you mean “{nearest}”?")
            } else if a.has("elsewhere") {
                a.fill("This key stands at {elsewhere}.")
            } else {
                a.fill("Known here: {allowed}.")
            };
            Sentence::new(a.fill("{}: unknown key."), nearest)
        }
        "record-wrong-type" => {
            let value = if a.has("value") { a.fill(" {value}") } else { String::new() };
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
                a.fill("Did you mean “{nearest}”?")
            } else {
                String::new()
            };
            Sentence::new(a.fill("{}: “{found}” is not one of {allowed}."), hint)
        }
        "record-missing-key" => s(a.fill("{}: the key “{key}” is missing."), "Add it."),
        "record-uncertainty-kind-missing" => s(
            a.fill("{}: the uncertainty does not say what it is."),
            "Add “kind”: expanded, standard or half-width.",
        ),
        "record-out-of-range" => range(a),
        "record-wrong-length" => {
            let wanted = match (a.has("minimum"), a.has("maximum")) {
                (true, true) => a.fill("{minimum} to {maximum}"),
                (true, false) => a.fill("at least {minimum}"),
                _ => a.fill("at most {maximum}"),
            };
            s(
                format!("{}: {wanted} entries expected, found {}.", a.path(), a.get("found")),
                "Correct the list.",
            )
        }
        "record-empty-text" => s(a.fill("{}: the text is empty."), "Fill it or remove the key."),
        "record-more-problems" => s(
            a.fill("There are more than {shown} problems; only these are shown."),
            "Mend these first.",
        ),
        "record-not-understood" => s(
            a.fill("The record was not understood: {detail}."),
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
            a.fill("{}: the id “{id}” is already used at {first}."),
            "Give each its own.",
        ),
        "record-unknown-range" | "record-unknown-scan" => {
            let hint = if a.has("nearest") {
                a.fill("Did you mean “{nearest}”?")
            } else {
                a.fill("Known: {allowed}.")
            };
            let what = if code == "record-unknown-range" { "gain range" } else { "scan" };
            Sentence::new(format!("{}: there is no {what} “{}”.", a.path(), a.get("found")), hint)
        }
        "record-reference-not-calibrated" => s(
            a.fill("{}: the reference of a check source must be calibrated itself."),
            "State its response as a factor or a table.",
        ),
        "record-one-factor" => s(
            a.fill("{}: a flat response has one factor, {found} are stated."),
            "State one of v_per_pa, mv_per_mpa and db_re_1v_per_upa.",
        ),
        "record-no-device-scans" => Sentence::new(
            a.fill("{}: no scan of the check source by this sensor is named."),
            a.fill("Name one for each range (ranges of this record: {allowed}), as \"range\": \"scan id\"."),
        ),
        "record-not-relative" => s(
            a.fill("{}: this uncertainty must be relative."),
            "State it as a fraction of its value, with \"relative\": true.",
        ),
        "record-not-absolute" => s(
            a.fill("{}: a position has no relative uncertainty."),
            "State it in metres, without \"relative\".",
        ),
        "record-axis-twice" => s(
            a.fill("{}: the axis {axis} stands twice."),
            "Name each axis once.",
        ),
        "record-no-time-axis" => {
            s(a.fill("{}: no axis is time."), "Name the time axis t.")
        }
        "record-zero-step" => s(a.fill("{}: the step is zero."), "Correct it."),
        "record-not-below" => s(
            a.fill("{}: {found} is too large beside {limit} ({other})."),
            "Correct one of the two.",
        ),
        "record-burst-exceeds-period" => s(
            a.fill("{}: a burst of {burst} does not fit into a repetition period of {period}."),
            "Check cycles, frequency and repetition rate.",
        ),
        "record-not-rising" => s(
            a.fill("{}: {found} does not rise above {before}."),
            "Sort the rows by frequency.",
        ),
        "record-not-a-day" => s(
            a.fill("{}: “{found}” is not a date."),
            "Write it as 2026-05-04.",
        ),
        "record-not-an-instant" => s(
            a.fill("{}: “{found}” is not a date with time."),
            "Write it as 2026-05-04T14:30.",
        ),
        "record-ends-before-start" => s(
            a.fill("{}: {end} lies before {start}."),
            "Swap or correct them.",
        ),
        "record-not-a-fraction" => s(
            a.fill("{}: {found} is no plausible fraction; as a percentage it would be {as_percent}."),
            "Relative values are fractions: 12 % is 0.12.",
        ),
        "record-tolerance-reversed" => s(
            a.fill("{}: the lower limit {lower} lies above the upper {upper}."),
            "Swap them.",
        ),
        "record-coverage-factor-unused" => s(
            a.fill("{}: a coverage factor of {k} is stated for an uncertainty that is not expanded."),
            "Say kind “expanded”, or remove k.",
        ),
        "record-uncertainty-exceeds-value" => s(
            a.fill("{}: the uncertainty {found} exceeds the value {value}."),
            "If it is a fraction, say “relative”: true.",
        ),
        _ => return None,
    })
}

fn s(text: impl Into<String>, hint: &str) -> Sentence {
    Sentence::new(text, hint)
}
