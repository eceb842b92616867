//! Whether the instants of neighbouring points scatter.

use crate::analysis::assemble::ScanInput;
use crate::base::finding::{Arg, Finding, Severity};
use crate::field::phase_scatter;
use crate::scan::Grid;

/// Scatter of the instants, in periods of the fundamental, from which it is told: a hundredth, which
/// is a tenth of a period of the tenth harmonic. Common practice, no source.
const OF_PERIOD: f64 = 0.01;

/// Tells when trigger jitter is stated, or the phases of neighbouring points about the peak scatter, by
/// more than a hundredth of a period.
pub fn jitter(input: &ScanInput<'_>) -> Option<Finding> {
    let f = input.plan.frequency_hz?;
    let stated = input.part.entry.acquisition.trigger_jitter_s;
    let found = seen_s(input, f);
    let (jitter_s, from) = match (found, stated) {
        (Some(seen), Some(stated)) if stated > seen => (stated, "record"),
        (Some(seen), _) => (seen, "phase"),
        (None, Some(stated)) => (stated, "record"),
        (None, None) => return None,
    };
    (jitter_s * f > OF_PERIOD).then(|| {
        input
            .finding(Severity::Caution, "trigger-jitter")
            .with("found", Arg::measure(jitter_s, "s"))
            .with("from", from)
            .with("share", Arg::measure(jitter_s * f, "%"))
    })
}

/// Standard deviation of the instants from the phases of the fundamental, what noise explains left out.
fn seen_s(input: &ScanInput<'_>, f: f64) -> Option<f64> {
    let scan = &input.part.scan;
    let columns = match &scan.grid {
        Grid::Plane { x_m, .. } => x_m.len(),
        Grid::Line { along_m, .. } => along_m.len(),
        Grid::Point { .. } => return None,
    };
    let omega = 2.0 * std::f64::consts::PI * f;
    let mut phasors: Vec<_> = input.points.iter().map(|p| p.harmonics[0]).collect();
    for point in 0..scan.points() {
        if let Some(phasor) = phasors.get_mut(scan.grid.cell(point)) {
            // Each phase refers to the first sample of its own record.
            *phasor *= rustfft::num_complex::Complex::cis(-omega * scan.t0(point));
        }
    }
    let scatter = phase_scatter::phase_scatter(columns, &phasors)?;
    let (a, b) = input.plan.windows.steady.unwrap_or_else(|| {
        let (a, b) = input.plan.windows.pulse;
        (a as f64, b as f64)
    });
    let window_s = (b - a) * scan.interval_s;
    let energy = input.points.iter().map(|p| p.ppsi_pa2_s).fold(0.0, f64::max);
    let amplitude = (2.0 * energy / window_s).sqrt();
    let band =
        crate::calibration::noise_band_hz(&input.plan.conditioning.lowpass, 0.5 / scan.interval_s);
    let noise = (input.noise_pa2.unwrap_or(0.0) / band / window_s).sqrt() / amplitude;
    // About the peak the amplitude falls to half: noise counts for up to twice.
    let left = (scatter * scatter - 4.0 * noise * noise).max(0.0).sqrt();
    Some(left / omega)
}
