//! What stands before the rows: remarks, statements, the header, a row of units.
//!
//! The table begins at the first line that holds only numbers. Above it the header is looked for,
//! from the rows upwards; what stands above the header is read as statements ([`super::attribute`]).
//! A line with a column `waveforms` or `waveforms[…]` is the header wherever it stands.

use super::super::source::Source;
use super::attribute::{Attributes, add_line, add_remark, remark};
use super::cells::Separator;
use super::dialect::{Dialect, is_numeric};
use super::encoding::{is_utf16, mark};
use super::header::{self, Header};
use super::heading::Heading;
use super::lines::{MAX_LINE_BYTES, is_blank, terminator};
use super::number::{Cell, number};
use crate::base::error::{Problem, Problems};

/// Largest head (all before the first row), bytes.
pub const MAX_HEADER_BYTES: usize = 4 << 20;
/// How much is read to find the first rows, one attempt after the other, bytes. The last holds the
/// largest head and a row of the largest length.
const ATTEMPTS: [usize; 4] = [64 << 10, 1 << 20, 4 << 20, 20 << 20];
/// Rows from which the dialect is told.
const SAMPLE_ROWS: usize = 256;
/// Columns of numbers as headings, from this many on.
pub const MIN_RUN: usize = 8;

/// All that is known before the rows are read.
#[derive(Debug)]
pub struct Head {
    pub attributes: Attributes,
    pub dialect: Dialect,
    /// A heading a column; `None` for a bare matrix.
    pub headings: Option<Vec<Heading>>,
    /// Cells of a row.
    pub width: usize,
    /// Byte of the first row.
    pub start: u64,
    /// File line of the first row, counted from 1.
    pub line: usize,
    pub terminator: u8,
}

/// How much of the file is at hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Extent {
    Whole,
    /// More can be read.
    Part,
    /// All that is read to find the first row.
    Largest,
}

/// A line of the head.
pub struct Raw<'a> {
    pub offset: usize,
    pub bytes: &'a [u8],
}

impl Head {
    /// Reads the head of a file.
    ///
    /// # Errors
    /// `text-utf16`, `text-no-rows`, `text-header-width`, `text-header-too-large`,
    /// `text-line-too-long`, `text-broken`.
    pub fn read(source: &dyn Source) -> Result<Self, Problems> {
        let len = usize::try_from(source.len()).unwrap_or(usize::MAX);
        let mut bytes = Vec::new();
        for (attempt, size) in ATTEMPTS.into_iter().enumerate() {
            bytes.resize(len.min(size), 0);
            source.read_at(0, &mut bytes).map_err(|error| {
                vec![Problem::new("text-broken").at("byte 0").with("found", error.to_string())]
            })?;
            let extent = match attempt + 1 == ATTEMPTS.len() {
                _ if len <= size => Extent::Whole,
                true => Extent::Largest,
                false => Extent::Part,
            };
            if let Some(head) = Self::parse(&bytes, extent).map_err(|p| vec![p])? {
                return Ok(head);
            }
        }
        let end = terminator(&bytes);
        let line = bytes.iter().filter(|b| **b == end).count() + 1;
        let last = bytes.iter().rev().take_while(|b| **b != end).count();
        if last > MAX_LINE_BYTES {
            let problem = Problem::new("text-line-too-long").at(format!("line {line}"));
            return Err(vec![problem.with("limit", MAX_LINE_BYTES)]);
        }
        Err(vec![too_large(line)])
    }

    /// `None` if more bytes are needed.
    fn parse(bytes: &[u8], extent: Extent) -> Result<Option<Self>, Problem> {
        let complete = extent == Extent::Whole;
        if is_utf16(bytes) {
            return Err(Problem::new("text-utf16").at("byte 0"));
        }
        let terminator = terminator(bytes);
        let lines = split(bytes, terminator, complete);
        let Some(first) = first_row(&lines) else {
            if !complete && lines.last().is_none_or(|last| last.offset < MAX_HEADER_BYTES) {
                return Ok(None);
            }
            return Err(if complete { no_rows(&lines) } else { too_large(lines.len()) });
        };
        if lines[first].offset > MAX_HEADER_BYTES {
            return Err(too_large(first + 1));
        }
        if extent == Extent::Part && first + 1 >= lines.len() {
            return Ok(None);
        }
        let dialect = Dialect::of(&sample(&lines[first..]));
        let width = dialect.cells(lines[first].bytes).count();
        let header = match numeric_headings(&lines, first, &dialect) {
            Some(header) => Some(header),
            None => header::find(&lines, first, &dialect, width)?,
        };
        let mut attributes = Attributes::new();
        let (names, rows) = header.as_ref().map_or((first, first), |h| (h.line, h.rows));
        for (i, line) in lines[..rows].iter().enumerate() {
            if header.as_ref().is_some_and(|h| h.line == i || h.units == Some(i)) {
                continue;
            }
            match remark(line.bytes) {
                Some(text) => add_remark(text, dialect.decimal, &mut attributes),
                None if i < names => add_line(line.bytes, dialect.decimal, &mut attributes),
                None => {}
            }
        }
        Ok(Some(Self {
            attributes,
            dialect,
            headings: header.and_then(|h| h.headings),
            width,
            start: lines[rows].offset as u64,
            line: rows + 1,
            terminator,
        }))
    }
}

fn too_large(line: usize) -> Problem {
    Problem::new("text-header-too-large").at(format!("line {line}")).with("limit", MAX_HEADER_BYTES)
}

/// Told with the last line that could have been a header.
fn no_rows(lines: &[Raw<'_>]) -> Problem {
    let last = lines.iter().rposition(|line| !is_blank(line.bytes)).unwrap_or(0);
    let found = lines.get(last).map_or(String::new(), |line| shown(line.bytes));
    Problem::new("text-no-rows").at(format!("line {}", last + 1)).with("found", found)
}

/// The start of a line or a cell, for a message.
pub fn shown(bytes: &[u8]) -> String {
    let part = bytes.get(..240).unwrap_or(bytes);
    let text: String = super::encoding::decode(part.trim_ascii()).chars().take(60).collect();
    text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}

fn split(bytes: &[u8], terminator: u8, complete: bool) -> Vec<Raw<'_>> {
    let mut offset = mark(bytes);
    let mut lines = Vec::new();
    for part in bytes[offset..].split(|b| *b == terminator) {
        lines.push(Raw { offset, bytes: part.strip_suffix(b"\r").unwrap_or(part) });
        offset += part.len() + 1;
    }
    if !complete || lines.last().is_some_and(|last| last.bytes.is_empty()) {
        lines.pop();
    }
    lines
}

/// The first line of numbers only. A single number above a line of words (a count, a version) is
/// passed over if there are no words above it.
fn first_row(lines: &[Raw<'_>]) -> Option<usize> {
    let plain = |line: &&Raw<'_>| !is_blank(line.bytes) && remark(line.bytes).is_none();
    let mut words = false;
    for (i, line) in lines.iter().enumerate().filter(|(_, line)| plain(line)) {
        if !is_numeric(line.bytes) {
            words = true;
            continue;
        }
        let single = !line.bytes.trim_ascii().iter().any(|b| b",; \t".contains(b));
        let next = lines[i + 1..].iter().find(plain);
        if single && !words && next.is_some_and(|next| !is_numeric(next.bytes)) {
            continue;
        }
        return Some(i);
    }
    None
}

fn sample<'a>(lines: &[Raw<'a>]) -> Vec<&'a [u8]> {
    lines
        .iter()
        .take(SAMPLE_ROWS)
        .take_while(|line| !is_blank(line.bytes))
        .map(|line| line.bytes)
        .filter(|line| is_numeric(line))
        .collect()
}

/// A first row whose first cell is empty and whose others, at least [`MIN_RUN`], are numbers is a
/// header: the corner of a table with coordinates at its top and its left.
fn numeric_headings(lines: &[Raw<'_>], first: usize, dialect: &Dialect) -> Option<Header> {
    if dialect.separator == Separator::Spaces {
        return None;
    }
    let cells: Vec<&[u8]> = dialect.cells(lines[first].bytes).collect();
    let numbers = |cells: &[&[u8]]| {
        let is_number = |cell: &&[u8]| {
            number(cell, dialect.decimal).is_some_and(|number| number != Cell::Missing)
        };
        cells.iter().all(is_number)
    };
    let (corner, top) = cells.split_first()?;
    let next = lines.get(first + 1)?;
    let corner_next = dialect.cells(next.bytes).next()?;
    if !corner.is_empty() || top.len() < MIN_RUN || !numbers(top) || corner_next.is_empty() {
        return None;
    }
    is_numeric(next.bytes).then(|| {
        let names = cells.iter().map(|cell| super::encoding::decode(cell)).collect();
        Header {
            line: first,
            units: None,
            rows: first + 1,
            headings: Some(header::headings(names)),
        }
    })
}
