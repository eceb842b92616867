//! Whose traces are looked at, and beside which scan.

use crate::analysis::prepare::{Prepared, PreparedScan};
use crate::analysis::survey::{Plan, ScanPlan};
use crate::base::finding::{Arg, Finding, Severity};
use crate::record::Role;

/// Sampling intervals closer than this, relative, are the same.
const SAME_INTERVAL: f64 = 1e-6;

/// A scan with the traces in which its shots are looked at.
#[derive(Clone, Copy)]
pub struct Watched<'a> {
    pub scan: &'a PreparedScan,
    pub plan: &'a ScanPlan,
    /// The monitor's, or the scan itself.
    pub trace: &'a PreparedScan,
    pub monitor: bool,
    pub level: Option<f64>,
}

/// The scans that have a monitor beside them. The scans of one entry stand beside those of the other in
/// their order; shots, too.
pub fn monitored<'a>(
    prepared: &'a Prepared,
    plan: &'a Plan,
    findings: &mut Vec<Finding>,
) -> Vec<Watched<'a>> {
    let record = &prepared.record;
    let mut out = Vec::new();
    for (index, entry) in record.scans.iter().enumerate() {
        let traces: Vec<&PreparedScan> =
            prepared.monitors.iter().filter(|part| part.index == index).collect();
        if traces.is_empty() {
            continue;
        }
        let told = |code: &str| Finding::new(Severity::Caution, code).in_scan(&entry.id);
        let sweeps = || record.scans.iter().filter(|scan| scan.role == Role::Sweep);
        let beside = match &entry.beside {
            Some(id) => Some(id.as_str()),
            None => sweeps().next().filter(|_| sweeps().count() == 1).map(|scan| scan.id.as_str()),
        };
        let beside = beside.and_then(|id| record.scans.iter().position(|scan| scan.id == id));
        let scans: Vec<(&PreparedScan, &ScanPlan)> = prepared
            .scans
            .iter()
            .zip(&plan.scans)
            .filter(|(part, _)| Some(part.index) == beside)
            .collect();
        if scans.is_empty() {
            findings.push(told("monitor-beside-nothing").at(&format!("scans[{index}].beside")));
            continue;
        }
        if scans.len() != traces.len() {
            findings.push(
                told("monitor-levels-differ")
                    .with("found", traces.len())
                    .with("expected", scans.len()),
            );
            continue;
        }
        for (trace, (scan, plan)) in traces.into_iter().zip(scans) {
            let (own, other) = (trace.scan.interval_s, scan.scan.interval_s);
            if (own / other - 1.0).abs() > SAME_INTERVAL {
                findings.push(
                    Finding::new(Severity::Note, "monitor-own-time-base")
                        .in_scan(&entry.id)
                        .with("found", Arg::measure(own, "s"))
                        .with("expected", Arg::measure(other, "s")),
                );
            }
            if trace.scan.points() != scan.scan.points() {
                findings.push(
                    Finding::new(Severity::Caution, "monitor-shots-differ")
                        .in_scan(&trace.scan.id)
                        .with("found", trace.scan.points())
                        .with("expected", scan.scan.points())
                        .with("beside", scan.scan.id.as_str()),
                );
                continue;
            }
            let level = record.level_of(&scan.entry);
            out.push(Watched { scan, plan, trace, monitor: true, level });
        }
    }
    out
}

/// The sweeps without a monitor, each with its own traces.
pub fn own<'a>(
    prepared: &'a Prepared,
    plan: &'a Plan,
    monitored: &[Watched<'_>],
) -> Vec<Watched<'a>> {
    let has_none =
        |part: &PreparedScan| monitored.iter().all(|other| other.scan.scan.id != part.scan.id);
    prepared
        .scans
        .iter()
        .zip(&plan.scans)
        .filter(|(part, _)| part.scan.role == Role::Sweep && has_none(part))
        .map(|(scan, plan)| {
            let level = prepared.record.level_of(&scan.entry);
            Watched { scan, plan, trace: scan, monitor: false, level }
        })
        .collect()
}
