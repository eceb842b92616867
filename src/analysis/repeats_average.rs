//! Repeats of one scan: the average of their waveforms at the peak against the mean of their peaks.

use super::prepare::PreparedScan;
use super::results::{FocalWave, ScanResult};
use crate::base::finding::{Arg, Finding, Severity};
use crate::base::quantity::Quantity;
use crate::dsp::statistics::{mean, standard_deviation};
use crate::pulse::repeat_average::repeat_average;

/// Standard uncertainties by which the two may differ: about 95 %.
const COVERAGE: f64 = 2.0;
/// Differences below this part are not told, however sure. Common practice, no source.
const SMALL: f64 = 0.005;

/// Tells when the peaks of the average of the aligned waveforms are not the mean of the peaks of each
/// repeat: the waveform's shape then changes from repeat to repeat.
///
/// Peaks are those of the waveforms at the grid point, with the bias by noise of a single shot undone;
/// u is the scatter of the repeats over the root of their number, and what the average may still have of
/// that bias. Repeats of one array at one level and range are compared that share that point.
pub fn findings(parts: &[PreparedScan], scans: &[ScanResult]) -> Vec<Finding> {
    let mut groups: Vec<(usize, String, Vec<&ScanResult>)> = Vec::new();
    for part in parts {
        let (Some((stem, _)), Some(scan)) = (
            part.scan.id.rsplit_once("-repeat-"),
            scans.iter().find(|scan| scan.id == part.scan.id),
        ) else {
            continue;
        };
        match groups.iter_mut().find(|(index, known, _)| *index == part.index && known == stem) {
            Some((.., group)) => group.push(scan),
            None => groups.push((part.index, stem.to_owned(), vec![scan])),
        }
    }
    groups.iter().filter_map(|(.., group)| compared(group)).collect()
}

fn compared(group: &[&ScanResult]) -> Option<Finding> {
    let waves: Vec<&FocalWave> = group.iter().filter_map(|scan| scan.focal.as_ref()).collect();
    let first = *waves.first()?;
    let alike = waves
        .iter()
        .all(|wave| wave.position_m == first.position_m && wave.interval_s == first.interval_s);
    if waves.len() != group.len() || !alike {
        return None;
    }
    let arrivals: Option<Vec<f64>> = group
        .iter()
        .zip(&waves)
        .map(|(scan, wave)| Some(value(scan, "arrival")? - wave.t0_s))
        .collect();
    let sample = |t: f64| ((t - first.t0_s) / first.interval_s).round().max(0.0) as usize;
    let window = (sample(first.pulse.start_s), sample(first.pulse.stop_s).min(first.p_pa.len()));
    let all: Vec<Vec<f64>> = waves.iter().map(|wave| wave.p_pa.clone()).collect();
    let average = repeat_average(&all, &arrivals?, window, first.interval_s, first.frequency_hz?)?;
    let tell = |id: &str, symbol: &str, peaks: Vec<f64>, averaged: f64| {
        let n = peaks.len() as f64;
        let unbiased: Vec<f64> =
            group.iter().zip(&peaks).map(|(scan, peak)| peak * bias_factor(scan, id)).collect();
        let (middle, scatter) = (mean(&unbiased)?, standard_deviation(&unbiased)?);
        let bias = mean(&peaks)? - middle;
        let u = (scatter / n.sqrt()).hypot(bias / n.sqrt());
        let off = averaged - middle;
        (off.abs() > (COVERAGE * u).max(SMALL * middle)).then(|| {
            Finding::new(Severity::Caution, "repeats-average-differs")
                .in_scan(&group[0].id)
                .on(id)
                .with("symbol", symbol)
                .with("repeats", peaks.len())
                .with("mean", Arg::measure(middle, "Pa"))
                .with("averaged", Arg::measure(averaged, "Pa"))
                .with("u", Arg::measure(u, "Pa"))
        })
    };
    let pc = waves.iter().map(|wave| wave.pc.0).collect();
    let pr = waves.iter().map(|wave| wave.pr.0).collect();
    tell("pc", "p_{c}", pc, average.pc_pa).or_else(|| tell("pr", "p_{r}", pr, average.pr_pa))
}

fn quantity<'a>(scan: &'a ScanResult, id: &str) -> Option<&'a Quantity> {
    scan.quantities.iter().find(|q| q.id == id)
}

fn value(scan: &ScanResult, id: &str) -> Option<f64> {
    quantity(scan, id)?.outcome.clone().ok()
}

/// Factor by which the bias of a single shot's peak was undone; 1 where it was not.
fn bias_factor(scan: &ScanResult, id: &str) -> f64 {
    let corrections = quantity(scan, id).map_or(&[][..], |q| q.corrections.as_slice());
    corrections.iter().find(|c| c.name == "noise-bias").map_or(1.0, |c| c.factor)
}
