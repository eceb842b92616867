//! Problems of stated values, in the record and in a table.

use super::{Filled, Sentence};

/// Problems of stated values.
pub fn problems(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    record(code, a).or_else(|| table(code, a)).or_else(|| cells(code, a))
}

fn record(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "record-unknown-quantity" => Sentence::new(
            format!("{}: there is no quantity “{}”.", a.path(), a.get("found")),
            nearest(a),
        ),
        "record-wrong-unit" => s(
            format!(
                "{}: the unit “{}” does not fit {}.",
                a.path(),
                a.get("found"),
                a.get("quantity")
            ),
            format!("Units that fit: {}.", a.get("allowed")),
        ),
        "record-negative-value" => s(
            format!(
                "{}: {} cannot be negative, found {}.",
                a.path(),
                a.get("quantity"),
                a.get("found")
            ),
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
        "record-tolerance-no-width" => s(
            format!("{}: both limits are the same.", a.path()),
            "State the tolerance, or leave it out.",
        ),
        "record-tolerance-of-zero" => s(
            format!("{}: a fraction of a stated value of zero is no tolerance.", a.path()),
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
            format!("The table of stated values is longer than {}.", a.get("limit")),
            "Check that it is the right file.",
        ),
        "stated-table-no-column" => s(
            format!("{}: no column is headed “{}”.", a.path(), a.get("expected")),
            "Columns are found by their headings in the first row.",
        ),
        "stated-table-column-twice" => s(
            format!("{}: the column “{}” stands twice.", a.path(), a.get("found")),
            "Keep one of them.",
        ),
        "stated-table-unknown-column" => {
            let hint =
                if a.has("nearest") { nearest(a) } else { format!("Known: {}.", a.get("allowed")) };
            s(format!("{}: the column “{}” is not known.", a.path(), a.get("found")), hint)
        }
        "stated-table-too-many-cells" => s(
            format!("{}: {} cells under {} headings.", a.path(), a.get("found"), a.get("expected")),
            "Put texts that hold the delimiter into quotes; use semicolons or tabs with decimal commas.",
        ),
        _ => return None,
    })
}

fn cells(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    let place = format!("{}: {} “{}”", a.path(), a.get("column"), a.get("found"));
    Some(match code {
        "stated-table-unknown-quantity" => {
            s(format!("{}: there is no quantity “{}”.", a.path(), a.get("found")), nearest(a))
        }
        "stated-table-ambiguous-quantity" => s(
            format!("{}: “{}” may be several quantities.", a.path(), a.get("found")),
            format!("Write one of {}.", a.get("allowed")),
        ),
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
            format!("Add % or one of {}, in the cell or in the heading.", a.get("allowed")),
        ),
        "stated-table-wrong-unit" => s(
            format!("{place} has a unit that does not fit."),
            format!("Add % or one of {}.", a.get("allowed")),
        ),
        "stated-table-percent-of-percent" => s(
            format!("{place} is a percentage of a percentage."),
            "Write percentage points as pp: ±3 pp.",
        ),
        "stated-table-no-kind" => s(
            format!("{}: the uncertainty “{}” does not say what it is.", a.path(), a.get("found")),
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
        format!("Did you mean “{}”?", a.get("nearest"))
    } else {
        "The ids are listed in the documentation of the quantities.".to_owned()
    }
}

fn s(text: impl Into<String>, hint: impl Into<String>) -> Sentence {
    Sentence::new(text, hint)
}
