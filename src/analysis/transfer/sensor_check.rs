//! Reads the two records of a check source between which the sensor may have changed.

use std::collections::BTreeMap;

use super::recorded::{Placed, Recorded};
use super::{Opener, Reader, feature_index, low_pass};
use crate::analysis::survey::dominant_frequency;
use crate::base::error::{Problem, Problems};
use crate::base::finding::{Finding, Severity};
use crate::calibration::check_source::{FEATURES, Reading};
use crate::formats::source::FileSet;
use crate::record::{Record, Response, SensorCheck};

/// Levels closer than this, relative, are the same.
const SAME_LEVEL: f64 = 1e-6;

/// The feature of each shot, volts, before and after.
#[derive(Debug, Clone, PartialEq)]
pub struct CheckReadings {
    /// Id and file of the scan after.
    pub id: String,
    pub file: String,
    pub range: Option<String>,
    pub level: Option<f64>,
    /// `fundamental`, `rms`, `peak`.
    pub feature: &'static str,
    pub before_v: Vec<f64>,
    pub after_v: Vec<f64>,
    pub samples: usize,
    pub interval_s: f64,
}

/// Reads both records, if the sensor was checked; what keeps them from being compared is told.
pub fn read(
    record: &Record,
    files: &FileSet,
    findings: &mut Vec<Finding>,
) -> Option<CheckReadings> {
    let checked = record.sensor.checked.as_ref()?;
    let (before, after) = (record.scan(&checked.before)?, record.scan(&checked.after)?);
    if before.range != after.range {
        let word = |range: &Option<String>| range.clone().unwrap_or_else(|| "–".to_owned());
        findings.push(
            Finding::new(Severity::Caution, "sensor-check-ranges-differ")
                .in_scan(&after.id)
                .at("sensor.checked")
                .with("before", word(&before.range))
                .with("after", word(&after.range)),
        );
        return None;
    }
    let mut opener = Opener { record, files, findings: Vec::new(), problems: Problems::new() };
    let mut both = Vec::new();
    for entry in [before, after] {
        both.push(opener.open(&entry.id, Some(entry.range.as_deref())));
        let found = std::mem::take(&mut opener.problems);
        if let Some(problem) = found.first() {
            findings.push(
                Finding::new(Severity::Caution, "sensor-check-unread")
                    .in_scan(&entry.id)
                    .in_file(&entry.file)
                    .with("found", problem.code.as_str()),
            );
        }
    }
    findings.append(&mut opener.findings);
    let after_scans = both.pop().filter(|scans| !scans.is_empty())?;
    let before_scans = both.pop().filter(|scans| !scans.is_empty())?;
    // The highest level that both have.
    let pairs = before_scans.iter().flat_map(|a| after_scans.iter().map(move |b| (a, b)));
    let level = |scan: &Recorded| scan.part.entry.level;
    let common = pairs.filter(|(a, b)| match (level(a), level(b)) {
        (Some(a), Some(b)) => (a - b).abs() <= SAME_LEVEL * a.abs().max(b.abs()),
        _ => true,
    });
    let top = common.max_by(|a, b| {
        let of = |scan: &Recorded| level(scan).unwrap_or(f64::NEG_INFINITY);
        of(a.0).total_cmp(&of(b.0))
    });
    let Some((first, second)) = top else {
        findings.push(
            Finding::new(Severity::Caution, "sensor-check-levels-differ")
                .in_scan(&after.id)
                .at("sensor.checked"),
        );
        return None;
    };
    findings.extend([first, second].into_iter().filter_map(Recorded::clipping));
    match compared(record, checked, first, second) {
        Ok(readings) => Some(readings),
        Err(problem) => {
            let at = problem.place.scan.clone().unwrap_or_else(|| after.id.clone());
            findings.push(Finding::new(Severity::Caution, "sensor-check-no-signal").in_scan(&at));
            None
        }
    }
}

fn compared(
    record: &Record,
    checked: &SensorCheck,
    first: &Recorded,
    second: &Recorded,
) -> Result<CheckReadings, Problem> {
    let stated = record.responses().find_map(|response| match response {
        Response::CheckSource { frequency_hz, .. } => *frequency_hz,
        _ => None,
    });
    let f = stated.or_else(|| dominant_frequency(&first.mean_v, first.part.scan.interval_s));
    let none = || Problem::new("check-source-no-signal").in_scan(&first.part.scan.id);
    let f = f.ok_or_else(none)?;
    let mut placed: BTreeMap<String, Placed> = BTreeMap::new();
    for scan in [first, second] {
        placed.insert(scan.part.scan.id.clone(), scan.place(f)?);
    }
    let length_s = placed.values().map(|p| p.length_s).fold(0.0, f64::max);
    let lowpass = low_pass(f, [first, second].into_iter());
    let mut reader = Reader { placed: &placed, length_s, f, lowpass, duration_s: None };
    let chosen = feature_index(checked.feature);
    let mut shots = |scan: &Recorded| -> Result<Vec<f64>, Problem> {
        let readings: Vec<Reading> = reader.shots(scan)?.ok_or_else(none)?.0;
        Ok(readings.iter().map(|reading| reading.value[chosen]).collect())
    };
    let (before_v, after_v) = (shots(first)?, shots(second)?);
    let scan = &second.part.scan;
    Ok(CheckReadings {
        id: scan.id.clone(),
        file: scan.file.clone(),
        range: second.part.entry.range.clone(),
        level: second.part.entry.level,
        feature: FEATURES[chosen],
        before_v,
        after_v,
        samples: scan.samples,
        interval_s: scan.interval_s,
    })
}
