//! Opens what a record names.

use crate::base::error::{Problem, Problems};
use crate::base::finding::{Finding, Severity};
use crate::calibration::{Response, response};
use crate::formats::{self, source::FileSet};
use crate::record::{self, Record, Role};
use crate::scan::{self, Scan};

/// A scan with its response.
#[derive(Clone)]
pub struct PreparedScan {
    pub scan: Scan,
    pub response: Response,
    /// Index in the record's scans.
    pub entry: usize,
}

/// A record with its scans opened.
#[derive(Clone)]
pub struct Prepared {
    pub record: Record,
    pub scans: Vec<PreparedScan>,
    pub findings: Vec<Finding>,
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
    let mut problems = Problems::new();
    let mut scans = Vec::new();
    let mut findings = Vec::new();
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
        if entry.layout.is_some() {
            problems.push(
                Problem::new("layout-not-read")
                    .in_scan(&entry.id)
                    .at(format!("scans[{index}].layout")),
            );
            continue;
        }
        let Some(source) = files.get(&entry.file) else {
            problems.push(
                Problem::new("file-missing")
                    .in_file(&entry.file)
                    .in_scan(&entry.id)
                    .at(format!("scans[{index}].file"))
                    .with("found", files.names()),
            );
            continue;
        };
        let opened = formats::open(&entry.file, source)
            .and_then(|container| scan::open(&record, entry, container));
        match (opened, response(&record, entry, files)) {
            (Ok(scan), Ok(response)) => scans.push(PreparedScan { scan, response, entry: index }),
            (scan, response) => {
                for problem in [scan.err(), response.err()].into_iter().flatten().flatten() {
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
    Ok(Prepared { record, scans, findings, unused_files })
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
