//! Whether the zero of the waveform moves within the record.

use crate::analysis::assemble::ScanInput;
use crate::analysis::results::FocalWave;
use crate::base::finding::{Arg, Finding, Severity};

/// Change of the mean from before the pulse to after it, re the larger peak, from which it is told.
/// Common practice, no source.
const OF_PEAK: f64 = 0.01;
/// It must also stand this many standard deviations out of the noise.
const OF_NOISE: f64 = 4.0;
/// Fewest samples after the pulse.
const FEWEST: usize = 32;

/// Tells when the mean after the pulse is not that before it.
pub fn drift(input: &ScanInput<'_>, wave: &FocalWave) -> Option<Finding> {
    if !input.plan.windows.holds_burst {
        return None;
    }
    let stop = ((wave.pulse.stop_s - wave.t0_s) / wave.interval_s).round() as usize;
    let end = wave.p_pa.len().checked_sub(input.plan.conditioning.taper.1)?;
    let after = wave.p_pa.get(stop..end).filter(|part| part.len() >= FEWEST)?;
    let mean = after.iter().sum::<f64>() / after.len() as f64;
    let noise = input.noise_pa2?.sqrt();
    // Neighbouring samples go together after the low-pass.
    let independent =
        (after.len() as f64 * wave.interval_s * 2.0 * wave.lowpass_cutoff_hz).max(1.0);
    let limit = (OF_PEAK * wave.pc.0.max(wave.pr.0)).max(OF_NOISE * noise / independent.sqrt());
    (mean.abs() > limit).then(|| {
        input
            .finding(Severity::Caution, "level-drift")
            .with("found", Arg::measure(mean, "Pa"))
            .with("share", Arg::measure(mean / wave.pc.0.max(wave.pr.0), "%"))
    })
}
