//! What can stop the server, and how it is said.

use std::fmt;
use std::io;

/// Why nothing is served.
#[derive(Debug)]
pub enum ServeProblem {
    /// No port of the loopback address could be had.
    Bind(io::Error),
}

impl fmt::Display for ServeProblem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Bind(source) => write!(
                f,
                "No port of 127.0.0.1 could be opened: {source}.\n\
                 The page also works without a server: open its file in a browser."
            ),
        }
    }
}

impl std::error::Error for ServeProblem {}
