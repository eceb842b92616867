//! A table without headings whose first two columns say where each row was recorded.

use std::collections::BTreeSet;

use super::columns::{Group, Plan};
use super::watch::Watch;
use crate::base::error::Problem;

/// Fewest columns: two of positions and the shortest waveform.
pub const FEWEST_COLUMNS: usize = 18;

/// The first two columns as x and y and the rest as samples, if those two make a whole grid: each place
/// once, at least two along each. With a note of it.
pub fn plan(watch: &Watch, width: usize) -> Option<(Plan, Problem)> {
    if width < FEWEST_COLUMNS {
        return None;
    }
    let (x, y) = (watch.column(0)?, watch.column(1)?);
    let places = |values: &[f64]| -> BTreeSet<u64> {
        // Zero of either sign is one place.
        values.iter().map(|v| (v + 0.0).to_bits()).collect()
    };
    let (columns, rows) = (places(&x).len(), places(&y).len());
    let pairs: BTreeSet<(u64, u64)> =
        x.iter().zip(&y).map(|(x, y)| ((x + 0.0).to_bits(), (y + 0.0).to_bits())).collect();
    let finite = x.iter().chain(&y).all(|v| v.is_finite());
    if !finite || columns < 2 || rows < 2 || columns * rows != x.len() || pairs.len() != x.len() {
        return None;
    }
    let group = |name: &str, first: usize, count: usize| Group {
        name: name.to_owned(),
        unit: None,
        first,
        count,
        wide: count > 1,
    };
    let groups = vec![group("x", 0, 1), group("y", 1, 1), group("values", 2, width - 2)];
    let note = Problem::new("text-index-columns").at("/values");
    let note = note.with("columns", columns).with("rows", rows).with("samples", width - 2);
    Some((Plan { groups, headings: None }, note))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn watched(rows: impl Iterator<Item = [f64; 2]>) -> Watch {
        let mut watch = Watch::new(2, false);
        rows.for_each(|row| watch.push(&row));
        watch
    }

    #[test]
    fn a_whole_grid_is_one_and_nothing_less() {
        let grid = || (0..12).map(|i| [f64::from(i % 4), f64::from(i / 4)]);
        let (plan, note) = plan(&watched(grid()), 40).unwrap();
        let names: Vec<_> =
            plan.groups.iter().map(|g| (g.name.as_str(), g.first, g.count)).collect();
        assert_eq!(names, [("x", 0, 1), ("y", 1, 1), ("values", 2, 38)]);
        assert_eq!(note.code, "text-index-columns");
        assert!(super::plan(&watched(grid().skip(1)), 40).is_none());
        assert!(super::plan(&watched(grid().chain(grid())), 40).is_none());
        assert!(super::plan(&watched(grid()), 17).is_none());
        assert!(super::plan(&watched((0..12).map(|i| [f64::from(i), 0.5])), 40).is_none());
    }
}
