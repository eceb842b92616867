//! How a table is written: separator and decimal sign, told from its first rows.
//!
//! The rules, in this order (quoted parts aside):
//!
//! 1. a semicolon anywhere: semicolons separate
//! 2. a tab between cells: tabs separate, unless commas stand before white space (`1,⇥2`)
//! 3. commas, and spaces between cells: spaces separate and commas are decimal if every comma stands
//!    between two digits, no cell has two of them and there is no point; else commas separate
//! 4. commas: commas separate. `1,500` alone is thus two cells
//! 5. runs of spaces
//!
//! Where commas do not separate, or stand inside quotes, and no cell has a point, they are decimal.

use super::cells::{Cells, Separator, cells};
use super::number::{Cell, number};

/// Separator and decimal sign.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Dialect {
    pub separator: Separator,
    /// `.` or `,`.
    pub decimal: u8,
    /// Whether every row ends with a separator after its last cell.
    pub trailing: bool,
}

impl Dialect {
    /// The cells of a row.
    pub fn cells<'a>(&self, line: &'a [u8]) -> Cells<'a> {
        let mut line = line;
        if self.trailing {
            let end = line.iter().rposition(|b| *b != b' ').map_or(0, |last| last + 1);
            line = line[..end].strip_suffix(&[self.separator.byte()]).unwrap_or(line);
        }
        cells(line, self.separator)
    }

    /// Whether a line among the rows is a remark: `#`, `%`, `!`, `//`, and `;` where that does not
    /// separate cells.
    pub fn is_comment(&self, line: &[u8]) -> bool {
        let line = line.trim_ascii_start();
        match line.first() {
            Some(b'#' | b'%' | b'!') => true,
            Some(b'/') => line.get(1) == Some(&b'/'),
            Some(b';') => self.separator != Separator::Semicolon,
            _ => false,
        }
    }

    /// Tells the dialect from some rows of numbers.
    pub fn of(rows: &[&[u8]]) -> Self {
        let bare: Vec<Vec<u8>> = rows.iter().map(|row| outside_quotes(row)).collect();
        let any = |test: &dyn Fn(&[u8]) -> bool| bare.iter().any(|row| test(row));
        let comma = any(&|row| row.contains(&b','));
        let point = any(&|row| row.contains(&b'.'));
        let space = any(&|row| row.trim_ascii().iter().any(u8::is_ascii_whitespace));
        let separator = if any(&|row| row.contains(&b';')) {
            Separator::Semicolon
        } else if any(&|row| row.contains(&b'\t')) && !any(&comma_before_space) {
            Separator::Tab
        } else if comma {
            let decimal = space && !point && bare.iter().all(|row| commas_inside_cells(row));
            if decimal { Separator::Spaces } else { Separator::Comma }
        } else if space {
            Separator::Spaces
        } else {
            Separator::Comma
        };
        let inside = rows.iter().any(|row| quoted_comma(row));
        let decimal_comma = !point && (inside || (comma && separator != Separator::Comma));
        let trailing = separator != Separator::Spaces
            && bare.iter().all(|row| {
                row.iter().rev().find(|b| **b != b' ').is_some_and(|b| *b == separator.byte())
            });
        Self { separator, decimal: if decimal_comma { b',' } else { b'.' }, trailing }
    }
}

/// Whether a line holds numbers only, whatever separates them; empty cells are passed over.
pub fn is_numeric(line: &[u8]) -> bool {
    let mut numbers = 0;
    for token in line.split(|b| b",; \t".contains(b)) {
        let token = token.strip_prefix(b"\"").unwrap_or(token);
        let token = token.strip_suffix(b"\"").unwrap_or(token);
        match number(token, b'.') {
            Some(Cell::Missing) => {}
            Some(_) => numbers += 1,
            None => return false,
        }
    }
    numbers > 0
}

/// The line with `"` instead of each quoted part.
fn outside_quotes(line: &[u8]) -> Vec<u8> {
    let mut out = Vec::with_capacity(line.len());
    let mut quoted = false;
    for byte in line {
        if *byte == b'"' {
            quoted = !quoted;
            out.push(b'"');
        } else if !quoted {
            out.push(*byte);
        }
    }
    out
}

fn quoted_comma(line: &[u8]) -> bool {
    line.split(|b| *b == b'"').skip(1).step_by(2).any(|part| part.contains(&b','))
}

fn comma_before_space(row: &[u8]) -> bool {
    row.windows(2).any(|pair| pair[0] == b',' && pair[1].is_ascii_whitespace())
}

fn commas_inside_cells(row: &[u8]) -> bool {
    row.split(u8::is_ascii_whitespace).all(|cell| {
        let mut commas = cell.iter().enumerate().filter(|(_, b)| **b == b',').map(|(i, _)| i);
        let Some(first) = commas.next() else { return true };
        let digit = |i: usize| cell.get(i).is_some_and(u8::is_ascii_digit);
        commas.next().is_none() && first > 0 && digit(first - 1) && digit(first + 1)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn separators_and_decimals() {
        for (row, separator, decimal) in [
            ("1,2,3", Separator::Comma, b'.'),
            ("1,500", Separator::Comma, b'.'),
            ("1, 2, 3", Separator::Comma, b'.'),
            ("1,\t2", Separator::Comma, b'.'),
            ("1 ,2", Separator::Comma, b'.'),
            ("1.5,2.5 ", Separator::Comma, b'.'),
            ("1,5;2,5", Separator::Semicolon, b','),
            ("1.5;2.5", Separator::Semicolon, b'.'),
            ("1,5\t2,5", Separator::Tab, b','),
            ("1.5\t2.5", Separator::Tab, b'.'),
            ("1,5 2,5", Separator::Spaces, b','),
            ("  1.5   2e-3", Separator::Spaces, b'.'),
            ("\"1,5\",\"2,5\"", Separator::Comma, b','),
            ("7", Separator::Comma, b'.'),
        ] {
            let dialect = Dialect::of(&[row.as_bytes()]);
            assert_eq!((dialect.separator, dialect.decimal), (separator, decimal), "{row}");
            assert!(!dialect.trailing, "{row}");
            assert!(is_numeric(row.as_bytes()), "{row}");
        }
        let trailing = Dialect::of(&[b"1,2,", b"3,4,"]);
        assert!(trailing.trailing);
        assert_eq!(trailing.cells(b"3,4, ").count(), 2);
        assert!(!Dialect::of(&[b"1,2,", b"3,4,5"]).trailing);
    }

    #[test]
    fn lines_that_are_not_rows() {
        for line in ["a,1", "x", "2025-01-01 10:00", "", "- -", "N/A,,"] {
            assert!(!is_numeric(line.as_bytes()), "{line}");
        }
    }
}
