//! How a scan is cut into bands, and bands into pieces: by its own shape alone, never by the number of
//! workers.

use super::Scan;

/// Samples in a band, about: the unit of work of a worker, well below 100 ms.
const BAND_SAMPLES: usize = 1 << 20;
/// Samples in a piece, about: what is in memory at once. Larger buffers are mapped and freed anew by
/// the system each time, which took a third of the time.
const PIECE_SAMPLES: usize = 1 << 18;

/// A run of points in storage order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Band {
    pub first: usize,
    pub count: usize,
}

impl Scan {
    /// The bands of the scan, in order; together they hold each point once.
    pub fn bands(&self) -> Vec<Band> {
        self.cut(Band { first: 0, count: self.points() }, BAND_SAMPLES)
    }

    /// The pieces of a band, in order; together they hold each of its points once.
    pub fn pieces(&self, band: Band) -> Vec<Band> {
        self.cut(band, PIECE_SAMPLES)
    }

    /// Cuts a run of points into runs of about so many samples, at whole rows and whole storage
    /// chunks where these fit; an even number of points otherwise, since two travel together.
    fn cut(&self, whole: Band, samples: usize) -> Vec<Band> {
        let by_size = (samples / self.samples.max(1)).max(2) & !1;
        let row = self.row;
        let size = if row <= by_size {
            by_size / row * row
        } else if self.chunked {
            row
        } else {
            by_size
        };
        let end = whole.first + whole.count;
        let starts = (whole.first..end).step_by(size.max(1));
        starts.map(|first| Band { first, count: size.min(end - first) }).collect()
    }
}
