//! The levels of a sweep as a table.

use super::level_text;
use crate::base::drive::{DriveCurve, DriveRow};
use crate::base::units::PA_PER_MPA;
use crate::report::model::Block;
use crate::report::rounding;
use crate::report::wording::{Wording, measure};

/// A row for each level, in the order of time.
pub fn table(curve: &DriveCurve, words: &dyn Wording) -> Block {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let several = curve.rows.iter().any(|row| row.shots > 1);
    let watched = curve.rows.iter().any(|row| row.bubble_fraction.is_some());
    let ranges = curve.rows.iter().any(|row| row.range.is_some());
    let sigma = curve.rows.iter().any(|row| row.sigma_q.is_some());
    let shock = curve.rows.iter().any(|row| row.shock_distance_m.is_some());
    let marks = words.marks();
    let percent = |v: Option<f64>| {
        v.map_or_else(|| "–".to_owned(), |v| rounding::digits(v * 100.0, 3, marks))
    };
    let mut columns: Vec<(String, Box<dyn Fn(&DriveRow) -> String + '_>)> = vec![(
        label("drive-level"),
        Box::new(|row: &DriveRow| level_text(row.level, &curve.unit, words)),
    )];
    if ranges {
        columns.push((
            label("sensor-range"),
            Box::new(|row: &DriveRow| row.range.clone().unwrap_or_default()),
        ));
    }
    if several {
        columns.push((
            label("drive-shots"),
            Box::new(|row: &DriveRow| format!("{} / {}", row.used, row.shots)),
        ));
    }
    let pressure = |value: Option<f64>, expanded: Option<f64>, bound: bool| {
        let Some(value) = value else { return "–".to_owned() };
        let pair = rounding::with_uncertainty(
            value / PA_PER_MPA,
            expanded.unwrap_or(0.0) / PA_PER_MPA,
            marks,
        );
        let bound = if bound { "≥ " } else { "" };
        match pair.expanded.as_str() {
            "" => format!("{bound}{}", pair.value),
            u => format!("{bound}{} ± {u}{}", pair.value, pair.power),
        }
    };
    columns.push((
        "p_{c} / MPa".to_owned(),
        Box::new(move |row: &DriveRow| pressure(row.pc_pa, row.u_expanded_pc_pa, row.lower_bound)),
    ));
    columns.push((
        "p_{r} / MPa".to_owned(),
        Box::new(move |row: &DriveRow| pressure(row.pr_pa, row.u_expanded_pr_pa, row.lower_bound)),
    ));
    columns.push((
        "p_{i} / Pa² s".to_owned(),
        Box::new(|row: &DriveRow| {
            row.ppsi_pa2_s.map_or_else(|| "–".to_owned(), |v| rounding::digits(v, 3, marks))
        }),
    ));
    columns.push((
        "h_{2} / %".to_owned(),
        Box::new(move |row: &DriveRow| percent(row.harmonics.first().copied().flatten())),
    ));
    columns.push(("h_{t} / %".to_owned(), Box::new(move |row: &DriveRow| percent(row.thd))));
    columns.push((
        format!("{} / ns", label("front-rise")),
        Box::new(|row: &DriveRow| {
            let rise = row.front_rise_s.map(|s| rounding::digits(s * 1e9, 2, marks));
            rise.unwrap_or_else(|| "–".to_owned())
        }),
    ));
    columns.push((
        "p_{n} / kPa".to_owned(),
        Box::new(|row: &DriveRow| {
            row.nep_pa.map_or_else(|| "–".to_owned(), |v| rounding::digits(v * 1e-3, 2, marks))
        }),
    ));
    if sigma {
        columns.push((
            "\u{3c3}_{q}".to_owned(),
            Box::new(|row: &DriveRow| {
                row.sigma_q.map_or_else(|| "–".to_owned(), |v| rounding::digits(v, 2, marks))
            }),
        ));
    }
    if shock {
        columns.push((
            label("shock-distance"),
            Box::new(|row: &DriveRow| {
                row.shock_distance_m.map_or_else(|| "–".to_owned(), |v| measure(v, "m", marks))
            }),
        ));
    }
    if watched {
        columns.push((
            label("with-bubbles"),
            Box::new(|row: &DriveRow| match row.bubble_fraction {
                Some(part) => format!("{}\u{a0}%", rounding::digits(part * 100.0, 2, marks)),
                None => "–".to_owned(),
            }),
        ));
    }
    Block::Table {
        caption: format!("{} {}.", label("drive-table"), curve.id),
        head: columns.iter().map(|(head, _)| head.clone()).collect(),
        rows: curve
            .rows
            .iter()
            .map(|row| columns.iter().map(|(_, cell)| cell(row)).collect())
            .collect(),
    }
}
