//! Numbers of a column aligned on their decimal mark.
//!
//! Each number is set in two halves of fixed width: up to the units digit, right-aligned, and from
//! the decimal mark on, left-aligned. The text stays in one piece for copying and reading aloud.

use super::escape;

/// A number's halves: `12.34` is `12` and `.34`.
///
/// The decimal mark is the first point or comma between two digits; a number without one has an
/// empty right half.
pub fn split(number: &str) -> (&str, &str) {
    let bytes = number.as_bytes();
    let is_digit = |index: usize| bytes.get(index).is_some_and(u8::is_ascii_digit);
    let mark = (1..bytes.len())
        .find(|&at| matches!(bytes[at], b'.' | b',') && is_digit(at - 1) && is_digit(at + 1));
    match mark {
        Some(at) => number.split_at(at),
        None => (number, ""),
    }
}

/// Whether a cell is a bare number that can be aligned: an optional sign or relation, digits with
/// at most one decimal mark, an optional power of ten.
pub fn is_number(cell: &str) -> bool {
    let cell = cell.trim();
    let digits =
        cell.trim_start_matches(|lead: char| "±≥≤≈<>~+−- ".contains(lead) || lead == '\u{a0}');
    let marks = digits.chars().filter(|mark| matches!(mark, '.' | ',')).count();
    let allowed = |character: char| {
        character.is_ascii_digit() || ".,×% \u{a0}\u{2009}\u{202f}⁻⁰¹²³⁴⁵⁶⁷⁸⁹".contains(character)
    };
    digits.starts_with(|first: char| first.is_ascii_digit())
        && marks <= 1
        && digits.chars().all(allowed)
}

/// The widths that a column's halves need, in tenths of a digit's width.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Column {
    left: usize,
    right: usize,
}

impl Column {
    /// Wide enough for all of these numbers.
    pub fn of<'a>(numbers: impl IntoIterator<Item = &'a str>) -> Self {
        numbers.into_iter().fold(Self::default(), |widest, number| {
            let (left, right) = split(number.trim());
            Self { left: widest.left.max(tenths(left)), right: widest.right.max(tenths(right)) }
        })
    }

    /// One number of the column as HTML.
    pub fn set(&self, number: &str) -> String {
        let number = number.trim();
        if number.is_empty() {
            return String::new();
        }
        let (left, right) = split(number);
        format!(
            "<span class=\"number\"><span class=\"whole\" style=\"min-width:{}ch\">{}</span>\
             <span class=\"fraction\" style=\"min-width:{}ch\">{}</span></span>",
            ch(self.left),
            escape::text(left),
            ch(self.right),
            escape::text(right)
        )
    }
}

/// Width of a half in tenths of a digit: spaces are narrower, signs may be wider.
fn tenths(half: &str) -> usize {
    let width = |character: char| match character {
        space if space.is_whitespace() => 6,
        '.' | ',' | '0'..='9' => 10,
        _ => 14,
    };
    half.chars().map(width).sum()
}

fn ch(tenths: usize) -> String {
    format!("{}.{}", tenths / 10, tenths % 10)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn halves() {
        assert_eq!(split("12.34"), ("12", ".34"));
        assert_eq!(split("−0,5"), ("−0", ",5"));
        assert_eq!(split("1250"), ("1250", ""));
        assert_eq!(split("≥ 3.1"), ("≥ 3", ".1"));
        assert_eq!(split("1.2 × 10³"), ("1", ".2 × 10³"));
        assert_eq!(split("12 345.6"), ("12 345", ".6"));
        assert_eq!(split("3."), ("3.", ""));
        assert_eq!(split(".5"), (".5", ""));
        assert_eq!(split(""), ("", ""));
        assert_eq!(split("µ1.5µ"), ("µ1", ".5µ"));
    }

    #[test]
    fn bare_numbers() {
        for yes in ["1", "−0.12", "± 0,4", "≥ 12", "1.2 × 10⁻³", "12 345", "98 %", "-3"] {
            assert!(is_number(yes), "{yes}");
        }
        for no in ["", "2026-05-04", "4.5.2026", "3 mm", "–", "1,234.5", "p", "not stated", "±"]
        {
            assert!(!is_number(no), "{no}");
        }
    }

    #[test]
    fn a_column_is_as_wide_as_its_widest_halves() {
        let column = Column::of(["12.34", "1.2345", "−5"]);
        assert_eq!(column, Column { left: 24, right: 50 });
        assert_eq!(
            column.set("1.2"),
            "<span class=\"number\"><span class=\"whole\" style=\"min-width:2.4ch\">1</span>\
             <span class=\"fraction\" style=\"min-width:5.0ch\">.2</span></span>"
        );
        assert_eq!(column.set(" "), "");
        assert!(column.set("<1").contains("&lt;1"));
    }
}
