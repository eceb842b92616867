//! Findings on the points of a plane: how close, how far.

use crate::analysis::assemble::ScanInput;
use crate::base::finding::{Arg, Finding, Severity};
use crate::field::comb::{self, Comb};
use crate::record::Motion;

/// Edge values above this fraction of the peak's ppsi are told: a tenth of the pressure.
const EDGE_LEVEL: f64 = 0.01;
/// Offset of rows, in steps, from which it is told. Common practice, no source.
const OFFSET: f64 = 0.1;
/// Fewest points across the −6 dB width.
const POINTS_ACROSS: f64 = 5.0;

/// Findings on the step.
pub fn sampling_findings(
    input: &ScanInput<'_>,
    x_m: &[f64],
    y_m: &[f64],
    widths: [Option<(f64, f64)>; 2],
) -> Vec<Finding> {
    let mut out = Vec::new();
    let speed = input.plan.sound_speed_m_per_s;
    if let (Some(step), Some(f)) =
        (input.part.scan.grid.largest_lateral_step_m(), input.plan.frequency_hz)
    {
        let half = 0.5 * speed / f;
        if step > half * 1.0001 {
            out.push(
                input
                    .finding(Severity::Caution, "step-above-half-wavelength")
                    .with("step", Arg::measure(step, "m"))
                    .with("half", Arg::measure(half, "m")),
            );
        }
    }
    for ((axis, name), width) in [(x_m, "x"), (y_m, "y")].into_iter().zip(widths) {
        let (Some((a, b)), Some(first), Some(last)) = (width, axis.first(), axis.last()) else {
            continue;
        };
        let across = (b - a) / ((last - first) / (axis.len() - 1) as f64);
        if across < POINTS_ACROSS {
            out.push(
                input
                    .finding(Severity::Caution, "few-points-across")
                    .with("axis", name)
                    .with("found", across)
                    .with("wanted", POINTS_ACROSS),
            );
        }
    }
    out
}

/// Offset between rows that were recorded forward and backward while the scanner moved, where it is more
/// than a tenth of a step and twice its uncertainty.
pub fn row_offset(input: &ScanInput<'_>, x_m: &[f64], pressure_pa: &[f64]) -> Option<Comb> {
    if input.part.entry.acquisition.motion != Some(Motion::OnTheFly) {
        return None;
    }
    let found = comb::comb(x_m, pressure_pa)?;
    let step = (x_m.last()? - x_m.first()?) / (x_m.len().max(2) - 1) as f64;
    let told = found.offset_m.abs() > (2.0 * found.u_m).max(OFFSET * step);
    told.then_some(found)
}

/// What is to be said of an offset of the rows.
pub fn row_offset_finding(input: &ScanInput<'_>, found: &Comb, corrected: bool) -> Finding {
    input
        .finding(Severity::Caution, "rows-offset")
        .with("found", Arg::measure(found.offset_m, "m"))
        .with("u", Arg::measure(found.u_m, "m"))
        .with("corrected", if corrected { "yes" } else { "no" })
}

/// The field at the edge of the window: what lies outside is missing from the power.
pub fn edge_finding(
    input: &ScanInput<'_>,
    columns: usize,
    ppsi: &[f64],
    peak: f64,
) -> Option<Finding> {
    let rows = ppsi.len() / columns;
    let edges = [
        ("left", (0..rows).map(|r| ppsi[r * columns]).fold(0.0, f64::max)),
        ("right", (0..rows).map(|r| ppsi[r * columns + columns - 1]).fold(0.0, f64::max)),
        ("bottom", ppsi[..columns].iter().copied().fold(0.0, f64::max)),
        ("top", ppsi[(rows - 1) * columns..].iter().copied().fold(0.0, f64::max)),
    ];
    let (side, level) = edges.into_iter().max_by(|a, b| a.1.total_cmp(&b.1))?;
    (level > EDGE_LEVEL * peak).then(|| {
        input
            .finding(Severity::Caution, "edge-level")
            .with("side", side)
            .with("found", Arg::measure(10.0 * (level / peak).log10(), "dB"))
            .with("wanted", Arg::measure(10.0 * EDGE_LEVEL.log10(), "dB"))
    })
}
