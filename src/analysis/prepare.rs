//! Opens what a record names.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::transfer::{CheckReadings, sensor_check, transfers, used_scans};
use crate::base::error::{Problem, Problems};
use crate::base::finding::{Finding, Severity};
use crate::base::transfer::Transfer;
use crate::calibration::{Response, response};
use crate::formats::{
    self,
    source::{FileSet, read_all},
};
use crate::record::{Layout, MAX_TABLE_BYTES, Record, Role, ScanEntry, with_stated_table};
use crate::scan::{self, Opened, Scan};

/// A scan with its response.
#[derive(Clone)]
pub struct PreparedScan {
    pub scan: Scan,
    pub response: Response,
    /// What the record states of it; an array that holds several scans gives each an entry of its own.
    pub entry: ScanEntry,
    /// Index in the record's scans of the entry that it comes from.
    pub index: usize,
}

/// A scan as workers are given it that do not read its file themselves.
#[derive(Clone, Serialize, Deserialize)]
pub struct GivenScan {
    pub scan: Scan,
    pub entry: ScanEntry,
    pub index: usize,
}

/// A record with its scans opened.
#[derive(Clone)]
pub struct Prepared {
    pub record: Record,
    pub scans: Vec<PreparedScan>,
    /// Scans of role noise.
    pub quiet: Vec<PreparedScan>,
    /// Revisits of one point.
    pub revisits: Vec<PreparedScan>,
    /// Signals of passive detectors.
    pub monitors: Vec<PreparedScan>,
    /// Factors that check sources gave.
    pub transfers: Vec<Transfer>,
    /// Readings of a check source before and after the scans.
    pub sensor_check: Option<CheckReadings>,
    pub findings: Vec<Finding>,
    /// Layouts that were proposed and used, by the index of the entry.
    pub layouts: BTreeMap<usize, Layout>,
    /// Files that the record does not name.
    pub unused_files: Vec<String>,
}

/// Whether this version evaluates scans of a role.
pub fn evaluated(role: Role) -> bool {
    matches!(role, Role::Plane | Role::Line | Role::Axial | Role::Point | Role::Sweep)
}

/// Whether scans of a role are evaluated apart from the bands.
fn is_aside(role: Role) -> bool {
    matches!(role, Role::Noise | Role::Reference | Role::Monitor)
}

/// Opens all scans and responses.
///
/// # Errors
/// All problems of all files at once.
pub fn prepare(record: Record, files: &FileSet) -> Result<Prepared, Problems> {
    let (record, table_problems) = with_stated_file(record, files);
    match prepare_all(record, files) {
        Ok(prepared) if table_problems.is_empty() => Ok(prepared),
        Ok(_) => Err(table_problems),
        Err(mut problems) => {
            problems.extend(table_problems);
            Err(problems)
        }
    }
}

/// The record with the stated values of its table; with all that is wrong with the table.
pub(super) fn with_stated_file(record: Record, files: &FileSet) -> (Record, Problems) {
    let Some(name) = record.stated_file.clone() else { return (record, Problems::new()) };
    let Some(source) = files.get(&name) else {
        let problem = Problem::new("file-missing").in_file(&name).at("stated_file");
        return (record, vec![problem.with("found", files.names())]);
    };
    if source.len() > MAX_TABLE_BYTES as u64 {
        let long = Problem::new("stated-table-too-long").in_file(&name);
        return (record, vec![long.with("limit", format!("{} KiB", MAX_TABLE_BYTES >> 10))]);
    }
    let bytes = match read_all(source.as_ref(), MAX_TABLE_BYTES as u64) {
        Ok(bytes) => bytes,
        Err(error) => {
            let unread = Problem::new("file-unreadable").in_file(&name);
            return (record, vec![unread.with("found", error.to_string())]);
        }
    };
    match with_stated_table(record.clone(), &bytes, &name) {
        Ok(record) => (record, Problems::new()),
        Err(problems) => (record, problems),
    }
}

fn prepare_all(record: Record, files: &FileSet) -> Result<Prepared, Problems> {
    let mut findings = Vec::new();
    let transfers = match transfers(&record, files, &mut findings) {
        Ok(transfers) => transfers,
        Err(mut problems) => {
            let rest = prepare_with(record, files, &[], None).err().unwrap_or_default();
            problems.extend(rest.into_iter().filter(|p| !problems.contains(p)).collect::<Vec<_>>());
            return Err(problems);
        }
    };
    let mut prepared = prepare_with(record, files, &[], Some(&transfers))?;
    let mut problems = Problems::new();
    let record = &prepared.record;
    let aside = record.scans.iter().enumerate().filter(|(_, scan)| is_aside(scan.role));
    for (index, entry) in aside {
        let known = (files, &[][..], Some(&transfers[..]));
        match open_entry(record, index, known, &mut findings, &mut prepared.layouts) {
            Ok(opened) => match entry.role {
                Role::Noise => prepared.quiet.extend(opened),
                Role::Monitor => prepared.monitors.extend(opened),
                _ => prepared.revisits.extend(opened),
            },
            Err(found) => problems.extend(found),
        }
    }
    prepared.sensor_check = sensor_check(record, files, &mut findings);
    prepared.findings.splice(0..0, findings);
    if problems.is_empty() { Ok(prepared) } else { Err(problems) }
}

/// The scans that bands are computed of: as [`prepare`], but without opening the files of the scans
/// that are given, with transfers that were evaluated before (without any the responses from check
/// sources are left open), and without those of noise and
/// revisits.
///
/// # Errors
/// All problems of all files at once.
pub fn prepare_with(
    record: Record,
    files: &FileSet,
    given: &[GivenScan],
    transfers: Option<&[Transfer]>,
) -> Result<Prepared, Problems> {
    let mut problems = Problems::new();
    let mut scans = Vec::new();
    let mut findings = Vec::new();
    let mut layouts = BTreeMap::new();
    if record.scans.is_empty() {
        problems.push(Problem::new("record-no-scans").at("scans"));
    }
    for (index, entry) in record.scans.iter().enumerate() {
        if is_aside(entry.role) || used_scans(&record).contains(&entry.id.as_str()) {
            continue;
        }
        if !evaluated(entry.role) {
            findings.push(
                Finding::new(Severity::Note, "role-not-evaluated")
                    .in_scan(&entry.id)
                    .with("role", entry.role.as_str()),
            );
            continue;
        }
        let known = (files, given, transfers);
        match open_entry(&record, index, known, &mut findings, &mut layouts) {
            Ok(opened) => scans.extend(opened),
            Err(found) => {
                for problem in found {
                    if !problems.contains(&problem) {
                        problems.push(problem);
                    }
                }
            }
        }
    }
    if scans.is_empty() && problems.is_empty() {
        problems.push(Problem::new("record-no-evaluated-scans").at("scans"));
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let unused_files = unused(&record, files);
    let transfers = transfers.unwrap_or_default().to_vec();
    Ok(Prepared {
        record,
        scans,
        quiet: Vec::new(),
        revisits: Vec::new(),
        monitors: Vec::new(),
        transfers,
        sensor_check: None,
        findings,
        layouts,
        unused_files,
    })
}

/// The scans of one entry with their responses.
fn open_entry(
    record: &Record,
    index: usize,
    (files, given, transfers): (&FileSet, &[GivenScan], Option<&[Transfer]>),
    findings: &mut Vec<Finding>,
    layouts: &mut BTreeMap<usize, Layout>,
) -> Result<Vec<PreparedScan>, Problems> {
    let Some(entry) = record.scans.get(index) else { return Ok(Vec::new()) };
    let own: Vec<(Scan, ScanEntry)> = given
        .iter()
        .filter(|given| given.index == index)
        .map(|given| (given.scan.clone(), given.entry.clone()))
        .collect();
    let opened = if own.is_empty() {
        open_scans(record, index, entry, files, findings).map(|opened| {
            let keep = |one: Opened| {
                if let Some(layout) = one.layout {
                    layouts.insert(index, layout);
                }
                (one.scan, one.entry)
            };
            opened.into_iter().map(keep).collect()
        })
    } else {
        Ok(own)
    };
    let opened = match opened {
        Ok(opened) => opened,
        Err(mut found) => {
            found.extend(response(record, entry, files, transfers).err().unwrap_or_default());
            return Err(found);
        }
    };
    let mut problems = Problems::new();
    let mut scans = Vec::new();
    for (scan, entry) in opened {
        match response(record, &entry, files, transfers) {
            Ok((response, remarks)) => {
                findings.extend(remarks);
                scans.push(PreparedScan { scan, response, entry, index });
            }
            Err(found) => problems.extend(found),
        }
    }
    if problems.is_empty() { Ok(scans) } else { Err(problems) }
}

/// The scans of an entry, from its file.
///
/// # Errors
/// All that is wrong with the file.
pub fn open_scans(
    record: &Record,
    index: usize,
    entry: &ScanEntry,
    files: &FileSet,
    findings: &mut Vec<Finding>,
) -> Result<Vec<Opened>, Problems> {
    let source = files.get(&entry.file).ok_or_else(|| {
        vec![
            Problem::new("file-missing")
                .in_file(&entry.file)
                .in_scan(&entry.id)
                .at(format!("scans[{index}].file"))
                .with("found", files.names()),
        ]
    })?;
    let container = formats::open(&entry.file, source)?;
    for note in container.notes() {
        findings.push(remark(note).in_file(&entry.file).in_scan(&entry.id));
    }
    let mut opened = scan::open(record, entry, container)?;
    for one in &mut opened {
        findings.append(&mut one.findings);
    }
    Ok(opened)
}

/// What a reader passed over, as a finding.
fn remark(note: Problem) -> Finding {
    Finding { severity: Severity::Note, code: note.code, place: note.place, args: note.args }
}

fn unused(record: &Record, files: &FileSet) -> Vec<String> {
    let mut named: Vec<&str> = record.scans.iter().map(|scan| scan.file.as_str()).collect();
    named.extend(record.other_files());
    files.names().into_iter().filter(|name| !named.iter().any(|n| same_file(n, name))).collect()
}

/// Whether two names mean the same file: equal, or the same last part of the path.
pub fn same_file(a: &str, b: &str) -> bool {
    let last = |path: &str| path.rsplit(['/', '\\']).next().unwrap_or(path).to_owned();
    a == b || last(a) == last(b)
}
