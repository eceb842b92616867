//! What a listed array reads from.

use std::sync::Arc;

use super::chunked::Chunks;
use super::dataset::Dataset;
use super::number::Part;
use crate::base::error::Problem;
use crate::formats::container::Samples;

/// A part of a dataset, or something that holds no numbers.
#[derive(Clone)]
pub enum Readable {
    Numbers(Arc<Dataset>, Part),
    /// A word for what it holds.
    Other(&'static str),
}

impl Readable {
    /// Numbers of a dataset.
    pub fn numbers(dataset: &Arc<Dataset>, part: &Part) -> Self {
        Self::Numbers(dataset.clone(), part.clone())
    }

    /// No numbers.
    pub fn other(word: &'static str) -> Self {
        Self::Other(word)
    }

    /// Reads a box.
    ///
    /// # Errors
    /// `array-not-numbers`, and those of [`Dataset::read`].
    pub fn read(
        &self,
        chunks: &Chunks,
        path: &str,
        start: &[u64],
        count: &[u64],
    ) -> Result<Samples, Problem> {
        match self {
            Self::Numbers(dataset, part) => dataset.read(chunks, path, part, start, count),
            Self::Other(word) => {
                Err(Problem::new("array-not-numbers").at(path).with("found", *word))
            }
        }
    }
}
