//! A level of a sweep as a row.

use super::Level;
use crate::analysis::results::ScanResult;
use crate::base::budget::source::{NOISE, NOISE_BIAS, SHOTS};
use crate::base::drive::DriveRow;
use crate::base::quantity::Quantity;
use crate::drive::front_rise::front_rise_s;

/// Relative standard uncertainty from level to level where nothing shows one. Common practice, no source.
const UNKNOWN: f64 = 0.01;

/// A quantity of a scan.
pub fn quantity<'a>(scan: &'a ScanResult, id: &str) -> Option<&'a Quantity> {
    scan.quantities.iter().find(|q| q.id == id)
}

/// Value of a quantity of a scan.
pub fn value(scan: &ScanResult, id: &str) -> Option<f64> {
    quantity(scan, id)?.outcome.clone().ok()
}

/// Standard uncertainty of what differs from one level to the next: the budget's, else what the shots and
/// the noise show.
pub fn apart(quantity: &Quantity) -> Option<f64> {
    let value = quantity.outcome.clone().ok()?.abs();
    if let Ok(budget) = &quantity.uncertainty
        && budget.u_repeatability > 0.0
    {
        return Some(budget.u_repeatability);
    }
    let part = |id: &str| quantity.sensitivities.get(id).map_or(0.0, |v| v * v);
    let own =
        (part(SHOTS) + part(NOISE_BIAS) + if part(SHOTS) > 0.0 { 0.0 } else { part(NOISE) }).sqrt();
    Some(if own > 0.0 { own } else { UNKNOWN * value })
}

/// The row of a level; `None` without a level.
pub fn row(level: &Level<'_>) -> Option<DriveRow> {
    let scan = level.scan;
    let of = |id: &str| value(scan, id);
    let pc = quantity(scan, "pc");
    let pr = quantity(scan, "pr");
    let expanded =
        |q: Option<&Quantity>| q.and_then(|q| q.uncertainty.as_ref().ok()).map(|b| b.u_expanded);
    let monitor = level.signs.filter(|signs| signs.monitor.is_some());
    let rise = scan.focal.as_ref().and_then(|wave| {
        let sample = |t: f64| ((t - wave.t0_s) / wave.interval_s).round().max(0.0) as usize;
        let window = wave.steady.unwrap_or(wave.pulse);
        front_rise_s(&wave.p_pa, (sample(window.start_s), sample(window.stop_s)), wave.interval_s)
    });
    const HARMONICS: [&str; 9] = ["h2", "h3", "h4", "h5", "h6", "h7", "h8", "h9", "h10"];
    Some(DriveRow {
        scan: scan.id.clone(),
        level: scan.level?,
        range: scan.range.clone(),
        shots: scan.points,
        used: scan.points.saturating_sub(scan.excluded.len()),
        bubble_fraction: monitor.map(|signs| signs.fraction()),
        pc_pa: of("pc"),
        u_pc_pa: pc.and_then(apart),
        u_expanded_pc_pa: expanded(pc),
        pr_pa: of("pr"),
        u_pr_pa: pr.and_then(apart),
        u_expanded_pr_pa: expanded(pr),
        ppsi_pa2_s: of("ppsi"),
        p1_pa: of("p1"),
        harmonics: HARMONICS.iter().map(|id| of(id)).collect(),
        thd: of("thd"),
        nep_pa: of("nep"),
        front_rise_s: rise,
        sigma_q: None,
        sigma_m: None,
        shock_distance_m: None,
        lower_bound: pc.is_some_and(|q| q.lower_bound) || pr.is_some_and(|q| q.lower_bound),
    })
}
