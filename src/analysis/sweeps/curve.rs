//! The curve of a sweep: rows in the order of time, and the line through the levels found linear.

use super::Level;
use super::rows::row;
use crate::base::drive::{DriveCurve, DriveLine, DriveRow};
use crate::drive::abscissa::Abscissa;
use crate::drive::linear_part::{LevelPoint, linear_part};
use crate::record::Record;

/// The abscissa of a record's levels.
pub fn abscissa(record: &Record) -> Option<Abscissa> {
    Abscissa::of(record.excitation.level_kind).ok()
}

/// Rows and lines of a sweep.
pub fn curve(record: &Record, levels: &[Level<'_>], id: &str) -> DriveCurve {
    let rows: Vec<DriveRow> = levels.iter().filter_map(row).collect();
    let against = abscissa(record);
    let line = |of: fn(&DriveRow) -> Option<(f64, f64)>| {
        against.and_then(|against| line(against, &rows, of))
    };
    DriveCurve {
        id: id.to_owned(),
        unit: record.excitation.level_unit.clone().unwrap_or_default(),
        against: against.map(|against| {
            match against {
                Abscissa::Level => "level",
                Abscissa::RootOfLevel => "root-of-level",
            }
            .to_owned()
        }),
        pc_line: line(|row| row.pc_pa.zip(row.u_pc_pa)),
        pr_line: line(|row| row.pr_pa.zip(row.u_pr_pa)),
        scaling: None,
        rows,
    }
}

fn line(
    against: Abscissa,
    rows: &[DriveRow],
    of: fn(&DriveRow) -> Option<(f64, f64)>,
) -> Option<DriveLine> {
    // Of a level that came again the first measurement: returns are judged by themselves.
    let first = |(index, row): &(usize, &DriveRow)| {
        !rows[..*index].iter().any(|before| before.level == row.level && before.range == row.range)
    };
    let placed: Vec<(&DriveRow, LevelPoint)> = rows
        .iter()
        .enumerate()
        .filter(first)
        .map(|(_, row)| row)
        .filter(|row| !row.lower_bound)
        .filter_map(|row| {
            let (y, u) = of(row)?;
            Some((row, LevelPoint { x: against.at(row.level)?, y, u }))
        })
        .collect();
    let points: Vec<LevelPoint> = placed.iter().map(|(_, point)| *point).collect();
    let part = linear_part(&points)?;
    let (_, top) = placed.iter().max_by(|a, b| a.1.x.total_cmp(&b.1.x))?;
    let (departure_top, u_departure_top) = part.departure(top);
    let on_line = placed.iter().filter(|(_, point)| point.x <= part.x_max);
    let level_max = on_line.map(|(row, _)| row.level).reduce(f64::max)?;
    Some(DriveLine {
        slope: part.line.slope,
        u_slope: part.line.u_slope,
        intercept_pa: part.line.intercept,
        u_intercept_pa: part.line.u_intercept,
        points: part.line.points,
        level_max,
        departure_top,
        u_departure_top,
    })
}
