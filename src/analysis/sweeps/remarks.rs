//! What is to be said of a sweep.

use super::Level;
use super::rows::{apart, quantity};
use crate::base::drive::{DriveCurve, DriveLine, DriveRow};
use crate::base::finding::{Arg, Finding, Severity};
use crate::base::quantity::Quantity;
use crate::drive::joins::{RangedPoint, joins};
use crate::drive::nonlinear_propagation::Distortion;
use crate::drive::returns::returns;
use crate::record::{LevelKind, Record};

/// Standard uncertainties of the intercept from which it is told: those of the levels are estimates from
/// few shots themselves.
const OFFSET: f64 = 3.0;
/// Departure from the line that is told.
const DEPARTED: f64 = 0.02;

/// Findings that several levels share are told once, for the sweep, of the gravest or else the highest
/// level.
pub fn gathered(levels: &[Level<'_>], id: &str, findings: &mut Vec<Finding>) {
    let place = |finding: &Finding| {
        let scan = finding.place.scan.as_deref()?;
        levels.iter().position(|level| level.scan.id == scan)
    };
    let mut kept: Vec<(usize, Finding, usize)> = Vec::new();
    let mut at = None;
    let mut index = 0;
    findings.retain(|finding| {
        index += 1;
        let Some(level) = place(finding) else { return true };
        at.get_or_insert(index - 1);
        let known = kept.iter_mut().find(|(_, other, _)| {
            other.code == finding.code && other.place.quantity == finding.place.quantity
        });
        match known {
            Some(slot) => {
                slot.2 += 1;
                if finding.severity >= slot.1.severity {
                    *slot = (level, finding.clone(), slot.2);
                }
            }
            None => kept.push((level, finding.clone(), 1)),
        }
        false
    });
    let at = at.unwrap_or(findings.len()).min(findings.len());
    let told = kept.into_iter().map(|(_, finding, times)| {
        if times == levels.len() && times > 1 { finding.in_scan(id) } else { finding }
    });
    findings.splice(at..at, told);
}

/// Findings of a sweep.
pub fn findings(record: &Record, levels: &[Level<'_>], curve: &DriveCurve) -> Vec<Finding> {
    let mut out = of_statements(record, levels, curve);
    out.extend(of_lines(curve));
    out.extend(of_returns(levels, curve));
    out.extend(of_joins(levels, curve));
    out.extend(of_distortion(curve));
    out.into_iter().map(|finding| finding.in_scan(&curve.id)).collect()
}

fn level_text(curve: &DriveCurve, level: f64) -> Arg {
    Arg::from(format!("{level} {}", curve.unit).trim_end())
}

/// What the record leaves open.
fn of_statements(record: &Record, levels: &[Level<'_>], curve: &DriveCurve) -> Vec<Finding> {
    let mut out = Vec::new();
    let unplaced = levels.iter().filter(|level| level.scan.level.is_none()).count();
    if unplaced > 0 {
        out.push(
            Finding::new(Severity::Caution, "sweep-level-missing")
                .at("scans.level")
                .with("scans", unplaced),
        );
    }
    let mut different: Vec<f64> = curve.rows.iter().map(|row| row.level).collect();
    different.sort_by(f64::total_cmp);
    different.dedup();
    if different.len() == 1 {
        out.push(Finding::new(Severity::Caution, "sweep-one-level"));
    }
    match record.excitation.level_kind {
        None => out.push(
            Finding::new(Severity::Caution, "sweep-kind-missing").at("excitation.level_kind"),
        ),
        Some(LevelKind::Unknown) => out.push(
            Finding::new(Severity::Caution, "sweep-kind-unknown").at("excitation.level_kind"),
        ),
        Some(_) => {}
    }
    let ranges = record.sensor.ranges.len();
    let without = levels.iter().filter(|level| level.scan.range.is_none()).count();
    if ranges > 1 && without > 0 {
        out.push(
            Finding::new(Severity::Caution, "sweep-range-missing")
                .at("scans.range")
                .with("scans", without)
                .with("ranges", ranges),
        );
    }
    out
}

/// Intercepts and departures.
fn of_lines(curve: &DriveCurve) -> Vec<Finding> {
    let mut out = Vec::new();
    let top = curve.rows.iter().map(|row| row.level).reduce(f64::max).unwrap_or(0.0);
    for (symbol, line) in [("p_{c}", curve.pc_line), ("p_{r}", curve.pr_line)] {
        let Some(DriveLine {
            intercept_pa, u_intercept_pa, departure_top, u_departure_top, ..
        }) = line
        else {
            continue;
        };
        if intercept_pa.abs() > OFFSET * u_intercept_pa {
            out.push(
                Finding::new(Severity::Caution, "line-misses-zero")
                    .with("symbol", symbol)
                    .with("intercept", Arg::measure(intercept_pa, "Pa"))
                    .with("u", Arg::measure(u_intercept_pa, "Pa")),
            );
        }
        if departure_top.abs() > DEPARTED.max(2.0 * u_departure_top) {
            out.push(
                Finding::new(Severity::Note, "beyond-linear-part")
                    .with("symbol", symbol)
                    .with("level", level_text(curve, top))
                    .with("departure", Arg::measure(departure_top, "%"))
                    .with("u", Arg::measure(u_departure_top, "%"))
                    .with("linear", level_text(curve, line.map_or(0.0, |l| l.level_max))),
            );
        }
    }
    out
}

/// Values of a row's quantity with what differs from level to level.
fn values<'a>(
    levels: &'a [Level<'_>],
    id: &'a str,
) -> impl Iterator<Item = (&'a Level<'a>, &'a Quantity, f64, f64)> {
    levels.iter().filter_map(move |level| {
        let quantity = quantity(level.scan, id).filter(|q| !q.lower_bound)?;
        Some((level, quantity, quantity.outcome.clone().ok()?, apart(quantity)?))
    })
}

/// Levels to which the drive came back with another pressure.
fn of_returns(levels: &[Level<'_>], curve: &DriveCurve) -> Vec<Finding> {
    let mut out = Vec::new();
    for (id, symbol) in [("pc", "p_{c}"), ("pr", "p_{r}")] {
        // At one range: another range has its own errors, see the joins.
        let mut ranges: Vec<Option<&str>> =
            levels.iter().map(|level| level.scan.range.as_deref()).collect();
        ranges.sort();
        ranges.dedup();
        for range in ranges {
            let rows: Vec<(f64, f64, f64)> = values(levels, id)
                .filter(|(level, ..)| level.scan.range.as_deref() == range)
                .filter_map(|(level, _, value, u)| Some((level.scan.level?, value, u)))
                .collect();
            for back in returns(&rows).into_iter().filter(|back| back.differs()) {
                out.push(
                    Finding::new(Severity::Caution, "level-return-differs")
                        .with("symbol", symbol)
                        .with("level", level_text(curve, back.level))
                        .with("change", Arg::measure(back.change, "%"))
                        .with("u", Arg::measure(back.u, "%")),
                );
            }
        }
    }
    out
}

/// Steps where the gain range changes.
fn of_joins(levels: &[Level<'_>], curve: &DriveCurve) -> Vec<Finding> {
    let points: Vec<RangedPoint<'_>> = values(levels, "pr")
        .filter_map(|(level, quantity, value, u)| {
            let range = level.scan.range.as_deref()?;
            let budget = quantity.uncertainty.as_ref().ok();
            // What the range itself adds: its gain and its calibration.
            let own: f64 = budget.map_or(0.0, |budget| {
                let of = |line: &&crate::base::budget::Line| {
                    line.common && matches!(line.source.as_str(), "gain" | "calibration")
                };
                budget.lines.iter().filter(of).map(|line| line.contribution.powi(2)).sum()
            });
            Some(RangedPoint { range, level: level.scan.level?, value, u: (u * u + own).sqrt() })
        })
        .collect();
    joins(&points)
        .into_iter()
        .map(|join| match join {
            Ok(join) => {
                let (severity, code) = if join.differs() {
                    (Severity::Caution, "range-join-differs")
                } else {
                    (Severity::Note, "range-join-agrees")
                };
                Finding::new(severity, code)
                    .with("symbol", "p_{r}")
                    .with("first", join.ranges.0.as_str())
                    .with("second", join.ranges.1.as_str())
                    .with("level", level_text(curve, join.level))
                    .with("step", Arg::measure(join.step, "%"))
                    .with("u", Arg::measure(join.u, "%"))
            }
            Err((first, second)) => Finding::new(Severity::Note, "range-join-unchecked")
                .with("first", first.as_str())
                .with("second", second.as_str()),
        })
        .collect()
}

/// What the distortion means for scaling and derating.
fn of_distortion(curve: &DriveCurve) -> Vec<Finding> {
    let of = |row: &DriveRow| row.sigma_q.map(Distortion::of);
    [(Distortion::Strong, "distortion-strong"), (Distortion::Notable, "distortion-notable")]
        .into_iter()
        .find_map(|(class, code)| {
            let first = curve
                .rows
                .iter()
                .filter(|row| of(row).is_some_and(|found| found >= class))
                .min_by(|a, b| a.level.total_cmp(&b.level))?;
            let top = curve.rows.iter().filter_map(|row| row.sigma_q).reduce(f64::max)?;
            let severity =
                if class == Distortion::Strong { Severity::Caution } else { Severity::Note };
            Some(
                Finding::new(severity, code)
                    .with("level", level_text(curve, first.level))
                    .with("sigma", Arg::Number(top)),
            )
        })
        .into_iter()
        .collect()
}
