//! A fixed sparse subset of a scan, and the way uphill from its loudest point.

use crate::base::error::Problem;
use crate::formats::container::Samples;
use crate::scan::{Grid, Scan};

/// Points along each axis of a plane's subset.
const ACROSS: usize = 12;
/// Points of a line's subset.
const ALONG: usize = 48;
/// Loudest points kept with their waveforms besides the subset.
pub const LOUDEST: usize = 8;

/// One waveform of the subset.
pub struct SampledPoint {
    pub point: usize,
    pub volts: Vec<f64>,
    pub raw: Samples,
    /// Variance of the volts.
    pub energy: f64,
}

/// The subset; never empty.
pub struct Sampled {
    pub points: Vec<SampledPoint>,
    loudest: usize,
}

impl Sampled {
    /// The loudest point found.
    pub fn loudest(&self) -> &SampledPoint {
        &self.points[self.loudest]
    }

    /// Up to [`LOUDEST`] points, loudest first.
    pub fn loudest_few(&self) -> Vec<&SampledPoint> {
        let mut order: Vec<&SampledPoint> = self.points.iter().collect();
        order.sort_by(|a, b| b.energy.total_cmp(&a.energy).then(a.point.cmp(&b.point)));
        order.truncate(LOUDEST);
        order
    }
}

/// Reads the subset: evenly spread cells, then from the loudest of them uphill over neighbours at
/// half the distance each time.
///
/// # Errors
/// When the file cannot be read.
pub fn sample(scan: &Scan) -> Result<Sampled, Problem> {
    let (columns, rows) = match &scan.grid {
        Grid::Plane { x_m, y_m, .. } => (x_m.len(), y_m.len()),
        Grid::Line { along_m, .. } => (along_m.len(), 1),
        Grid::Point { .. } => (1, 1),
    };
    let spread = |n: usize, k: usize| -> Vec<usize> {
        let k = k.min(n);
        let mut out: Vec<usize> = (0..k).map(|i| (2 * i + 1) * n / (2 * k)).collect();
        out.dedup();
        out
    };
    let across = if rows == 1 { ALONG } else { ACROSS };
    let mut points: Vec<SampledPoint> = Vec::new();
    let mut seen = std::collections::BTreeMap::new();
    let mut take = |row: usize,
                    column: usize,
                    points: &mut Vec<SampledPoint>|
     -> Result<Option<usize>, Problem> {
        let cell = row * columns + column;
        if let Some(index) = seen.get(&cell) {
            return Ok(Some(*index));
        }
        let Some(point) = scan.grid.point_of_cell(cell) else { return Ok(None) };
        points.push(read(scan, point)?);
        seen.insert(cell, points.len() - 1);
        Ok(Some(points.len() - 1))
    };
    let (mut best, mut at) = (0, (0, 0));
    let cells = || {
        let rows = spread(rows, ACROSS);
        rows.into_iter().flat_map(|row| spread(columns, across).into_iter().map(move |c| (row, c)))
    };
    let ahead = |cells: &mut dyn Iterator<Item = (usize, usize)>| {
        let points = cells.filter_map(|(r, c)| scan.grid.point_of_cell(r * columns + c));
        scan.prefetch(&points.collect::<Vec<_>>())
    };
    ahead(&mut cells())?;
    for (row, column) in cells() {
        if let Some(index) = take(row, column, &mut points)?
            && (points[index].energy > points[best].energy || points.len() == 1)
        {
            (best, at) = (index, (row, column));
        }
    }
    if points.is_empty() {
        // No evenly spread place has a point: any will do to begin with.
        let cell = scan.grid.cell(0);
        at = (cell / columns.max(1), cell % columns.max(1));
        take(at.0, at.1, &mut points)?;
    }
    let mut step = columns.div_ceil(across).max(rows.div_ceil(ACROSS)).max(1);
    let around = |centre: usize, n: usize, reach: usize| {
        centre.saturating_sub(reach)..n.min(centre + reach + 1)
    };
    let (near_rows, near_columns) = (around(at.0, rows, step), around(at.1, columns, step));
    ahead(&mut near_rows.flat_map(|row| near_columns.clone().map(move |column| (row, column))))?;
    loop {
        let here = at;
        for (dr, dc) in [(-1i64, 0i64), (1, 0), (0, -1), (0, 1), (-1, -1), (-1, 1), (1, -1), (1, 1)]
        {
            let row = here.0 as i64 + dr * step as i64;
            let column = here.1 as i64 + dc * step as i64;
            if row < 0 || column < 0 || row >= rows as i64 || column >= columns as i64 {
                continue;
            }
            let (row, column) = (row as usize, column as usize);
            if let Some(index) = take(row, column, &mut points)?
                && points[index].energy > points[best].energy
            {
                (best, at) = (index, (row, column));
            }
        }
        if at == here {
            if step == 1 {
                break;
            }
            step = step.div_ceil(2).min(step - 1);
        }
    }
    Ok(Sampled { points, loudest: best })
}

/// Reads one waveform.
///
/// # Errors
/// When the file cannot be read there.
pub fn read(scan: &Scan, point: usize) -> Result<SampledPoint, Problem> {
    let raw = scan.read(point, 1)?;
    let volts: Vec<f64> =
        raw.to_f64()
            .into_iter()
            .map(|v| {
                if v.is_finite() {
                    v * scan.volts.volts_per_count + scan.volts.offset_v
                } else {
                    0.0
                }
            })
            .collect();
    let n = volts.len() as f64;
    let mean = volts.iter().sum::<f64>() / n;
    let energy = volts.iter().map(|v| (v - mean) * (v - mean)).sum::<f64>() / n;
    Ok(SampledPoint { point, volts, raw, energy })
}
