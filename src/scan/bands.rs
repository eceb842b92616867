//! How a scan is cut into bands: by its own shape alone, never by the number of workers.

use super::{Grid, Scan};

/// Samples in a band, about: a few MiB of working memory and well below 100 ms of work.
const BAND_SAMPLES: usize = 1 << 20;

/// A run of points in storage order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Band {
    pub first: usize,
    pub count: usize,
}

impl Scan {
    /// The bands of the scan, in order; together they hold each point once.
    pub fn bands(&self) -> Vec<Band> {
        let points = self.points();
        let by_size = (BAND_SAMPLES / self.samples.max(1)).max(2) & !1;
        let row = match &self.grid {
            Grid::Plane { .. } => self.shape.last().map_or(1, |n| *n as usize).max(1),
            _ => 1,
        } * self.chunk_rows.max(1);
        let size = if row <= by_size {
            by_size / row * row
        } else if self.chunk_rows > 1 {
            row
        } else {
            by_size
        };
        let mut out = Vec::new();
        let mut first = 0;
        while first < points {
            let count = size.min(points - first);
            out.push(Band { first, count });
            first += count;
        }
        out
    }
}
