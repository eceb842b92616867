//! From a file's arrays to a scan.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::axes::{Named, grid};
use super::volts::Volts;
use super::{Grid, Scan};
use crate::base::error::{Problem, Problems};
use crate::base::units;
use crate::formats::container::{ArrayInfo, Attribute, Container, NumberKind};
use crate::record::{Record, Role, ScanEntry};

/// Deviation from equal steps, as a fraction of the step, up to which a time axis counts as uniform.
const TIME_TOLERANCE: f64 = 0.01;

/// The waveform arrays of a file, in order of path.
pub fn locate(container: &dyn Container) -> Vec<&ArrayInfo> {
    container.arrays().iter().filter(|array| array.name() == "waveforms").collect()
}

/// Opens the scan that a record's entry names.
///
/// # Errors
/// All that does not fit, each with its place: array path, expected, found.
pub fn open(
    record: &Record,
    entry: &ScanEntry,
    container: Arc<dyn Container>,
) -> Result<Scan, Problems> {
    let placed = |problems: Problems| -> Problems {
        problems.into_iter().map(|p| p.in_file(&entry.file).in_scan(&entry.id)).collect()
    };
    let array = choose(entry, container.as_ref()).map_err(|p| placed(vec![p]))?.clone();
    let named = Named {
        container: container.as_ref(),
        group: array.group(),
        attributes: attributes(&array, container.as_ref()),
    };
    let mut problems = Vec::new();
    let (mut shape, samples) = match array.shape.split_last() {
        Some((samples, shape)) if *samples > 1 && array.elements() > 0 => {
            (shape.to_vec(), *samples as usize)
        }
        _ => {
            problems.push(Problem::new("scan-empty").at(array.path.clone()));
            return Err(placed(problems));
        }
    };
    if shape.len() > 2 {
        problems.push(
            Problem::new("scan-too-many-axes")
                .at(array.path.clone())
                .with("found", array.shape.len()),
        );
    }
    if array.kind == NumberKind::Other {
        problems.push(Problem::new("scan-not-numbers").at(array.path.clone()));
    }
    if matches!(entry.role, Role::Plane)
        && shape.len() == 1
        && named.numbers("x_m", "").is_none()
        && named.numbers("position_m", "").is_none()
    {
        problems.push(Problem::new("scan-axis-missing").at(format!("{}/x_m", array.group())));
    }
    let grid_of = |problems: &mut Problems| match grid(&named, entry.role, &shape) {
        Ok(grid) => Some(grid),
        Err(found) => {
            problems.extend(found);
            None
        }
    };
    let grid = if problems.is_empty() { grid_of(&mut problems) } else { None };
    let time = time(&named, samples, shape.iter().product::<u64>() as usize);
    let volts = scaling(&named, &array, record, entry);
    let (time, volts) = match (time, volts) {
        (Ok(time), Ok(volts)) => (time, volts),
        (time, volts) => {
            problems.extend(time.err().unwrap_or_default());
            problems.extend(volts.err().unwrap_or_default());
            return Err(placed(problems));
        }
    };
    let Some(grid) = grid else { return Err(placed(problems)) };
    let chunk_rows = match array.chunk.split_last() {
        Some((_, leading)) => leading.first().map_or(1, |n| *n as usize),
        None => 1,
    };
    let bytes_per_sample = match array.kind {
        NumberKind::Integer { bits, .. } | NumberKind::Float { bits } => u64::from(bits / 8),
        NumberKind::Other => 1,
    };
    if matches!(grid, Grid::Point { .. }) && shape.is_empty() {
        shape = Vec::new();
    }
    Ok(Scan {
        id: entry.id.clone(),
        role: entry.role,
        file: entry.file.clone(),
        samples,
        interval_s: time.interval_s,
        t0_s: time.t0_s,
        t0_known: time.t0_known,
        volts,
        bytes: array.elements().saturating_mul(bytes_per_sample),
        path: array.path.clone(),
        grid,
        shape,
        chunk_rows,
        container,
    })
}

fn choose<'a>(entry: &ScanEntry, container: &'a dyn Container) -> Result<&'a ArrayInfo, Problem> {
    let all = locate(container);
    let wanted = entry.group.as_deref().map(|group| group.trim_matches('/').to_owned());
    let fits = |array: &&&ArrayInfo| {
        wanted.as_ref().is_none_or(|group| array.group().trim_matches('/') == group)
    };
    let fitting: Vec<&&ArrayInfo> = all.iter().filter(fits).collect();
    match fitting.as_slice() {
        [array] => Ok(array),
        [] => {
            let paths: Vec<String> =
                container.arrays().iter().map(|a| a.path.clone()).take(20).collect();
            Err(Problem::new("scan-no-waveforms").with("found", paths))
        }
        several => {
            let groups: Vec<String> = several.iter().map(|a| a.group().to_owned()).collect();
            Err(Problem::new("scan-several-waveforms").with("found", groups))
        }
    }
}

fn attributes(array: &ArrayInfo, container: &dyn Container) -> BTreeMap<String, Attribute> {
    let mut all = container.group_attributes("");
    all.extend(container.group_attributes(array.group()));
    all.extend(array.attributes.clone());
    all
}

struct Time {
    interval_s: f64,
    t0_s: Vec<f64>,
    t0_known: bool,
}

fn time(named: &Named<'_>, samples: usize, points: usize) -> Result<Time, Problems> {
    let path = |name: &str| format!("{}/{name}", named.group);
    let mut problems = Vec::new();
    let mut take = |name: &str| match named.numbers(name, "s") {
        Some(Ok(numbers)) => Some(numbers),
        Some(Err(problem)) => {
            problems.push(problem);
            None
        }
        None => None,
    };
    let (step, start, axis) = (take("dt_s"), take("t0_s"), take("t_s"));
    if !problems.is_empty() {
        return Err(problems);
    }
    let mut interval_s = None;
    let mut t0_s = Vec::new();
    if let Some(axis) = axis {
        if axis.len() != samples {
            problems.push(
                Problem::new("scan-axis-length")
                    .at(path("t_s"))
                    .with("expected", samples)
                    .with("found", axis.len()),
            );
        } else {
            let mean = (axis[samples - 1] - axis[0]) / (samples - 1) as f64;
            let uneven = (0..samples).find(|i| {
                (axis[*i] - axis[0] - mean * *i as f64).abs() > TIME_TOLERANCE * mean.abs()
            });
            if let Some(i) = uneven {
                problems.push(
                    Problem::new("scan-time-not-uniform").at(format!("{}[{i}]", path("t_s"))),
                );
            }
            interval_s = Some(mean);
            t0_s = vec![axis[0]];
        }
    }
    if let Some(step) = step {
        match step.as_slice() {
            [only] => interval_s = Some(*only),
            many if !many.is_empty() && many.iter().all(|s| *s == many[0]) => {
                interval_s = Some(many[0])
            }
            _ => problems.push(Problem::new("scan-interval-varies").at(path("dt_s"))),
        }
    }
    if let Some(start) = start {
        if start.len() == 1 || start.len() == points {
            t0_s = start;
        } else {
            problems.push(
                Problem::new("scan-axis-length")
                    .at(path("t0_s"))
                    .with("expected", points)
                    .with("found", start.len()),
            );
        }
    }
    match interval_s {
        None if problems.is_empty() => {
            problems.push(Problem::new("scan-interval-missing").at(path("dt_s")))
        }
        Some(interval) if interval <= 0.0 => problems.push(
            Problem::new("scan-interval-not-positive").at(path("dt_s")).with("found", interval),
        ),
        _ => {}
    }
    match (interval_s, problems.is_empty()) {
        (Some(interval_s), true) => {
            let t0_known = !t0_s.is_empty();
            if t0_s.is_empty() {
                t0_s.push(0.0);
            }
            Ok(Time { interval_s, t0_s, t0_known })
        }
        _ => Err(problems),
    }
}

fn scaling(
    named: &Named<'_>,
    array: &ArrayInfo,
    record: &Record,
    entry: &ScanEntry,
) -> Result<Volts, Problems> {
    let one = |name: &str| -> Result<Option<f64>, Problem> {
        match named.numbers(name, "") {
            None => Ok(None),
            Some(Ok(numbers)) if numbers.len() == 1 => Ok(Some(numbers[0])),
            Some(Ok(numbers)) => Err(Problem::new("scan-axis-length")
                .at(format!("{}/{name}", array.path))
                .with("expected", 1usize)
                .with("found", numbers.len())),
            Some(Err(problem)) => Err(problem),
        }
    };
    let scale = one("volts_per_count").map_err(|p| vec![p])?;
    let offset = one("volts_offset_V").map_err(|p| vec![p])?;
    let integer = matches!(array.kind, NumberKind::Integer { .. });
    if scale == Some(0.0) {
        return Err(vec![
            Problem::new("scan-zero-scale").at(format!("{}/volts_per_count", array.path)),
        ]);
    }
    if integer && scale.is_none() {
        return Err(vec![Problem::new("scan-counts-without-scale").at(array.path.clone())]);
    }
    let unit = match array.attributes.get("units") {
        Some(Attribute::Text(unit)) if scale.is_none() => volts_in(unit).ok_or_else(|| {
            vec![
                Problem::new("scan-unit-conflict")
                    .at(array.path.clone())
                    .with("expected", "V")
                    .with("found", unit.as_str()),
            ]
        })?,
        _ => 1.0,
    };
    let limits = record.chain_of(entry);
    Ok(Volts::new(
        scale.unwrap_or(unit),
        offset.unwrap_or(0.0),
        array.kind,
        limits.full_scale_v,
        limits.bits,
    ))
}

/// Volts in a unit of voltage as written in a file; no text means volts.
fn volts_in(unit: &str) -> Option<f64> {
    match unit.trim() {
        "" | "volt" | "volts" => Some(1.0),
        unit if unit.ends_with('V') => units::si_factor(unit),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::volts_in;

    #[test]
    fn units_of_waveforms() {
        assert_eq!(volts_in("mV"), Some(1e-3));
        assert_eq!(volts_in("V"), Some(1.0));
        assert_eq!((volts_in("MPa"), volts_in("counts"), volts_in("mm")), (None, None, None));
    }
}
