//! From a layout to the parts of a scan.

use super::words;
use crate::base::error::{Problem, Problems};
use crate::base::units;
use crate::formats::container::{ArrayInfo, Attribute, Container, NumberKind};
use crate::record::{ArrayRef, AxisName, AxisSource, Layout, TimeSource};
use crate::scan::parts::{Numbers, Parts, numbers, packing};

/// The array of a path, or of the heading of a column, or of a last path part that is there once.
pub fn array<'a>(container: &'a dyn Container, name: &str) -> Result<&'a ArrayInfo, Problem> {
    let rooted = format!("/{}", name.trim_start_matches('/'));
    if let Some(array) = container.array(name).or_else(|| container.array(&rooted)) {
        return Ok(array);
    }
    let mut same = container.arrays().iter().filter(|array| array.name() == name);
    match (same.next(), same.next()) {
        (Some(array), None) => Ok(array),
        _ => {
            let paths: Vec<String> =
                container.arrays().iter().map(|a| a.path.clone()).take(20).collect();
            Err(Problem::new("layout-array-missing").at(name).with("found", paths))
        }
    }
}

/// The parts of a scan as a layout names them.
///
/// # Errors
/// All that does not fit the file.
pub fn apply(container: &dyn Container, layout: &Layout) -> Result<Parts, Problems> {
    let waveforms = array(container, &layout.waveforms).map_err(|problem| vec![problem])?;
    let mut problems = Problems::new();
    if layout.axes.len() != waveforms.shape.len() {
        let shown: Vec<String> = shown(waveforms).iter().map(u64::to_string).collect();
        problems.push(
            Problem::new("layout-axes-count")
                .at(waveforms.path.clone())
                .with("expected", waveforms.shape.len())
                .with("found", layout.axes.len())
                .with("shape", shown.join(" × ")),
        );
        return Err(problems);
    }
    let dims: Vec<AxisName> = if waveforms.reversed {
        layout.axes.iter().rev().copied().collect()
    } else {
        layout.axes.clone()
    };
    let size = |axis: AxisName| {
        let at = dims.iter().position(|d| *d == axis);
        at.and_then(|d| waveforms.shape.get(d)).copied()
    };
    let mut take = |source: &Option<AxisSource>, axis: AxisName| -> Option<Numbers> {
        let found = match source.as_ref()? {
            // Levels are in the unit that the record states of them.
            AxisSource::Array(at) if axis == AxisName::Level => {
                array(container, &at.array).and_then(|array| numbers(container, array))
            }
            AxisSource::Array(at) => from_array(container, at),
            AxisSource::Steps(steps) => {
                let factor = factor(steps.unit.as_deref());
                let count = steps.count.map(u64::from).or(size(axis)).unwrap_or(1);
                let at = |i: u64| (steps.start + steps.step * i as f64) * factor;
                Ok(Numbers {
                    path: format!("layout.{}", axis.as_str()),
                    shape: vec![count],
                    values: (0..count.min(1 << 22)).map(at).collect(),
                })
            }
        };
        found.map_err(|problem| problems.push(problem)).ok()
    };
    let mut positions =
        [take(&layout.x, AxisName::X), take(&layout.y, AxisName::Y), take(&layout.z, AxisName::Z)];
    if let (Some(points), Some(AxisSource::Steps(_)), Some(AxisSource::Steps(_))) =
        (size(AxisName::Point), &layout.x, &layout.y)
    {
        raster(&mut positions, points);
    }
    let levels = take(&layout.level, AxisName::Level);
    let (mut interval, mut start, mut instants) = (None, None, None);
    match &layout.time {
        Some(TimeSource::Array(at)) => match from_array(container, at) {
            Ok(numbers) => instants = Some(numbers),
            Err(problem) => problems.push(problem),
        },
        Some(TimeSource::Steps(steps)) => {
            let factor = factor(steps.unit.as_deref());
            let one = |value: f64, name: &str| Numbers {
                path: format!("layout.time.{name}"),
                shape: vec![1],
                values: vec![value * factor],
            };
            interval = Some(one(steps.dt, "dt"));
            start = steps.t0.map(|t0| one(t0, "t0"));
        }
        None => {}
    }
    let (volts_per_number, offset_v) = match volts(waveforms, layout) {
        Ok(volts) => volts,
        Err(problem) => {
            problems.push(problem);
            (None, 0.0)
        }
    };
    if volts_per_number == Some(0.0) {
        problems.push(Problem::new("scan-zero-scale").at("layout.volts.scale"));
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    Ok(Parts {
        array: waveforms.clone(),
        dims,
        positions,
        levels,
        interval,
        start,
        instants,
        volts_per_number,
        moments: None,
        offset_v,
        serpentine: layout.serpentine,
    })
}

/// Steps along x and y of points that are listed row by row become one position a point, x the faster;
/// only where they fill the points.
fn raster(positions: &mut [Option<Numbers>; 3], points: u64) {
    let [Some(x), Some(y), _] = positions else { return };
    let (columns, rows) = (x.values.len(), y.values.len());
    if columns < 2 || rows < 2 || columns as u64 * rows as u64 != points || points > 1 << 22 {
        return;
    }
    x.values = x.values.iter().copied().cycle().take(columns * rows).collect();
    y.values = y.values.iter().flat_map(|v| std::iter::repeat_n(*v, columns)).collect();
    (x.shape, y.shape) = (vec![points], vec![points]);
}

/// Dimensions as the program that wrote the file shows them.
pub fn shown(array: &ArrayInfo) -> Vec<u64> {
    let mut shape = array.shape.clone();
    if array.reversed {
        shape.reverse();
    }
    shape
}

fn factor(unit: Option<&str>) -> f64 {
    unit.and_then(units::si_factor).unwrap_or(1.0)
}

fn from_array(container: &dyn Container, at: &ArrayRef) -> Result<Numbers, Problem> {
    let array = array(container, &at.array)?;
    let mut found = numbers(container, array)?;
    let factor = match (&at.unit, array.attributes.get("units")) {
        (Some(unit), _) => factor(Some(unit)),
        (None, Some(Attribute::Text(text))) => {
            let unit = words::unit(text).ok_or_else(|| {
                Problem::new("layout-unit-unknown")
                    .at(array.path.clone())
                    .with("found", text.as_str())
            })?;
            factor(Some(unit))
        }
        _ => 1.0,
    };
    let factor = factor * at.step.unwrap_or(1.0);
    if factor != 1.0 {
        for value in &mut found.values {
            *value *= factor;
        }
    }
    Ok(found)
}

/// Volts per stored number and offset: stated by the layout, else by the file (packed data, unit of
/// the array); `None` for counts of which nothing says so.
fn volts(array: &ArrayInfo, layout: &Layout) -> Result<(Option<f64>, f64), Problem> {
    let packed = array.attributes.contains_key("scale_factor");
    if let Some(volts) = &layout.volts {
        let unit = factor(volts.unit.as_deref());
        let (factor, add) = packing(array);
        let known = packed || matches!(array.kind, NumberKind::Float { .. });
        let scale = volts.scale.or(known.then_some(factor));
        return Ok((scale.map(|s| s * unit), volts.offset.unwrap_or(add) * unit));
    }
    let unit = match array.attributes.get("units") {
        Some(Attribute::Text(text)) => match words::unit(text) {
            Some(unit @ ("V" | "mV" | "uV")) => factor(Some(unit)),
            _ => {
                return Err(Problem::new("scan-unit-conflict")
                    .at(array.path.clone())
                    .with("expected", "V")
                    .with("found", text.as_str()));
            }
        },
        _ => 1.0,
    };
    let (scale, offset) = packing(array);
    let known = packed || matches!(array.kind, NumberKind::Float { .. });
    Ok((known.then_some(scale * unit), offset * unit))
}
