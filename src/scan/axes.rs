//! Coordinates of points from named arrays.

use std::collections::BTreeMap;

use super::grid::{Axis, Grid};
use crate::base::error::{Problem, Problems};
use crate::formats::container::{Attribute, Container};
use crate::record::Role;

/// Most coordinates read for one axis.
const MAX_COORDINATES: u64 = 4 << 20;
/// Coordinates closer than this fraction of the smallest step count as equal, when points that are
/// listed one by one are put on a grid.
const GRID_TOLERANCE: f64 = 0.1;
/// Gaps below this fraction of the widest are scatter about one coordinate, not steps.
const STEP_SPREAD: f64 = 0.2;

/// Numbers of one name beside the waveforms: a dataset of the group, else an attribute of the
/// waveforms, else of the group.
pub struct Named<'a> {
    pub container: &'a dyn Container,
    pub group: &'a str,
    pub attributes: BTreeMap<String, Attribute>,
}

impl Named<'_> {
    /// The numbers, with the path at which they stand. `None` when nothing of that name is there.
    pub fn numbers(&self, name: &str, unit: &str) -> Option<Result<Vec<f64>, Problem>> {
        let path = format!("{}/{name}", self.group);
        if let Some(array) = self.container.array(&path) {
            if let Some(Attribute::Text(found)) = array.attributes.get("units")
                && !unit.is_empty()
                && !same_unit(found, unit)
            {
                return Some(Err(Problem::new("scan-unit-conflict")
                    .at(path)
                    .with("expected", unit)
                    .with("found", found.as_str())));
            }
            let numbers = self.container.read_numbers(&path, MAX_COORDINATES);
            return Some(numbers.and_then(|numbers| finite(&path, numbers)));
        }
        match self.attributes.get(name) {
            Some(Attribute::Numbers(numbers)) => Some(finite(&path, numbers.clone())),
            Some(Attribute::Text(text)) => {
                Some(Err(Problem::new("scan-not-a-number").at(path).with("found", text.as_str())))
            }
            None => None,
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

fn finite(path: &str, numbers: Vec<f64>) -> Result<Vec<f64>, Problem> {
    match numbers.iter().position(|n| !n.is_finite()) {
        Some(i) => Err(Problem::new("scan-not-finite").at(format!("{path}[{i}]"))),
        None => Ok(numbers),
    }
}

/// The grid of a scan whose waveforms have the leading shape `shape`.
pub fn grid(named: &Named<'_>, role: Role, shape: &[u64]) -> Result<Grid, Problems> {
    let mut problems = Vec::new();
    let n: usize = shape.iter().product::<u64>() as usize;
    let mut listed: [Option<Vec<f64>>; 3] = [None, None, None];
    for (slot, name) in listed.iter_mut().zip(["x_m", "y_m", "z_m"]) {
        match named.numbers(name, "m") {
            Some(Ok(numbers)) => *slot = Some(numbers),
            Some(Err(problem)) => problems.push(problem),
            None => {}
        }
    }
    match named.numbers("position_m", "m") {
        Some(Ok(numbers)) if numbers.len() == 3 * n => {
            for (axis, slot) in listed.iter_mut().enumerate() {
                *slot = Some(numbers.iter().skip(axis).step_by(3).copied().collect());
            }
        }
        Some(Ok(numbers)) => problems.push(
            Problem::new("scan-axis-length")
                .at(format!("{}/position_m", named.group))
                .with("expected", 3 * n)
                .with("found", numbers.len()),
        ),
        Some(Err(problem)) => problems.push(problem),
        None => {}
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let fixed = |slot: &Option<Vec<f64>>| slot.as_ref().filter(|v| v.len() == 1).map(|v| v[0]);
    let fixed_m = [fixed(&listed[0]), fixed(&listed[1]), fixed(&listed[2])];
    match role {
        Role::Plane => plane(named, shape, n, &listed),
        Role::Line => line(named, n, &listed, &[Axis::X, Axis::Y], fixed_m),
        Role::Axial => line(named, n, &listed, &[Axis::Z], fixed_m),
        _ if n == 1 => Ok(Grid::Point { position_m: fixed_m }),
        _ => Err(vec![role_shape(named, "one waveform", shape)]),
    }
}

fn role_shape(named: &Named<'_>, expected: &str, shape: &[u64]) -> Problem {
    let found = shape.iter().map(u64::to_string).collect::<Vec<_>>().join(" × ");
    Problem::new("scan-role-shape")
        .at(format!("{}/waveforms", named.group))
        .with("expected", expected)
        .with("found", if found.is_empty() { "1".to_owned() } else { found })
}

fn plane(
    named: &Named<'_>,
    shape: &[u64],
    n: usize,
    listed: &[Option<Vec<f64>>; 3],
) -> Result<Grid, Problems> {
    let path = |name: &str| format!("{}/{name}", named.group);
    let (Some(x), Some(y)) = (&listed[0], &listed[1]) else {
        let missing = ["x_m", "y_m"].iter().zip(listed).filter(|(_, slot)| slot.is_none());
        return Err(missing
            .map(|(name, _)| Problem::new("scan-axis-missing").at(path(name)))
            .collect());
    };
    let z_m = listed[2].as_ref().and_then(|z| crate::dsp::statistics::mean(z));
    if let [ny, nx] = shape {
        let mut problems = Vec::new();
        for (name, axis, expected) in [("x_m", x, *nx), ("y_m", y, *ny)] {
            if axis.len() as u64 != expected {
                problems.push(
                    Problem::new("scan-axis-length")
                        .at(path(name))
                        .with("expected", expected)
                        .with("found", axis.len()),
                );
            }
        }
        if !problems.is_empty() {
            return Err(problems);
        }
        let (xs, x_rank) = sorted(x).ok_or_else(|| vec![not_monotonic(path("x_m"))])?;
        let (ys, y_rank) = sorted(y).ok_or_else(|| vec![not_monotonic(path("y_m"))])?;
        let cell = (0..n).map(|i| y_rank[i / x.len()] * xs.len() + x_rank[i % x.len()]).collect();
        return Ok(Grid::Plane { x_m: xs, y_m: ys, z_m, cell });
    }
    if shape.len() != 1 || x.len() != n || y.len() != n {
        return Err(vec![role_shape(named, "ny × nx waveforms, or a position for each", shape)]);
    }
    let (xs, x_rank) = levels(x);
    let (ys, y_rank) = levels(y);
    let cell: Vec<usize> = (0..n).map(|i| y_rank[i] * xs.len() + x_rank[i]).collect();
    let mut seen = vec![false; xs.len() * ys.len()];
    let full =
        xs.len() * ys.len() == n && cell.iter().all(|c| !std::mem::replace(&mut seen[*c], true));
    if !full {
        return Err(vec![
            Problem::new("scan-not-a-grid")
                .at(path("x_m"))
                .with("points", n)
                .with("columns", xs.len())
                .with("rows", ys.len()),
        ]);
    }
    Ok(Grid::Plane { x_m: xs, y_m: ys, z_m, cell })
}

fn line(
    named: &Named<'_>,
    n: usize,
    listed: &[Option<Vec<f64>>; 3],
    allowed: &[Axis],
    fixed_m: [Option<f64>; 3],
) -> Result<Grid, Problems> {
    let slot = |axis: Axis| &listed[axis as usize];
    let varying: Vec<Axis> = allowed
        .iter()
        .copied()
        .filter(|axis| {
            slot(*axis)
                .as_ref()
                .is_some_and(|v| v.len() == n && n > 1 && v.iter().any(|c| *c != v[0]))
        })
        .collect();
    let axis = match varying.as_slice() {
        [axis] => *axis,
        [] => {
            let names =
                allowed.iter().map(|a| format!("{}_m", a.name())).collect::<Vec<_>>().join(" or ");
            return Err(vec![
                Problem::new("scan-line-axis")
                    .at(format!("{}/{names}", named.group))
                    .with("points", n),
            ]);
        }
        _ => {
            return Err(vec![
                Problem::new("scan-line-two-axes").at(format!("{}/waveforms", named.group)),
            ]);
        }
    };
    let coordinates = slot(axis).clone().unwrap_or_default();
    let (along_m, cell) = sorted(&coordinates)
        .ok_or_else(|| vec![not_monotonic(format!("{}/{}_m", named.group, axis.name()))])?;
    Ok(Grid::Line { axis, along_m, fixed_m, cell })
}

fn not_monotonic(path: String) -> Problem {
    Problem::new("scan-axis-not-monotonic").at(path)
}

/// Coordinates in rising order and the rank of each as given; `None` unless they rise or fall strictly.
fn sorted(values: &[f64]) -> Option<(Vec<f64>, Vec<usize>)> {
    let n = values.len();
    if values.windows(2).all(|w| w[1] > w[0]) {
        return Some((values.to_vec(), (0..n).collect()));
    }
    if values.windows(2).all(|w| w[1] < w[0]) {
        return Some((values.iter().rev().copied().collect(), (0..n).rev().collect()));
    }
    None
}

/// Distinct coordinates of points listed one by one, and the rank of each point among them.
fn levels(values: &[f64]) -> (Vec<f64>, Vec<usize>) {
    let mut rising: Vec<f64> = values.to_vec();
    rising.sort_by(f64::total_cmp);
    let gaps = || rising.windows(2).map(|w| w[1] - w[0]);
    let widest = gaps().fold(0.0, f64::max);
    let step = gaps().filter(|d| *d > STEP_SPREAD * widest).fold(f64::INFINITY, f64::min);
    let tolerance = if step.is_finite() { GRID_TOLERANCE * step } else { f64::INFINITY };
    let mut groups: Vec<Vec<f64>> = Vec::new();
    for v in rising {
        match groups.last_mut() {
            Some(group) if v - group[group.len() - 1] <= tolerance => group.push(v),
            _ => groups.push(vec![v]),
        }
    }
    let centres: Vec<f64> = groups.iter().map(|g| g.iter().sum::<f64>() / g.len() as f64).collect();
    let rank = |v: f64| {
        centres
            .iter()
            .enumerate()
            .min_by(|a, b| (a.1 - v).abs().total_cmp(&(b.1 - v).abs()))
            .map_or(0, |(i, _)| i)
    };
    let ranks = values.iter().map(|v| rank(*v)).collect();
    (centres, ranks)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn falling_axes_are_turned() {
        assert_eq!(sorted(&[3.0, 2.0, 1.0]), Some((vec![1.0, 2.0, 3.0], vec![2, 1, 0])));
        assert_eq!(sorted(&[1.0, 3.0, 2.0]), None);
    }

    #[test]
    fn listed_points_find_their_levels() {
        let (levels, ranks) = levels(&[0.0, 1.0e-3, 1.01e-3, 2.0e-3, 1e-6]);
        assert_eq!(levels.len(), 3);
        assert_eq!(ranks, [0, 1, 1, 2, 0]);
    }
}
