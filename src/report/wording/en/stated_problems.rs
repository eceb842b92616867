//! Problems of stated values, in the record and in a table.

use super::{Filled, Sentence};

/// Problems of stated values.
pub fn problems(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    record(code, a).or_else(|| table(code, a)).or_else(|| cells(code, a))
}

fn record(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "record-unknown-quantity" => {
            Sentence::new(a.fill("{}: there is no quantity “{found}”."), nearest(a))
        }
        "record-not-judged" => s(
            a.fill("{}: {quantity} is not judged here."),
            "Safety values are given on request, in a part of their own; take the stated value out.",
        ),
        "record-wrong-unit" => s(
            a.fill("{}: the unit “{found}” does not fit {quantity}."),
            a.fill("Units that fit: {allowed}."),
        ),
        "record-negative-value" => s(
            a.fill("{}: {quantity} cannot be negative, found {found}."),
            "Peak rarefactional pressure, too, is stated as a positive number.",
        ),
        "record-tolerance-wrong-sign" => {
            let (side, sign) = match a.get("side").as_str() {
                "lower" => ("below", "negative"),
                _ => ("above", "positive"),
            };
            s(
                format!(
                    "{}: the limit {side} the stated value is {} and should be {sign}.",
                    a.path(),
                    a.get("found")
                ),
                "Limits are given about the stated value: −15 % and +15 % are -0.15 and 0.15.",
            )
        }
        "record-tolerance-no-width" => {
            s(a.fill("{}: both limits are the same."), "State the tolerance, or leave it out.")
        }
        "record-tolerance-of-zero" => s(
            a.fill("{}: a fraction of a stated value of zero is no tolerance."),
            "State the limits in the unit of the value.",
        ),
        _ => return None,
    })
}

fn table(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "stated-table-empty" => s(
            "The table of stated values has no row.",
            "Give it a heading with quantity and value, and a row for each value.",
        ),
        "stated-table-not-text" => {
            s("The table of stated values is not plain text.", "Save it as CSV, UTF-8.")
        }
        "stated-table-too-long" => s(
            a.fill("The table of stated values is longer than {limit}."),
            "Check that it is the right file.",
        ),
        "stated-table-no-column" => s(
            a.fill("{}: no column is headed “{expected}”."),
            "Columns are found by their headings in the first row.",
        ),
        "stated-table-column-twice" => {
            s(a.fill("{}: the column “{found}” stands twice."), "Keep one of them.")
        }
        "stated-table-unknown-column" => {
            let hint = if a.has("nearest") { nearest(a) } else { a.fill("Known: {allowed}.") };
            s(a.fill("{}: the column “{found}” is not known."), hint)
        }
        "stated-table-too-many-cells" => s(
            a.fill("{}: {found} cells under {expected} headings."),
            "Put texts that hold the delimiter into quotes; use semicolons or tabs with decimal commas.",
        ),
        _ => return None,
    })
}

fn cells(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    let place = a.fill("{}: {column} “{found}”");
    Some(match code {
        "stated-table-unknown-quantity" => {
            s(a.fill("{}: there is no quantity “{found}”."), nearest(a))
        }
        "stated-table-ambiguous-quantity" => {
            s(a.fill("{}: “{found}” may be several quantities."), a.fill("Write one of {allowed}."))
        }
        "stated-table-ambiguous-number" => s(
            format!("{place} may have a decimal comma or a comma between thousands."),
            "Write it with a decimal point, or without a separator.",
        ),
        "stated-table-not-a-number" => s(format!("{place} is not a number."), "Correct the cell."),
        "stated-table-not-understood" => s(
            format!("{place} was not understood."),
            "Forms that are: ±15 %, +20 % / -10 %, ±0.5 with a unit, max, min.",
        ),
        "stated-table-no-unit" => s(
            format!("{place} has neither % nor a unit."),
            a.fill("Add % or one of {allowed}, in the cell or in the heading."),
        ),
        "stated-table-wrong-unit" => s(
            format!("{place} has a unit that does not fit."),
            a.fill("Add % or one of {allowed}."),
        ),
        "stated-table-percent-of-percent" => s(
            format!("{place} is a percentage of a percentage."),
            "Write percentage points as pp: ±3 pp.",
        ),
        "stated-table-no-kind" => s(
            a.fill("{}: the uncertainty “{found}” does not say what it is."),
            "Write expanded (with k), standard or half-width, in the cell or in a column “kind”.",
        ),
        "stated-table-not-one-of" => {
            s(format!("{place} is not one of {}.", a.get("allowed")), "Use one of these words.")
        }
        _ => return None,
    })
}

fn nearest(a: &Filled<'_>) -> String {
    if a.has("nearest") {
        a.fill("Did you mean “{nearest}”?")
    } else {
        "The ids are listed in the documentation of the quantities.".to_owned()
    }
}

fn s(text: impl Into<String>, hint: impl Into<String>) -> Sentence {
    Sentence::new(text, hint)
}
