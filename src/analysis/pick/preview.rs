//! A quick look at a scan: the largest swing of each of some points, and the loudest waveform.

use std::sync::Arc;

use crate::base::error::Problems;
use crate::formats::container::Container;
use crate::record::{Record, ScanEntry};
use crate::scan::{self, Grid, Scan};

/// Most numbers read for it.
const MOST_NUMBERS: usize = 16 << 20;
/// Most points looked at.
const MOST_POINTS: usize = 2500;
/// Most numbers of the waveform that is shown.
const MOST_SHOWN: usize = 1200;

/// What a quick look shows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Preview {
    pub columns: usize,
    pub rows: usize,
    /// Row by row, y upward: half of the difference of the largest and the smallest voltage, V; NaN
    /// where nothing was read.
    pub swing_v: Vec<f32>,
    /// The loudest waveform, V; thinned where it is long.
    pub wave_v: Vec<f32>,
    pub interval_s: f64,
    pub samples: usize,
    pub points: usize,
    /// How many of them were looked at.
    pub looked_at: usize,
    /// Smallest and largest coordinate across the map and along its side, m.
    pub across_m: [f64; 2],
    pub up_m: [f64; 2],
    /// Smallest and largest voltage of the loudest waveform.
    pub loudest_v: [f64; 2],
}

/// Reads as few points as it takes; the first scan where the entry gives several.
pub fn preview(
    record: &Record,
    entry: &ScanEntry,
    container: &Arc<dyn Container>,
) -> Result<Preview, Problems> {
    let opened = scan::open(record, entry, container.clone())?;
    let Some(first) = opened.into_iter().next() else { return Ok(Preview::default()) };
    let scan = first.scan;
    let none: &[f64] = &[];
    let (across, up) = match &scan.grid {
        Grid::Plane { x_m, y_m, .. } => (x_m.as_slice(), y_m.as_slice()),
        Grid::Line { along_m, .. } => (along_m.as_slice(), none),
        Grid::Point { .. } => (none, none),
    };
    let (columns, rows) = (across.len().max(1), up.len().max(1));
    let fitting = (MOST_NUMBERS / scan.samples.max(1)).clamp(1, MOST_POINTS);
    let every = (1..).find(|k| columns.div_ceil(*k) * rows.div_ceil(*k) <= fitting).unwrap_or(1);
    let ends = |m: &[f64]| [m.first(), m.last()].map(|v| v.copied().unwrap_or(0.0));
    let mut out = Preview {
        columns: columns.div_ceil(every),
        rows: rows.div_ceil(every),
        interval_s: scan.interval_s,
        samples: scan.samples,
        points: scan.points(),
        across_m: ends(across),
        up_m: ends(up),
        ..Preview::default()
    };
    let mut wanted: Vec<(usize, usize)> = Vec::new();
    for row in (0..rows).step_by(every) {
        for column in (0..columns).step_by(every) {
            let place = (row / every) * out.columns + column / every;
            wanted.extend(scan.grid.point_of_cell(row * columns + column).map(|p| (p, place)));
        }
    }
    out.swing_v = vec![f32::NAN; out.columns * out.rows];
    // In the order of the file.
    wanted.sort_unstable();
    let points: Vec<usize> = wanted.iter().map(|(point, _)| *point).collect();
    scan.prefetch(&points).map_err(|problem| vec![problem])?;
    let mut loudest = -1.0;
    for (point, place) in wanted {
        let volts = volts(&scan, point)?;
        let low = volts.iter().copied().fold(f64::INFINITY, f64::min);
        let high = volts.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let swing = 0.5 * (high - low);
        if let Some(cell) = out.swing_v.get_mut(place).filter(|_| swing.is_finite()) {
            *cell = swing as f32;
        }
        if swing > loudest {
            loudest = swing;
            out.loudest_v = [low, high];
            let thin = volts.len().div_ceil(MOST_SHOWN).max(1);
            out.wave_v = volts.iter().step_by(thin).map(|v| *v as f32).collect();
        }
        out.looked_at += 1;
    }
    Ok(out)
}

fn volts(scan: &Scan, point: usize) -> Result<Vec<f64>, Problems> {
    let raw = scan.read(point, 1).map_err(|problem| vec![problem])?;
    let to_volts = |v: f64| v * scan.volts.volts_per_count + scan.volts.offset_v;
    Ok(raw.to_f64().into_iter().filter(|v| v.is_finite()).map(to_volts).collect())
}
