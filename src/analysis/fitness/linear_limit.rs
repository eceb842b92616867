//! Whether pressures stay where the sensor is linear.

use crate::analysis::assemble::{Evaluated, ScanInput};
use crate::base::finding::{Arg, Finding, Severity};

/// Tells how many points exceed the stated limit: an interferometric sensor compresses there without
/// any plateau, so that the waveform does not show it.
pub fn beyond(input: &ScanInput<'_>, evaluated: &Evaluated) -> Option<Finding> {
    if !input.part.response.is_calibrated() {
        return None;
    }
    let limit = input.setting.record.chain_of(&input.part.entry).linear_limit_pa?;
    let points = || input.points.iter().filter(|p| !p.skipped);
    let count = points().filter(|p| p.pc_pa.max(p.pr_pa) > limit).count();
    let focal = evaluated.focal.as_ref().map_or(0.0, |wave| wave.pc.0.max(wave.pr.0));
    let largest = points().map(|p| p.pc_pa.max(p.pr_pa)).fold(focal, f64::max);
    (largest > limit).then(|| {
        input
            .finding(Severity::Unfit, "beyond-linear-limit")
            .with("points", count.max(1))
            .with("all", input.points.len())
            .with("found", Arg::measure(largest, "Pa"))
            .with("limit", Arg::measure(limit, "Pa"))
    })
}
