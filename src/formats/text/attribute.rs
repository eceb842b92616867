//! Lines before the table that state something: `# key = value`, `key: value`, `key;value`.
//!
//! A value that is a number is an attribute of numbers. A number and, after white space or not, one
//! word that begins with a letter, `µ`, `°`, `Ω` or `%` (`20 ns`) gives two attributes: the number
//! under the key, the word as text under the key and ` units`. Any other value is kept as text. A
//! key that itself ends in a unit (`x_m`, `dt_s`) keeps `20 mm` as text: its unit is settled.

use std::collections::BTreeMap;

use super::super::container::Attribute;
use super::cells::{Separator, cells};
use super::encoding::decode;
use super::number::number;

/// Longest key, and longest unit, in characters.
const MAX_KEY: usize = 80;
const MAX_UNIT: usize = 12;
/// Ends of names that settle their unit.
const SETTLED: [&str; 9] = ["_s", "_m", "_v", "_hz", "_mhz", "_rad", "_deg", "_c", "_count"];

/// Attributes by key.
pub type Attributes = BTreeMap<String, Attribute>;

/// The text of a remark: without its sign. `None` if the line is none.
pub fn remark(line: &[u8]) -> Option<&[u8]> {
    let line = line.trim_ascii();
    let rest = match line.first()? {
        b'#' | b'%' | b'!' | b'\'' => &line[1..],
        b'/' if line.get(1) == Some(&b'/') => &line[2..],
        b';' if !line[1..].contains(&b';') => &line[1..],
        b'"' if line.len() > 1 && line.iter().filter(|b| **b == b'"').count() == 2 => {
            line[1..].strip_suffix(b"\"")?
        }
        _ => return None,
    };
    Some(rest.trim_ascii())
}

/// Key and value of `key = value` or `key: value`; an equals sign goes before a colon.
pub fn pair(text: &str) -> Option<(&str, &str)> {
    let split = text.split_once('=').or_else(|| {
        text.split_once(':').filter(|(_, value)| value.is_empty() || value.starts_with([' ', '\t']))
    });
    let (key, value) = split?;
    let key = key.trim();
    (!key.is_empty() && key.chars().count() <= MAX_KEY && key.parse::<f64>().is_err())
        .then_some((key, value.trim()))
}

/// Adds what a remark states.
pub fn add_remark(text: &[u8], decimal: u8, to: &mut Attributes) {
    let text = decode(text);
    if let Some((key, value)) = pair(&text) {
        add(key, value, decimal, to);
    }
}

/// Adds what another line before the header states: a pair, or two or three cells (key, value, unit).
pub fn add_line(line: &[u8], decimal: u8, to: &mut Attributes) {
    let text = decode(line.trim_ascii());
    if let Some((key, value)) = pair(&text) {
        add(key.trim_matches('"'), value.trim_matches('"'), decimal, to);
        return;
    }
    let line = text.as_bytes();
    for separator in [Separator::Tab, Separator::Semicolon, Separator::Comma] {
        let mut parts: Vec<String> = cells(line, separator).map(decode).collect();
        while parts.last().is_some_and(String::is_empty) {
            parts.pop();
        }
        let (key, value) = match parts.as_slice() {
            [key, value] => (key, value.clone()),
            [key, value, unit] if number(value.as_bytes(), decimal).is_some() => {
                (key, format!("{value} {unit}"))
            }
            _ => continue,
        };
        let key = key.trim_end_matches(':').trim();
        if !key.is_empty() && !value.is_empty() && key.chars().count() <= MAX_KEY {
            add(key, &value, decimal, to);
            return;
        }
    }
}

fn add(key: &str, value: &str, decimal: u8, to: &mut Attributes) {
    let plain = |text: &str| -> Option<f64> {
        let point = text.parse::<f64>().ok();
        point.or_else(|| if decimal == b',' { text.replace(',', ".").parse().ok() } else { None })
    };
    let lower = key.to_ascii_lowercase();
    let settled = SETTLED.iter().any(|end| lower.ends_with(end));
    let attribute = if let Some(number) = plain(value) {
        Attribute::Numbers(vec![number])
    } else if let Some((number, unit)) = with_unit(value).filter(|_| !settled)
        && let Some(number) = plain(number)
    {
        to.insert(format!("{key} units"), Attribute::Text(unit.to_owned()));
        Attribute::Numbers(vec![number])
    } else {
        Attribute::Text(value.to_owned())
    };
    to.insert(key.to_owned(), attribute);
}

/// `20 ns` → (`20`, `ns`); `2e-8s` → (`2e-8`, `s`).
fn with_unit(value: &str) -> Option<(&str, &str)> {
    let (number, unit) = match value.split_once([' ', '\t']) {
        Some((number, unit)) => (number, unit.trim()),
        None => {
            let end = value.rfind(|c: char| c.is_ascii_digit())? + 1;
            value.split_at(end)
        }
    };
    let starts = unit.starts_with(|c: char| c.is_alphabetic() || "µ°Ω%".contains(c));
    let one_word = !unit.contains(char::is_whitespace) && unit.chars().count() <= MAX_UNIT;
    (starts && one_word).then_some((number, unit))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(line: &str, decimal: u8) -> Vec<(String, Attribute)> {
        let mut out = Attributes::new();
        match remark(line.as_bytes()) {
            Some(text) => add_remark(text, decimal, &mut out),
            None => add_line(line.as_bytes(), decimal, &mut out),
        }
        out.into_iter().collect()
    }

    #[test]
    fn numbers_units_and_text() {
        let number = |key: &str, n: f64| (key.to_owned(), Attribute::Numbers(vec![n]));
        let text = |key: &str, t: &str| (key.to_owned(), Attribute::Text(t.to_owned()));
        assert_eq!(of("# dt_s = 2e-8", b'.'), [number("dt_s", 2e-8)]);
        assert_eq!(of("# note = x y", b'.'), [text("note", "x y")]);
        let interval = [number("Sample interval", 20.0), text("Sample interval units", "ns")];
        for line in [
            "Sample interval: 20 ns",
            "% Sample interval = 20ns",
            "Sample interval;20 ns",
            "Sample interval\t20\tns",
            "\"Sample interval\",20,ns",
            "// Sample interval: 20 ns",
        ] {
            assert_eq!(of(line, b'.'), interval, "{line}");
        }
        assert_eq!(of("Gain;1,5 dB", b','), [number("Gain", 1.5), text("Gain units", "dB")]);
        assert_eq!(of("# x_m = 15 mm", b'.'), [text("x_m", "15 mm")]);
        assert_eq!(of("# made: 3 May 2031", b'.'), [text("made", "3 May 2031")]);
        assert_eq!(of("# 12:30 start", b'.'), []);
        assert_eq!(of("a title", b'.'), []);
    }
}
