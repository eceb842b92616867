//! Which level a point of a sweep's figure stands for.

use super::curves;
use super::figures::{place, with_waves};
use crate::analysis::Results;
use crate::base::drive::{DriveCurve, DriveRow};
use crate::base::units::PA_PER_MPA;
use crate::report::model::{Curve, CurveStyle, Figure, FigureBody};
use crate::report::pointing::numbered;

/// The scan of the level that a point of a sweep's figure stands for.
pub fn scan_of_level<'a>(
    results: &'a Results,
    figure: &Figure,
    curve: usize,
    index: usize,
) -> Option<&'a str> {
    let (_, number, what) = numbered(&figure.id).filter(|(kind, ..)| *kind == "levels")?;
    let FigureBody::Curves(data) = &figure.body else { return None };
    let sweep = curves(results).nth(number)?;
    let row = match what.strip_prefix("wave-") {
        Some(number) => row_of_wave(results, sweep, number)?,
        None if matches!(what, "pressures" | "harmonics") => {
            row_at(sweep, data.curves.get(curve)?, index)?
        }
        None => return None,
    };
    Some(&row.scan)
}

/// The level of a small waveform by its number.
fn row_of_wave<'a>(
    results: &'a Results,
    curve: &'a DriveCurve,
    number: &str,
) -> Option<&'a DriveRow> {
    let index = number.parse::<usize>().ok()?.checked_sub(1)?;
    with_waves(results, curve).get(index).map(|(row, _)| *row)
}

/// The measurement that a point of a curve against the level stands for; none on the lines through the
/// levels.
fn row_at<'a>(curve: &'a DriveCurve, data: &Curve, index: usize) -> Option<&'a DriveRow> {
    let (x, y) = (*data.x.get(index)?, (*data.y.get(index)?)?);
    let here = || {
        let measured = curve.rows.iter().filter(|_| data.style != CurveStyle::Dashed);
        measured.filter(|row| place(curve, row.level) == x)
    };
    // Of several measurements at a level the one with this value.
    let has = |p: Option<f64>| p.is_some_and(|p| p * (1.0 / PA_PER_MPA) == y);
    here().find(|row| has(row.pc_pa) || has(row.pr_pa)).or_else(|| here().next())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::drive::DriveLine;
    use crate::report::drive::figures::{harmonics, pressures};
    use crate::report::wording;

    fn row(scan: &str, level: f64, pc_pa: f64, pr_pa: f64) -> DriveRow {
        DriveRow {
            scan: scan.to_owned(),
            level,
            pc_pa: Some(pc_pa),
            pr_pa: Some(pr_pa),
            harmonics: vec![Some(0.1 * pc_pa * 1e-6), None],
            ..DriveRow::default()
        }
    }

    // By definition: what is drawn at a level is that level's own.
    #[test]
    fn points_stand_for_the_measurement_they_were_drawn_from() {
        let line = DriveLine {
            slope: 1e5,
            u_slope: 0.0,
            intercept_pa: 0.0,
            u_intercept_pa: 0.0,
            points: 2,
            level_max: 20.0,
            departure_top: 0.0,
            u_departure_top: 0.0,
        };
        let curve = DriveCurve {
            against: Some("root-of-level".to_owned()),
            // The third returns to the level of the first.
            rows: vec![
                row("a", 20.0, 2.1e6, 1.7e6),
                row("b", 10.0, 1.2e6, 0.9e6),
                row("c", 20.0, 2.2e6, 1.8e6),
            ],
            pc_line: Some(line),
            ..DriveCurve::default()
        };
        let words = wording::of("en");
        let scan = |data: &Curve, index| row_at(&curve, data, index).map(|row| row.scan.clone());
        let all = pressures(&curve, words).curves;
        for of_sign in &all[..2] {
            assert_eq!([0, 1, 2].map(|i| scan(of_sign, i).unwrap_or_default()), ["b", "a", ""]);
        }
        assert_eq!(all[2].style, CurveStyle::Dashed);
        assert_eq!(scan(&all[2], 1), None);
        let dots: Vec<_> = (0..6).filter_map(|i| scan(&all[3], i)).collect();
        assert_eq!(dots, ["a", "a", "b", "b", "c", "c"]);
        let second = &harmonics(&curve, words).curves[0];
        assert_eq!(scan(second, 0).as_deref(), Some("b"));
        assert_eq!(scan(&harmonics(&curve, words).curves[1], 0), None);
    }
}
