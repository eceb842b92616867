//! What is to be said of a transfer.

use super::{missing, percent};
use crate::base::finding::{Finding, Severity};
use crate::base::transfer::Transfer;
use crate::calibration::check_source::{DeviceReadings, FEATURES, ReferenceReadings, Stated};

/// Differences beyond this many standard uncertainties are told.
const COVERAGE: f64 = 2.0;
/// Differences below this are never told: half a percent. Common practice, no source.
const SMALL: f64 = 5e-3;

/// Findings of a transfer.
pub fn remarks(
    transfer: &Transfer,
    reference: &ReferenceReadings,
    device: &[DeviceReadings],
    stated: &Stated,
) -> Vec<Finding> {
    let mut out = Vec::new();
    let chosen = FEATURES.iter().position(|f| *f == transfer.feature).unwrap_or(0);
    let below = |key: &str| format!("{}.{key}", transfer.place);
    if stated.certificate.is_none() {
        let place = below("reference_response.uncertainty");
        out.push(Finding {
            severity: Severity::Caution,
            ..missing("transfer-no-certificate", &place)
        });
    }
    if stated.flatness.is_none() {
        out.push(missing("transfer-no-flatness", &below("flatness")));
    }
    match transfer.drift {
        None => out.push(missing("transfer-no-drift", &below("reference_scan_after"))),
        Some(drift) => {
            let u = reference.levels.iter().map(|r| r.u(chosen)).fold(0.0, f64::max);
            if drift.abs() > SMALL.max(COVERAGE * 2.0 * u) {
                out.push(
                    Finding::new(Severity::Caution, "source-drifted")
                        .in_scan(&transfer.reference_scan)
                        .with("found", percent(drift)),
                );
            }
        }
    }
    for range in &transfer.ranges {
        let Some(readings) = device.iter().find(|d| d.range == range.range) else { continue };
        if readings.levels.iter().all(|l| l.scatter.is_none()) {
            out.push(Finding::new(Severity::Note, "transfer-without-repeats").in_scan(&range.scan));
        }
        // The worst other feature against the chosen one, and what both are uncertain by.
        let top = readings.levels.iter().max_by(|a, b| a.mean[chosen].total_cmp(&b.mean[chosen]));
        let reference_u = |k: usize| reference.levels.iter().map(|r| r.u(k)).fold(0.0, f64::max);
        let by = range.by_feature.to_array();
        let worst = (0..3)
            .filter(|k| *k != chosen)
            .map(|k| {
                let u = top.map_or(0.0, |t| t.u(k).hypot(t.u(chosen)));
                (k, by[k] / by[chosen] - 1.0, u.hypot(reference_u(k)).hypot(reference_u(chosen)))
            })
            .filter(|(_, difference, u)| {
                difference.abs() > SMALL.max(COVERAGE * u).max(stated.flatness.unwrap_or(0.0))
            })
            .max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
        if let Some((k, difference, _)) = worst {
            out.push(
                Finding::new(Severity::Caution, "features-disagree")
                    .in_scan(&range.scan)
                    .with("range", range.range.clone().unwrap_or_default())
                    .with("feature", FEATURES[k])
                    .with("chosen", FEATURES[chosen])
                    .with("found", percent(difference)),
            );
        }
    }
    let apart = transfer
        .comparisons
        .iter()
        .filter(|c| c.difference.abs() > SMALL.max(COVERAGE * c.u))
        .max_by(|a, b| a.difference.abs().total_cmp(&b.difference.abs()));
    if let Some(worst) = apart {
        out.push(
            Finding::new(Severity::Caution, "ranges-disagree")
                .with("first", worst.range_a.as_str())
                .with("second", worst.range_b.as_str())
                .with("feature", worst.feature.as_str())
                .with("found", percent(worst.difference))
                .with("u", percent(worst.u)),
        );
    }
    out
}
