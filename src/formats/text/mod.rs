//! Text files: a table of numbers with what stands before it.
//!
//! The separator and the decimal sign are told from the rows (`dialect`), the header is looked for
//! above them (`header`), columns become arrays (`columns`), and a long table, a sample a row, is
//! folded into points and samples if its numbers bear it (`fold`).
//!
//! A file is never held whole. One pass at the opening checks every cell and notes where rows begin
//! (`pass`, `index`); columns that stand alone are kept as long as they are few (`watch`).

mod arrays;
mod attribute;
mod cells;
mod columns;
mod dialect;
mod encoding;
mod fold;
mod head;
mod header;
mod heading;
mod index;
mod indices;
mod lines;
mod number;
mod pass;
#[cfg(test)]
mod tests;
mod units;
mod watch;

use std::collections::BTreeMap;
use std::sync::Arc;

use super::container::{Access, ArrayInfo, Attribute, Container, Samples};
use super::source::Source;
use crate::base::error::{Problem, Problems};
use arrays::{Stored, arrays};
use columns::Plan;
pub use encoding::looks_like_text;
use fold::Role;
use head::Head;
use watch::{MAX_COLUMNS, Watch};

/// Files up to this size are read anywhere at little cost, bytes.
const SMALL_BYTES: u64 = 1 << 20;
/// Largest box read at once, bytes of its numbers.
const MAX_READ_BYTES: u64 = 128 << 20;
/// Fewest columns of a table that is folded.
const MIN_FOLDED: usize = 3;

/// An open text file.
pub struct Text {
    source: Arc<dyn Source>,
    head: Head,
    index: index::Index,
    arrays: Vec<ArrayInfo>,
    stored: BTreeMap<String, Stored>,
    notes: Problems,
}

impl Text {
    /// Opens a file: reads its head, checks every row, lists its arrays.
    ///
    /// # Errors
    /// All that is wrong with its head, its header or its rows, with line and column.
    pub fn open(source: Arc<dyn Source>) -> Result<Self, Problems> {
        let head = Head::read(source.as_ref())?;
        let decimal = head.dialect.decimal;
        let mut plan = match &head.headings {
            Some(headings) => Plan::of(headings, decimal)?,
            None => Plan::bare(head.width),
        };
        // A matrix without headings is watched too: it may be a long table.
        let bare = head.headings.is_none();
        let alone: Vec<usize> = if bare && (MIN_FOLDED..=MAX_COLUMNS).contains(&head.width) {
            (0..head.width).collect()
        } else if bare && head.width >= indices::FEWEST_COLUMNS {
            // Positions may stand before the samples.
            vec![0, 1]
        } else {
            plan.groups.iter().filter(|group| !group.wide).map(|group| group.first).collect()
        };
        let foldable = alone.len() == head.width
            && alone.len() >= MIN_FOLDED
            && plan.groups.iter().all(|group| group.name != "waveforms");
        let watch = Watch::new(alone.len(), foldable);
        let passed = pass::pass(source.as_ref(), &head, &alone, watch)?;
        let (candidates, kept) = passed.watch.finish();
        let fold = fold::fold(candidates, kept, passed.watch.rows()).filter(|_| foldable);
        if bare && fold.is_some() {
            plan = Plan::of(&header::headings(vec![String::new(); head.width]), decimal)?;
        }
        let mut notes = Vec::new();
        if bare
            && fold.is_none()
            && let Some((found, note)) = indices::plan(&passed.watch, head.width)
        {
            plan = found;
            notes.push(note);
        }
        if let Some(fold) = &fold {
            let time = fold.roles.iter().position(|role| *role == Role::Sample);
            let name = time.and_then(|time| plan.groups.get(time)).map(|group| group.name.clone());
            notes.push(
                Problem::new("text-folded")
                    .at(format!("/{}", name.unwrap_or_default()))
                    .with("points", fold.points())
                    .with("samples", fold.samples()),
            );
        }
        if passed.empty.0 > 0 {
            notes.push(
                Problem::new("text-empty-cells")
                    .at(format!("line {}", passed.empty.1))
                    .with("count", passed.empty.0),
            );
        }
        if let Some(line) = passed.rest {
            notes.push(Problem::new("text-after-table").at(format!("line {line}")));
        }
        let access = if source.len() > SMALL_BYTES { Access::Sequential } else { Access::Random };
        let all = arrays(&plan, &head.attributes, &passed, (fold.as_ref(), &alone), access);
        let list = all.iter().map(|(info, _)| info.clone()).collect();
        let stored = all.into_iter().map(|(info, stored)| (info.path, stored)).collect();
        Ok(Self { source, head, index: passed.index, arrays: list, stored, notes })
    }

    /// Numbers of the columns `column .. column + width` of some rows, row by row.
    fn cells(
        &self,
        (first, count): (u64, u64),
        (column, width): (usize, usize),
        out: &mut Vec<f64>,
    ) -> Result<(), Problem> {
        let dialect = self.head.dialect;
        let way = (&dialect, self.head.terminator);
        self.index.rows(self.source.as_ref(), way, (first, count), |row, line| {
            let broken = |code: &str| {
                Problem::new(code).at(format!("row {}", row + 1)).with("column", column + 1)
            };
            let mut cells = dialect.cells(line);
            if column > 0 {
                cells.nth(column - 1);
            }
            let mut found = 0;
            while found < width
                && let Some(number) = cells.next_number(dialect.decimal)
            {
                let number = number
                    .map_err(|cell| broken("text-not-a-number").with("found", head::shown(cell)))?;
                out.push(number.value());
                found += 1;
            }
            if found == width {
                Ok(())
            } else {
                Err(broken("text-row-width").with("expected", width).with("found", found))
            }
        })
    }
}

impl Container for Text {
    fn arrays(&self) -> &[ArrayInfo] {
        &self.arrays
    }

    fn group_attributes(&self, group: &str) -> BTreeMap<String, Attribute> {
        if group.is_empty() { self.head.attributes.clone() } else { BTreeMap::new() }
    }

    fn read(&self, path: &str, start: &[u64], count: &[u64]) -> Result<Samples, Problem> {
        let (info, stored) = self
            .array(path)
            .zip(self.stored.get(path))
            .ok_or_else(|| Problem::new("array-missing").at(path))?;
        let outside = || Problem::new("box-outside-array").at(path);
        let inside = start.len() == info.shape.len()
            && count.len() == info.shape.len()
            && start
                .iter()
                .zip(count)
                .zip(&info.shape)
                .all(|((s, c), n)| s.checked_add(*c).is_some_and(|end| end <= *n));
        if !inside {
            return Err(outside());
        }
        let wanted = count.iter().fold(8u64, |n, c| n.saturating_mul(*c));
        if wanted > MAX_READ_BYTES {
            return Err(Problem::new("box-too-large")
                .at(path)
                .with("found", wanted)
                .with("limit", MAX_READ_BYTES));
        }
        let as_usize = |n: u64| usize::try_from(n).map_err(|_| outside());
        let (from, rows) = match (start.first(), count.first()) {
            (Some(from), Some(rows)) => (*from, *rows),
            _ => return Err(outside()),
        };
        let second = start.get(1).copied().zip(count.get(1).copied());
        let mut out = Vec::with_capacity(as_usize(wanted / 8)?);
        if wanted == 0 {
            return Ok(Samples::F64(out));
        }
        match stored {
            Stored::Held(numbers) => {
                let (from, rows) = (as_usize(from)?, as_usize(rows)?);
                out.extend_from_slice(numbers.get(from..from + rows).ok_or_else(outside)?);
            }
            Stored::Rows { column } => {
                let (skip, width) = second.unwrap_or((0, 1));
                let columns = (column + as_usize(skip)?, as_usize(width)?);
                self.cells((from, rows), columns, &mut out)?;
            }
            Stored::Blocks { column, block } => {
                let (skip, width) = second.ok_or_else(outside)?;
                if width == *block {
                    self.cells((from * block, rows * block), (*column, 1), &mut out)?;
                } else {
                    for i in from..from + rows {
                        self.cells((i * block + skip, width), (*column, 1), &mut out)?;
                    }
                }
            }
        }
        Ok(Samples::F64(out))
    }

    fn notes(&self) -> Problems {
        self.notes.clone()
    }
}
