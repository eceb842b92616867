//! Self-describing CSV: `# key = value` lines, then a header row, then numbers.
//!
//! Two forms are read (docs/formats.md): one point a row, with position columns and then
//! `waveforms[0] … waveforms[nt-1]`; and columns of numbers, each an array of its own (`t_s`,
//! `waveforms`; a sensitivity table). Row offsets are found in one pass, so that rows can be read
//! anywhere without holding the numbers.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::container::{Access, ArrayInfo, Attribute, Container, NumberKind, Samples};
use super::source::Source;
use crate::base::error::{Problem, Problems};

/// Largest header (comment lines and column names), bytes.
const MAX_HEADER_BYTES: usize = 4 << 20;
/// Most rows.
const MAX_ROWS: usize = 4 << 20;
const BLOCK: usize = 1 << 20;
/// Problems reported for one file before the rest is only counted.
const MAX_PROBLEMS: usize = 20;

/// A CSV file with names.
pub struct Delimited {
    source: Arc<dyn Source>,
    arrays: Vec<ArrayInfo>,
    attributes: BTreeMap<String, Attribute>,
    /// Byte offset of each data row, and of the end.
    rows: Vec<u64>,
    /// Columns that belong to each array: path → first column, count.
    columns: BTreeMap<String, (usize, usize)>,
    width: usize,
    /// File line of the first data row, counted from 1.
    first_line: usize,
}

/// Whether the first bytes read as text: no NUL, valid UTF-8 but for a cut last character.
pub fn looks_like_text(source: &dyn Source) -> bool {
    let n = usize::try_from(source.len().min(4096)).unwrap_or(4096);
    let mut head = vec![0u8; n];
    if source.read_at(0, &mut head).is_err() || head.contains(&0) {
        return false;
    }
    match std::str::from_utf8(&head) {
        Ok(_) => true,
        Err(error) => error.error_len().is_none(),
    }
}

impl Delimited {
    /// Opens a file: reads its head and finds its rows.
    ///
    /// # Errors
    /// All that is wrong with the head and the first rows.
    pub fn open(source: Arc<dyn Source>) -> Result<Self, Problems> {
        let head = Head::read(source.as_ref())?;
        let rows = find_rows(source.as_ref(), head.end)?;
        let n = rows.len().saturating_sub(1);
        if n == 0 {
            return Err(vec![Problem::new("csv-no-rows")]);
        }
        let mut this = Self {
            source,
            arrays: Vec::new(),
            attributes: head.attributes,
            rows,
            columns: BTreeMap::new(),
            width: head.columns.len(),
            first_line: head.lines + 1,
        };
        this.list_arrays(&head.columns)?;
        this.check_rows()?;
        Ok(this)
    }

    fn list_arrays(&mut self, names: &[String]) -> Result<(), Problems> {
        let rows = self.rows.len() as u64 - 1;
        let mut problems = Vec::new();
        let mut column = 0;
        while column < names.len() {
            let name = &names[column];
            let mut count = 1;
            let mut shape = vec![rows];
            let mut path = format!("/{name}");
            if let Some((base, index)) = indexed(name) {
                if index != 0 {
                    problems.push(
                        Problem::new("csv-column-order")
                            .at(name.clone())
                            .with("expected", format!("{base}[0]")),
                    );
                }
                while names.get(column + count).and_then(|n| indexed(n)) == Some((base, count)) {
                    count += 1;
                }
                shape.push(count as u64);
                path = format!("/{base}");
            }
            if self.columns.insert(path.clone(), (column, count)).is_some() {
                problems.push(Problem::new("csv-column-twice").at(name.clone()));
            }
            self.arrays.push(ArrayInfo {
                path,
                shape,
                kind: NumberKind::Float { bits: 64 },
                access: Access::Random,
                chunk: Vec::new(),
                attributes: BTreeMap::new(),
            });
            column += count;
        }
        self.arrays.sort_by(|a, b| a.path.cmp(&b.path));
        if problems.is_empty() { Ok(()) } else { Err(problems) }
    }

    /// Reads every row once, so that a broken cell is told before anything rests on it.
    fn check_rows(&mut self) -> Result<(), Problems> {
        let mut problems: Problems = Vec::new();
        let mut integers = true;
        let waveforms = self.columns.get("/waveforms").copied().unwrap_or((0, 0));
        let mut row = 0;
        while row + 1 < self.rows.len() && problems.len() < MAX_PROBLEMS {
            let count = 256.min(self.rows.len() - 1 - row);
            let text = self.text(row, count).map_err(|problem| vec![problem])?;
            for (i, line) in text.lines().enumerate() {
                let cells = line.split(',').count();
                if cells != self.width {
                    problems.push(
                        Problem::new("csv-row-width")
                            .at(self.line_name(row + i))
                            .with("expected", self.width)
                            .with("found", cells),
                    );
                    continue;
                }
                for (c, cell) in line.split(',').enumerate() {
                    if let Err(problem) = number(cell) {
                        problems.push(problem.at(self.line_name(row + i)).with("column", c + 1));
                    }
                    if c >= waveforms.0 && c < waveforms.0 + waveforms.1 {
                        integers &= cell.trim().bytes().all(|b| b.is_ascii_digit() || b == b'-');
                    }
                }
                if problems.len() >= MAX_PROBLEMS {
                    break;
                }
            }
            row += count;
        }
        if integers && let Some(array) = self.arrays.iter_mut().find(|a| a.path == "/waveforms") {
            array.kind = NumberKind::Integer { bits: 32, signed: true };
        }
        if problems.is_empty() { Ok(()) } else { Err(problems) }
    }

    fn line_name(&self, row: usize) -> String {
        format!("line {}", self.first_line + row)
    }

    fn text(&self, row: usize, count: usize) -> Result<String, Problem> {
        let broken =
            |found: String| Problem::new("csv-broken").at(self.line_name(row)).with("found", found);
        let (start, end) = match (self.rows.get(row), self.rows.get(row + count)) {
            (Some(start), Some(end)) => (*start, *end),
            _ => return Err(Problem::new("box-outside-array").at(self.line_name(row))),
        };
        let len = usize::try_from(end - start).map_err(|error| broken(error.to_string()))?;
        let mut bytes = vec![0u8; len];
        self.source.read_at(start, &mut bytes).map_err(|error| broken(error.to_string()))?;
        String::from_utf8(bytes).map_err(|error| broken(error.to_string()))
    }
}

/// `waveforms[12]` → (`waveforms`, 12).
fn indexed(name: &str) -> Option<(&str, usize)> {
    let (base, rest) = name.split_once('[')?;
    Some((base, rest.strip_suffix(']')?.parse().ok()?))
}

fn number(cell: &str) -> Result<f64, Problem> {
    let cell = cell.trim();
    cell.parse::<f64>().map_err(|_| {
        let shown: String = cell.chars().take(40).collect();
        Problem::new("csv-not-a-number").with("found", shown)
    })
}

/// The lines before the numbers.
struct Head {
    attributes: BTreeMap<String, Attribute>,
    columns: Vec<String>,
    /// Byte offset of the first data row.
    end: u64,
    /// Lines up to and with the header.
    lines: usize,
}

impl Head {
    fn read(source: &dyn Source) -> Result<Self, Problems> {
        let n = usize::try_from(source.len()).unwrap_or(usize::MAX).min(MAX_HEADER_BYTES);
        let mut bytes = vec![0u8; n];
        source
            .read_at(0, &mut bytes)
            .map_err(|error| vec![Problem::new("csv-broken").with("found", error.to_string())])?;
        let mut attributes = BTreeMap::new();
        let mut at = if bytes.starts_with(&[0xef, 0xbb, 0xbf]) { 3 } else { 0 };
        let mut lines = 0;
        let mut problems = Vec::new();
        while at < bytes.len() {
            let stop = bytes[at..].iter().position(|b| *b == b'\n').map_or(bytes.len(), |p| at + p);
            let line = String::from_utf8_lossy(&bytes[at..stop]).trim().to_owned();
            at = stop + 1;
            lines += 1;
            if line.is_empty() {
                continue;
            }
            if let Some(comment) = line.strip_prefix('#') {
                if let Some((key, value)) = comment.split_once('=') {
                    let value = value.trim();
                    let attribute = value.parse::<f64>().map_or_else(
                        |_| Attribute::Text(value.to_owned()),
                        |n| Attribute::Numbers(vec![n]),
                    );
                    attributes.insert(key.trim().to_owned(), attribute);
                }
                continue;
            }
            let columns: Vec<String> = line.split(',').map(|c| c.trim().to_owned()).collect();
            if columns.iter().all(|c| c.parse::<f64>().is_ok()) {
                problems.push(
                    Problem::new("csv-no-header")
                        .at(format!("line {lines}"))
                        .with("found", line.chars().take(60).collect::<String>()),
                );
            }
            if !problems.is_empty() {
                return Err(problems);
            }
            return Ok(Self { attributes, columns, end: at.min(bytes.len()) as u64, lines });
        }
        Err(vec![Problem::new("csv-no-header").at(format!("line {lines}")).with("found", "")])
    }
}

/// Offsets of the rows from `start` on, and of the end of the last one.
fn find_rows(source: &dyn Source, start: u64) -> Result<Vec<u64>, Problems> {
    let mut rows = Vec::new();
    let mut at = start;
    let mut line_start = start;
    let mut blank = true;
    let mut buffer = vec![0u8; BLOCK];
    while at < source.len() {
        let n = usize::try_from((source.len() - at).min(BLOCK as u64)).unwrap_or(BLOCK);
        source
            .read_at(at, &mut buffer[..n])
            .map_err(|error| vec![Problem::new("csv-broken").with("found", error.to_string())])?;
        for (i, byte) in buffer[..n].iter().enumerate() {
            if *byte == b'\n' {
                if blank && !rows.is_empty() {
                    // A blank line ends the table.
                    rows.push(line_start);
                    return Ok(rows);
                }
                if !blank {
                    rows.push(line_start);
                }
                line_start = at + i as u64 + 1;
                blank = true;
            } else if !byte.is_ascii_whitespace() {
                blank = false;
            }
            if rows.len() > MAX_ROWS {
                return Err(vec![Problem::new("csv-too-many-rows").with("limit", MAX_ROWS)]);
            }
        }
        at += n as u64;
    }
    if !blank {
        rows.push(line_start);
    }
    if !rows.is_empty() {
        rows.push(source.len());
    }
    Ok(rows)
}

impl Container for Delimited {
    fn arrays(&self) -> &[ArrayInfo] {
        &self.arrays
    }

    fn group_attributes(&self, group: &str) -> BTreeMap<String, Attribute> {
        if group.is_empty() { self.attributes.clone() } else { BTreeMap::new() }
    }

    fn read(&self, path: &str, start: &[u64], count: &[u64]) -> Result<Samples, Problem> {
        let (first, width) =
            *self.columns.get(path).ok_or_else(|| Problem::new("array-missing").at(path))?;
        let outside = || Problem::new("box-outside-array").at(path);
        let as_usize = |n: u64| usize::try_from(n).map_err(|_| outside());
        let (row, rows) = match (start.first(), count.first()) {
            (Some(s), Some(c)) => (as_usize(*s)?, as_usize(*c)?),
            _ => return Err(outside()),
        };
        let (from, n) = match (start.get(1), count.get(1)) {
            (Some(s), Some(c)) => (as_usize(*s)?, as_usize(*c)?),
            _ => (0, width),
        };
        if from + n > width {
            return Err(outside());
        }
        let text = self.text(row, rows)?;
        let mut values = Vec::with_capacity(rows * n);
        for (i, line) in text.lines().filter(|line| !line.trim().is_empty()).enumerate() {
            for cell in line.split(',').skip(first + from).take(n) {
                values.push(number(cell).map_err(|p| p.at(self.line_name(row + i)))?);
            }
        }
        if values.len() != rows * n {
            return Err(outside());
        }
        Ok(Samples::F64(values))
    }
}

#[cfg(test)]
mod tests {
    use super::super::source::Memory;
    use super::*;

    fn open(text: &str) -> Result<Delimited, Problems> {
        Delimited::open(Arc::new(Memory(Arc::from(text.as_bytes()))))
    }

    #[test]
    fn a_point_a_row() {
        let csv = open("\u{feff}# dt_s = 2e-8\n# note = x\nz_m,waveforms[0],waveforms[1]\r\n0.1,3,-4\r\n0.2,5,6").expect("opens");
        assert_eq!(csv.group_attributes("")["dt_s"], Attribute::Numbers(vec![2e-8]));
        assert_eq!(csv.array("/waveforms").map(|a| a.shape.clone()), Some(vec![2, 2]));
        assert_eq!(
            csv.array("/waveforms").map(|a| a.kind),
            Some(NumberKind::Integer { bits: 32, signed: true })
        );
        assert_eq!(csv.read("/waveforms", &[1, 0], &[1, 2]), Ok(Samples::F64(vec![5.0, 6.0])));
        assert_eq!(csv.read("/z_m", &[0], &[2]), Ok(Samples::F64(vec![0.1, 0.2])));
        assert!(csv.read("/z_m", &[1], &[2]).is_err());
    }

    #[test]
    fn every_broken_row_is_named() {
        let problems = open("t_s,waveforms\n0,1\n1\n2,abc\n").err().expect("refused");
        let places: Vec<_> = problems
            .iter()
            .map(|p| (p.code.as_str(), p.place.path.clone().unwrap_or_default()))
            .collect();
        assert_eq!(
            places,
            [("csv-row-width", "line 3".to_owned()), ("csv-not-a-number", "line 4".to_owned())]
        );
    }

    #[test]
    fn blank_lines_end_the_table() {
        for end in ["", "\n", "\n\n", "\r\n\r\n  \n"] {
            let csv = open(&format!("t_s,waveforms\n0,1\n1,2{end}")).expect("opens");
            assert_eq!(csv.read("/waveforms", &[0], &[2]), Ok(Samples::F64(vec![1.0, 2.0])));
        }
    }

    #[test]
    fn no_header_no_rows() {
        assert_eq!(open("1,2\n3,4\n").err().expect("refused")[0].code, "csv-no-header");
        assert_eq!(open("a,b\n").err().expect("refused")[0].code, "csv-no-rows");
        assert_eq!(open("# x = 1\n").err().expect("refused")[0].code, "csv-no-header");
    }
}
