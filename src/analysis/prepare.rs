//! Opens what a record names.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::base::error::{Problem, Problems};
use crate::base::finding::{Finding, Severity};
use crate::calibration::{Response, response};
use crate::formats::{self, source::FileSet};
use crate::record::{self, Layout, Record, Role, ScanEntry};
use crate::scan::{self, Scan};

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
    pub findings: Vec<Finding>,
    /// Layouts that were proposed and used, by the index of the entry.
    pub layouts: BTreeMap<usize, Layout>,
    /// Files that the record does not name.
    pub unused_files: Vec<String>,
}

/// Whether this version evaluates scans of a role.
pub fn evaluated(role: Role) -> bool {
    matches!(role, Role::Plane | Role::Line | Role::Axial | Role::Point)
}

/// Opens all scans and responses.
///
/// # Errors
/// All problems of all files at once.
pub fn prepare(record: Record, files: &FileSet) -> Result<Prepared, Problems> {
    prepare_with(record, files, &[])
}

/// As [`prepare`], but without opening the files of the scans that are given.
///
/// # Errors
/// All problems of all files at once.
pub fn prepare_with(
    record: Record,
    files: &FileSet,
    given: &[GivenScan],
) -> Result<Prepared, Problems> {
    let mut problems = Problems::new();
    let mut scans = Vec::new();
    let mut findings = Vec::new();
    let mut layouts = BTreeMap::new();
    if record.scans.is_empty() {
        problems.push(Problem::new("record-no-scans").at("scans"));
    }
    for (index, entry) in record.scans.iter().enumerate() {
        if !evaluated(entry.role) {
            findings.push(
                Finding::new(Severity::Note, "role-not-evaluated")
                    .in_scan(&entry.id)
                    .with("role", entry.role.as_str()),
            );
            continue;
        }
        match open_entry(&record, index, (files, given), &mut findings, &mut layouts) {
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
    Ok(Prepared { record, scans, findings, layouts, unused_files })
}

/// The scans of one entry with their responses.
fn open_entry(
    record: &Record,
    index: usize,
    (files, given): (&FileSet, &[GivenScan]),
    findings: &mut Vec<Finding>,
    layouts: &mut BTreeMap<usize, Layout>,
) -> Result<Vec<PreparedScan>, Problems> {
    let Some(entry) = record.scans.get(index) else { return Ok(Vec::new()) };
    let own: Vec<(Scan, ScanEntry)> = given
        .iter()
        .filter(|given| given.index == index)
        .map(|given| (given.scan.clone(), given.entry.clone()))
        .collect();
    let opened = if !own.is_empty() {
        Ok(own)
    } else if let Some(source) = files.get(&entry.file) {
        formats::open(&entry.file, source)
            .and_then(|container| {
                for note in container.notes() {
                    findings.push(remark(note).in_file(&entry.file).in_scan(&entry.id));
                }
                scan::open(record, entry, container)
            })
            .map(|opened| {
                let mut scans = Vec::new();
                for one in opened {
                    findings.extend(one.findings);
                    if let Some(layout) = one.layout {
                        layouts.insert(index, layout);
                    }
                    scans.push((one.scan, one.entry));
                }
                scans
            })
    } else {
        Err(vec![
            Problem::new("file-missing")
                .in_file(&entry.file)
                .in_scan(&entry.id)
                .at(format!("scans[{index}].file"))
                .with("found", files.names()),
        ])
    };
    let opened = match opened {
        Ok(opened) => opened,
        Err(mut found) => {
            found.extend(response(record, entry, files).err().unwrap_or_default());
            return Err(found);
        }
    };
    let mut problems = Problems::new();
    let mut scans = Vec::new();
    for (scan, entry) in opened {
        match response(record, &entry, files) {
            Ok((response, remarks)) => {
                findings.extend(remarks);
                scans.push(PreparedScan { scan, response, entry, index });
            }
            Err(found) => problems.extend(found),
        }
    }
    if problems.is_empty() { Ok(scans) } else { Err(problems) }
}

/// What a reader passed over, as a finding.
fn remark(note: Problem) -> Finding {
    Finding { severity: Severity::Note, code: note.code, place: note.place, args: note.args }
}

fn unused(record: &Record, files: &FileSet) -> Vec<String> {
    let mut named: Vec<String> = record.scans.iter().map(|scan| scan.file.clone()).collect();
    let responses = record.sensor.ranges.iter().map(|range| range.response.as_ref());
    for response in responses.chain([record.sensor.response.as_ref()]).flatten() {
        if let record::Response::Table { file, .. } = response {
            named.push(file.clone());
        }
    }
    files.names().into_iter().filter(|name| !named.iter().any(|n| same_file(n, name))).collect()
}

/// Whether two names mean the same file: equal, or the same last part of the path.
pub fn same_file(a: &str, b: &str) -> bool {
    let last = |path: &str| path.rsplit(['/', '\\']).next().unwrap_or(path).to_owned();
    a == b || last(a) == last(b)
}
