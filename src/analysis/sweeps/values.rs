//! Quantities of a sweep as a whole.

use super::Level;
use super::budget::{Added, following};
use super::curve::abscissa;
use super::rows::{quantity, value};
use crate::analysis::prepare::Prepared;
use crate::analysis::results::{Picture, ScanResult};
use crate::base::budget::source::{LINE_FIT, POWER_RATIO};
use crate::base::drive::{DriveCurve, DriveLine, DriveRow, Scaling};
use crate::base::quantity::{Quantity, Reason};
use crate::base::typed_unit;
use crate::drive::abscissa::Abscissa;
use crate::drive::linear_part::FEWEST_LEVELS;
use crate::drive::linear_scaling::PowerRatio;
use crate::record::Record;

/// Relative half-width of a drive's amplitude where nothing is stated. Common practice, no source.
const DRIVE: f64 = 0.01;

/// Quantities in the order of the catalogue; notes the scaling in the curve.
pub fn quantities(
    prepared: &Prepared,
    scans: &[ScanResult],
    levels: &[Level<'_>],
    curve: &mut DriveCurve,
) -> Vec<Quantity> {
    let record = &prepared.record;
    let mut out = vec![
        slope("pc_slope", "pc", record, levels, curve, curve.pc_line),
        slope("pr_slope", "pr", record, levels, curve, curve.pr_line),
        Quantity::from_outcome("level_linear_max", linear_max(record, curve)).by("linear-levels"),
        without_bubbles(curve),
        at_top("sigma_q", curve, |row| row.sigma_q, "device.source_area_m2"),
        at_top("sigma_m", curve, |row| row.sigma_m, "device.radius_of_curvature_m"),
    ];
    let scaling = scaling(record, curve);
    if let Ok((scaling, _)) = &scaling {
        curve.scaling = Some(scaling.clone());
    }
    let low = scaling.as_ref().ok().and_then(|(s, _)| levels.iter().find(|l| l.scan.id == s.scan));
    let scaled = |id: &'static str, of: &str, power: f64| {
        let (scaling, method) = match &scaling {
            Ok(found) => found,
            Err(reason) => return Quantity::missing(id, reason.clone()),
        };
        match low.and_then(|level| quantity(level.scan, of)) {
            Some(like) => carried(id, like, power, scaling, method, record),
            None => Quantity::missing(id, Reason::new("no-pulse")),
        }
    };
    out.push(scaled("i_on_lin", "i_on", 1.0));
    out.push(of_plane(record, scans, curve));
    out.push(scaled("p1_lin", "p1", 0.5));
    out
}

/// Why there is no line.
fn no_line(record: &Record, curve: &DriveCurve) -> Reason {
    if let Err(reason) = Abscissa::of(record.excitation.level_kind) {
        return reason;
    }
    let mut levels: Vec<f64> = curve.rows.iter().map(|row| row.level).collect();
    levels.sort_by(f64::total_cmp);
    levels.dedup();
    Reason::new(if levels.len() < FEWEST_LEVELS { "too-few-levels" } else { "no-linear-part" })
}

fn slope(
    id: &'static str,
    of: &str,
    record: &Record,
    levels: &[Level<'_>],
    curve: &DriveCurve,
    line: Option<DriveLine>,
) -> Quantity {
    let Some(line) = line else { return Quantity::missing(id, no_line(record, curve)) };
    let top = levels.iter().find(|level| level.scan.level == Some(line.level_max));
    let mut out = Quantity::value(id, line.slope).by("weighted-line");
    if let Some(like) = top.and_then(|level| quantity(level.scan, of)) {
        let added = Added {
            source: LINE_FIT,
            u: line.u_slope,
            unit: "Pa/level",
            sensitivity: 1.0,
            nu: Some(line.points.saturating_sub(2) as f64).filter(|nu| *nu > 0.0),
            common: false,
            from: "residual",
        };
        out.uncertainty = following(line.slope, like, 1.0, true, added, record.decision.coverage);
    }
    out
}

/// Highest level at which both peak pressures are on their lines.
fn linear_max(record: &Record, curve: &DriveCurve) -> Result<f64, Reason> {
    match (curve.pc_line, curve.pr_line) {
        (Some(pc), Some(pr)) => Ok(pc.level_max.min(pr.level_max)),
        _ => Err(no_line(record, curve)),
    }
}

/// Highest level below the lowest one at which a shot is marked.
fn without_bubbles(curve: &DriveCurve) -> Quantity {
    let id = "level_no_bubble_signature_max";
    let watched: Vec<(&DriveRow, f64)> =
        curve.rows.iter().filter_map(|row| Some((row, row.bubble_fraction?))).collect();
    if watched.is_empty() {
        return Quantity::missing(id, Reason::new("no-monitor"));
    }
    let lowest_marked =
        watched.iter().filter(|(_, part)| *part > 0.0).map(|(row, _)| row.level).reduce(f64::min);
    let calm = watched.iter().map(|(row, _)| row.level);
    let highest = calm.filter(|level| lowest_marked.is_none_or(|m| *level < m)).reduce(f64::max);
    let outcome = highest.ok_or_else(|| Reason::new("bubbles-at-lowest"));
    let quantity = Quantity::from_outcome(id, outcome).by("no-signs-of-bubbles");
    Quantity { lower_bound: lowest_marked.is_none() && quantity.outcome.is_ok(), ..quantity }
}

/// The value of the highest level.
fn at_top(
    id: &'static str,
    curve: &DriveCurve,
    of: fn(&DriveRow) -> Option<f64>,
    blank: &str,
) -> Quantity {
    let rows = curve.rows.iter().filter(|row| of(row).is_some());
    let top = rows.max_by(|a, b| a.level.total_cmp(&b.level)).and_then(of);
    let missing = || match curve.rows.is_empty() {
        true => Reason::new("no-pulse"),
        false => Reason::blank(blank),
    };
    Quantity::from_outcome(id, top.ok_or_else(missing)).by("highest-level")
}

/// A measured power at a level with its relative standard uncertainty: the radiation force balance.
fn power_at(record: &Record, level: f64) -> Option<(f64, f64)> {
    record.readings.iter().find_map(|reading| {
        let own = reading.level.or(record.excitation.level)?;
        let fits = reading.quantity == "power_rfb" && same(own, level);
        let factor = typed_unit::factor("W", reading.unit.as_deref().unwrap_or("W"))?;
        let value = reading.value * factor;
        let u = reading.uncertainty.as_ref().map_or(0.0, |u| {
            if u.relative { u.standard(1.0) } else { u.standard(1.0) / reading.value.abs() }
        });
        (fits && value > 0.0).then_some((value, u))
    })
}

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * b.abs()
}

/// The ratio of powers between two levels: of readings where both have one, else of the drive.
fn ratio(record: &Record, low: f64, target: f64) -> Option<(PowerRatio, &'static str)> {
    if let (Some(a), Some(b)) = (power_at(record, low), power_at(record, target)) {
        return PowerRatio::of_powers(a, b, 0.0).map(|ratio| (ratio, "power-readings"));
    }
    let stated = record.excitation.u_drive.as_ref().filter(|u| u.relative);
    let u = stated.map_or(DRIVE / 3f64.sqrt(), |u| u.standard(1.0));
    let of_drive = abscissa(record)?.power_ratio(low, target)?;
    Some((PowerRatio::of_drive(of_drive, u), "drive-amplitudes"))
}

/// Level aimed at: that of the stated exposure, else the highest of the sweep.
fn target(record: &Record, curve: &DriveCurve) -> Option<f64> {
    let stated = record.exposure.as_ref().and_then(|exposure| exposure.level);
    stated.or_else(|| curve.rows.iter().map(|row| row.level).reduce(f64::max))
}

fn scaling(record: &Record, curve: &DriveCurve) -> Result<(Scaling, &'static str), Reason> {
    let linear = linear_max(record, curve)?;
    let target = target(record, curve).ok_or_else(|| Reason::new("too-few-levels"))?;
    let below = |row: &&DriveRow| row.level <= linear && row.level < target && row.level > 0.0;
    let rows = || curve.rows.iter().filter(below).filter(|row| row.pc_pa.is_some());
    let highest = |rows: &mut dyn Iterator<Item = &DriveRow>| -> Option<DriveRow> {
        // Of a level that came again the first measurement.
        rows.reduce(|best, row| if row.level > best.level { row } else { best }).cloned()
    };
    let read = power_at(record, target)
        .and_then(|_| highest(&mut rows().filter(|row| power_at(record, row.level).is_some())));
    let low = read
        .or_else(|| highest(&mut rows()))
        .ok_or_else(|| Reason::new("no-linear-level-below"))?;
    let (found, from) =
        ratio(record, low.level, target).ok_or_else(|| Reason::new("level-kind-unknown"))?;
    let method = method(from);
    let scaling = Scaling {
        scan: low.scan,
        level: low.level,
        target,
        ratio: found.ratio,
        u_relative: found.u,
        from: from.to_owned(),
    };
    Ok((scaling, method))
}

fn method(from: &str) -> &'static str {
    if from == "power-readings" { "scaled-by-powers" } else { "scaled-by-drive" }
}

/// A value of a linear level carried to the level aimed at: times Gᵖ.
fn carried(
    id: &'static str,
    like: &Quantity,
    power: f64,
    scaling: &Scaling,
    method: &'static str,
    record: &Record,
) -> Quantity {
    let outcome = like.outcome.clone().map(|before| before * scaling.ratio.powf(power));
    let mut out = Quantity { time_base: like.time_base, ..Quantity::from_outcome(id, outcome) };
    out.window = like.window;
    if let Ok(value) = out.outcome {
        let added = Added {
            source: POWER_RATIO,
            u: scaling.u_relative,
            unit: "1",
            sensitivity: power * value,
            nu: None,
            common: true,
            from: if scaling.from == "power-readings" { "readings" } else { "excitation.u_drive" },
        };
        out.uncertainty = following(value, like, 1.0, false, added, record.decision.coverage);
    }
    out.by(method)
}

/// `isal_lin`: the spatial average of the plane whose wave is linear, carried to the level aimed at.
fn of_plane(record: &Record, scans: &[ScanResult], curve: &DriveCurve) -> Quantity {
    let id = "isal_lin";
    let Some(target) = target(record, curve) else {
        return Quantity::missing(id, Reason::new("too-few-levels"));
    };
    let planes = scans.iter().filter(|scan| matches!(scan.picture, Picture::Plane(_)));
    let linear = planes.filter(|scan| value(scan, "isal").is_some());
    let below = linear.filter(|scan| scan.level.is_some_and(|level| level > 0.0 && level < target));
    let nearest = below.max_by(|a, b| a.level.unwrap_or(0.0).total_cmp(&b.level.unwrap_or(0.0)));
    let found = nearest.and_then(|scan| {
        let level = scan.level?;
        let (ratio, from) = ratio(record, level, target)?;
        let scaling = Scaling {
            scan: scan.id.clone(),
            level,
            target,
            ratio: ratio.ratio,
            u_relative: ratio.u,
            from: from.to_owned(),
        };
        Some(carried(id, quantity(scan, "isal")?, 1.0, &scaling, method(from), record))
    });
    found.unwrap_or_else(|| Quantity::missing(id, Reason::new("no-linear-plane")))
}
