//! Waveforms at positions: named arrays become a [`Scan`] with axes in metres and seconds.

mod axes;
mod bands;
mod grid;
pub mod layout;
mod names;
mod open;
mod parts;
mod storage;
mod transpose;
mod volts;

pub use bands::Band;
pub use grid::{Axis, Grid};
pub use names::locate;
pub use open::{Opened, open};
pub use volts::Volts;

use serde::{Deserialize, Serialize};

use crate::base::error::Problem;
use crate::formats::container::Samples;
use crate::record::Role;
use storage::Storage;

/// A scan, ready to be read in bands. Immutable; all units SI.
#[derive(Clone, Serialize, Deserialize)]
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
    /// When each point was measured, s, storage order, on the file's own clock.
    #[serde(default)]
    pub moments_s: Option<Vec<f64>>,
    pub volts: Volts,
    /// Bytes of the waveforms in storage.
    pub bytes: u64,
    /// Whether one reader should read for all workers.
    pub one_reader: bool,
    /// Points that storage keeps together.
    row: usize,
    chunked: bool,
    /// `None` in workers that are given the waveforms.
    #[serde(skip)]
    storage: Option<Storage>,
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
        let storage = self.storage.as_ref().ok_or_else(|| Problem::new("scan-short-read"));
        storage
            .and_then(|storage| storage.read(first, count))
            .map_err(|problem| problem.in_file(&self.file).in_scan(&self.id))
    }

    /// Reads single waveforms ahead where reading them one by one would be dear.
    ///
    /// # Errors
    /// When the file cannot be read there.
    pub fn prefetch(&self, points: &[usize]) -> Result<(), Problem> {
        match &self.storage {
            Some(storage) => storage
                .prefetch(points)
                .map_err(|problem| problem.in_file(&self.file).in_scan(&self.id)),
            None => Ok(()),
        }
    }
}
