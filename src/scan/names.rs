//! Self-describing files: the parts of a scan by the names of the arrays (docs/formats.md).

use std::collections::BTreeMap;

use super::parts::{Numbers, Parts, finite, numbers, packing};
use crate::base::error::{Problem, Problems};
use crate::base::units;
use crate::formats::container::{ArrayInfo, Attribute, Container, NumberKind};
use crate::record::AxisName;

/// Names that tell that a file describes itself.
const TELLING: [&str; 8] =
    ["dt_s", "t_s", "t0_s", "x_m", "y_m", "z_m", "position_m", "volts_per_count"];

/// The waveform arrays of a file that describe themselves, in order of path.
pub fn locate(container: &dyn Container) -> Vec<&ArrayInfo> {
    let all = container.arrays().iter().filter(|array| array.name() == "waveforms");
    all.filter(|array| {
        let named = Named::new(container, array);
        TELLING.iter().any(|name| named.is_there(name))
    })
    .collect()
}

/// Numbers of one name beside the waveforms: a dataset of the group, else an attribute of the
/// waveforms, else of the group, else of the root.
struct Named<'a> {
    container: &'a dyn Container,
    group: &'a str,
    attributes: BTreeMap<String, Attribute>,
}

impl<'a> Named<'a> {
    fn new(container: &'a dyn Container, array: &'a ArrayInfo) -> Self {
        let mut attributes = container.group_attributes("");
        attributes.extend(container.group_attributes(array.group()));
        attributes.extend(array.attributes.clone());
        Self { container, group: array.group(), attributes }
    }

    fn path(&self, name: &str) -> String {
        format!("{}/{name}", self.group)
    }

    fn is_there(&self, name: &str) -> bool {
        self.container.array(&self.path(name)).is_some() || self.attributes.contains_key(name)
    }

    /// `None` when nothing of that name is there.
    fn numbers(&self, name: &str, unit: &str) -> Result<Option<Numbers>, Problem> {
        let path = self.path(name);
        if let Some(array) = self.container.array(&path) {
            if let Some(Attribute::Text(found)) = array.attributes.get("units")
                && !unit.is_empty()
                && !same_unit(found, unit)
            {
                return Err(Problem::new("scan-unit-conflict")
                    .at(path)
                    .with("expected", unit)
                    .with("found", found.as_str()));
            }
            return numbers(self.container, array).map(Some);
        }
        match self.attributes.get(name) {
            Some(Attribute::Numbers(values)) => {
                let shape = vec![values.len() as u64];
                finite(&path, values.clone()).map(|values| Some(Numbers { path, shape, values }))
            }
            Some(Attribute::Text(text)) => {
                Err(Problem::new("scan-not-a-number").at(path).with("found", text.as_str()))
            }
            None => Ok(None),
        }
    }

    fn one(&self, name: &str) -> Result<Option<f64>, Problem> {
        match self.numbers(name, "")? {
            None => Ok(None),
            Some(numbers) if numbers.values.len() == 1 => Ok(Some(numbers.values[0])),
            Some(numbers) => Err(super::parts::length(&numbers.path, 1, numbers.values.len())),
        }
    }
}

/// Whether a unit as written in a file is the one that the name asks for.
fn same_unit(found: &str, unit: &str) -> bool {
    let found = found.trim();
    let words: &[&str] = match unit {
        "m" => &["m", "metre", "metres", "meter", "meters"],
        "s" => &["s", "second", "seconds"],
        other => return found == other,
    };
    found.is_empty() || words.contains(&found.to_lowercase().as_str())
}

/// The parts of the scan whose waveforms are `array`.
///
/// # Errors
/// All that does not fit.
pub fn parts(container: &dyn Container, array: &ArrayInfo) -> Result<Parts, Problems> {
    let named = Named::new(container, array);
    let mut problems = Problems::new();
    let mut take = |name: &str, unit: &str| match named.numbers(name, unit) {
        Ok(numbers) => numbers,
        Err(problem) => {
            problems.push(problem);
            None
        }
    };
    let mut positions = [take("x_m", "m"), take("y_m", "m"), take("z_m", "m")];
    let together = take("position_m", "m");
    let (interval, start, instants) = (take("dt_s", "s"), take("t0_s", "s"), take("t_s", "s"));
    let levels = take("level", "");
    // Of use for drift alone: what cannot be read is passed over.
    let moments = named.numbers("time_s", "s").ok().flatten();
    if let Some(together) = together {
        split(&together, array, &mut positions);
    }
    let (volts_per_number, offset_v) = match volts(&named, array) {
        Ok(volts) => volts,
        Err(problem) => {
            problems.push(problem);
            (None, 0.0)
        }
    };
    let dims = match dims(&named, array, &positions, levels.as_ref()) {
        Ok(dims) => dims,
        Err(problem) => {
            problems.push(problem);
            Vec::new()
        }
    };
    if !problems.is_empty() {
        return Err(problems);
    }
    Ok(Parts {
        array: array.clone(),
        dims,
        positions,
        levels,
        interval,
        start,
        instants,
        volts_per_number,
        moments,
        offset_v,
        serpentine: false,
    })
}

/// (n, 3) into x, y, z; stored the other way round where the file is column-major.
fn split(together: &Numbers, array: &ArrayInfo, positions: &mut [Option<Numbers>; 3]) {
    let n = together.values.len() / 3;
    let planar = array.reversed && together.shape.first() == Some(&3);
    for (axis, slot) in positions.iter_mut().enumerate() {
        let values: Vec<f64> = if planar {
            together.values[axis * n..(axis + 1) * n].to_vec()
        } else {
            together.values.iter().skip(axis).step_by(3).copied().collect()
        };
        let (path, shape) = (together.path.clone(), vec![values.len() as u64]);
        *slot = Some(Numbers { path, shape, values });
    }
}

/// Meaning of the dimensions as the program that wrote the file shows them: the attribute `axes`
/// (“level y x t”), else by their number: time last, y and x before it, or the points; what stands
/// before these are levels where `level` fits, else repeats. Dimensions of 1 after time do no harm.
fn dims(
    named: &Named<'_>,
    array: &ArrayInfo,
    positions: &[Option<Numbers>; 3],
    levels: Option<&Numbers>,
) -> Result<Vec<AxisName>, Problem> {
    let rank = array.shape.len();
    let shown: Vec<u64> = if array.reversed {
        array.shape.iter().rev().copied().collect()
    } else {
        array.shape.clone()
    };
    let stated = match named.attributes.get("axes") {
        Some(Attribute::Text(text)) => {
            let words = text.split([' ', ',', ';']).filter(|word| !word.is_empty());
            let dims: Option<Vec<AxisName>> = words.map(AxisName::from_word).collect();
            let fitting = dims.filter(|dims| {
                dims.len() == rank && dims.iter().filter(|d| **d == AxisName::T).count() == 1
            });
            Some(fitting.ok_or_else(|| {
                Problem::new("scan-axes-attribute")
                    .at(array.path.clone())
                    .with("found", text.as_str())
                    .with("expected", rank)
            })?)
        }
        _ => None,
    };
    let dims = match stated {
        Some(dims) => dims,
        None => guessed(&shown, positions, levels),
    };
    Ok(if array.reversed { dims.into_iter().rev().collect() } else { dims })
}

fn guessed(
    shown: &[u64],
    positions: &[Option<Numbers>; 3],
    levels: Option<&Numbers>,
) -> Vec<AxisName> {
    use AxisName::{Level, Point, Repeat, T, X, Y};
    let after = shown.iter().rev().take_while(|n| **n == 1).count().min(shown.len().max(1) - 1);
    let shown = &shown[..shown.len() - after];
    let leading = shown.len().saturating_sub(1);
    let count = |axis: usize| positions[axis].as_ref().map_or(0, |c| c.values.len() as u64);
    let (nx, ny, nz) = (count(0), count(1), count(2));
    let size = |back: usize| leading.checked_sub(back).map_or(0, |i| shown[i]);
    let fits_plane = leading >= 2 && nx == size(1) && ny == size(2);
    let listed = nx.max(ny).max(nz);
    let fits_list = leading >= 1 && listed == size(1) && listed > 1;
    let own = match leading {
        0 => 0,
        1 if listed <= 1 && levels.is_some_and(|l| l.values.len() as u64 == shown[0]) => 0,
        1 => 1,
        2 if fits_plane || !fits_list => 2,
        2 => 1,
        _ if fits_list && !fits_plane => 1,
        _ => 2,
    };
    let mut dims = Vec::new();
    let mut levelled = false;
    for n in &shown[..leading - own] {
        if !levelled && levels.is_some_and(|l| l.values.len() as u64 == *n) {
            levelled = true;
            dims.push(Level);
        } else {
            dims.push(Repeat);
        }
    }
    dims.extend(match own {
        0 => vec![],
        1 => vec![Point],
        _ => vec![Y, X],
    });
    if !shown.is_empty() {
        dims.push(T);
    }
    dims.extend(std::iter::repeat_n(Repeat, after));
    dims
}

/// Volts per stored number (`None` for counts of which nothing says so) and the offset.
fn volts(named: &Named<'_>, array: &ArrayInfo) -> Result<(Option<f64>, f64), Problem> {
    let per_count = named.one("volts_per_count")?;
    let offset = named.one("volts_offset_V")?.unwrap_or(0.0);
    if per_count == Some(0.0) {
        return Err(Problem::new("scan-zero-scale").at(format!("{}/volts_per_count", array.path)));
    }
    if per_count.is_some() {
        return Ok((per_count, offset));
    }
    let unit = match array.attributes.get("units") {
        Some(Attribute::Text(unit)) => volts_in(unit).ok_or_else(|| {
            Problem::new("scan-unit-conflict")
                .at(array.path.clone())
                .with("expected", "V")
                .with("found", unit.as_str())
        })?,
        _ => 1.0,
    };
    let (factor, add) = packing(array);
    let counts = matches!(array.kind, NumberKind::Integer { .. })
        && !array.attributes.contains_key("scale_factor");
    Ok(((!counts).then_some(factor * unit), offset + add * unit))
}

/// Volts in a unit of voltage as written in a file; no text means volts.
pub fn volts_in(unit: &str) -> Option<f64> {
    match unit.trim() {
        "" | "volt" | "volts" | "Volt" | "Volts" => Some(1.0),
        unit if unit.ends_with('V') => units::si_factor(unit),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_of_waveforms() {
        assert_eq!(volts_in("mV"), Some(1e-3));
        assert_eq!(volts_in("V"), Some(1.0));
        assert_eq!((volts_in("MPa"), volts_in("counts"), volts_in("mm")), (None, None, None));
    }

    #[test]
    fn dimensions_by_their_number() {
        use AxisName::{Level, Point, Repeat, T, X, Y};
        let axis = |n: usize| {
            Some(Numbers { path: String::new(), shape: vec![n as u64], values: vec![0.0; n] })
        };
        let grid = [axis(5), axis(4), None];
        assert_eq!(guessed(&[4, 5, 9], &grid, None), [Y, X, T]);
        assert_eq!(guessed(&[3, 4, 5, 9], &grid, axis(3).as_ref()), [Level, Y, X, T]);
        assert_eq!(guessed(&[3, 4, 5, 9], &grid, None), [Repeat, Y, X, T]);
        let listed = [axis(7), axis(7), None];
        assert_eq!(guessed(&[7, 9], &listed, None), [Point, T]);
        assert_eq!(guessed(&[2, 7, 9], &listed, axis(2).as_ref()), [Level, Point, T]);
        assert_eq!(guessed(&[9], &[None, None, None], None), [T]);
        assert_eq!(guessed(&[9, 1], &[None, None, None], None), [T, Repeat]);
        assert_eq!(guessed(&[3, 9], &[None, None, None], axis(3).as_ref()), [Level, T]);
    }
}
