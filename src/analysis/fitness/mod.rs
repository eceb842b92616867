//! Findings on the fitness of a scan's data, one concept a file.

pub mod bits;
mod element_size;
mod jitter;
mod level_drift;
mod linear_limit;
mod polarity;
mod width_noise;

pub use polarity::rarefaction_excess;

use super::assemble::{Evaluated, ScanInput};
use super::results::FocalWave;
use crate::base::finding::{Arg, Finding, Severity};
use crate::calibration;
use crate::pulse::uncertainty;
use crate::scan::Grid;

fn single_place(grid: &Grid) -> bool {
    matches!(grid, Grid::Point { .. })
}

/// Findings that any scan can have.
pub fn findings(input: &ScanInput<'_>, evaluated: &Evaluated) -> Vec<Finding> {
    let mut out = Vec::new();
    let broken: usize = input.points.iter().map(|p| p.broken).sum();
    if broken > 0 {
        let points = input.points.iter().filter(|p| p.broken > 0).count();
        let single = single_place(&input.part.scan.grid);
        out.push(
            input
                .finding(
                    if single { Severity::Unfit } else { Severity::Caution },
                    if single { "samples-zeroed" } else { "samples-not-finite" },
                )
                .with("samples", broken)
                .with("points", points),
        );
    }
    let grid = &input.part.scan.grid;
    // Places without a point are told where the grid is laid, those with bubbles by the monitor.
    let marked = if single_place(grid) { 0 } else { input.shots.marked.len() };
    let holes = grid.cells() - grid.points() + marked;
    let skipped = input.points.iter().filter(|p| p.skipped).count().saturating_sub(holes);
    if skipped > 0 {
        out.push(input.finding(Severity::Unfit, "points-skipped").with("points", skipped));
    }
    if input.part.scan.volts.clip_low_high.is_none() {
        out.push(input.finding(Severity::Note, "full-scale-unknown").at("sensor.full_scale_v"));
    }
    let snr =
        evaluated.quantities.iter().find(|q| q.id == "snr_db").and_then(|q| q.outcome.clone().ok());
    if let Some(snr) = snr {
        let severity = if snr < 20.0 {
            Some(Severity::Unfit)
        } else if snr < 40.0 {
            Some(Severity::Caution)
        } else {
            None
        };
        if let Some(severity) = severity {
            out.push(
                input
                    .finding(severity, "snr-low")
                    .with("found", Arg::measure(snr, "dB"))
                    .with("wanted", Arg::measure(40.0, "dB")),
            );
        }
    }
    if let Some(table) = input.part.response.as_table() {
        let (low, high) = table.band_hz();
        let shape = &input.plan.conditioning.lowpass;
        let fundamental = input.plan.frequency_hz.unwrap_or(low);
        let outside = fundamental < low || fundamental > high;
        // A low-pass that follows the noise stops at the table's end though there is signal beyond.
        let cut_short =
            input.plan.lowpass_from != "record" && shape.cutoff_hz >= high * (1.0 - 1e-9);
        if outside || cut_short || shape.cutoff_hz > high * (1.0 + 1e-9) {
            let severity = if outside { Severity::Unfit } else { Severity::Caution };
            out.push(
                input
                    .finding(severity, "table-not-covering")
                    .with("low", Arg::measure(low, "Hz"))
                    .with("high", Arg::measure(high, "Hz"))
                    .with("cutoff", Arg::measure(shape.cutoff_hz, "Hz")),
            );
        }
        out.extend(evaluated.focal.as_ref().and_then(|wave| extrapolated_energy(input, wave)));
    }
    let wave = evaluated.focal.as_ref().and_then(|wave| wave.uncertainty.as_ref());
    let of_wave = wave.map(|wave| uncertainty::findings(&wave.summary)).unwrap_or_default();
    out.extend(of_wave.into_iter().map(|found| found.in_scan(&input.part.scan.id)));
    out.extend(linear_limit::beyond(input, evaluated));
    out.extend(polarity::doubted(input, evaluated));
    out.extend(evaluated.focal.as_ref().and_then(|wave| level_drift::drift(input, wave)));
    out.extend(element_size::too_large(input));
    out.extend(jitter::jitter(input));
    out.extend(width_noise::too_little(input, evaluated));
    out
}

/// How much of the focal pulse's energy lies where the table had to be continued.
fn extrapolated_energy(input: &ScanInput<'_>, wave: &FocalWave) -> Option<Finding> {
    let sample = |instant_s: f64| ((instant_s - wave.t0_s) / wave.interval_s).round() as usize;
    let last = wave.p_pa.len();
    let (from, to) = (sample(wave.pulse.start_s).min(last), sample(wave.pulse.stop_s).min(last));
    let pulse = wave.p_pa.get(from..to)?;
    let found = calibration::extrapolated(&input.part.response, pulse, wave.interval_s)?;
    Some(found.in_scan(&input.part.scan.id))
}
