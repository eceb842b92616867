//! Long tables, a sample a row, as points and samples.
//!
//! A table is cut into blocks of equal length. A column *repeats* if every block holds the numbers
//! of the first one, and *stays* if it does not change within a block; numbers count as equal within
//! 1e-9 of the range of the column. Two ways of folding are tried for every length of block at which
//! a column returns to its first number or leaves it for the first time:
//!
//! - **fast time**: the columns that repeat rise or fall throughout the block, of at least 8 rows.
//!   They become (nt), those that stay (n), all others (n, nt)
//! - **slow time**: there are at least 8 blocks, some column repeats, and those that stay rise or fall
//!   from block to block. They become (nt), those that repeat (n), all others (nt, n)
//!
//! A column that never changes goes with the points. At least one column must be neither. Only numbers
//! decide, not names. If both ways hold with different blocks (three nested loops), the axis between
//! them is a position; time is that of the two others whose step differs from the position's step
//! by the larger factor, and in doubt the longer one, then the fast one.

use super::watch::{MIN_SAMPLES, START_VALUES};

/// Numbers are equal within this part of the range.
pub const NEAR: f64 = 1e-9;

/// A length of block under trial.
#[derive(Debug)]
pub struct Candidate {
    block: usize,
    columns: usize,
    /// Position of the next row in its block.
    at: usize,
    repeats: Vec<bool>,
    stays: Vec<bool>,
    /// First row of each block.
    starts: Vec<f64>,
    /// What counts as equal, a column.
    near: Vec<f64>,
}

/// What becomes of a column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    Sample,
    Point,
    Value,
}

/// A table folded.
#[derive(Debug, PartialEq)]
pub struct Fold {
    /// Rows of a block.
    pub block: u64,
    pub blocks: u64,
    /// Whether time is the slow axis.
    pub slow: bool,
    pub roles: Vec<Role>,
    /// Numbers of the columns that are samples or points.
    pub axes: Vec<Vec<f64>>,
}

impl Candidate {
    /// A trial after the first `rows` rows, which are the first block.
    pub fn new(rows: u64, columns: usize, kept: &[f64]) -> Option<Self> {
        let block = usize::try_from(rows).ok()?;
        let first = kept.get(..block.checked_mul(columns)?)?;
        let column = |c: usize| first.iter().skip(c).step_by(columns);
        let stays = (0..columns).map(|c| column(c).all(|v| *v == first[c])).collect();
        let near = (0..columns).map(|c| {
            let low = column(c).copied().fold(f64::INFINITY, f64::min);
            let high = column(c).copied().fold(f64::NEG_INFINITY, f64::max);
            // A column with infinities has no range: only equal numbers are equal.
            Some(NEAR * (high - low)).filter(|near| near.is_finite()).unwrap_or(0.0)
        });
        let near = near.collect();
        let starts = first.get(..columns)?.to_vec();
        Some(Self { block, columns, at: 0, repeats: vec![true; columns], stays, starts, near })
    }

    /// Rows of a block.
    pub fn block(&self) -> u64 {
        self.block as u64
    }

    /// One row more; false when no folding can come of it any more.
    pub fn push(&mut self, row: &[f64], kept: &[f64]) -> bool {
        if self.at == 0 {
            if self.starts.len() + self.columns > START_VALUES {
                return false;
            }
            self.starts.extend_from_slice(row);
        }
        let like = kept.get(self.at * self.columns..).unwrap_or_default();
        let start = self.starts.get(self.starts.len() - self.columns..).unwrap_or_default();
        for (c, value) in row.iter().enumerate() {
            if self.repeats[c] {
                self.repeats[c] = like.get(c).is_some_and(|v| (value - v).abs() <= self.near[c]);
            }
            if self.stays[c] {
                self.stays[c] =
                    (value - start[c]).abs() <= NEAR * (start[c] - self.starts[c]).abs();
            }
        }
        self.at += 1;
        if self.at == self.block {
            self.at = 0;
        }
        self.at != 0 || (0..self.columns).any(|c| self.repeats[c] && !self.stays[c])
    }

    fn start_column(&self, c: usize) -> Vec<f64> {
        self.starts.iter().skip(c).step_by(self.columns).copied().collect()
    }

    /// The fold of fast or slow time, if the numbers bear it.
    fn fold(&self, rows: u64, slow: bool, kept: &[f64]) -> Option<Fold> {
        let (block, blocks) = (self.block(), rows / self.block().max(1));
        let samples = if slow { blocks } else { block };
        if self.at != 0 || blocks < 2 || block < 2 || samples < MIN_SAMPLES {
            return None;
        }
        let roles: Vec<Role> = (0..self.columns)
            .map(|c| match (self.repeats[c], self.stays[c]) {
                (false, false) => Role::Value,
                (true, true) => Role::Point,
                (repeats, _) if repeats != slow => Role::Sample,
                _ => Role::Point,
            })
            .collect();
        let first = |c: usize| -> Vec<f64> {
            kept.iter().skip(c).step_by(self.columns).take(self.block).copied().collect()
        };
        let axes: Vec<Vec<f64>> = roles
            .iter()
            .enumerate()
            .map(|(c, role)| match role {
                Role::Value => Vec::new(),
                // Within a block for fast samples and slow points, else from block to block.
                role if (*role == Role::Sample) != slow => first(c),
                _ => self.start_column(c),
            })
            .collect();
        let mut times = roles.iter().zip(&axes).filter(|(role, _)| **role == Role::Sample);
        let even = times.all(|(_, axis)| is_monotonic(axis));
        let repeats = (0..self.columns).any(|c| self.repeats[c] && !self.stays[c]);
        let both = roles.contains(&Role::Sample) && roles.contains(&Role::Value);
        (even && repeats && both).then_some(Fold { block, blocks, slow, roles, axes })
    }
}

fn is_monotonic(axis: &[f64]) -> bool {
    axis.windows(2).all(|w| w[1] > w[0]) || axis.windows(2).all(|w| w[1] < w[0])
}

/// The fold of a table, if there is one.
pub fn fold(candidates: &[Candidate], kept: &[f64], rows: u64) -> Option<Fold> {
    let best = |slow: bool| {
        let folds = candidates.iter().filter_map(|c| c.fold(rows, slow, kept).map(|f| (c, f)));
        folds.max_by_key(|(_, fold)| fold.samples())
    };
    match (best(false), best(true)) {
        (Some((_, fast)), None) => Some(fast),
        (None, Some((_, slow))) => Some(slow),
        (Some((a, fast)), Some((b, slow))) => {
            if fast.block == slow.block || is_fast(a, &fast, b, &slow, kept) {
                Some(fast)
            } else {
                Some(slow)
            }
        }
        (None, None) => None,
    }
}

/// Whether time is the fast axis, where both hold.
fn is_fast(a: &Candidate, fast: &Fold, b: &Candidate, slow: &Fold, kept: &[f64]) -> bool {
    let between = (0..a.columns)
        .find(|c| a.stays[*c] && !a.repeats[*c] && b.repeats[*c] && !b.stays[*c])
        .and_then(|c| Some(kept.get(a.block * a.columns + c)? - kept.get(c)?));
    let step = |fold: &Fold| {
        let sample = fold.roles.iter().position(|role| *role == Role::Sample)?;
        let axis = fold.axes.get(sample)?;
        Some(axis.get(1)? - axis.first()?)
    };
    let longer = fast.samples() >= slow.samples();
    let (Some(between), Some(fast), Some(slow)) = (between, step(fast), step(slow)) else {
        return longer;
    };
    let (fast, slow) = ((fast / between).abs().ln().abs(), (slow / between).abs().ln().abs());
    if !(fast.is_finite() && slow.is_finite()) || (fast - slow).abs() < 1e-6 {
        return longer;
    }
    fast > slow
}

impl Fold {
    /// Samples of a record.
    pub fn samples(&self) -> u64 {
        if self.slow { self.blocks } else { self.block }
    }

    /// Points.
    pub fn points(&self) -> u64 {
        if self.slow { self.block } else { self.blocks }
    }
}
