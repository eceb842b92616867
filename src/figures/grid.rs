//! The grid of a map, checked, turned so that x rises to the right and y upward.

use super::problem::DrawProblem;
use super::ticks::{LARGEST, extent};
use crate::report::model::MapData;

/// Share of a line scan's length that stands for its missing width.
const LINE_THICKNESS: f64 = 0.08;

/// A checked grid. Values row-major (ny, nx), rows from the least y.
#[derive(Debug, Clone)]
pub struct Grid {
    pub x: Vec<f64>,
    pub y: Vec<f64>,
    /// Edges between columns, length nx + 1.
    pub x_edges: Vec<f64>,
    /// Edges between rows, length ny + 1.
    pub y_edges: Vec<f64>,
    pub values: Vec<Option<f64>>,
    pub replaced: Vec<bool>,
}

impl Grid {
    /// Checks and turns the data of a map. A map without points becomes one cell without value.
    ///
    /// # Errors
    /// When lengths contradict each other or positions don't rise or fall throughout.
    pub fn new(map: &MapData) -> Result<Self, DrawProblem> {
        let (nx, ny) = (map.x_values.len(), map.y_values.len());
        let expected = nx.saturating_mul(ny);
        if map.values.len() != expected {
            return Err(DrawProblem::Length { what: "values", expected, found: map.values.len() });
        }
        if expected == 0 {
            return Ok(Self::empty());
        }
        let (x, x_falls) = rising("x_values", &map.x_values)?;
        let (y, y_falls) = rising("y_values", &map.y_values)?;
        let source = |row: usize, column: usize| {
            let row = if y_falls { ny - 1 - row } else { row };
            let column = if x_falls { nx - 1 - column } else { column };
            row * nx + column
        };
        let mut flagged = vec![false; expected];
        for index in &map.replaced {
            if let Some(flag) = flagged.get_mut(*index) {
                *flag = true;
            }
        }
        let order: Vec<usize> = (0..ny)
            .flat_map(|row| (0..nx).map(move |column| (row, column)))
            .map(|(r, c)| source(r, c))
            .collect();
        let values = order.iter().map(|i| map.values[*i].filter(|v| v.abs() <= LARGEST)).collect();
        let replaced = order.iter().map(|i| flagged[*i]).collect();
        let length =
            |v: &[f64]| v.last().copied().unwrap_or(0.0) - v.first().copied().unwrap_or(0.0);
        let x_edges = edges(&x, LINE_THICKNESS * length(&y));
        let y_edges = edges(&y, LINE_THICKNESS * length(&x));
        Ok(Self { x, y, x_edges, y_edges, values, replaced })
    }

    fn empty() -> Self {
        let edges = vec![-1.0, 1.0];
        Self {
            x: vec![0.0],
            y: vec![0.0],
            x_edges: edges.clone(),
            y_edges: edges,
            values: vec![None],
            replaced: vec![false],
        }
    }

    /// Index of the cell at a place; none outside the grid.
    pub fn cell(&self, x: f64, y: f64) -> Option<usize> {
        Some(position(&self.y_edges, y)? * self.x.len() + position(&self.x_edges, x)?)
    }

    /// Least and greatest value.
    pub fn value_range(&self) -> Option<(f64, f64)> {
        extent(self.values.iter().flatten().copied())
    }

    /// First and last edge in x, then in y.
    pub fn ends(&self) -> ((f64, f64), (f64, f64)) {
        let ends =
            |v: &[f64]| (v.first().copied().unwrap_or(-1.0), v.last().copied().unwrap_or(1.0));
        (ends(&self.x_edges), ends(&self.y_edges))
    }

    /// True when all steps of an axis are alike, so that one pixel can stand for one point.
    pub fn is_regular(&self) -> bool {
        let alike = |v: &[f64]| {
            let step = (v[v.len() - 1] - v[0]) / (v.len() - 1).max(1) as f64;
            v.iter()
                .enumerate()
                .all(|(n, at)| (at - (v[0] + step * n as f64)).abs() <= 0.02 * step.abs())
        };
        alike(&self.x) && alike(&self.y)
    }
}

/// The values in rising order, and whether they fell.
fn rising(what: &'static str, values: &[f64]) -> Result<(Vec<f64>, bool), DrawProblem> {
    if let Some(index) = values.iter().position(|v| !v.is_finite() || v.abs() > LARGEST) {
        return Err(DrawProblem::NotMonotonic { what, index });
    }
    let falls = values.len() > 1 && values[1] < values[0];
    let mut out = values.to_vec();
    if falls {
        out.reverse();
    }
    match out.windows(2).position(|w| w[1] <= w[0]) {
        Some(at) => {
            let index = if falls { values.len() - 1 - at } else { at + 1 };
            Err(DrawProblem::NotMonotonic { what, index })
        }
        None => Ok((out, falls)),
    }
}

/// Edges half way between neighbours; a lone position gets the given thickness.
fn edges(values: &[f64], lone_thickness: f64) -> Vec<f64> {
    let (first, last) = (values[0], values[values.len() - 1]);
    if values.len() == 1 {
        let half = if lone_thickness > 0.0 { lone_thickness / 2.0 } else { 0.5 };
        let half = half.max(first.abs() * 1e-6);
        return vec![first - half, first + half];
    }
    let mut out = vec![first - (values[1] - first) / 2.0];
    out.extend(values.windows(2).map(|w| w[0] / 2.0 + w[1] / 2.0));
    out.push(last + (last - values[values.len() - 2]) / 2.0);
    out
}

fn position(edges: &[f64], at: f64) -> Option<usize> {
    let after = edges.partition_point(|edge| *edge <= at);
    (after > 0 && after < edges.len()).then(|| after - 1)
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::report::model::{AxisData, ColourScale};

    pub(crate) fn axis(label: &str, unit: &str) -> AxisData {
        AxisData { label: label.to_owned(), unit: unit.to_owned(), limits: None, log: false }
    }

    pub(crate) fn map(x: Vec<f64>, y: Vec<f64>, values: Vec<Option<f64>>) -> MapData {
        MapData {
            x: axis("x", "mm"),
            y: axis("y", "mm"),
            x_values: x,
            y_values: y,
            values,
            value: axis("p_{c}", "MPa"),
            scale: ColourScale::Sequential,
            contours: vec![],
            peak: None,
            replaced: vec![],
        }
    }

    #[test]
    fn falling_axes_are_turned_with_their_values() {
        let mut data =
            map(vec![2.0, 1.0, 0.0], vec![5.0, 4.0], (0..6).map(|n| Some(f64::from(n))).collect());
        data.replaced = vec![0, 99];
        let grid = Grid::new(&data).unwrap();
        assert_eq!(grid.x, [0.0, 1.0, 2.0]);
        assert_eq!(
            grid.values.iter().flatten().copied().collect::<Vec<_>>(),
            [5.0, 4.0, 3.0, 2.0, 1.0, 0.0]
        );
        assert!(grid.replaced[5]);
        assert_eq!(grid.cell(2.1, 5.2), Some(5));
        assert_eq!(grid.cell(2.6, 5.2), None);
    }

    #[test]
    fn contradictions_are_refused() {
        assert!(matches!(
            Grid::new(&map(vec![0.0, 1.0], vec![0.0], vec![None])),
            Err(DrawProblem::Length { expected: 2, found: 1, .. })
        ));
        assert!(matches!(
            Grid::new(&map(vec![0.0, 1.0, 1.0], vec![0.0], vec![None; 3])),
            Err(DrawProblem::NotMonotonic { index: 2, .. })
        ));
        assert!(Grid::new(&map(vec![f64::NAN], vec![0.0], vec![None])).is_err());
    }

    #[test]
    fn steps_are_told_apart() {
        let values = vec![None; 3];
        assert!(
            Grid::new(&map(vec![0.0, 1.0, 2.0], vec![0.0], values.clone())).unwrap().is_regular()
        );
        let uneven = Grid::new(&map(vec![0.0, 1.0, 3.0], vec![0.0], values)).unwrap();
        assert!(!uneven.is_regular());
        assert_eq!(uneven.x_edges, [-0.5, 0.5, 2.0, 4.0]);
    }
}
