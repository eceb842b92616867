//! What stops a computation: a typed problem with its place, what was expected, what was found.
//!
//! A problem carries no prose; the sentence is made in `report::wording` from the code and the
//! arguments. Readers and checkers return *all* problems of an input at once.

use serde::{Deserialize, Serialize};

use super::finding::{Args, Place};

/// A reason to refuse an input.
///
/// `code` names the sentence in the wording files, `place` says where, `args` fill its blanks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Problem {
    pub code: String,
    pub place: Place,
    #[serde(default)]
    pub args: Args,
}

/// All problems of one input; never empty when returned as an error.
pub type Problems = Vec<Problem>;

impl Problem {
    /// A problem of the given kind, still without a place.
    pub fn new(code: &str) -> Self {
        Self { code: code.to_owned(), place: Place::default(), args: Args::new() }
    }

    /// Says in which file (as the user named it) the problem stands.
    #[must_use]
    pub fn in_file(mut self, file: &str) -> Self {
        self.place.file = Some(file.to_owned());
        self
    }

    /// Says at which path inside the file (JSON path, array path, row) the problem stands.
    #[must_use]
    pub fn at(mut self, path: impl Into<String>) -> Self {
        self.place.path = Some(path.into());
        self
    }

    /// Says which scan the problem concerns.
    #[must_use]
    pub fn in_scan(mut self, scan: &str) -> Self {
        self.place.scan = Some(scan.to_owned());
        self
    }

    /// Adds an argument of the sentence.
    #[must_use]
    pub fn with(mut self, name: &str, value: impl Into<super::finding::Arg>) -> Self {
        self.args.insert(name.to_owned(), value.into());
        self
    }
}
