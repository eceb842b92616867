//! Whether the sensor is still what it was: the readings of a check source before and after the scans.

use super::prepare::Prepared;
use super::results::{Picture, ScanResult};
use super::transfer::CheckReadings;
use crate::base::budget::Line;
use crate::base::budget::source::{CHECK_PLACING, SHOTS_AFTER, SHOTS_BEFORE};
use crate::base::finding::{Arg, Finding, Severity};
use crate::base::quantity::{Quantity, Reason};
use crate::record::{Record, Role};
use crate::statistics::moments::{mean, standard_deviation_of_mean};
use crate::uncertainty::of_lines;

/// Half-width, relative, of what source and placing repeat to where nothing is stated. Common practice, no
/// source.
const PLACING: f64 = 0.01;

/// The change of the sensor, told; `None` where it was not checked or could not be compared.
pub fn evaluate(prepared: &Prepared, findings: &mut Vec<Finding>) -> Option<ScanResult> {
    let readings = prepared.sensor_check.as_ref()?;
    let record = &prepared.record;
    let quantity = change(record, readings);
    findings.extend(remarks(record, readings, &quantity));
    Some(ScanResult {
        id: readings.id.clone(),
        role: Role::CheckSource,
        file: readings.file.clone(),
        range: readings.range.clone(),
        level: readings.level,
        points: readings.after_v.len(),
        samples: readings.samples,
        interval_s: readings.interval_s,
        // Of volts over volts nothing is lost without a sensitivity.
        calibrated: true,
        calibration: std::collections::BTreeMap::new(),
        fitness: Severity::Note,
        quantities: vec![quantity],
        excluded: Vec::new(),
        picture: Picture::None,
        along: None,
        focal: None,
        response: None,
    })
}

/// `sensitivity_change`: mean reading after over that before, less one. Its sources are the scatter of the
/// shots of both, s/√n with n − 1 degrees of freedom each, and what source and placing repeat to:
/// the degrees of freedom are those of Welch and Satterthwaite.
///
/// # References
/// B. L. Welch 1947, Biometrika 34:28; JCGM 100:2008, G.4.
fn change(record: &Record, readings: &CheckReadings) -> Quantity {
    let CheckReadings { before_v, after_v, .. } = readings;
    let both = mean(before_v).zip(mean(after_v)).filter(|(before, _)| *before > 0.0);
    let Some((before, after)) = both else {
        return Quantity::missing("sensitivity_change", Reason::new("no-pulse"));
    };
    let ratio = after / before;
    let method = match readings.feature {
        "rms" => "check-rms",
        "peak" => "check-peak",
        _ => "check-fundamental",
    };
    let mut quantity = Quantity::value("sensitivity_change", ratio - 1.0)
        .sensitive_to(SHOTS_AFTER, ratio)
        .sensitive_to(SHOTS_BEFORE, -ratio)
        .sensitive_to(CHECK_PLACING, ratio)
        .by(method);
    let scatter = |values: &[f64], mean: f64| Some(standard_deviation_of_mean(values)? / mean);
    let both = scatter(before_v, before).zip(scatter(after_v, after));
    let Some((u_before, u_after)) = both else { return quantity };
    let stated = record.sensor.checked.as_ref().and_then(|checked| checked.uncertainty.as_ref());
    let line = |source: &str, u: f64, nu: Option<f64>, sensitivity: f64| Line {
        source: source.to_owned(),
        u,
        unit: "1".to_owned(),
        distribution: "t".to_owned(),
        nu,
        sensitivity,
        contribution: sensitivity * u,
        share: 0.0,
        common: false,
        origin: "data".to_owned(),
        from: "shot-scatter".to_owned(),
    };
    let nu = |values: &[f64]| Some((values.len() - 1) as f64);
    let placing = match stated {
        Some(stated) => Line {
            distribution: "normal".to_owned(),
            origin: "record".to_owned(),
            from: "sensor.checked.uncertainty".to_owned(),
            ..line(CHECK_PLACING, stated.standard(1.0), None, ratio)
        },
        None => Line {
            distribution: "rectangular".to_owned(),
            origin: "default".to_owned(),
            from: "common-practice".to_owned(),
            ..line(CHECK_PLACING, PLACING / 3f64.sqrt(), None, ratio)
        },
    };
    let lines = vec![
        line(SHOTS_BEFORE, u_before, nu(before_v), -ratio),
        line(SHOTS_AFTER, u_after, nu(after_v), ratio),
        placing,
    ];
    if let Some(budget) = of_lines(lines, Vec::new(), record.decision.coverage) {
        quantity.uncertainty = Ok(Box::new(budget));
    }
    quantity
}

fn remarks(record: &Record, readings: &CheckReadings, quantity: &Quantity) -> Vec<Finding> {
    let told = |severity: Severity, code: &str| {
        Finding::new(severity, code).in_scan(&readings.id).on(quantity.id)
    };
    let Ok(change) = quantity.outcome else { return Vec::new() };
    let Ok(budget) = &quantity.uncertainty else {
        return vec![told(Severity::Caution, "sensor-check-few-shots")];
    };
    let (severity, code) = if change.abs() > budget.u_expanded {
        (Severity::Caution, "sensor-changed")
    } else {
        (Severity::Note, "sensor-unchanged")
    };
    let mut out = vec![
        told(severity, code)
            .with("feature", readings.feature)
            .with("found", Arg::measure(change, "%"))
            .with("u", Arg::measure(budget.u_expanded, "%")),
    ];
    if record.sensor.checked.as_ref().is_some_and(|checked| checked.uncertainty.is_none()) {
        out.push(
            Finding::new(Severity::Note, "sensor-check-assumed")
                .in_scan(&readings.id)
                .at("sensor.checked.uncertainty")
                .with("assumed", Arg::measure(PLACING, "%")),
        );
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::{SensorCheck, Uncertainty, UncertaintyKind};

    fn readings(before_v: &[f64], after_v: &[f64]) -> CheckReadings {
        CheckReadings {
            id: "after".to_owned(),
            file: "after.h5".to_owned(),
            range: None,
            level: None,
            feature: "rms",
            before_v: before_v.to_vec(),
            after_v: after_v.to_vec(),
            samples: 100,
            interval_s: 1e-8,
        }
    }

    fn record(standard: Option<f64>) -> Record {
        let mut record = Record::default();
        let uncertainty = standard.map(|value| Uncertainty {
            value,
            kind: UncertaintyKind::Standard,
            k: None,
            relative: true,
        });
        record.sensor.checked = Some(SensorCheck {
            before: "before".to_owned(),
            after: "after".to_owned(),
            feature: None,
            uncertainty,
        });
        record
    }

    fn codes(record: &Record, readings: &CheckReadings) -> Vec<String> {
        let quantity = change(record, readings);
        remarks(record, readings, &quantity).into_iter().map(|found| found.code).collect()
    }

    /// By hand: means 2.00 and 1.90, s/√n of 0.01/√3 and 0.01/√3: change −5 %,
    /// u² = 0.95² ((0.0057735/2)² + (0.0057735/1.9)² + 0.002²).
    #[test]
    fn two_means() {
        let found = readings(&[1.99, 2.00, 2.01], &[1.89, 1.90, 1.91]);
        let quantity = change(&record(Some(0.002)), &found);
        assert!((quantity.outcome.clone().expect("a value") + 0.05).abs() < 1e-12);
        let budget = quantity.uncertainty.expect("a budget");
        let s = 0.01 / 3f64.sqrt();
        let parts = [s / 2.0, s / 1.9, 0.002].map(|u| (0.95 * u).powi(2));
        let variance: f64 = parts.iter().sum();
        assert!((budget.u_standard / variance.sqrt() - 1.0).abs() < 1e-9);
        // Welch and Satterthwaite: ν = u⁴/Σ(uᵢ⁴/νᵢ).
        let nu = variance.powi(2) / ((parts[0].powi(2) + parts[1].powi(2)) / 2.0);
        assert!((budget.nu_eff.expect("finite") / nu - 1.0).abs() < 1e-9);
    }

    #[test]
    fn conclusions() {
        let stated = record(Some(0.002));
        let calm = readings(&[1.99, 2.00, 2.01], &[1.99, 2.00, 2.015]);
        assert_eq!(codes(&stated, &calm), ["sensor-unchanged"]);
        let fallen = readings(&[1.99, 2.00, 2.01], &[1.89, 1.90, 1.91]);
        assert_eq!(codes(&stated, &fallen), ["sensor-changed"]);
        assert_eq!(codes(&record(None), &fallen), ["sensor-changed", "sensor-check-assumed"]);
        assert_eq!(codes(&stated, &readings(&[2.0], &[1.0])), ["sensor-check-few-shots"]);
        assert_eq!(codes(&stated, &readings(&[], &[1.0])), [""; 0]);
    }
}
