//! What one key alone cannot show: whether the statements of a record agree with one another.

mod names;
mod numbers;
mod stated;
mod times;
mod uncertainties;

use super::path::shortened;
use super::{Record, Stated};
use crate::base::error::{Problem, Problems};

/// All disagreements within a record.
pub(super) fn check(record: &Record) -> Problems {
    let mut found = Found::default();
    names::check(record, &mut found);
    numbers::check(record, &mut found);
    stated::check(record, &mut found);
    times::check(record, &mut found);
    uncertainties::check(record, &mut found);
    found.problems
}

/// What is wrong with one stated value of a record; `path` is where it stands.
pub(super) fn of_stated(record: &Record, stated: &Stated, path: &str) -> Problems {
    let mut found = Found::default();
    names::of_stated(record, stated, path, &mut found);
    stated::one(stated, path, &mut found);
    uncertainties::of_stated(stated, path, &mut found);
    found.problems
}

/// The problems found so far.
#[derive(Default)]
struct Found {
    problems: Problems,
}

impl Found {
    /// Notes a problem at a path; `with` adds its arguments.
    fn add(&mut self, code: &str, path: &str, with: impl FnOnce(Problem) -> Problem) {
        self.problems.push(with(Problem::new(code).at(path)));
    }
}

/// A text short enough to be quoted.
fn quote(text: &str) -> String {
    shortened(text, 40)
}

/// Problems of a record, as `code path`.
#[cfg(test)]
fn codes(record: &Record) -> Vec<String> {
    let line = |p: &Problem| format!("{} {}", p.code, p.place.path.as_deref().unwrap_or(""));
    check(record).iter().map(line).collect()
}
