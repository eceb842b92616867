//! What is to be said of signs of bubbles.

use crate::base::bubbles::BubbleSigns;
use crate::base::finding::{Arg, Finding, Severity};

/// The finding on the marked shots of a scan.
pub fn marked(signs: &BubbleSigns) -> Option<Finding> {
    let marked = signs.shots.iter().filter(|shot| shot.marked);
    let worst = marked.clone().map(|shot| shot.noise_db.max(shot.lines_db)).reduce(f64::max)?;
    let code = if signs.monitor.is_some() { "bubble-signs" } else { "bubble-signs-own" };
    Some(
        Finding::new(Severity::Caution, code)
            .in_scan(&signs.scan)
            .with("marked", marked.count())
            .with("all", signs.shots.len())
            .with("fraction", Arg::measure(signs.fraction(), "%"))
            .with("worst", Arg::measure(worst, "dB"))
            .with("limit", Arg::measure(signs.threshold_db, "dB")),
    )
}

/// Adds findings; what holds for all levels of an entry is told once.
pub fn merge(found: Vec<Finding>, findings: &mut Vec<Finding>) {
    for finding in found {
        if !findings.contains(&finding) {
            findings.push(finding);
        }
    }
}
