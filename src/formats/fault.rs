//! Problems with the arguments that readers of binary files share. Built out of line: readers name
//! many of them, and each would be spelt out in full at its place.

use crate::base::error::Problem;

/// Something else was found than is expected.
#[cold]
#[inline(never)]
pub fn differs(code: &str, expected: u64, found: u64) -> Problem {
    Problem::new(code).with("expected", expected).with("found", found)
}

/// More was found than is read.
#[cold]
#[inline(never)]
pub fn beyond(code: &str, found: u64, limit: u64) -> Problem {
    Problem::new(code).with("found", found).with("limit", limit)
}

/// A number was found that is not known or does not fit.
#[cold]
#[inline(never)]
pub fn number(code: &str, found: u64) -> Problem {
    Problem::new(code).with("found", found)
}

/// A text says what was found; control characters in it would only disturb the message.
#[cold]
#[inline(never)]
pub fn text(code: &str, found: &str) -> Problem {
    let found: String =
        found.trim().chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    Problem::new(code).with("found", found)
}

/// Gives a problem a place, unless it has one.
#[cold]
#[inline(never)]
pub fn at(problem: Problem, path: &str) -> Problem {
    if problem.place.path.is_none() { problem.at(path) } else { problem }
}
