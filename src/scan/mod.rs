//! Waveforms at positions: named arrays become a [`Scan`] with axes in metres and seconds.

mod axes;
mod bands;
mod grid;
mod open;
mod volts;

pub use bands::Band;
pub use grid::{Axis, Grid};
pub use open::{locate, open};
pub use volts::Volts;

use std::sync::Arc;

use crate::base::error::Problem;
use crate::formats::container::{Container, Samples, boxes};
use crate::record::Role;

/// A scan, ready to be read in bands. Immutable; all units SI.
#[derive(Clone)]
pub struct Scan {
    pub id: String,
    pub role: Role,
    pub file: String,
    pub grid: Grid,
    /// Samples of each waveform.
    pub samples: usize,
    pub interval_s: f64,
    /// Instant of the first sample after the trigger: one, or one a point in storage order.
    pub t0_s: Vec<f64>,
    /// Whether the file or the record says where the time axis begins.
    pub t0_known: bool,
    pub volts: Volts,
    /// Bytes of the waveforms in storage.
    pub bytes: u64,
    container: Arc<dyn Container>,
    path: String,
    /// Leading shape of the waveform array (without time).
    shape: Vec<u64>,
    /// Points that storage keeps together along the slowest axis.
    chunk_rows: usize,
}

impl Scan {
    /// Number of points.
    pub fn points(&self) -> usize {
        self.grid.points()
    }

    /// Instant of a point's first sample, s after the trigger.
    pub fn t0(&self, point: usize) -> f64 {
        self.t0_s.get(point).or(self.t0_s.first()).copied().unwrap_or(0.0)
    }

    /// Raw samples of the points `first .. first + count`, storage order, row-major (count, samples).
    ///
    /// # Errors
    /// When the file cannot be read there.
    pub fn read(&self, first: usize, count: usize) -> Result<Samples, Problem> {
        let mut all: Option<Samples> = None;
        for (mut start, mut size) in boxes(&self.shape, first as u64, count as u64) {
            start.push(0);
            size.push(self.samples as u64);
            let part = self
                .container
                .read(&self.path, &start, &size)
                .map_err(|problem| problem.in_file(&self.file).in_scan(&self.id))?;
            match &mut all {
                Some(all) => all.append(part),
                None => all = Some(part),
            }
        }
        let all = all.unwrap_or(Samples::F64(Vec::new()));
        if all.len() == count * self.samples {
            Ok(all)
        } else {
            Err(Problem::new("scan-short-read").in_file(&self.file).in_scan(&self.id))
        }
    }
}
