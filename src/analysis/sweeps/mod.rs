//! Sweeps of the drive level: the levels of one place taken together.
//!
//! ```text
//! scans of role sweep ─ rows ─ curve (lines, returns, joins) ─ values ─ remarks
//! ```

mod budget;
mod curve;
mod remarks;
mod rows;
mod steepening;
mod values;

use super::prepare::Prepared;
use super::results::{Picture, ScanResult};
use super::survey::Plan;
use crate::base::bubbles::BubbleSigns;
use crate::base::finding::{Finding, Severity};
use crate::record::Role;

/// Places closer than this are one, m.
const SAME_PLACE_M: f64 = 1e-4;

/// A level's scan with what the record states of it.
struct Level<'a> {
    scan: &'a ScanResult,
    /// Index of the entry in the record.
    entry: usize,
    started: Option<&'a str>,
    signs: Option<&'a BubbleSigns>,
}

/// Evaluates all sweeps: one result for each place, beside those of its levels.
pub fn evaluate(
    prepared: &Prepared,
    plan: &Plan,
    scans: &[ScanResult],
    bubbles: &[BubbleSigns],
    findings: &mut Vec<Finding>,
) -> Vec<ScanResult> {
    let mut groups: Vec<Vec<Level<'_>>> = Vec::new();
    for (part, _) in prepared.scans.iter().zip(&plan.scans) {
        let found = scans.iter().find(|scan| scan.id == part.scan.id && scan.role == Role::Sweep);
        let Some(scan) = found else { continue };
        let level = Level {
            scan,
            entry: part.index,
            started: prepared
                .record
                .scans
                .get(part.index)
                .and_then(|entry| entry.acquisition.started.as_deref()),
            signs: bubbles.iter().find(|signs| signs.scan == scan.id),
        };
        match groups.iter_mut().find(|group| group.iter().all(|other| same_place(other, &level))) {
            Some(group) => group.push(level),
            None => groups.push(vec![level]),
        }
    }
    let mut out: Vec<ScanResult> = Vec::new();
    for mut levels in groups {
        // The order of the record, unless all say when they began.
        if levels.iter().all(|level| level.started.is_some()) {
            levels.sort_by(|a, b| a.started.cmp(&b.started));
        }
        let id = name(prepared, &levels, &out);
        remarks::gathered(&levels, &id, findings);
        let result = one(prepared, scans, &levels, id, findings);
        out.push(result);
    }
    out
}

fn same_place(a: &Level<'_>, b: &Level<'_>) -> bool {
    let (Some(a), Some(b)) = (&a.scan.focal, &b.scan.focal) else { return true };
    a.position_m.iter().zip(&b.position_m).all(|(a, b)| match (a, b) {
        (Some(a), Some(b)) => (a - b).abs() <= SAME_PLACE_M,
        _ => true,
    })
}

/// The entry's own id where one array holds all levels; `drive`, `drive-2` … otherwise.
fn name(prepared: &Prepared, levels: &[Level<'_>], others: &[ScanResult]) -> String {
    let taken = |id: &str| {
        prepared.scans.iter().any(|part| part.scan.id == id)
            || prepared.record.scans.iter().any(|entry| entry.id == id)
            || others.iter().any(|scan| scan.id == id)
    };
    let first = levels.first().map(|level| level.entry);
    let alone = levels.len() > 1 && levels.iter().all(|level| Some(level.entry) == first);
    let own = first.filter(|_| alone).and_then(|index| prepared.record.scans.get(index));
    match own {
        Some(entry) => entry.id.clone(),
        None => std::iter::once("drive".to_owned())
            .chain((2..).map(|n| format!("drive-{n}")))
            .find(|id| !taken(id))
            .unwrap_or_default(),
    }
}

fn one(
    prepared: &Prepared,
    scans: &[ScanResult],
    levels: &[Level<'_>],
    id: String,
    findings: &mut Vec<Finding>,
) -> ScanResult {
    let record = &prepared.record;
    let mut curve = curve::curve(record, levels, &id);
    steepening::complete(prepared, scans, levels, &mut curve);
    let quantities = values::quantities(prepared, scans, levels, &mut curve);
    findings.extend(remarks::findings(record, levels, &curve));
    let first = levels.first().map(|level| level.scan);
    ScanResult {
        id,
        role: Role::Sweep,
        file: first.map_or_else(String::new, |scan| scan.file.clone()),
        range: None,
        level: None,
        points: levels.len(),
        samples: first.map_or(0, |scan| scan.samples),
        interval_s: first.map_or(0.0, |scan| scan.interval_s),
        calibrated: levels.iter().all(|level| level.scan.calibrated),
        calibration: std::collections::BTreeMap::new(),
        fitness: Severity::Note,
        quantities,
        excluded: Vec::new(),
        picture: Picture::Drive(Box::new(curve)),
        focal: None,
        along: None,
        response: None,
    }
}
