//! What a trace without bubbles looks like.

use super::seen::Seen;
use crate::base::finding::{Arg, Finding, Severity};
use crate::drive::bubble_signature::Signature;

/// Part of the levels, from the lowest, that gives the baseline.
const OF_LEVELS: usize = 4;
/// Fewest shots of which the median serves as their own baseline.
const FEWEST_SHOTS: usize = 8;

/// A baseline, and the scans whose shots gave it.
#[derive(Debug, Clone, PartialEq)]
pub struct Baseline {
    pub signature: Signature,
    pub scans: Vec<String>,
}

/// What was seen with the same means: by the monitor or by the sensor itself, at one range, with one
/// sampling interval.
pub fn groups<'a, 'b>(seen: &'b [Seen<'a>]) -> Vec<Vec<&'b Seen<'a>>> {
    let key = |one: &Seen<'_>| {
        let trace = one.watched.trace;
        (one.watched.monitor, trace.entry.range.clone(), trace.scan.interval_s.to_bits())
    };
    let mut out: Vec<Vec<&Seen<'_>>> = Vec::new();
    for one in seen {
        match out.iter_mut().find(|group| group.first().is_some_and(|f| key(f) == key(one))) {
            Some(group) => group.push(one),
            None => out.push(vec![one]),
        }
    }
    out
}

/// The baseline of each of a group: of all the median over the shots at the lowest quarter of the levels (at
/// least one); with a single level the quiet part before the burst, else the median of a scan's own shots.
pub fn of(
    group: &[&Seen<'_>],
    threshold_db: f64,
    findings: &mut Vec<Finding>,
) -> Vec<Option<Baseline>> {
    let mut levels: Vec<f64> = group.iter().filter_map(|one| one.watched.level).collect();
    levels.sort_by(f64::total_cmp);
    levels.dedup();
    if levels.len() > 1 {
        let last = levels[(levels.len() / OF_LEVELS).max(1) - 1];
        let low: Vec<&Seen<'_>> = group
            .iter()
            .copied()
            .filter(|one| one.watched.level.is_some_and(|level| level <= last))
            .collect();
        let shots: Vec<Signature> = low.iter().flat_map(|one| one.shots.iter().copied()).collect();
        if let Some(signature) = Signature::median(&shots) {
            let scans = low.iter().map(|one| one.watched.scan.scan.id.clone()).collect();
            findings.extend(high(&low, &signature, threshold_db));
            return vec![Some(Baseline { signature, scans }); group.len()];
        }
    }
    group.iter().map(|one| alone(one, findings)).collect()
}

/// The finding on a baseline that itself stands over the quiet part by the threshold.
fn high(low: &[&Seen<'_>], baseline: &Signature, threshold_db: f64) -> Option<Finding> {
    let quiet: Vec<Signature> = low.iter().filter_map(|one| one.quiet).collect();
    let signs = baseline.over(&Signature::median(&quiet)?, threshold_db);
    let first = low.first()?;
    signs.marked.then(|| {
        Finding::new(Severity::Caution, "bubble-baseline-high")
            .in_scan(&first.watched.scan.scan.id)
            .with("found", Arg::measure(signs.noise_db.max(signs.lines_db), "dB"))
    })
}

fn alone(one: &Seen<'_>, findings: &mut Vec<Finding>) -> Option<Baseline> {
    let id = &one.watched.scan.scan.id;
    let scans = vec![id.clone()];
    if let Some(signature) = one.quiet {
        return Some(Baseline { signature, scans });
    }
    if one.shots.len() < FEWEST_SHOTS {
        findings.push(Finding::new(Severity::Note, "bubble-no-baseline").in_scan(id));
        return None;
    }
    findings.push(Finding::new(Severity::Note, "bubble-baseline-own").in_scan(id));
    Signature::median(&one.shots).map(|signature| Baseline { signature, scans })
}
