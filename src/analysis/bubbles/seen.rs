//! Signatures of the shots.

use std::collections::BTreeMap;

use super::placed::{self, Placed};
use super::watched::Watched;
use crate::base::error::Problem;
use crate::base::finding::{Finding, Severity};
use crate::drive::bubble_signature::{Signature, SignatureReader};
use crate::record::Record;

/// Most shots of a scan that are looked at.
const MOST_SHOTS: usize = 1024;
/// Shots that are read at a time.
const AT_A_TIME: usize = 64;
/// Longest stretch of a burst that is transformed at once, cycles, and the most such stretches; where a
/// burst is longer they are spread over it.
const STRETCH_CYCLES: f64 = 256.0;
const MOST_STRETCHES: usize = 8;
/// Highest frequency re that of Nyquist.
const OF_NYQUIST: f64 = 0.9;

/// What was seen in the traces of a scan.
pub struct Seen<'a> {
    pub watched: Watched<'a>,
    pub shots: Vec<Signature>,
    /// Median over the quiet parts; none where they are too short.
    pub quiet: Option<Signature>,
    pub band_hz: (f64, f64),
}

/// The signatures of all; what could not be looked at is told.
///
/// # Errors
/// When a file cannot be read.
pub fn all<'a>(
    record: &Record,
    all: &[Watched<'a>],
    findings: &mut Vec<Finding>,
) -> Result<Vec<Seen<'a>>, Problem> {
    let mut heard: BTreeMap<usize, Option<Placed>> = BTreeMap::new();
    for one in all.iter().filter(|w| w.monitor) {
        let index = one.trace.index;
        if let std::collections::btree_map::Entry::Vacant(slot) = heard.entry(index) {
            let same: Vec<&Watched<'_>> =
                all.iter().filter(|w| w.monitor && w.trace.index == index).collect();
            slot.insert(placed::heard(record, &same)?);
        }
    }
    let mut out = Vec::new();
    for watched in all {
        let heard = heard.get(&watched.trace.index).copied().flatten().filter(|_| watched.monitor);
        let Some(placed) = heard.or_else(|| placed::planned(watched)) else { continue };
        out.extend(one(record, *watched, &placed, findings)?);
    }
    Ok(out)
}

fn one<'a>(
    record: &Record,
    watched: Watched<'a>,
    placed: &Placed,
    findings: &mut Vec<Finding>,
) -> Result<Option<Seen<'a>>, Problem> {
    let scan = &watched.trace.scan;
    let Some(f) = watched.plan.frequency_hz else { return Ok(None) };
    // Of the entry: what holds for one of its levels mostly holds for all.
    let entry = record.scans.get(watched.trace.index).map_or(scan.id.as_str(), |e| e.id.as_str());
    let mut told = |severity: Severity, code: &str| {
        findings.push(Finding::new(severity, code).in_scan(entry).with("all", scan.points()));
    };
    if !placed::long_enough(placed.burst_s.1 - placed.burst_s.0, f) {
        told(Severity::Note, "bubble-burst-short");
        return Ok(None);
    }
    let held = placed::samples(watched.trace, placed.burst_s)
        .filter(|(a, b)| placed::long_enough((b - a + 1) as f64 * scan.interval_s, f));
    let Some(window) = held else {
        told(Severity::Caution, "monitor-without-burst");
        return Ok(None);
    };
    let highest = highest_hz(record, &watched);
    let Some(mut burst) = Stretches::new(window, scan.interval_s, f, highest) else {
        told(Severity::Note, "bubble-band-narrow");
        return Ok(None);
    };
    let quiet = placed.quiet_s.and_then(|quiet| placed::samples(watched.trace, quiet));
    let mut quiet = quiet.and_then(|w| Stretches::new(w, scan.interval_s, f, highest));
    let count = scan.points().min(MOST_SHOTS);
    if count < scan.points() {
        told(Severity::Note, "bubble-shots-left");
    }
    let (mut shots, mut calm) = (Vec::with_capacity(count), Vec::new());
    for first in (0..count).step_by(AT_A_TIME) {
        let numbers = scan.read(first, AT_A_TIME.min(count - first))?.to_f64();
        for shot in numbers.chunks_exact(scan.samples) {
            let volts: Vec<f64> = shot
                .iter()
                .map(|v| if v.is_finite() { v * scan.volts.volts_per_count } else { 0.0 })
                .collect();
            shots.push(burst.read(&volts));
            calm.extend(quiet.as_mut().map(|quiet| quiet.read(&volts)));
        }
    }
    let band_hz = burst.reader.band_hz();
    Ok(Some(Seen { watched, shots, quiet: Signature::median(&calm), band_hz }))
}

/// Where the band ends: below Nyquist, and for the sensor's own traces where a stated low-pass or the table
/// of its response ends.
fn highest_hz(record: &Record, watched: &Watched<'_>) -> f64 {
    let nyquist = OF_NYQUIST * 0.5 / watched.trace.scan.interval_s;
    if watched.monitor {
        return nyquist;
    }
    let table = watched.trace.response.as_table().map_or(f64::INFINITY, |t| t.band_hz().1);
    let filter = record.analysis.lowpass.filter().map_or(f64::INFINITY, |f| f.cutoff_hz);
    nyquist.min(table).min(filter)
}

/// Stretches of whole cycles of a window, each transformed by itself.
struct Stretches {
    reader: SignatureReader,
    starts: Vec<usize>,
    length: usize,
}

impl Stretches {
    fn new(window: (usize, usize), interval_s: f64, f: f64, highest_hz: f64) -> Option<Self> {
        let period = 1.0 / (f * interval_s);
        let all = window.1 - window.0;
        let cycles = ((all as f64 + 0.5) / period).floor();
        let count = ((cycles / STRETCH_CYCLES).ceil().max(1.0) as usize).min(MOST_STRETCHES);
        let own = (cycles / count as f64).floor().min(STRETCH_CYCLES);
        // A cycle is not quite so many samples.
        let length = ((own * period).round() as usize).min(all);
        let reader = SignatureReader::new(length, interval_s, f, highest_hz)?;
        let free = all - length;
        let starts = (0..count).map(|i| window.0 + i * free / (count - 1).max(1)).collect();
        Some(Self { reader, starts, length })
    }

    /// Mean over the stretches.
    fn read(&mut self, volts: &[f64]) -> Signature {
        let n = self.starts.len().max(1) as f64;
        let mut sum = Signature { noise: 0.0, lines: 0.0 };
        for start in &self.starts {
            let found = self.reader.read(volts.get(*start..start + self.length).unwrap_or(&[]));
            sum.noise += found.noise / n;
            sum.lines += found.lines / n;
        }
        sum
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 1 MHz at 50 samples a cycle.
    #[test]
    fn stretches_of_whole_cycles() {
        let of = |window| Stretches::new(window, 2e-8, 1e6, 2e7);
        let short = of((100, 100 + 1520)).expect("30 cycles");
        assert_eq!((short.starts.as_slice(), short.length), (&[100][..], 1500));
        // 600 cycles: three of 200; 5000 cycles: eight of 256, from the first sample to the last.
        let long = of((0, 30_000)).expect("600 cycles");
        assert_eq!((long.starts.as_slice(), long.length), (&[0, 10_000, 20_000][..], 10_000));
        let very = of((7, 250_007)).expect("5000 cycles");
        assert_eq!((very.starts.len(), very.length), (8, 12_800));
        assert_eq!((very.starts[0], very.starts[7] + very.length), (7, 250_007));
        assert!(of((0, 900)).is_none());
    }
}
