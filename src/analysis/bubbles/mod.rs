//! Signs of bubbles beside the shots of scans.
//!
//! ```text
//! monitors, sweeps ─ watched (whose traces, beside what) ─ placed (burst, quiet part)
//!                      ─ seen (signatures) ─ baseline ─ signs, remarks
//! ```

mod baseline;
mod placed;
mod remarks;
mod seen;
mod watched;

use super::prepare::Prepared;
use super::survey::Plan;
use crate::base::bubbles::{BubbleSigns, ShotSigns};
use crate::base::error::Problem;
use crate::base::finding::Finding;

/// Signs of bubbles in all scans that have a monitor beside them, and in sweeps without one.
///
/// # Errors
/// When a file cannot be read.
pub fn evaluate(
    prepared: &Prepared,
    plan: &Plan,
    findings: &mut Vec<Finding>,
) -> Result<Vec<BubbleSigns>, Problem> {
    let threshold_db = prepared.record.analysis.bubbles.threshold_db;
    let mut found = Vec::new();
    let mut all = watched::monitored(prepared, plan, &mut found);
    let own = watched::own(prepared, plan, &all);
    all.extend(own);
    let seen = seen::all(&prepared.record, &all, &mut found)?;
    let mut out = Vec::new();
    for group in baseline::groups(&seen) {
        let baselines = baseline::of(&group, threshold_db, &mut found);
        for (one, baseline) in group.into_iter().zip(baselines) {
            let Some(baseline) = baseline else { continue };
            let over = |s: &crate::drive::bubble_signature::Signature| {
                s.over(&baseline.signature, threshold_db)
            };
            let shots: Vec<ShotSigns> = one.shots.iter().map(over).collect();
            let signs = BubbleSigns {
                scan: one.watched.scan.scan.id.clone(),
                monitor: one.watched.monitor.then(|| one.watched.trace.scan.id.clone()),
                level: one.watched.level,
                shots,
                band_hz: one.band_hz,
                threshold_db,
                baseline: baseline.scans,
            };
            found.extend(remarks::marked(&signs));
            out.push(signs);
        }
    }
    remarks::merge(found, findings);
    Ok(out)
}
