//! Which line above the rows is the header.
//!
//! From the rows upwards, remarks, blank lines and rules (`----`) passed over:
//!
//! - a line of as many words as a row has cells is the header; if all of them are units and the line
//!   above could be the header too, it is the row of units
//! - at least eight numbers among the words are headings of their own
//! - fewer numbers: a broken row, if a header stands above it (it is told when the rows are read)
//! - `key: value` or `key = value` ends the search
//! - another number of words right above the rows is refused, unless spaces separate cells
//!
//! A header may be separated otherwise than the rows. Without a header, a remark right above the
//! rows that has as many different words as a row has cells is one.

use std::collections::BTreeSet;

use super::attribute::{pair, remark};
use super::cells::{Separator, cells};
use super::dialect::Dialect;
use super::encoding::decode;
use super::head::{MIN_RUN, Raw};
use super::heading::Heading;
use super::lines::is_blank;
use super::number::{Cell, number};
use super::units::unit_cell;
use crate::base::error::Problem;

/// A header that was found.
#[derive(Debug)]
pub struct Header {
    /// Its line, counted from 0.
    pub line: usize,
    /// Line of the row of units.
    pub units: Option<usize>,
    /// Line of the first row.
    pub rows: usize,
    /// `None` if only the first row is known.
    pub headings: Option<Vec<Heading>>,
}

/// Headings from the cells of a header; a column without a name is `column_3`, counted from 1.
pub fn headings(names: Vec<String>) -> Vec<Heading> {
    let mut headings: Vec<Heading> = names.iter().map(|name| Heading::of(name)).collect();
    for (i, heading) in headings.iter_mut().enumerate().filter(|(_, h)| h.name.is_empty()) {
        heading.name = format!("column_{}", i + 1);
    }
    headings
}

/// Looks for the header above line `first`.
///
/// # Errors
/// `text-header-width`.
pub fn find(
    lines: &[Raw<'_>],
    first: usize,
    dialect: &Dialect,
    width: usize,
) -> Result<Option<Header>, Problem> {
    let search = Search { lines, first, dialect, width };
    if let Some(line) = (0..first).find(|i| search.is_self_describing(*i)) {
        let names = search.split(line).ok_or_else(|| search.width_problem(line))?;
        return Ok(Some(search.below(line, names)));
    }
    search.upwards()
}

struct Search<'a> {
    lines: &'a [Raw<'a>],
    first: usize,
    dialect: &'a Dialect,
    width: usize,
}

impl Search<'_> {
    fn upwards(&self) -> Result<Option<Header>, Problem> {
        let mut gap = false;
        // Lines that hold words where a row has numbers.
        let mut broken = self.first;
        for i in (0..self.first).rev() {
            let line = self.lines[i].bytes;
            if self.is_passed_over(i) {
                gap |= is_blank(line);
                continue;
            }
            if self.is_pair(line) {
                break;
            }
            let Some(names) = self.split(i) else {
                let found: Vec<String> = self.dialect.cells(line).map(decode).collect();
                if gap || self.dialect.separator == Separator::Spaces || found.len() < 2 {
                    break;
                }
                if self.numbers(&found) == 0 {
                    return Err(self.width_problem(i));
                }
                broken = i;
                continue;
            };
            if self.could_be_header(&names) {
                let above = (0..i).rev().find(|j| !self.is_passed_over(*j)).filter(|j| {
                    is_units(&names)
                        && !self.is_pair(self.lines[*j].bytes)
                        && self.split(*j).is_some_and(|names| {
                            self.could_be_header(&names) && names.iter().all(|n| !n.is_empty())
                        })
                });
                return Ok(Some(match above.and_then(|j| self.split(j).map(|names| (j, names))) {
                    Some((j, names)) => self.below(j, names),
                    None => self.below(i, names),
                }));
            }
            if gap {
                break;
            }
            broken = i;
        }
        Ok(self.in_remark().or_else(|| self.broken_without_header(broken)))
    }

    /// The header at a line: with the row of units below it, if there is one.
    fn below(&self, line: usize, names: Vec<String>) -> Header {
        let mut headings = headings(names);
        let mut next =
            (line + 1..self.first).find(|i| !self.is_passed_over(*i)).unwrap_or(self.first);
        let mut units = None;
        if next < self.first
            && let Some(cells) = self.split(next)
            && is_units(&cells)
        {
            for (heading, cell) in headings.iter_mut().zip(&cells) {
                if let Some(unit) = unit_cell(cell).filter(|unit| !unit.is_empty() && *unit != "-")
                {
                    heading.unit = Some(unit.to_owned());
                }
            }
            units = Some(next);
            next = (next + 1..self.first).find(|i| !self.is_passed_over(*i)).unwrap_or(self.first);
        }
        Header { line, units, rows: next, headings: Some(headings) }
    }

    /// A remark right above the rows that names the columns.
    fn in_remark(&self) -> Option<Header> {
        let line = self.first.checked_sub(1)?;
        let text = remark(self.lines[line].bytes)?;
        if self.width < 2 || pair(&decode(text)).is_some() {
            return None;
        }
        let names = self.split_text(text)?;
        let different: BTreeSet<&String> = names.iter().collect();
        let all = different.len() == names.len() && names.iter().all(|name| !name.is_empty());
        (all && self.numbers(&names) == 0).then(|| Header {
            line,
            units: None,
            rows: self.first,
            headings: Some(headings(names)),
        })
    }

    /// Without a header, lines of at least three cells of which half are numbers are rows.
    fn broken_without_header(&self, from: usize) -> Option<Header> {
        let row = (from..self.first).find(|i| {
            !self.is_passed_over(*i)
                && self
                    .split(*i)
                    .is_some_and(|cells| self.width >= 3 && self.numbers(&cells) * 2 >= self.width)
        })?;
        Some(Header { line: row, units: None, rows: row, headings: None })
    }

    fn is_self_describing(&self, line: usize) -> bool {
        let bytes = self.lines[line].bytes;
        let named = |cell: &[u8]| cell == b"waveforms" || cell.starts_with(b"waveforms[");
        let ours = [self.dialect.separator, Separator::Comma];
        bytes.windows(9).any(|part| part == b"waveforms")
            && remark(bytes).is_none_or(|_| self.width == 1 && bytes.starts_with(b"\""))
            && ours.iter().any(|separator| cells(bytes, *separator).any(named))
    }

    fn could_be_header(&self, names: &[String]) -> bool {
        let is_number = |name: &String| self.is_number(name);
        let run = names
            .chunk_by(|a, b| is_number(a) == is_number(b))
            .any(|chunk| chunk.len() >= MIN_RUN && chunk.first().is_some_and(is_number));
        run || self.numbers(names) == 0
    }

    fn is_passed_over(&self, line: usize) -> bool {
        let bytes = self.lines[line].bytes;
        let quoted = self.width == 1 && bytes.trim_ascii_start().starts_with(b"\"");
        is_blank(bytes)
            || (remark(bytes).is_some() && !quoted)
            || bytes.iter().all(|b| b"-=_+|*~ \t,;".contains(b))
    }

    /// Whether a line states something rather than naming columns.
    fn is_pair(&self, line: &[u8]) -> bool {
        let text = decode(line);
        let separator = char::from(self.dialect.separator.byte());
        let apart = |part: &str| separator == ' ' || !part.contains(separator);
        pair(&text).is_some_and(|(key, value)| apart(key) && apart(value))
    }

    fn is_number(&self, cell: &str) -> bool {
        number(cell.as_bytes(), self.dialect.decimal).is_some_and(|cell| cell != Cell::Missing)
    }

    fn numbers(&self, cells: &[String]) -> usize {
        cells.iter().filter(|cell| self.is_number(cell)).count()
    }

    fn split(&self, line: usize) -> Option<Vec<String>> {
        self.split_text(self.lines[line].bytes)
    }

    /// The cells of a line, if they can be told so that there are as many as in a row.
    fn split_text(&self, line: &[u8]) -> Option<Vec<String>> {
        let fits = |mut found: Vec<String>| {
            if found.len() == self.width + 1 && found.last().is_some_and(String::is_empty) {
                found.pop();
            }
            (found.len() == self.width).then_some(found)
        };
        let own: Vec<String> = self.dialect.cells(line).map(decode).collect();
        let own = if self.dialect.separator == Separator::Spaces { joined(own) } else { own };
        let others = [Separator::Tab, Separator::Semicolon, Separator::Comma];
        fits(own)
            .or_else(|| {
                let mut others = others.iter().filter(|_| self.width > 1);
                others.find_map(|separator| fits(cells(line, *separator).map(decode).collect()))
            })
            .or_else(|| {
                let text = decode(line);
                let parts = text.split("  ").map(str::trim).filter(|part| !part.is_empty());
                fits(parts.map(str::to_owned).collect()).filter(|_| self.width > 1)
            })
    }

    fn width_problem(&self, line: usize) -> Problem {
        Problem::new("text-header-width")
            .at(format!("line {}", line + 1))
            .with("row", self.first + 1)
            .with("expected", self.width)
            .with("found", self.dialect.cells(self.lines[line].bytes).count())
    }
}

/// Whether all cells are units and at least one says something.
fn is_units(cells: &[String]) -> bool {
    cells.iter().all(|cell| unit_cell(cell).is_some())
        && cells.iter().any(|cell| unit_cell(cell).is_some_and(|unit| !unit.is_empty()))
}

/// Puts `(mm)` back to the word before it.
fn joined(words: Vec<String>) -> Vec<String> {
    let mut out: Vec<String> = Vec::with_capacity(words.len());
    for word in words {
        match out.last_mut() {
            Some(last) if word.starts_with(['(', '[']) => {
                last.push(' ');
                last.push_str(&word);
            }
            _ => out.push(word),
        }
    }
    out
}
