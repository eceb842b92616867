//! Results again, after a blank of the record changed that leaves the waveforms as they were read.

use super::conditions::conditions;
use super::judged::judged;
use super::prepare::{Prepared, with_stated_file};
use super::results::Results;
use super::survey::{Plan, ScanPlan, at_temperature, of_scan};
use crate::base::error::Problems;
use crate::formats::source::FileSet;
use crate::record::Record;

/// Puts a changed record into what was prepared of the earlier one; scans and responses stay.
///
/// # Errors
/// When its table of stated values has problems.
pub fn with_record(
    prepared: &mut Prepared,
    record: Record,
    files: &FileSet,
) -> Result<(), Problems> {
    let (record, problems) = with_stated_file(record, files);
    if !problems.is_empty() {
        return Err(problems);
    }
    prepared.record = record;
    Ok(())
}

/// Results of which only the words and verdicts follow the changed record.
pub fn restated(results: &mut Results, prepared: &Prepared) {
    let (verdicts, repeats) = judged(&prepared.record, &results.scans);
    results.record = prepared.record.clone();
    results.verdicts = verdicts;
    results.repeats = repeats;
}

/// The plan for a changed record, and the scans of which the bands have to be computed anew: those in
/// which the speed of sound moves a window.
///
/// # Errors
/// When a file cannot be read.
pub fn replanned(prepared: &Prepared, before: &Plan) -> Result<(Plan, Vec<usize>), Problems> {
    let speed = conditions(&prepared.record, before).0.sound_speed_m_per_s;
    if before.scans.iter().all(|scan| scan.sound_speed_m_per_s == speed) {
        return Ok((before.clone(), Vec::new()));
    }
    let mut scans = Vec::with_capacity(prepared.scans.len());
    let mut problems = Problems::new();
    for (index, part) in prepared.scans.iter().enumerate() {
        let known =
            before.scans.get(index).map(|plan| at_temperature(&prepared.record, part, plan));
        let plan = match known.transpose() {
            Ok(Some(Some(plan))) => Ok(plan),
            Ok(_) => of_scan(&prepared.record, part),
            Err(problem) => Err(problem),
        };
        match plan {
            Ok(plan) => scans.push(plan),
            Err(problem) => problems.push(problem),
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let plan = Plan { scans };
    let moved = (0..prepared.scans.len()).filter(|i| {
        let part = prepared.scans.get(*i);
        let both = part.zip(before.scans.get(*i)).zip(plan.scans.get(*i));
        both.is_none_or(|((part, before), after)| !same_bands(part, before, after))
    });
    let moved = moved.collect();
    Ok((plan, moved))
}

/// Whether two plans give the same bands.
fn same_bands(part: &super::PreparedScan, before: &ScanPlan, after: &ScanPlan) -> bool {
    let bare = |plan: &ScanPlan| ScanPlan {
        sound_speed_m_per_s: 0.0,
        findings: Vec::new(),
        ..plan.clone()
    };
    bare(before) == bare(after)
        && (0..part.scan.points())
            .all(|i| before.windows_of(&part.scan, i) == after.windows_of(&part.scan, i))
}

#[cfg(test)]
mod tests;
