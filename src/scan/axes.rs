//! The grid of a scan from its coordinates.

use super::grid::{Axis, Grid};
use super::parts::{Numbers, Parts, length};
use crate::base::error::{Problem, Problems};
use crate::base::finding::{Arg, Finding, Severity};
use crate::record::{AxisName, Role};

/// Coordinates closer than this fraction of the smallest step count as equal, when points that are
/// listed one by one are put on a grid.
const GRID_TOLERANCE: f64 = 0.1;
/// Gaps below this fraction of the widest are scatter about one coordinate, not steps.
const STEP_SPREAD: f64 = 0.2;
/// Fewest places of a grid that are taken, as a fraction: with less the points lie on no grid.
const FEWEST_TAKEN: f64 = 0.5;
/// Scatter about the grid that is told, as a fraction of the smallest step.
const TOLD_SCATTER: f64 = 0.01;

/// Most points of a scan: what is kept of each would not fit in memory.
const MAX_POINTS: u64 = 4 << 20;

/// A dimension of the points.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Leading {
    pub axis: AxisName,
    pub size: u64,
    /// Dimension of the waveform array.
    pub dim: usize,
}

/// Where the points of a scan lie; `leading` are the dimensions of its points in storage order.
///
/// # Errors
/// All that does not fit.
pub fn grid(
    parts: &Parts,
    role: Role,
    leading: &[Leading],
    findings: &mut Vec<Finding>,
) -> Result<Grid, Problems> {
    let n = leading.iter().map(|l| l.size).product::<u64>();
    if n > MAX_POINTS {
        return Err(vec![
            Problem::new("scan-too-many-points")
                .at(parts.array.path.clone())
                .with("found", n)
                .with("limit", MAX_POINTS),
        ]);
    }
    let n = n as usize;
    let planar = role == Role::Plane && leading.iter().filter(|l| l.size > 1).count() == 2;
    if parts.serpentine && !planar {
        findings.push(Finding::new(Severity::Caution, "serpentine-unused"));
    }
    let fixed = |axis: usize| -> Option<f64> {
        let only = parts.positions[axis].as_ref().filter(|c| c.values.len() == 1);
        only.map(|c| c.values[0])
    };
    let fixed_m = [fixed(0), fixed(1), fixed(2)];
    match role {
        Role::Plane => plane(parts, leading, n, findings),
        Role::Line => line(parts, leading, n, &[Axis::X, Axis::Y], fixed_m),
        Role::Axial => line(parts, leading, n, &[Axis::Z], fixed_m),
        // Where the waveforms of these roles were recorded says nothing: they are repeats.
        Role::Noise | Role::CheckSource | Role::Reference | Role::Sweep | Role::Monitor => {
            Ok(Grid::Point { position_m: fixed_m, repeats: n })
        }
        _ if n == 1 => Ok(Grid::Point { position_m: fixed_m, repeats: 1 }),
        _ => Err(vec![role_shape(parts, "one waveform", leading)]),
    }
}

fn role_shape(parts: &Parts, expected: &str, leading: &[Leading]) -> Problem {
    let found = leading.iter().map(|l| l.size.to_string()).collect::<Vec<_>>().join(" × ");
    Problem::new("scan-role-shape")
        .at(parts.array.path.clone())
        .with("expected", expected)
        .with("found", if found.is_empty() { "1".to_owned() } else { found })
}

/// Coordinates as given for the points.
enum Given<'a> {
    /// One a step along a dimension: its place in `leading`.
    Along(usize, &'a [f64]),
    /// One a point, storage order.
    Listed(&'a [f64]),
}

impl Given<'_> {
    fn along(&self) -> bool {
        matches!(self, Self::Along(..))
    }

    /// One a point, storage order.
    fn of_points(&self, leading: &[Leading], n: usize) -> Vec<f64> {
        match self {
            Self::Listed(values) => values.to_vec(),
            Self::Along(place, values) => {
                let inner: u64 = leading[place + 1..].iter().map(|l| l.size).product();
                let size = values.len().max(1);
                (0..n).map(|point| values[point / inner.max(1) as usize % size]).collect()
            }
        }
    }
}

/// How coordinates of `axis` belong to the points; `None` where their number fits neither.
fn given<'a>(
    leading: &[Leading],
    n: usize,
    axis: AxisName,
    numbers: &'a Numbers,
) -> Option<Given<'a>> {
    let own = leading.iter().position(|l| l.axis == axis);
    let values = numbers.values.as_slice();
    if let Some(place) = own
        && leading[place].size == values.len() as u64
        && (values.len() != n || leading.len() == 1 || numbers.shape.len() == 1)
    {
        return Some(Given::Along(place, values));
    }
    // One a point: a flat list, or an array of the points' own shape.
    let squeezed =
        |shape: &mut dyn Iterator<Item = u64>| -> Vec<u64> { shape.filter(|n| *n != 1).collect() };
    let ours = squeezed(&mut leading.iter().map(|l| l.size));
    let theirs = squeezed(&mut numbers.shape.iter().copied());
    (values.len() == n && (theirs.len() <= 1 || theirs == ours)).then_some(Given::Listed(values))
}

fn plane(
    parts: &Parts,
    leading: &[Leading],
    n: usize,
    findings: &mut Vec<Finding>,
) -> Result<Grid, Problems> {
    let missing = |name: &str| format!("{}/{name}", parts.group());
    let names = ["x_m", "y_m"];
    let mut problems = Problems::new();
    for (slot, name) in parts.positions.iter().zip(names) {
        if slot.is_none() {
            problems.push(Problem::new("scan-axis-missing").at(missing(name)));
        }
    }
    let (Some(x), Some(y)) = (&parts.positions[0], &parts.positions[1]) else {
        return Err(problems);
    };
    let z_m = parts.positions[2].as_ref().and_then(|z| crate::dsp::statistics::mean(&z.values));
    let size_of = |axis: AxisName| leading.iter().find(|l| l.axis == axis).map(|l| l.size as usize);
    let found = [given(leading, n, AxisName::X, x), given(leading, n, AxisName::Y, y)];
    for (given, (numbers, axis)) in found.iter().zip([(x, AxisName::X), (y, AxisName::Y)]) {
        if given.is_none() {
            let expected = size_of(axis).unwrap_or(n);
            problems.push(length(&numbers.path, expected, numbers.values.len()));
        }
    }
    match found {
        [Some(Given::Along(i, xs)), Some(Given::Along(j, ys))] if i != j && leading.len() == 2 => {
            let x_sorted = sorted(xs).ok_or_else(|| vec![not_monotonic(&x.path, xs)]);
            let y_sorted = sorted(ys).ok_or_else(|| vec![not_monotonic(&y.path, ys)]);
            let ((xs, x_rank), (ys, y_rank)) = match (x_sorted, y_sorted) {
                (Ok(x), Ok(y)) => (x, y),
                (x, y) => {
                    return Err([x.err(), y.err()].into_iter().flatten().flatten().collect());
                }
            };
            let inner = leading[1].size as usize;
            let cell = (0..n)
                .map(|point| {
                    let row = point / inner;
                    let back = parts.serpentine && row % 2 == 1;
                    let column = if back { inner - 1 - point % inner } else { point % inner };
                    let index = [row, column];
                    y_rank[index[j]] * xs.len() + x_rank[index[i]]
                })
                .collect();
            Ok(Grid::Plane { x_m: xs, y_m: ys, z_m, cell })
        }
        [Some(x), Some(y)] if leading.len() == 1 || !(x.along() && y.along()) => {
            let (x, y) = (x.of_points(leading, n), y.of_points(leading, n));
            listed_plane(parts, &x, &y, z_m, findings).map_err(|problem| vec![problem])
        }
        _ if problems.is_empty() => {
            Err(vec![role_shape(parts, "ny × nx waveforms, or a position for each", leading)])
        }
        _ => Err(problems),
    }
}

fn listed_plane(
    parts: &Parts,
    x: &[f64],
    y: &[f64],
    z_m: Option<f64>,
    findings: &mut Vec<Finding>,
) -> Result<Grid, Problem> {
    let path = parts.positions[0].as_ref().map_or("", |numbers| numbers.path.as_str());
    let (xs, x_rank) = levels(x);
    let (ys, y_rank) = levels(y);
    let places = xs.len() * ys.len();
    let n = x.len();
    if xs.len() < 2 || ys.len() < 2 || (n as f64) < FEWEST_TAKEN * places as f64 {
        return Err(Problem::new("scan-not-a-grid")
            .at(path)
            .with("points", n)
            .with("columns", xs.len())
            .with("rows", ys.len()));
    }
    let cell: Vec<usize> = (0..n).map(|i| y_rank[i] * xs.len() + x_rank[i]).collect();
    let mut taken = vec![None; places];
    for (point, cell) in cell.iter().enumerate() {
        if let Some(other) = taken[*cell].replace(point) {
            let first: usize = other;
            return Err(Problem::new("scan-position-twice")
                .at(path)
                .with("first", first + 1)
                .with("second", point + 1)
                .with("x", Arg::measure(x[point], "m"))
                .with("y", Arg::measure(y[point], "m")));
        }
    }
    if n < places {
        findings.push(
            Finding::new(Severity::Note, "points-missing")
                .with("points", places - n)
                .with("all", places),
        );
    }
    let off = |values: &[f64], levels: &[f64], rank: &[usize]| {
        let far = values.iter().zip(rank).map(|(v, r)| (v - levels[*r]).abs());
        far.fold(0.0, f64::max)
    };
    let step =
        |levels: &[f64]| levels.windows(2).map(|w| w[1] - w[0]).fold(f64::INFINITY, f64::min);
    let scatter = off(x, &xs, &x_rank).max(off(y, &ys, &y_rank));
    if scatter > TOLD_SCATTER * step(&xs).min(step(&ys)) {
        findings.push(
            Finding::new(Severity::Note, "points-gridded")
                .with("scatter", Arg::measure(scatter, "m"))
                .with("tolerance", Arg::measure(GRID_TOLERANCE, "%")),
        );
    }
    Ok(Grid::Plane { x_m: xs, y_m: ys, z_m, cell })
}

fn line(
    parts: &Parts,
    leading: &[Leading],
    n: usize,
    allowed: &[Axis],
    fixed_m: [Option<f64>; 3],
) -> Result<Grid, Problems> {
    let numbers = |axis: Axis| parts.positions[axis as usize].as_ref();
    if leading.iter().filter(|l| l.size > 1).count() > 1 {
        return Err(vec![role_shape(parts, "one row of waveforms", leading)]);
    }
    let varies = |axis: &Axis| {
        numbers(*axis).is_some_and(|c| {
            c.values.len() == n && n > 1 && c.values.iter().any(|v| *v != c.values[0])
        })
    };
    let varying: Vec<Axis> = allowed.iter().copied().filter(varies).collect();
    let axis = match varying.as_slice() {
        [axis] => *axis,
        [] => {
            let names =
                allowed.iter().map(|a| format!("{}_m", a.name())).collect::<Vec<_>>().join(" or ");
            return Err(vec![
                Problem::new("scan-line-axis")
                    .at(format!("{}/{names}", parts.group()))
                    .with("points", n),
            ]);
        }
        _ => {
            return Err(vec![Problem::new("scan-line-two-axes").at(parts.array.path.clone())]);
        }
    };
    let (path, coordinates) =
        numbers(axis).map_or(("", &[][..]), |c| (c.path.as_str(), c.values.as_slice()));
    let (along_m, cell) =
        sorted(coordinates).ok_or_else(|| vec![not_monotonic(path, coordinates)])?;
    Ok(Grid::Line { axis, along_m, fixed_m, cell })
}

/// `scan-axis-not-monotonic`, at the first step that turns back.
fn not_monotonic(path: &str, values: &[f64]) -> Problem {
    let rising = values.last() > values.first();
    let turn = values.windows(2).position(|w| (w[1] > w[0]) != rising || w[1] == w[0]);
    Problem::new("scan-axis-not-monotonic").at(format!("{path}[{}]", turn.map_or(0, |i| i + 1)))
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
        let above = centres.partition_point(|c| *c < v);
        match (above.checked_sub(1), centres.get(above)) {
            (Some(below), Some(c)) if (v - centres[below]).abs() <= (c - v).abs() => below,
            (_, Some(_)) => above,
            (Some(below), None) => below,
            (None, None) => 0,
        }
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
        let problem = not_monotonic("/x", &[1.0, 3.0, 2.0]);
        assert_eq!(problem.place.path.as_deref(), Some("/x[2]"));
    }

    #[test]
    fn listed_points_find_their_levels() {
        let (levels, ranks) = levels(&[0.0, 1.0e-3, 1.01e-3, 2.0e-3, 1e-6]);
        assert_eq!(levels.len(), 3);
        assert_eq!(ranks, [0, 1, 1, 2, 0]);
    }
}
