//! Where the points of a scan lie.

use serde::{Deserialize, Serialize};

/// A coordinate axis of the tank.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Axis {
    X,
    Y,
    Z,
}

impl Axis {
    /// Lower-case name.
    pub fn name(self) -> &'static str {
        match self {
            Self::X => "x",
            Self::Y => "y",
            Self::Z => "z",
        }
    }
}

/// Positions, m. Coordinates of planes and lines rise; storage order may differ.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Grid {
    /// Cells row-major (y, x); `cell` maps a point in storage order to its cell. There may be cells
    /// without a point.
    Plane { x_m: Vec<f64>, y_m: Vec<f64>, z_m: Option<f64>, cell: Vec<usize> },
    /// Coordinates along one axis; `cell` maps a point in storage order to its place on the line;
    /// `fixed_m` are the other coordinates (x, y, z), where stated.
    Line { axis: Axis, along_m: Vec<f64>, fixed_m: [Option<f64>; 3], cell: Vec<usize> },
    /// One place, where stated, with the waveforms recorded there.
    Point { position_m: [Option<f64>; 3], repeats: usize },
}

impl Grid {
    /// Number of points.
    pub fn points(&self) -> usize {
        match self {
            Self::Plane { cell, .. } | Self::Line { cell, .. } => cell.len(),
            Self::Point { repeats, .. } => *repeats,
        }
    }

    /// Cell of a point in storage order.
    pub fn cell(&self, point: usize) -> usize {
        match self {
            Self::Plane { cell, .. } | Self::Line { cell, .. } => {
                cell.get(point).copied().unwrap_or(point)
            }
            Self::Point { .. } => point,
        }
    }

    /// Number of cells: points, and places of a plane that have none.
    pub fn cells(&self) -> usize {
        match self {
            Self::Plane { x_m, y_m, .. } => x_m.len() * y_m.len(),
            Self::Line { along_m, .. } => along_m.len(),
            Self::Point { repeats, .. } => *repeats,
        }
    }

    /// Point in storage order of a cell; `None` where the cell has none.
    pub fn point_of_cell(&self, wanted: usize) -> Option<usize> {
        match self {
            Self::Plane { cell, .. } | Self::Line { cell, .. } => {
                cell.iter().position(|c| *c == wanted)
            }
            Self::Point { repeats, .. } => (wanted < *repeats).then_some(wanted),
        }
    }

    /// Distance along the beam (z) of a point in storage order, m, where known.
    pub fn z_m(&self, point: usize) -> Option<f64> {
        match self {
            Self::Plane { z_m, .. } => *z_m,
            Self::Line { axis: Axis::Z, along_m, .. } => along_m.get(self.cell(point)).copied(),
            Self::Line { fixed_m, .. } => fixed_m[2],
            Self::Point { position_m, .. } => position_m[2],
        }
    }

    /// Largest step between neighbouring points across the beam, m; `None` without one.
    pub fn largest_lateral_step_m(&self) -> Option<f64> {
        let step = |x: &[f64]| x.windows(2).map(|w| w[1] - w[0]).reduce(f64::max);
        match self {
            Self::Plane { x_m, y_m, .. } => match (step(x_m), step(y_m)) {
                (Some(a), Some(b)) => Some(a.max(b)),
                (a, b) => a.or(b),
            },
            Self::Line { axis: Axis::X | Axis::Y, along_m, .. } => step(along_m),
            _ => None,
        }
    }
}
