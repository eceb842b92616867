//! Uncertainties and tolerances: a percentage typed for a fraction, a coverage factor without an
//! expanded uncertainty, limits that lie the wrong way round.

use super::Found;
use crate::record::path::key_below;
use crate::record::{Record, Response, Stated, Tolerance, Uncertainty, UncertaintyKind};

/// Largest relative uncertainty that is not taken for a percentage. Common practice, no source.
const RELATIVE_UNCERTAINTY_MAX: f64 = 1.0;

/// Largest relative tolerance that is not taken for a percentage; below, nothing is left of the
/// value at −1. Common practice, no source.
const RELATIVE_TOLERANCE_MAX: f64 = 2.0;

pub(super) fn check(record: &Record, found: &mut Found) {
    for (path, response) in record.placed_responses() {
        of_response(response, &path, found);
    }
    for (i, reading) in record.readings.iter().enumerate() {
        if let Some(uncertainty) = &reading.uncertainty {
            one(uncertainty, &format!("readings[{i}].uncertainty"), found);
        }
    }
    for (i, stated) in record.stated.iter().enumerate() {
        of_stated(stated, &format!("stated[{i}]"), found);
    }
    for (path, uncertainty, relative) in of_instruments(record) {
        one(uncertainty, &path, found);
        if uncertainty.relative != relative {
            let code = if relative { "record-not-relative" } else { "record-not-absolute" };
            found.add(code, &path, |problem| problem);
        }
    }
    for (i, source) in record.uncertainties.iter().enumerate() {
        one(&source.uncertainty, &format!("uncertainties[{i}].uncertainty"), found);
    }
}

/// Uncertainties of the stage, the gains and the drive, with their paths, and whether they are relative.
fn of_instruments(record: &Record) -> Vec<(String, &Uncertainty, bool)> {
    let whole = [
        ("frame.u_scale", &record.frame.u_scale, true),
        ("frame.u_position", &record.frame.u_position, false),
        ("excitation.u_drive", &record.excitation.u_drive, true),
        ("excitation.u_repetition", &record.excitation.u_repetition, true),
        ("sensor.u_gain", &record.sensor.u_gain, true),
    ];
    let whole = whole
        .into_iter()
        .filter_map(|(path, u, relative)| Some((path.to_owned(), u.as_ref()?, relative)));
    let ranges = record.sensor.ranges.iter().enumerate().filter_map(|(i, range)| {
        Some((format!("sensor.ranges[{i}].u_gain"), range.u_gain.as_ref()?, true))
    });
    let checked = record.sensor.checked.as_ref().and_then(|checked| checked.uncertainty.as_ref());
    let checked = checked.map(|u| ("sensor.checked.uncertainty".to_owned(), u, true));
    whole.chain(ranges).chain(checked).collect()
}

/// Uncertainty and tolerance of a stated value.
pub(super) fn of_stated(stated: &Stated, path: &str, found: &mut Found) {
    if let Some(uncertainty) = &stated.uncertainty {
        one(uncertainty, &key_below(path, "uncertainty"), found);
    }
    if let Some(limits) = &stated.tolerance {
        tolerance(limits, &key_below(path, "tolerance"), found);
    }
}

fn of_response(response: &Response, path: &str, found: &mut Found) {
    match response {
        Response::Flat { uncertainty: Some(uncertainty), .. } => {
            let path = key_below(path, "uncertainty");
            one(uncertainty, &path, found);
            let value = response.flat_v_per_pa().unwrap_or(f64::INFINITY);
            if !uncertainty.relative && uncertainty.standard(value) > value {
                found.add("record-uncertainty-exceeds-value", &path, |problem| {
                    problem.with("found", uncertainty.value).with("value", value)
                });
            }
        }
        Response::Table { uncertainty: Some(uncertainty), .. } => {
            one(uncertainty, &key_below(path, "uncertainty"), found);
        }
        Response::CheckSource { reference_response, flatness, linearity, temperature, .. } => {
            of_response(reference_response, &key_below(path, "reference_response"), found);
            let stated =
                [("flatness", flatness), ("linearity", linearity), ("temperature", temperature)];
            for (key, uncertainty) in stated {
                let path = key_below(path, key);
                let Some(uncertainty) = uncertainty else { continue };
                one(uncertainty, &path, found);
                if !uncertainty.relative {
                    found.add("record-not-relative", &path, |problem| problem);
                }
            }
        }
        Response::Flat { uncertainty: None, .. } | Response::Table { uncertainty: None, .. } => {}
    }
}

fn one(uncertainty: &Uncertainty, path: &str, found: &mut Found) {
    if uncertainty.relative && uncertainty.value > RELATIVE_UNCERTAINTY_MAX {
        not_a_fraction(&key_below(path, "value"), uncertainty.value, found);
    }
    let is_expanded = uncertainty.kind == UncertaintyKind::Expanded;
    if let Some(k) = uncertainty.k
        && !is_expanded
        && k != 1.0
    {
        found.add("record-coverage-factor-unused", &key_below(path, "k"), |problem| {
            problem.with("k", k)
        });
    }
}

fn tolerance(limits: &Tolerance, path: &str, found: &mut Found) {
    if let (Some(lower), Some(upper)) = (limits.lower, limits.upper)
        && lower > upper
    {
        found.add("record-tolerance-reversed", path, |problem| {
            problem.with("lower", lower).with("upper", upper)
        });
    }
    for (key, side) in [("lower", limits.lower), ("upper", limits.upper)] {
        if let Some(value) = side
            && limits.relative
            && !(-1.0..=RELATIVE_TOLERANCE_MAX).contains(&value)
        {
            not_a_fraction(&key_below(path, key), value, found);
        }
    }
}

/// A number that is said to be a fraction looks like a percentage.
fn not_a_fraction(path: &str, value: f64, found: &mut Found) {
    found.add("record-not-a-fraction", path, |problem| {
        problem.with("found", value).with("as_percent", value / 100.0)
    });
}

#[cfg(test)]
mod tests {
    use super::super::codes;
    use super::*;
    use crate::record::SourceEntry;

    fn typed(value: f64, kind: UncertaintyKind, k: Option<f64>, relative: bool) -> Uncertainty {
        Uncertainty { value, kind, k, relative }
    }

    fn stated(tolerance: Tolerance) -> Stated {
        let value = serde_json::json!({"quantity": "pc", "value": 5e6});
        Stated { tolerance: Some(tolerance), ..serde_json::from_value(value).unwrap() }
    }

    #[test]
    fn percentages_are_not_fractions() {
        let mut record = Record::default();
        record.uncertainties.push(SourceEntry {
            source: "alignment".to_owned(),
            applies_to: None,
            uncertainty: typed(12.0, UncertaintyKind::Expanded, Some(2.0), true),
            distribution: None,
            common: None,
        });
        let limits = Tolerance { lower: Some(-15.0), upper: Some(15.0), relative: true };
        record.stated.push(stated(limits.clone()));
        record.stated.push(stated(Tolerance { relative: false, ..limits }));
        assert_eq!(
            codes(&record),
            [
                "record-not-a-fraction stated[0].tolerance.lower",
                "record-not-a-fraction stated[0].tolerance.upper",
                "record-not-a-fraction uncertainties[0].uncertainty.value",
            ]
        );
    }

    #[test]
    fn instruments_are_uncertain_in_their_own_way() {
        let mut record = Record::default();
        let half = |value, relative| Some(typed(value, UncertaintyKind::HalfWidth, None, relative));
        record.frame.u_scale = half(0.002, true);
        record.frame.u_position = half(1e-5, true);
        record.excitation.u_drive = half(2.0, true);
        record.sensor.u_gain = half(0.01, false);
        record.sensor.ranges.push(crate::record::GainRange {
            id: "low".to_owned(),
            u_gain: half(0.01, false),
            ..Default::default()
        });
        assert_eq!(
            codes(&record),
            [
                "record-not-absolute frame.u_position",
                "record-not-a-fraction excitation.u_drive.value",
                "record-not-relative sensor.u_gain",
                "record-not-relative sensor.ranges[0].u_gain",
            ]
        );
    }

    #[test]
    fn limits_lie_the_right_way_round() {
        let mut record = Record::default();
        record.stated.push(stated(Tolerance {
            lower: Some(0.1),
            upper: Some(-0.1),
            relative: true,
        }));
        assert_eq!(codes(&record), ["record-tolerance-reversed stated[0].tolerance"]);
    }

    #[test]
    fn a_forgotten_relative_shows() {
        let mut record = Record::default();
        let flat = |uncertainty| Some(Response::flat(5e-8, uncertainty));
        record.sensor.response =
            flat(Some(typed(0.12, UncertaintyKind::Expanded, Some(2.0), false)));
        assert_eq!(
            codes(&record),
            ["record-uncertainty-exceeds-value sensor.response.uncertainty"]
        );
        record.sensor.response =
            flat(Some(typed(0.06, UncertaintyKind::Standard, Some(2.0), true)));
        assert_eq!(codes(&record), ["record-coverage-factor-unused sensor.response.uncertainty.k"]);
        record.sensor.response =
            flat(Some(typed(0.06, UncertaintyKind::Standard, Some(1.0), true)));
        assert_eq!(codes(&record), [""; 0]);
    }
}
