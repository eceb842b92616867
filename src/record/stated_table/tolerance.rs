//! Tolerances as typed: `±15 %`, `+20 % / -10 %`, `±0.5 MPa`, `max`, `≤`.

use super::number::{Fault, number};
use crate::base::typed_unit;
use crate::record::Tolerance;

/// Why a tolerance was not understood.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wrong {
    Number(Fault),
    /// No form that is known.
    Form,
    /// A number without `%` or unit.
    NoUnit,
    /// A unit that does not fit the quantity.
    Unit,
    /// A percentage of a value that is a percentage itself.
    PercentOfPercent,
}

/// What the tolerance belongs to.
#[derive(Debug, Clone, Copy)]
pub struct Owner<'a> {
    /// SI unit of the quantity.
    pub si: &'a str,
    /// Unit of the value.
    pub unit: &'a str,
    /// Unit in the column's heading.
    pub heading: Option<&'a str>,
}

/// Which side a part of a tolerance limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Side {
    Both,
    Upper,
    Lower,
}

/// The limit on one side at the stated value itself, from a word or sign for it.
pub fn limit_word(text: &str) -> Option<Tolerance> {
    let zero = Some(0.0);
    match text.trim().trim_end_matches('.').to_lowercase().as_str() {
        "≤" | "<=" | "<" | "max" | "maximum" | "at most" => {
            Some(Tolerance { lower: None, upper: zero, relative: false })
        }
        "≥" | ">=" | ">" | "min" | "minimum" | "at least" => {
            Some(Tolerance { lower: zero, upper: None, relative: false })
        }
        _ => None,
    }
}

/// A tolerance in the unit of the value or as fractions of it; `None` for an empty cell.
///
/// Without a sign both sides are meant; `+20 %` alone limits the upper side alone.
///
/// # Errors
/// What is wrong with it.
pub fn tolerance(text: &str, owner: Owner<'_>) -> Result<Option<Tolerance>, Wrong> {
    let text = text.trim();
    if text.is_empty() || matches!(text, "-" | "–" | "—") {
        return Ok(None);
    }
    if let Some(limit) = limit_word(text) {
        return Ok(Some(limit));
    }
    let plain = text.replace('−', "-").replace("+/-", "±").replace("+-", "±").replace("-/+", "±");
    let parts = parts(&plain);
    let last_unit =
        parts.last().map(|(_, text)| number(text)).transpose().map_err(Wrong::Number)?;
    let last_unit = last_unit.map_or("", |(_, unit)| unit);
    let mut out = Tolerance::default();
    let mut relative = None;
    let several = parts.len() > 1;
    for (side, text) in parts {
        let (value, unit) = number(text).map_err(Wrong::Number)?;
        let unit = if unit.is_empty() { last_unit } else { unit };
        let (value, is_relative) = in_unit(value, unit, owner)?;
        if relative.is_some_and(|before| before != is_relative) || (several && side == Side::Both) {
            return Err(Wrong::Form);
        }
        relative = Some(is_relative);
        if side != Side::Lower && out.upper.replace(value).is_some()
            || side != Side::Upper && out.lower.replace(-value).is_some()
        {
            return Err(Wrong::Form);
        }
    }
    out.relative = relative.ok_or(Wrong::Form)?;
    Ok(Some(out))
}

/// The parts of a tolerance, each from its sign on. A sign inside a number or a unit (`1e-3`,
/// `cm-2`) begins none.
fn parts(text: &str) -> Vec<(Side, &str)> {
    let mut starts = Vec::new();
    let mut before = ' ';
    for (at, c) in text.char_indices() {
        if matches!(c, '+' | '-' | '±') && !before.is_alphanumeric() {
            starts.push((at, c));
        }
        before = c;
    }
    if starts.first().is_none_or(|(at, _)| *at > 0) {
        starts.insert(0, (0, '±'));
    }
    let ends = starts.iter().skip(1).map(|(at, _)| *at).chain([text.len()]);
    let ends: Vec<usize> = ends.collect();
    starts
        .iter()
        .zip(ends)
        .map(|((start, sign), end)| {
            let part = text[*start..end].trim_start_matches(['+', '-', '±']).trim();
            let part = part.trim_end_matches(['/', ';', ',', ' ']);
            let part = part.strip_suffix(" to").unwrap_or(part).trim_end();
            let side = match sign {
                '+' => Side::Upper,
                '-' => Side::Lower,
                _ => Side::Both,
            };
            (side, part)
        })
        .collect()
}

/// A number in the unit of the value, or as a fraction; and which of the two.
pub fn in_unit(value: f64, unit: &str, owner: Owner<'_>) -> Result<(f64, bool), Wrong> {
    let unit = match (unit, owner.heading) {
        ("", Some(heading)) => heading,
        ("", None) => return Err(Wrong::NoUnit),
        (unit, _) => unit,
    };
    if unit == "%" {
        return if owner.unit == "%" {
            Err(Wrong::PercentOfPercent)
        } else {
            Ok((value / 100.0, true))
        };
    }
    let unit = if unit == "pp" { "%" } else { unit };
    let of = |unit: &str| typed_unit::factor(owner.si, unit);
    match (of(unit), of(owner.unit)) {
        (Some(from), Some(to)) => Ok((value * from / to, false)),
        _ => Err(Wrong::Unit),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PRESSURE: Owner<'_> = Owner { si: "Pa", unit: "MPa", heading: None };

    /// Lower and upper limit, and whether they are relative.
    type Limits = (Option<f64>, Option<f64>, bool);

    fn read(text: &str) -> Result<Option<Limits>, Wrong> {
        tolerance(text, PRESSURE).map(|found| found.map(|t| (t.lower, t.upper, t.relative)))
    }

    /// By reading.
    #[test]
    fn forms() {
        let both = |low: f64, high: f64, relative| Ok(Some((Some(low), Some(high), relative)));
        for text in
            ["±15 %", "15%", "15 %", "+/-15%", "+-15 %", "± 15,0 %", "+15/-15 %", "-15 % to +15 %"]
        {
            assert_eq!(read(text), both(-0.15, 0.15, true), "{text}");
        }
        for text in ["+20 % / -10 %", "+20/−10 %", "-10 %; +20 %", "+20 %, -10 %", "-10%/+20%"] {
            assert_eq!(read(text), both(-0.10, 0.20, true), "{text}");
        }
        assert_eq!(read("±0.5 MPa"), both(-0.5, 0.5, false));
        assert_eq!(read("±500 kPa"), both(-0.5, 0.5, false));
        assert_eq!(read("+20 %"), Ok(Some((None, Some(0.2), true))));
        assert_eq!(read("-10 %"), Ok(Some((Some(-0.1), None, true))));
        for text in ["≤", "<=", "max", "Max.", "maximum"] {
            assert_eq!(read(text), Ok(Some((None, Some(0.0), false))), "{text}");
        }
        for text in ["≥", ">=", "min", "at least"] {
            assert_eq!(read(text), Ok(Some((Some(0.0), None, false))), "{text}");
        }
        for text in ["", " ", "–"] {
            assert_eq!(read(text), Ok(None), "{text}");
        }
        let intensity = Owner { si: "W/m2", unit: "W/cm2", heading: Some("W/cm2") };
        let found = tolerance("±20", intensity).unwrap().unwrap();
        assert_eq!((found.lower, found.upper), (Some(-20.0), Some(20.0)));
        let found = tolerance("+500 mW/cm2 / -20 W cm-2", intensity).unwrap().unwrap();
        assert_eq!((found.lower, found.upper), (Some(-20.0), Some(0.5)));
        let percent = Owner { si: "1", unit: "%", heading: None };
        let found = tolerance("±3 pp", percent).unwrap().unwrap();
        assert_eq!((found.upper, found.relative), (Some(3.0), false));
    }

    #[test]
    fn what_is_not_understood_is_refused() {
        assert_eq!(read("±15"), Err(Wrong::NoUnit));
        assert_eq!(read("±1 mm"), Err(Wrong::Unit));
        assert_eq!(read("about right"), Err(Wrong::Number(Fault::NotANumber)));
        assert_eq!(read("±1,500 Pa"), Err(Wrong::Number(Fault::Ambiguous)));
        assert_eq!(read("+20 % / -0.5 MPa"), Err(Wrong::Form));
        assert_eq!(read("+20 % / +10 %"), Err(Wrong::Form));
        assert_eq!(read("±20 % / -10 %"), Err(Wrong::Form));
        let percent = Owner { si: "1", unit: "%", heading: None };
        assert_eq!(tolerance("±3 %", percent), Err(Wrong::PercentOfPercent));
    }
}
