//! Problems of text typed into a blank of the sheet.

use super::{Filled, Sentence};

/// Problems of typed text.
pub fn problems(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    let s = Sentence::new;
    let found = a.get("found");
    Some(match code {
        "typed-no-blank" => s("There is nothing to fill in here.".to_owned(), String::new()),
        "typed-too-long" => {
            s("This text is too long.".to_owned(), format!("Up to {} characters.", a.get("limit")))
        }
        "typed-not-a-number" => s(
            format!("“{found}” is no number."),
            match a.get("example").as_str() {
                "" => "A number with its unit, decimal point or comma.".to_owned(),
                example => format!("A number with its unit, decimal point or comma: {example}."),
            },
        ),
        "typed-ambiguous" => s(
            format!("“{found}” can be read in two ways."),
            "Leave out the mark between thousands, or write another number of decimals.".to_owned(),
        ),
        "typed-wrong-unit" => s(
            format!("The unit in “{found}” does not fit here."),
            format!("Units that fit: {}.", a.get("allowed")),
        ),
        "typed-no-unit" => {
            s(format!("“{found}”: this number has no unit."), "Type the number alone.".to_owned())
        }
        "typed-not-whole" => {
            s(format!("“{found}” is not a whole number."), "Type a whole number.".to_owned())
        }
        "typed-not-one-of" => s(
            format!("“{found}” is none of the words known here."),
            format!("Known: {}.", a.get("allowed")),
        ),
        "typed-not-a-day" => s(
            format!("“{found}” is no day of the calendar."),
            "Year, month, day: 2026-05-04.".to_owned(),
        ),
        "typed-no-kind" => s(
            format!("“{found}” does not say what kind of uncertainty it is."),
            "Add it: 3 % (k=2), 3 % standard, or 3 % half-width.".to_owned(),
        ),
        "typed-no-uncertainty" => s(
            format!("“{found}” is no uncertainty."),
            "A number, its unit, and of which kind: 3 % (k=2), 3 % standard, or 3 % half-width."
                .to_owned(),
        ),
        "typed-not-flat" => s(
            "The sensitivity is by table or by check source; it is not typed here.".to_owned(),
            "Change that file or the record; what is a table over frequency stays one.".to_owned(),
        ),
        "typed-not-a-tolerance" => s(
            format!("“{found}” is no tolerance that is understood."),
            "For example ±15 %, +20 % / -10 %, ±0.5 MPa.".to_owned(),
        ),
        "typed-percent-of-percent" => s(
            format!("“{found}”: percent of a percentage is unclear."),
            "Write pp for percentage points.".to_owned(),
        ),
        _ => return None,
    })
}
