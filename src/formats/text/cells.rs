//! A line cut into cells.

use super::number::{Cell, leading, number};

/// What stands between two cells.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Separator {
    Comma,
    Semicolon,
    Tab,
    /// Any run of spaces and tabs.
    Spaces,
}

impl Separator {
    /// The byte; a space stands for runs of spaces.
    pub fn byte(self) -> u8 {
        match self {
            Self::Comma => b',',
            Self::Semicolon => b';',
            Self::Tab => b'\t',
            Self::Spaces => b' ',
        }
    }
}

/// The cells of a line, each without the white space around it and without its quotes.
pub struct Cells<'a> {
    rest: Option<&'a [u8]>,
    separator: Separator,
}

/// Cuts a line. Between quotes (`"`) a separator is an ordinary character.
pub fn cells(line: &[u8], separator: Separator) -> Cells<'_> {
    Cells { rest: Some(line), separator }
}

impl<'a> Cells<'a> {
    /// The next cell as a number, or as it stands if it is none.
    pub fn next_number(&mut self, decimal: u8) -> Option<Result<Cell, &'a [u8]>> {
        let rest = self.rest?;
        let byte = self.separator.byte();
        // In one go, where the number ends at a separator and cannot hold one.
        if decimal != byte {
            let from = rest.iter().take_while(|b| **b == b' ').count();
            if let Some((number, used)) = leading(&rest[from..], decimal) {
                match rest.get(from + used) {
                    None => self.rest = None,
                    Some(b) if *b == byte => self.rest = Some(&rest[from + used + 1..]),
                    Some(_) => return self.next_cell_as_number(decimal),
                }
                return Some(Ok(number));
            }
        }
        self.next_cell_as_number(decimal)
    }

    fn next_cell_as_number(&mut self, decimal: u8) -> Option<Result<Cell, &'a [u8]>> {
        let cell = self.next()?;
        Some(number(cell, decimal).ok_or(cell))
    }
}

impl<'a> Iterator for Cells<'a> {
    type Item = &'a [u8];

    fn next(&mut self) -> Option<&'a [u8]> {
        let rest = self.rest?;
        let spaces = self.separator == Separator::Spaces;
        let byte = self.separator.byte();
        let ends = |b: &u8| *b == byte || (spaces && b.is_ascii_whitespace());
        let from = rest
            .iter()
            .position(|b| !(b.is_ascii_whitespace() && (spaces || *b != byte)))
            .unwrap_or(rest.len());
        let body = &rest[from..];
        if spaces && body.is_empty() {
            self.rest = None;
            return None;
        }
        if body.first() == Some(&b'"')
            && let Some(close) = closing_quote(body)
        {
            let after = &body[close + 1..];
            match after.iter().position(ends) {
                // Something between the closing quote and the separator: not a quoted cell after all.
                Some(stop) if !after[..stop].trim_ascii().is_empty() => {}
                None if !after.trim_ascii().is_empty() => {}
                stop => {
                    self.rest = stop.map(|stop| &after[stop + 1..]);
                    return Some(body[1..close].trim_ascii());
                }
            }
        }
        let stop =
            if spaces { body.iter().position(ends) } else { body.iter().position(|b| *b == byte) };
        match stop {
            Some(stop) => {
                self.rest = Some(&body[stop + 1..]);
                Some(body[..stop].trim_ascii_end())
            }
            None => {
                self.rest = None;
                Some(body.trim_ascii_end())
            }
        }
    }
}

/// Where the quote that opens `body` closes; doubled quotes do not close.
fn closing_quote(body: &[u8]) -> Option<usize> {
    let mut at = 1;
    while let Some(byte) = body.get(at) {
        if *byte == b'"' {
            if body.get(at + 1) != Some(&b'"') {
                return Some(at);
            }
            at += 1;
        }
        at += 1;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cut(line: &str, separator: Separator) -> Vec<String> {
        cells(line.as_bytes(), separator).map(|c| String::from_utf8_lossy(c).into_owned()).collect()
    }

    /// Both ways through a line give the same numbers.
    #[test]
    fn numbers_in_one_go() {
        for line in
            ["1,2", " 1 , -2.5e3,,x", "1 2  3 ", "1\t2\t", "1;2,5;\"3\"", "1e5,1e,1ex", "\"1,5\",2"]
        {
            for separator in
                [Separator::Comma, Separator::Semicolon, Separator::Tab, Separator::Spaces]
            {
                for decimal in *b".," {
                    let line = line.as_bytes();
                    let mut quick = cells(line, separator);
                    for cell in cells(line, separator) {
                        let found = quick.next_number(decimal).expect("a cell");
                        let bits = |cell: Cell| cell.value().to_bits();
                        let slow = number(cell, decimal).map(bits).ok_or(cell);
                        assert_eq!(found.map(bits), slow);
                    }
                    assert!(quick.next_number(decimal).is_none());
                }
            }
        }
    }

    /// Quoting as in RFC 4180, section 2, rules 5 to 7.
    #[test]
    fn cells_of_lines() {
        assert_eq!(cut("1, 2 ,,", Separator::Comma), ["1", "2", "", ""]);
        assert_eq!(cut("  1  2\t3 ", Separator::Spaces), ["1", "2", "3"]);
        assert_eq!(cut("1\t\t 3", Separator::Tab), ["1", "", "3"]);
        assert_eq!(cut("\"V, mV\" ,\"a\"", Separator::Comma), ["V, mV", "a"]);
        assert_eq!(cut("\"a\"\"b\";2", Separator::Semicolon), ["a\"\"b", "2"]);
        assert_eq!(cut("\"open, b", Separator::Comma), ["\"open", "b"]);
        assert_eq!(cut("\"a\"x,b", Separator::Comma), ["\"a\"x", "b"]);
        assert_eq!(cut("", Separator::Comma), [""]);
        assert_eq!(cut("", Separator::Spaces), Vec::<String>::new());
    }
}
