//! Columns watched during the pass: kept as long as they are few, and compared with themselves to
//! find a period.
//!
//! Memory is bounded: [`KEPT_VALUES`] numbers of the first rows, and [`START_VALUES`] numbers for each
//! of at most [`MAX_CANDIDATES`] periods under trial. A period that needs more is not found, and the
//! table stays as it is.

use super::fold::Candidate;

/// Most numbers kept from the first rows (32 MiB).
const KEPT_VALUES: usize = 4 << 20;
/// Most numbers kept from the first row of each block, for one period (16 MiB).
pub const START_VALUES: usize = 2 << 20;
/// Periods under trial at once.
const MAX_CANDIDATES: usize = 6;
/// Most columns watched; a table of more is neither kept nor folded.
pub const MAX_COLUMNS: usize = 64;
/// Shortest record.
pub const MIN_SAMPLES: u64 = 8;

/// What is known of one column so far.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Course {
    /// All rows so far hold the same number.
    Level,
    /// Each row is above (below) the one before.
    Rising,
    Falling,
    /// Its first period was found, or there is none.
    Settled,
}

/// The columns of a table that stand alone.
pub struct Watch {
    columns: usize,
    /// Numbers of the first rows, row by row.
    kept: Vec<f64>,
    /// Whether `kept` holds all rows.
    complete: bool,
    rows: u64,
    courses: Vec<Course>,
    candidates: Vec<Candidate>,
    last: Vec<f64>,
}

impl Watch {
    /// Watches so many columns; `fold` says whether a period is looked for.
    pub fn new(columns: usize, fold: bool) -> Self {
        let columns = if columns <= MAX_COLUMNS { columns } else { 0 };
        let course = if fold { Course::Level } else { Course::Settled };
        Self {
            columns,
            kept: Vec::new(),
            complete: columns > 0,
            rows: 0,
            courses: vec![course; columns],
            candidates: Vec::new(),
            last: Vec::new(),
        }
    }

    /// One row more.
    pub fn push(&mut self, row: &[f64]) {
        if self.columns == 0 {
            return;
        }
        let row = row.get(..self.columns).unwrap_or(row);
        if self.complete && self.kept.len() + self.columns > KEPT_VALUES {
            self.complete = false;
            self.courses.fill(Course::Settled);
        }
        if self.complete {
            for column in 0..self.columns {
                self.follow(column, row);
            }
            self.kept.extend_from_slice(row);
            self.last.clear();
            self.last.extend_from_slice(row);
        }
        self.candidates.retain_mut(|candidate| candidate.push(row, &self.kept));
        if !self.complete && self.candidates.is_empty() {
            self.kept = Vec::new();
        }
        self.rows += 1;
    }

    /// Follows the course of a column; a return to its first number, or the end of its first level,
    /// is a period to be tried.
    fn follow(&mut self, column: usize, row: &[f64]) {
        let (Some(course), Some(value)) = (self.courses.get(column), row.get(column)) else {
            return;
        };
        let (course, value) = (*course, *value);
        if course == Course::Settled || self.rows == 0 {
            return;
        }
        let (first, last) = (self.kept[column], self.last[column]);
        let next = match course {
            Course::Level if value == first => Course::Level,
            Course::Level if self.rows > 1 => {
                self.try_period(self.rows);
                Course::Settled
            }
            Course::Level | Course::Rising if value > last => Course::Rising,
            Course::Level | Course::Falling if value < last => Course::Falling,
            _ => {
                if (value - first).abs() <= super::fold::NEAR * (last - first).abs()
                    && self.rows >= MIN_SAMPLES
                {
                    self.try_period(self.rows);
                }
                Course::Settled
            }
        };
        self.courses[column] = next;
    }

    fn try_period(&mut self, rows: u64) {
        let known = self.candidates.iter().any(|c| c.block() == rows);
        if !known && self.candidates.len() < MAX_CANDIDATES {
            self.candidates.extend(Candidate::new(rows, self.columns, &self.kept));
        }
    }

    /// Numbers of a column, if all rows were kept.
    pub fn column(&self, slot: usize) -> Option<Vec<f64>> {
        if !self.complete || slot >= self.columns {
            return None;
        }
        Some(self.kept.iter().skip(slot).step_by(self.columns).copied().collect())
    }

    /// The periods that held to the end, and the numbers of the first rows.
    pub fn finish(&self) -> (&[Candidate], &[f64]) {
        (&self.candidates, &self.kept)
    }

    /// Rows seen.
    pub fn rows(&self) -> u64 {
        self.rows
    }
}

#[cfg(test)]
mod tests {
    use super::super::fold::fold;
    use super::*;

    /// Rows `point, t, value` of records of 4096 samples.
    fn watched(rows: u64, fold: bool) -> Watch {
        let mut watch = Watch::new(3, fold);
        for i in 0..rows {
            watch.push(&[(i / 4096) as f64, (i % 4096) as f64, ((i * i) % 997) as f64]);
        }
        watch
    }

    /// Beyond the budget columns are no longer kept, but a period found before is followed on.
    #[test]
    fn the_budget_holds() {
        let rows = 4096 * 360;
        assert!(rows * 3 > KEPT_VALUES as u64);
        let left = watched(rows, false);
        assert!(left.kept.is_empty() && left.column(0).is_none());
        let kept = watched(rows, true);
        assert!(kept.kept.len() <= KEPT_VALUES && kept.column(0).is_none());
        let (candidates, first) = kept.finish();
        let folded = fold(candidates, first, rows).map(|fold| (fold.points(), fold.samples()));
        assert_eq!(folded, Some((360, 4096)));
        assert_eq!(watched(4096, true).column(1).map(|c| c.len()), Some(4096));
    }
}
