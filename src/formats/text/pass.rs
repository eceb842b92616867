//! The one pass over all rows when a file is opened: every cell is checked, rows are noted in the
//! index, and the columns that stand alone are watched for folding.

use super::super::source::Source;
use super::head::{Head, shown};
use super::index::Index;
use super::lines::{BLOCK_BYTES, Lines, is_blank};
use super::number::Cell;
use super::watch::Watch;
use crate::base::error::{Problem, Problems};

/// Most rows.
pub const MAX_ROWS: u64 = 64 << 20;
/// Problems listed before the rest is only counted.
const MAX_PROBLEMS: usize = 20;
/// Lines after the end of the table in which further text is looked for.
const REST_LINES: usize = 64;

/// What the pass found.
pub struct Passed {
    pub index: Index,
    pub rows: u64,
    /// Whether all cells of a column are whole numbers.
    pub whole: Vec<bool>,
    /// Empty cells, and the line of the first.
    pub empty: (u64, usize),
    /// Line of text after the blank line that ends the table.
    pub rest: Option<usize>,
    pub watch: Watch,
}

/// Problems, of which only the first are kept.
#[derive(Default)]
struct Listed {
    problems: Problems,
    more: u64,
}

impl Listed {
    fn push(&mut self, problem: impl FnOnce() -> Problem) {
        if self.problems.len() < MAX_PROBLEMS {
            self.problems.push(problem());
        } else {
            self.more += 1;
        }
    }
}

/// Reads all rows once. `alone` lists the columns to watch.
///
/// # Errors
/// `text-row-width`, `text-not-a-number`, `text-nul` with line and column; the first twenty, then
/// `text-more-problems`; `text-too-many-rows`, `text-line-too-long`, `text-no-rows`, `text-broken`.
pub fn pass(
    source: &dyn Source,
    head: &Head,
    alone: &[usize],
    watch: Watch,
) -> Result<Passed, Problems> {
    let mut lines = Lines::new(source, head.start, head.terminator, BLOCK_BYTES);
    let mut passed = Passed {
        index: Index::default(),
        rows: 0,
        whole: vec![true; head.width],
        empty: (0, 0),
        rest: None,
        watch,
    };
    let mut slots: Vec<Option<usize>> = vec![None; head.width];
    for (slot, column) in alone.iter().enumerate() {
        if let Some(entry) = slots.get_mut(*column) {
            *entry = Some(slot);
        }
    }
    let mut watched = vec![f64::NAN; alone.len()];
    let mut listed = Listed::default();
    let mut number_of_line = head.line - 1;
    loop {
        number_of_line += 1;
        let at = |mut problem: Problem| {
            if problem.code == "text-line-too-long" {
                problem = problem.at(format!("line {number_of_line}"));
            }
            vec![problem]
        };
        let Some(line) = lines.next_line().map_err(at)? else { break };
        if is_blank(line.bytes) {
            if passed.rows == 0 {
                continue;
            }
            passed.rest = text_after(&mut lines, head).map(|n| number_of_line + n);
            break;
        }
        if head.dialect.is_comment(line.bytes) {
            continue;
        }
        if passed.rows == MAX_ROWS {
            return Err(vec![Problem::new("text-too-many-rows").with("limit", MAX_ROWS)]);
        }
        passed.index.push(passed.rows, line.offset);
        passed.rows += 1;
        let row = Row { head, line: number_of_line, slots: &slots };
        row.check(line.bytes, &mut passed, &mut watched, &mut listed).map_err(|p| vec![p])?;
        passed.watch.push(&watched);
    }
    if listed.more > 0 {
        listed.problems.push(Problem::new("text-more-problems").with("count", listed.more));
    }
    if passed.rows == 0 {
        listed.problems.push(Problem::new("text-no-rows").at(format!("line {}", head.line)));
    }
    if listed.problems.is_empty() { Ok(passed) } else { Err(listed.problems) }
}

/// How many lines on further text stands.
fn text_after(lines: &mut Lines<'_>, head: &Head) -> Option<usize> {
    for n in 1..=REST_LINES {
        let line = lines.next_line().ok()??;
        if !is_blank(line.bytes) && !head.dialect.is_comment(line.bytes) {
            return Some(n);
        }
    }
    None
}

struct Row<'a> {
    head: &'a Head,
    line: usize,
    slots: &'a [Option<usize>],
}

impl Row<'_> {
    fn check(
        &self,
        bytes: &[u8],
        passed: &mut Passed,
        watched: &mut [f64],
        listed: &mut Listed,
    ) -> Result<(), Problem> {
        let Head { dialect, width, .. } = self.head;
        let mut wrong: Vec<(usize, &[u8])> = Vec::new();
        let mut empty = 0;
        let mut count = 0;
        let columns = self.slots.iter().zip(passed.whole.iter_mut());
        let mut cells = dialect.cells(bytes);
        for (slot, whole) in columns {
            let Some(number) = cells.next_number(dialect.decimal) else { break };
            let value = match number {
                Ok(Cell::Whole(value)) => value,
                Ok(Cell::Number(value)) => {
                    *whole = false;
                    value
                }
                Ok(Cell::Missing) => {
                    *whole = false;
                    empty += 1;
                    f64::NAN
                }
                Err(cell) => {
                    wrong.push((count, cell));
                    f64::NAN
                }
            };
            if let Some(place) = slot.and_then(|slot| watched.get_mut(slot)) {
                *place = value;
            }
            count += 1;
        }
        count += cells.count();
        let place = || format!("line {}", self.line);
        if let Some((column, _)) = wrong.iter().find(|(_, cell)| cell.contains(&0)) {
            return Err(Problem::new("text-nul").at(place()).with("column", column + 1));
        }
        if count != *width {
            listed.push(|| {
                Problem::new("text-row-width")
                    .at(place())
                    .with("expected", *width)
                    .with("found", count)
            });
            return Ok(());
        }
        for (column, cell) in wrong {
            listed.push(|| {
                Problem::new("text-not-a-number")
                    .at(place())
                    .with("column", column + 1)
                    .with("found", shown(cell))
            });
        }
        if empty > 0 {
            if passed.empty.0 == 0 {
                passed.empty.1 = self.line;
            }
            passed.empty.0 += empty;
        }
        Ok(())
    }
}
