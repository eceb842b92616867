//! The heading of a column: a name, and perhaps a unit.

use super::units::{is_unit, unbracketed};

/// Name and unit of a column.
#[derive(Debug, Clone, PartialEq)]
pub struct Heading {
    pub name: String,
    pub unit: Option<String>,
}

impl Heading {
    /// Reads a heading.
    ///
    /// | written | name | unit |
    /// |---|---|---|
    /// | `x (mm)`, `x(mm)`, `Zeit [µs]` | before the bracket | in it |
    /// | `time/us`, `time / us` | before the last slash | behind it, if it is a unit |
    /// | `V_out, mV` | before the last comma | behind it, if it is a unit |
    /// | `t_s`, `waveforms[3]`, `V(out)` | all of it | none |
    ///
    /// Round brackets without a space before them hold a unit only if it is a known one; brackets
    /// with a number in them are part of the name. A slash in a name becomes `_`.
    pub fn of(cell: &str) -> Self {
        let cell = cell.replace("\"\"", "\"");
        let cell = cell.trim();
        let (name, unit) = split(cell);
        let unit = unit.filter(|unit| !unit.is_empty() && *unit != "-").map(str::to_owned);
        Self { name: name.trim().replace('/', "_"), unit }
    }
}

fn split(cell: &str) -> (&str, Option<&str>) {
    if let Some(open) = cell.rfind(['(', '[']) {
        let (name, bracket) = cell.split_at(open);
        if let Some(unit) = unbracketed(bracket) {
            let known = bracket.starts_with('[') || name.ends_with(' ') || is_unit(unit);
            if known && unit.parse::<f64>().is_err() && !name.trim().is_empty() {
                return (name, Some(unit));
            }
        }
    }
    for sign in ['/', ','] {
        if let Some((name, unit)) = cell.rsplit_once(sign)
            && is_unit(unit.trim())
            && !name.trim().is_empty()
        {
            return (name, Some(unit.trim()));
        }
    }
    (cell, None)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_and_units() {
        for (cell, name, unit) in [
            ("x (mm)", "x", Some("mm")),
            ("x(mm)", "x", Some("mm")),
            ("Zeit [µs]", "Zeit", Some("µs")),
            ("time/us", "time", Some("us")),
            ("time / us", "time", Some("us")),
            ("V_out, mV", "V_out", Some("mV")),
            ("waveforms", "waveforms", None),
            ("waveforms[3]", "waveforms[3]", None),
            ("V_out[3] (mV)", "V_out[3]", Some("mV")),
            ("V(out)", "V(out)", None),
            ("p+/p-", "p+_p-", None),
            ("sensitivity [mV/MPa]", "sensitivity", Some("mV/MPa")),
            ("ratio [-]", "ratio", None),
            ("t_s", "t_s", None),
            ("(mm)", "(mm)", None),
            ("", "", None),
        ] {
            let heading = Heading::of(cell);
            assert_eq!((heading.name.as_str(), heading.unit.as_deref()), (name, unit), "{cell}");
        }
    }
}
