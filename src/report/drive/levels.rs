//! The levels of a sweep as tables.

use super::level_text;
use crate::base::drive::{DriveCurve, DriveRow};
use crate::base::units::PA_PER_MPA;
use crate::report::model::Block;
use crate::report::rounding;
use crate::report::wording::{Wording, measure};

/// Head and cells of a column.
type Column<'a> = (String, Box<dyn Fn(&DriveRow) -> String + 'a>);

/// Pressures, and how the wave steepens: a row for each level, in the order of time.
pub fn tables(curve: &DriveCurve, words: &dyn Wording) -> Vec<Block> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let table = |key: &str, columns: Vec<Column<'_>>| Block::Table {
        caption: format!("{} {}.", label(key), curve.id),
        head: columns.iter().map(|(head, _)| head.clone()).collect(),
        rows: curve
            .rows
            .iter()
            .map(|row| columns.iter().map(|(_, cell)| cell(row)).collect())
            .collect(),
    };
    vec![
        table("drive-table", pressures(curve, words)),
        table("steepening-table", steepening(curve, words)),
    ]
}

fn level<'a>(curve: &'a DriveCurve, words: &'a dyn Wording) -> Column<'a> {
    let head = words.label("drive-level").unwrap_or_default().to_owned();
    (head, Box::new(|row| level_text(row.level, &curve.unit, words)))
}

/// A value with so many digits, times a factor; a dash where there is none.
fn number(value: Option<f64>, factor: f64, digits: i32, words: &dyn Wording) -> String {
    value.map_or_else(|| "–".to_owned(), |v| rounding::digits(v * factor, digits, words.marks()))
}

fn pressure(value: Option<f64>, expanded: Option<f64>, bound: bool, words: &dyn Wording) -> String {
    let Some(value) = value else { return "–".to_owned() };
    let expanded = expanded.unwrap_or(0.0) / PA_PER_MPA;
    let pair = rounding::with_uncertainty(value / PA_PER_MPA, expanded, words.marks());
    let bound = if bound { "≥ " } else { "" };
    match pair.expanded.as_str() {
        "" => format!("{bound}{}", pair.value),
        u => format!("{bound}{} ± {u}{}", pair.value, pair.power),
    }
}

fn pressures<'a>(curve: &'a DriveCurve, words: &'a dyn Wording) -> Vec<Column<'a>> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let any = |of: fn(&DriveRow) -> bool| curve.rows.iter().any(of);
    let mut columns = vec![level(curve, words)];
    if any(|row| row.range.is_some()) {
        columns
            .push((label("sensor-range"), Box::new(|row| row.range.clone().unwrap_or_default())));
    }
    if any(|row| row.shots > 1) {
        columns
            .push((label("drive-shots"), Box::new(|row| format!("{} / {}", row.used, row.shots))));
    }
    if any(|row| row.bubble_fraction.is_some()) {
        columns.push((
            label("with-bubbles"),
            Box::new(|row| match row.bubble_fraction {
                Some(part) => measure(part, "%", words.marks()),
                None => "–".to_owned(),
            }),
        ));
    }
    columns.push((
        "p_{c} / MPa".to_owned(),
        Box::new(|row| pressure(row.pc_pa, row.u_expanded_pc_pa, row.lower_bound, words)),
    ));
    columns.push((
        "p_{r} / MPa".to_owned(),
        Box::new(|row| pressure(row.pr_pa, row.u_expanded_pr_pa, row.lower_bound, words)),
    ));
    columns
        .push(("p_{i} / Pa² s".to_owned(), Box::new(|row| number(row.ppsi_pa2_s, 1.0, 3, words))));
    columns.push(("p_{n} / kPa".to_owned(), Box::new(|row| number(row.nep_pa, 1e-3, 2, words))));
    columns
}

fn steepening<'a>(curve: &'a DriveCurve, words: &'a dyn Wording) -> Vec<Column<'a>> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let any = |of: fn(&DriveRow) -> bool| curve.rows.iter().any(of);
    let mut columns = vec![level(curve, words)];
    columns.push(("p_{1} / MPa".to_owned(), Box::new(|row| number(row.p1_pa, 1e-6, 3, words))));
    for n in 2..=3 {
        columns.push((
            format!("h_{{{n}}} / %"),
            Box::new(move |row| {
                number(row.harmonics.get(n - 2).copied().flatten(), 100.0, 3, words)
            }),
        ));
    }
    columns.push(("h_{t} / %".to_owned(), Box::new(|row| number(row.thd, 100.0, 3, words))));
    columns.push((
        format!("{} / ns", label("front-rise")),
        Box::new(|row| number(row.front_rise_s, 1e9, 2, words)),
    ));
    if any(|row| row.sigma_q.is_some()) {
        columns
            .push(("\u{3c3}_{q}".to_owned(), Box::new(|row| number(row.sigma_q, 1.0, 2, words))));
    }
    if any(|row| row.sigma_m.is_some()) {
        columns
            .push(("\u{3c3}_{m}".to_owned(), Box::new(|row| number(row.sigma_m, 1.0, 2, words))));
    }
    if any(|row| row.shock_distance_m.is_some()) {
        columns.push((
            format!("{} / mm", label("shock-distance")),
            Box::new(|row| number(row.shock_distance_m, 1e3, 3, words)),
        ));
    }
    columns
}
