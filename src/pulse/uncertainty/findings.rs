//! What the uncertainty of a waveform gives to remark.

use crate::base::finding::{Arg, Finding, Severity};
use crate::base::waveform_uncertainty::{FeatureUncertainty, WaveformUncertainty};

/// Shift of the Monte Carlo mean, re the uncertainty from the response, from which linear propagation
/// does not hold; and relative difference of the two standard uncertainties. Common practice, no source.
const SHIFT: f64 = 0.25;
const SPREAD: f64 = 0.2;
/// Smallest effect that matters, re the value.
const MATTERS: f64 = 0.01;
/// Relative effect of the low-pass within the signal's band from which it is remarked.
const TAKEN: f64 = 0.05;
/// Relative difference of the two methods of scaling from which it is remarked.
const METHODS: f64 = 0.1;

/// Remarks on a waveform's uncertainty, each on the quantity on which it shows most.
pub fn findings(summary: &WaveformUncertainty) -> Vec<Finding> {
    let mut out = Vec::new();
    out.extend(most(summary, nonlinear).and_then(|(_, feature)| of_nonlinear(feature)));
    out.extend(most(summary, taken).map(|(share, feature)| {
        let reach = summary.low_pass.as_ref().map_or(0.0, |reach| reach.reach_hz);
        Finding::new(Severity::Caution, "low-pass-takes-signal")
            .on(&feature.id)
            .at("analysis.lowpass")
            .with("share", Arg::measure(share, "%"))
            .with("reach", Arg::measure(reach, "Hz"))
    }));
    let other = summary.other_method.as_ref().zip(most(summary, methods));
    out.extend(other.map(|(other, (share, feature))| {
        Finding::new(Severity::Note, "methods-differ")
            .on(&feature.id)
            .with("method", other.method.as_str())
            .with("frequency", Arg::measure(other.frequency_hz, "Hz"))
            .with("share", Arg::measure(share, "%"))
    }));
    out
}

/// The feature with the largest value of `of`, with its sign.
fn most(
    summary: &WaveformUncertainty,
    of: impl Fn(&FeatureUncertainty) -> Option<f64>,
) -> Option<(f64, &FeatureUncertainty)> {
    let all = summary.features.iter().filter_map(|f| of(f).map(|v| (v, f)));
    all.max_by(|a, b| a.0.abs().total_cmp(&b.0.abs()))
}

fn of_nonlinear(feature: &FeatureUncertainty) -> Option<Finding> {
    let drawn = feature.monte_carlo.as_ref()?;
    let measure = |value: f64| Arg::measure(value, &feature.unit);
    Some(
        Finding::new(Severity::Caution, "peak-uncertainty-nonlinear")
            .on(&feature.id)
            .with("value", measure(feature.value))
            .with("mean", measure(drawn.mean))
            .with("linear", measure(feature.u_calibration()))
            .with("drawn", measure(drawn.standard_deviation)),
    )
}

/// Shift of the mean or difference of the standard uncertainties re the value, whichever is larger,
/// where one of them is out of bounds.
fn nonlinear(feature: &FeatureUncertainty) -> Option<f64> {
    let drawn = feature.monte_carlo.as_ref()?;
    let u = feature.u_calibration();
    let matters = MATTERS * feature.value.abs();
    let spread = (drawn.standard_deviation - u).abs();
    let shift = drawn.shift.abs();
    let shows = (shift > SHIFT * u && shift > matters) || (spread > SPREAD * u && spread > matters);
    shows.then(|| shift.max(spread) / feature.value.abs())
}

fn taken(feature: &FeatureUncertainty) -> Option<f64> {
    let share = feature.low_pass.as_ref()?.taken / feature.value.abs();
    (share.abs() > TAKEN).then_some(share)
}

fn methods(feature: &FeatureUncertainty) -> Option<f64> {
    let share = feature.other_method.as_ref()?.relative_difference;
    (share.abs() > METHODS).then_some(share)
}
