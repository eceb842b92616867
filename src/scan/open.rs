//! From a file's arrays to scans.

use std::sync::Arc;

use super::Scan;
use super::axes::{Leading, grid};
use super::layout;
use super::names;
use super::parts::{Parts, length};
use super::storage::Storage;
use super::volts::Volts;
use crate::base::error::{Problem, Problems};
use crate::base::finding::{Arg, Finding, Severity};
use crate::formats::container::{ArrayInfo, Attribute, Container, NumberKind};
use crate::record::{AxisName, Layout, Record, Role, ScanEntry};

/// Most scans that one array is taken apart into.
const MAX_SCANS: u64 = 64;

/// A scan with the entry that is its own (an array with levels, repeats, gain ranges or depths gives
/// several) and what is to be said of it.
pub struct Opened {
    pub scan: Scan,
    pub entry: ScanEntry,
    pub findings: Vec<Finding>,
    /// Layout that was proposed or taken from another scan, and used.
    pub layout: Option<Layout>,
}

/// Opens the scans that a record's entry names.
///
/// # Errors
/// All that does not fit, each with its place: array path, expected, found.
pub fn open(
    record: &Record,
    entry: &ScanEntry,
    container: Arc<dyn Container>,
) -> Result<Vec<Opened>, Problems> {
    let placed = |problems: Problems| -> Problems {
        problems.into_iter().map(|p| p.in_file(&entry.file).in_scan(&entry.id)).collect()
    };
    let mut findings = Vec::new();
    let (parts, layout) = find(record, entry, container.as_ref(), &mut findings).map_err(placed)?;
    let opened = take_apart(record, entry, &parts, &container).map_err(placed)?;
    Ok(opened
        .into_iter()
        .map(|mut opened| {
            let id = opened.scan.id.clone();
            let own = std::mem::take(&mut opened.findings);
            let all = findings.iter().cloned().chain(own);
            opened.layout.clone_from(&layout);
            opened.findings = all.map(|f| f.in_scan(&id).in_file(&entry.file)).collect();
            opened
        })
        .collect())
}

/// The parts of an entry's scan: by its layout, by the names of the arrays, by a layout that fits.
fn find(
    record: &Record,
    entry: &ScanEntry,
    container: &dyn Container,
    findings: &mut Vec<Finding>,
) -> Result<(Parts, Option<Layout>), Problems> {
    if let Some(layout) = &entry.layout {
        return layout::apply(container, layout).map(|parts| (parts, None));
    }
    let all = names::locate(container);
    let wanted = entry.group.as_deref().map(|group| group.trim_matches('/').to_owned());
    let fits = |array: &&&ArrayInfo| {
        wanted.as_ref().is_none_or(|group| array.group().trim_matches('/') == group)
    };
    let fitting: Vec<&&ArrayInfo> = all.iter().filter(fits).collect();
    match fitting.as_slice() {
        [array] => names::parts(container, array).map(|parts| (parts, None)),
        [] => layout::for_entry(record, entry, container, findings)
            .map(|(parts, layout)| (parts, Some(layout))),
        several => {
            let groups: Vec<String> = several.iter().map(|a| a.group().to_owned()).collect();
            Err(vec![Problem::new("scan-several-waveforms").with("found", groups)])
        }
    }
}

/// Dimensions of the points, and those that make several scans of the array.
fn divide(parts: &Parts, role: Role) -> (Vec<Leading>, Vec<Leading>) {
    let all = parts.dims.iter().zip(&parts.array.shape).enumerate();
    let leading = all
        .filter(|(_, (axis, _))| **axis != AxisName::T)
        .map(|(dim, (axis, size))| Leading { axis: *axis, size: *size, dim });
    let has = |axis: AxisName| parts.dims.contains(&axis);
    let volume = role == Role::Plane && has(AxisName::X) && has(AxisName::Y);
    let repeats = matches!(
        role,
        Role::Noise | Role::CheckSource | Role::Reference | Role::Sweep | Role::Monitor
    );
    leading.partition(|l| match l.axis {
        AxisName::Level | AxisName::Gain => false,
        AxisName::Repeat => repeats,
        AxisName::Z => !volume,
        _ => true,
    })
}

fn take_apart(
    record: &Record,
    entry: &ScanEntry,
    parts: &Parts,
    container: &Arc<dyn Container>,
) -> Result<Vec<Opened>, Problems> {
    let array = &parts.array;
    let Some(time) = parts.dims.iter().position(|axis| *axis == AxisName::T) else {
        return Err(vec![Problem::new("scan-empty").at(array.path.clone())]);
    };
    if array.shape.get(time).is_none_or(|n| *n < 2) || array.elements() == 0 {
        return Err(vec![Problem::new("scan-empty").at(array.path.clone())]);
    }
    if array.kind == NumberKind::Other {
        return Err(vec![Problem::new("scan-not-numbers").at(array.path.clone())]);
    }
    let (points, several) = divide(parts, entry.role);
    if let Some(problem) = level_unit(record, parts, container.as_ref()) {
        return Err(vec![problem]);
    }
    let scans: u64 = several.iter().map(|l| l.size).product();
    if scans > MAX_SCANS {
        return Err(vec![
            Problem::new("scan-too-many-scans")
                .at(array.path.clone())
                .with("found", scans)
                .with("limit", MAX_SCANS),
        ]);
    }
    let mut problems = Problems::new();
    let mut out = Vec::new();
    for index in 0..scans {
        let mut own = entry.clone();
        let mut parts = parts.clone();
        let mut fixed = vec![None; array.shape.len()];
        let mut rest = index;
        let mut endings = vec![entry.id.clone()];
        for dimension in several.iter().rev() {
            fixed[dimension.dim] = Some(rest % dimension.size);
            let at = (rest % dimension.size) as usize;
            rest /= dimension.size;
            match name(record, &mut own, &mut parts, dimension, at) {
                Ok(ending) if dimension.size > 1 => endings.insert(1, ending),
                Ok(_) => {}
                Err(problem) => problems.push(problem),
            }
        }
        own.id = endings.join("-");
        let scan = one(record, &own, &parts, &points, (time, fixed), container);
        match scan {
            Ok(opened) => out.push(opened),
            Err(found) => problems
                .extend(found.into_iter().filter(|p| !problems.contains(p)).collect::<Vec<_>>()),
        }
    }
    if problems.is_empty() { Ok(out) } else { Err(problems) }
}

/// A unit that the file gives for its levels and that is not the record's.
fn level_unit(record: &Record, parts: &Parts, container: &dyn Container) -> Option<Problem> {
    let levels = parts.levels.as_ref()?;
    let array = container.arrays().iter().find(|array| array.path == levels.path)?;
    let Some(Attribute::Text(found)) = array.attributes.get("units") else { return None };
    let stated = record.excitation.level_unit.as_deref()?;
    let same = |a: &str, b: &str| a.trim().eq_ignore_ascii_case(b.trim());
    (!found.trim().is_empty() && !same(found, stated)).then(|| {
        Problem::new("scan-level-unit")
            .at(levels.path.clone())
            .with("expected", stated)
            .with("found", found.trim())
    })
}

/// What is stated of one step along a dimension that makes several scans; gives the ending of its id.
fn name(
    record: &Record,
    entry: &mut ScanEntry,
    parts: &mut Parts,
    dimension: &Leading,
    at: usize,
) -> Result<String, Problem> {
    let size = dimension.size as usize;
    match dimension.axis {
        AxisName::Level => {
            let Some(levels) = &parts.levels else {
                return Err(Problem::new("scan-levels-missing")
                    .at(format!("{}/level", parts.group()))
                    .with("expected", size));
            };
            let level = levels.values.get(at).filter(|_| levels.values.len() == size);
            entry.level =
                Some(*level.ok_or_else(|| length(&levels.path, size, levels.values.len()))?);
            Ok(format!("level-{}", at + 1))
        }
        AxisName::Gain => {
            let range = record.sensor.ranges.get(at).filter(|_| record.sensor.ranges.len() >= size);
            let range = range.ok_or_else(|| {
                Problem::new("scan-ranges-missing")
                    .at("sensor.ranges")
                    .with("expected", size)
                    .with("found", record.sensor.ranges.len())
            })?;
            entry.range = Some(range.id.clone());
            Ok(range.id.clone())
        }
        AxisName::Z => {
            let z = parts.positions[2].as_mut().ok_or_else(|| {
                Problem::new("scan-axis-missing").at(format!("{}/z_m", parts.array.group()))
            })?;
            let value = z.values.get(at).copied().filter(|_| z.values.len() == size);
            z.values = vec![value.ok_or_else(|| length(&z.path, size, z.values.len()))?];
            z.shape = vec![1];
            Ok(format!("depth-{}", at + 1))
        }
        _ => Ok(format!("repeat-{}", at + 1)),
    }
}

fn one(
    record: &Record,
    entry: &ScanEntry,
    parts: &Parts,
    points: &[Leading],
    (time_dim, fixed): (usize, Vec<Option<u64>>),
    container: &Arc<dyn Container>,
) -> Result<Opened, Problems> {
    let array = &parts.array;
    let samples = array.shape[time_dim] as usize;
    let mut problems = Problems::new();
    let mut findings = Vec::new();
    let count = points.iter().map(|l| l.size).product::<u64>() as usize;
    let grid = grid(parts, entry.role, points, &mut findings);
    let time = parts.time(samples, count);
    let chain = record.chain_of(entry);
    if parts.volts_per_number.is_none() {
        problems.push(Problem::new("scan-counts-without-scale").at(array.path.clone()));
    }
    let storage = Storage::new(container.clone(), array, time_dim, fixed);
    problems.extend(storage.check().err());
    let (grid, time) = match (grid, time) {
        (Ok(grid), Ok(time)) if problems.is_empty() => (grid, time),
        (grid, time) => {
            problems.splice(0..0, time.err().unwrap_or_default());
            problems.splice(0..0, grid.err().unwrap_or_default());
            return Err(problems);
        }
    };
    let volts = Volts::new(
        parts.volts_per_number.unwrap_or(1.0),
        parts.offset_v,
        array.kind,
        chain.full_scale_v,
        chain.bits,
    );
    if storage.passes() > 1 {
        findings.push(
            Finding::new(Severity::Note, "read-in-passes")
                .with("passes", storage.passes())
                .with("size", Arg::Count(storage.total_bytes() >> 20)),
        );
    }
    let row = match points {
        [_, inner] => inner.size as usize,
        _ => 1,
    };
    let scan = Scan {
        id: entry.id.clone(),
        role: entry.role,
        file: entry.file.clone(),
        samples,
        interval_s: time.interval_s,
        t0_s: time.t0_s,
        t0_known: time.t0_known,
        moments_s: parts
            .moments
            .as_ref()
            .filter(|moments| moments.values.len() == count)
            .map(|moments| moments.values.clone()),
        volts,
        bytes: storage.total_bytes(),
        grid,
        row: row.max(1) * storage.chunk_rows(),
        chunked: storage.chunk_rows() > 1,
        one_reader: storage.one_reader(),
        storage: Some(storage),
    };
    Ok(Opened { scan, entry: entry.clone(), findings, layout: None })
}
