//! Composes the stages: prepare (open what the record names), survey (freeze a plan from a fixed
//! sparse subset of the points), bands (in any order, on any number of workers), assemble.
//!
//! Bands follow from the scan's shape alone and merge in index order, so the result does not depend
//! on who computed what.

mod again;
mod asked_distances;
mod assemble;
mod bubbles;
mod budgets;
mod conditions;
mod depths;
mod drift;
mod element_size;
mod fitness;
mod focal_wave;
mod judged;
mod kept;
mod level_fields;
mod line;
mod look;
mod noise_scans;
mod pick;
mod plane;
mod point;
mod prepare;
mod repeats_average;
mod results;
mod revisits;
mod safety;
mod saved;
mod sensor_check;
mod shots;
mod skeleton;
mod spread;
mod survey;
mod sweeps;
mod told_once;
mod transfer;

pub use again::{replanned, restated, with_record};
pub use asked_distances::asked_distances;
pub use assemble::{assemble, assemble_with};
pub use conditions::conditions;
pub use kept::{Kept, Waiting};
pub use look::{ArrayLook, Look, ProposedLook, look, values};
pub use pick::{
    Answers, Pick, Preview, WrongAnswer, drafted, entry as picked_entry, picks, picks_again,
};
pub use prepare::{GivenScan, Prepared, PreparedScan, prepare, prepare_with, same_file};
pub use results::{
    FocalWave, LinePicture, Picture, PlanePicture, PressureProfiles, Results, ScanResult,
};
pub use saved::{Changed, Saved, saved};
pub use skeleton::skeleton;
pub use survey::{Plan, ScanPlan, survey};

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::base::error::{Problem, Problems};
use crate::base::transfer::Transfer;
use crate::calibration::PressureMaker;
use crate::formats::container::Samples;
use crate::formats::source::FileSet;
use crate::pulse::map::{BandWorker, Point, WIDTH};
use crate::record::Record;
use crate::scan::Band;

/// Computes bands; keeps what all bands of a scan share (transforms, filter, tables) between calls.
#[derive(Default)]
pub struct BandRunner {
    workers: BTreeMap<usize, BandWorker<f32>>,
}

impl BandRunner {
    /// Computes one band of a scan: a row of [`WIDTH`] numbers a point, storage order. All calls on
    /// one runner must be for the same record and plan.
    ///
    /// # Errors
    /// When the file cannot be read there, or the indices name no band.
    pub fn band(
        &mut self,
        prepared: &Prepared,
        plan: &Plan,
        scan: usize,
        band: usize,
    ) -> Result<Vec<f64>, Problem> {
        let (part, frozen, whole) = find(prepared, plan, scan, band)?;
        let worker = self.workers.entry(scan).or_insert_with(|| band_worker(part, frozen));
        let mut rows = Vec::with_capacity(whole.count * WIDTH);
        for Band { first, count } in part.scan.pieces(whole) {
            let raw = part.scan.read(first, count)?;
            let points = worker.run(&raw, |i| frozen.windows_of(&part.scan, first + i));
            rows.extend(points.iter().flat_map(Point::to_row));
        }
        Ok(rows)
    }

    /// As [`BandRunner::band`], from waveforms that [`raw_band`] read elsewhere.
    ///
    /// # Errors
    /// When the waveforms are not those of the band, or the indices name no band.
    pub fn band_of(
        &mut self,
        prepared: &Prepared,
        plan: &Plan,
        scan: usize,
        band: usize,
        raw: &Samples,
    ) -> Result<Vec<f64>, Problem> {
        let (part, frozen, whole) = find(prepared, plan, scan, band)?;
        if raw.len() != whole.count * part.scan.samples {
            return Err(Problem::new("scan-short-read").in_scan(&part.scan.id));
        }
        let worker = self.workers.entry(scan).or_insert_with(|| band_worker(part, frozen));
        let points = worker.run(raw, |i| frozen.windows_of(&part.scan, whole.first + i));
        Ok(points.iter().flat_map(Point::to_row).collect())
    }
}

fn find<'a>(
    prepared: &'a Prepared,
    plan: &'a Plan,
    scan: usize,
    band: usize,
) -> Result<(&'a PreparedScan, &'a ScanPlan, Band), Problem> {
    let missing = || Problem::new("band-missing").with("scan", scan).with("band", band);
    let part = prepared.scans.get(scan).ok_or_else(missing)?;
    let frozen = plan.scans.get(scan).ok_or_else(missing)?;
    let whole = *part.scan.bands().get(band).ok_or_else(missing)?;
    Ok((part, frozen, whole))
}

/// Raw waveforms of a band.
///
/// # Errors
/// When the file cannot be read there, or the indices name no band.
pub fn raw_band(prepared: &Prepared, scan: usize, band: usize) -> Result<Samples, Problem> {
    let missing = || Problem::new("band-missing").with("scan", scan).with("band", band);
    let part = prepared.scans.get(scan).ok_or_else(missing)?;
    let whole = *part.scan.bands().get(band).ok_or_else(missing)?;
    part.scan.read(whole.first, whole.count)
}

/// What a band worker is told besides record and files.
#[derive(Serialize, Deserialize)]
pub struct Briefing {
    pub plan: Plan,
    /// The scans that one reader reads for all.
    pub given: Vec<GivenScan>,
    /// Factors that check sources gave.
    pub transfers: Vec<Transfer>,
}

impl Briefing {
    /// The briefing of a prepared record.
    pub fn new(prepared: &Prepared, plan: &Plan) -> Self {
        let read_by_one = prepared.scans.iter().filter(|part| part.scan.one_reader);
        let given = read_by_one.map(|part| GivenScan {
            scan: part.scan.clone(),
            entry: part.entry.clone(),
            index: part.index,
        });
        let transfers = prepared.transfers.clone();
        Self { plan: plan.clone(), given: given.collect(), transfers }
    }
}

pub(crate) fn band_worker(part: &PreparedScan, frozen: &ScanPlan) -> BandWorker<f32> {
    let scan = &part.scan;
    let maker =
        PressureMaker::new(&frozen.conditioning, &part.response, scan.volts, scan.interval_s);
    BandWorker::new(maker, scan.volts, scan.samples, scan.interval_s, frozen.frequency_hz)
}

/// The waveform of a cell of a scan, with its peaks, window and spectrum; none where the cell has no
/// point.
///
/// # Errors
/// When the file cannot be read there.
pub fn point_wave(
    prepared: &Prepared,
    plan: &Plan,
    scan: &str,
    cell: usize,
) -> Result<Option<FocalWave>, Problem> {
    let found = prepared.scans.iter().zip(&plan.scans).find(|(part, _)| part.scan.id == scan);
    let Some((part, frozen)) = found else { return Ok(None) };
    let Some(point) = part.scan.grid.point_of_cell(cell) else { return Ok(None) };
    Ok(Some(focal_wave::waveform(part, frozen, point)?.wave))
}

/// Whether a cell of a scan has a point, and so a waveform.
pub fn has_point(prepared: &Prepared, scan: &str, cell: usize) -> bool {
    let found = prepared.scans.iter().find(|part| part.scan.id == scan);
    found.is_some_and(|part| part.scan.grid.point_of_cell(cell).is_some())
}

/// The table of a band that could not be computed: every point skipped.
pub fn skipped_band(prepared: &Prepared, scan: usize, band: usize) -> Vec<f64> {
    let count = prepared
        .scans
        .get(scan)
        .and_then(|part| part.scan.bands().get(band).copied())
        .map_or(0, |band| band.count);
    (0..count).flat_map(|_| Point::skipped().to_row()).collect()
}

/// Everything in one go, for the command line and the tests; `progress` hears points done and all.
///
/// # Errors
/// All that is wrong with the inputs.
pub fn run(
    record: Record,
    files: &FileSet,
    progress: &mut dyn FnMut(usize, usize),
) -> Result<Results, Problems> {
    let prepared = prepare(record, files)?;
    let plan = survey(&prepared)?;
    let all: usize = prepared.scans.iter().map(|part| part.scan.points()).sum();
    let mut done = 0;
    let mut runner = BandRunner::default();
    let mut tables = Vec::new();
    for (scan, part) in prepared.scans.iter().enumerate() {
        let mut rows = Vec::with_capacity(part.scan.points() * WIDTH);
        for (index, size) in part.scan.bands().iter().enumerate() {
            rows.extend(
                runner.band(&prepared, &plan, scan, index).map_err(|problem| vec![problem])?,
            );
            done += size.count;
            progress(done, all);
        }
        tables.push(rows);
    }
    assemble(&prepared, &plan, &tables)
}
