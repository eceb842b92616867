//! Where the steady part of the burst stands in a trace, and the quiet part before it.

use super::watched::Watched;
use crate::analysis::prepare::PreparedScan;
use crate::analysis::survey::burst;
use crate::base::error::Problem;
use crate::drive::bubble_signature::FEWEST_CYCLES;
use crate::record::{ExcitationMode, Record};

/// Most shots among which the loudest is looked for.
const MOST_SHOTS: usize = 16;
/// A burst stands out whose rms is this many times that of the quiet part.
const STANDS_OUT: f64 = 4.0;
/// Periods left out at either end of a burst that is found in the trace, and part of it.
const END_PERIODS: f64 = 4.0;
const END_PART: f64 = 0.1;

/// Steady part of the burst and quiet part, s on the trace's own time axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placed {
    pub burst_s: (f64, f64),
    pub quiet_s: Option<(f64, f64)>,
}

/// The part of the burst as the traces of a monitor show it: in the loudest of some shots at the highest
/// level, since a detector elsewhere hears the burst at another time than the sensor. `None` where it does
/// not stand out, as in a trace that lies within the burst.
///
/// # Errors
/// When the file cannot be read.
pub fn heard(record: &Record, all: &[&Watched<'_>]) -> Result<Option<Placed>, Problem> {
    let level = |w: &Watched<'_>| w.level.unwrap_or(f64::NEG_INFINITY);
    let Some(top) = all.iter().max_by(|a, b| level(a).total_cmp(&level(b))) else {
        return Ok(None);
    };
    let scan = &top.trace.scan;
    let Some(f) = top.plan.frequency_hz else { return Ok(None) };
    let period = 1.0 / (f * scan.interval_s);
    let at_s = |i: usize| scan.t0(0) + i as f64 * scan.interval_s;
    if record.excitation.mode == Some(ExcitationMode::Cw) {
        return Ok(Some(Placed { burst_s: (at_s(0), at_s(scan.samples)), quiet_s: None }));
    }
    let numbers = scan.read(0, scan.points().min(MOST_SHOTS))?.to_f64();
    let found = numbers
        .chunks_exact(scan.samples)
        .filter_map(|shot| Some((shot, burst::find(shot, period)?)))
        .max_by(|a, b| a.1.loud_rms.total_cmp(&b.1.loud_rms))
        .filter(|(_, b)| b.loud_rms > STANDS_OUT * b.quiet_rms);
    let Some((shot, burst)) = found else { return Ok(None) };
    // Echoes after the drive's end are no burst.
    let driven = record.excitation.cycles.map_or(f64::INFINITY, |cycles| cycles * period);
    let length = ((burst.stop - burst.start) as f64).min(driven);
    let ends = (END_PERIODS * period).max(END_PART * length);
    let start = burst.start as f64;
    let gate = burst.start.saturating_sub((2.0 * period).ceil() as usize);
    let in_s = |i: f64| scan.t0(0) + i * scan.interval_s;
    let quiet = burst::quiet_part(shot, gate, period).range;
    Ok(Some(Placed {
        burst_s: (in_s(start + ends), in_s((start + length - ends).max(start + ends))),
        quiet_s: quiet.map(|(a, b)| (at_s(a), at_s(b))),
    }))
}

/// The same from the windows of the scan: its steady window, else its pulse without the ends.
pub fn planned(watched: &Watched<'_>) -> Option<Placed> {
    let (scan, plan) = (&watched.scan.scan, watched.plan);
    let in_s = |i: f64| scan.t0(plan.reference_point) + i * scan.interval_s;
    let ends = (END_PERIODS + 2.0) / (plan.frequency_hz? * scan.interval_s);
    let (a, b) = plan.windows.steady.unwrap_or_else(|| {
        let (a, b) = plan.windows.pulse;
        (a as f64 + ends, (b as f64 - ends).max(a as f64 + ends))
    });
    let quiet = plan.windows.baseline;
    Some(Placed {
        burst_s: (in_s(a), in_s(b)),
        quiet_s: quiet.map(|(a, b)| (in_s(a as f64), in_s(b as f64))),
    })
}

/// Samples of a trace that lie in a window, s.
pub fn samples(trace: &PreparedScan, window_s: (f64, f64)) -> Option<(usize, usize)> {
    let scan = &trace.scan;
    let at = |t: f64| (t - scan.t0(0)) / scan.interval_s;
    let start = (at(window_s.0) - 1e-6).ceil().max(0.0) as usize;
    let stop = ((at(window_s.1) + 1e-6).floor().max(0.0) as usize).min(scan.samples);
    (start < stop).then_some((start, stop))
}

/// Whether a window of that length holds enough cycles.
pub fn long_enough(length_s: f64, frequency_hz: f64) -> bool {
    length_s * frequency_hz >= FEWEST_CYCLES
}
