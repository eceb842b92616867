//! Stated values: a quantity that is known, a unit that fits it, a value and a tolerance that it
//! can have.

use super::{Found, quote};
use crate::base::quantity::{entry_of, is_safety};
use crate::base::typed_unit;
use crate::record::nearest::nearest;
use crate::record::path::key_below;
use crate::record::stated_table::known_names;
use crate::record::{Record, Stated, Tolerance};

/// Beginnings of the ids that may be negative whatever their unit: places and instants.
const PLACES: [&str; 4] = ["x_peak", "y_peak", "z_peak", "arrival"];

pub(super) fn check(record: &Record, found: &mut Found) {
    for (i, stated) in record.stated.iter().enumerate() {
        one(stated, &format!("stated[{i}]"), found);
    }
}

pub(super) fn one(stated: &Stated, path: &str, found: &mut Found) {
    let Some(entry) = entry_of(&stated.quantity) else {
        found.add("record-unknown-quantity", &key_below(path, "quantity"), |mut problem| {
            let near = nearest(&stated.quantity, known_names().map(|(word, _)| word));
            let id = near.and_then(|(near, _)| known_names().find(|(word, _)| *word == near));
            if let Some((_, id)) = id {
                problem = problem.with("nearest", id);
            }
            problem.with("found", quote(&stated.quantity))
        });
        return;
    };
    if is_safety(entry.id) {
        found.add("record-not-judged", &key_below(path, "quantity"), |problem| {
            problem.with("quantity", entry.id)
        });
        return;
    }
    if let Some(unit) = &stated.unit
        && typed_unit::factor(entry.unit, unit).is_none()
    {
        let fitting: Vec<String> =
            typed_unit::fitting(entry.unit).into_iter().map(str::to_owned).collect();
        found.add("record-wrong-unit", &key_below(path, "unit"), |problem| {
            problem.with("found", quote(unit)).with("quantity", entry.id).with("allowed", fitting)
        });
    }
    let signed = matches!(entry.unit, "dB" | "rad")
        || PLACES.iter().any(|start| entry.id.starts_with(start));
    if stated.value < 0.0 && !signed {
        found.add("record-negative-value", &key_below(path, "value"), |problem| {
            problem.with("found", stated.value).with("quantity", entry.id)
        });
    }
    if let Some(limits) = &stated.tolerance {
        tolerance(limits, stated.value, &key_below(path, "tolerance"), found);
    }
}

/// Limits lie on their sides of the stated value, apart from each other.
fn tolerance(limits: &Tolerance, value: f64, path: &str, found: &mut Found) {
    if let (Some(lower), Some(upper)) = (limits.lower, limits.upper) {
        if lower > upper {
            return;
        }
        if lower == upper {
            found.add("record-tolerance-no-width", path, |problem| problem);
            return;
        }
    }
    let sides = [("lower", limits.lower, 1.0), ("upper", limits.upper, -1.0)];
    for (key, side, wrong) in sides {
        if let Some(offset) = side
            && offset * wrong > 0.0
        {
            found.add("record-tolerance-wrong-sign", &key_below(path, key), |problem| {
                problem.with("found", offset).with("side", key)
            });
        }
    }
    if limits.relative && value == 0.0 {
        found.add("record-tolerance-of-zero", path, |problem| problem);
    }
}

#[cfg(test)]
mod tests {
    use super::super::codes;
    use super::*;
    use crate::base::quantity::SAFETY;

    fn problems(stated: serde_json::Value) -> Vec<String> {
        let record =
            Record { stated: vec![serde_json::from_value(stated).unwrap()], ..Record::default() };
        codes(&record)
    }

    fn tolerance_of(lower: Option<f64>, upper: Option<f64>) -> Vec<String> {
        problems(serde_json::json!({"quantity": "pc", "value": 5.0, "unit": "MPa",
            "tolerance": {"lower": lower, "upper": upper, "relative": true}}))
    }

    #[test]
    fn quantities_and_units_fit() {
        let none: [&str; 0] = [];
        let with = |quantity: &str, unit: &str, value: f64| {
            problems(serde_json::json!({"quantity": quantity, "value": value, "unit": unit}))
        };
        assert_eq!(with("pc", "MPa", 5.0), none);
        assert_eq!(with("i_on", "W/cm²", 300.0), none);
        assert_eq!(with("pc", "mm", 5.0), ["record-wrong-unit stated[0].unit"]);
        assert_eq!(with("pcc", "MPa", 5.0), ["record-unknown-quantity stated[0].quantity"]);
        assert_eq!(with("pr", "MPa", -4.0), ["record-negative-value stated[0].value"]);
        assert_eq!(with("sidelobe_db", "dB", -12.0), none);
        assert_eq!(with("x_peak", "mm", -1.0), none);
    }

    /// Safety values are known, and refused, whatever else is wrong with them; nothing suggests them.
    #[test]
    fn safety_values_are_not_judged() {
        for id in SAFETY {
            let stated = serde_json::json!({"quantity": id, "value": -1.0, "unit": "mm"});
            assert_eq!(problems(stated), ["record-not-judged stated[0].quantity"], "{id}");
        }
        assert!(!known_names().any(|(_, id)| is_safety(id)));
    }

    #[test]
    fn the_nearest_quantity_is_named() {
        let json = serde_json::json!({"quantity": "peak compresional pressure", "value": 5.0});
        let record =
            Record { stated: vec![serde_json::from_value(json).unwrap()], ..Record::default() };
        let problem = &super::super::check(&record)[0];
        assert_eq!(problem.args["nearest"], "pc".into());
    }

    #[test]
    fn limits_on_the_wrong_side() {
        assert_eq!(
            tolerance_of(Some(0.1), Some(0.2)),
            ["record-tolerance-wrong-sign stated[0].tolerance.lower"]
        );
        assert_eq!(
            tolerance_of(Some(-0.2), Some(-0.1)),
            ["record-tolerance-wrong-sign stated[0].tolerance.upper"]
        );
        assert_eq!(
            tolerance_of(Some(0.15), None),
            ["record-tolerance-wrong-sign stated[0].tolerance.lower"]
        );
        assert_eq!(
            tolerance_of(Some(0.0), Some(0.0)),
            ["record-tolerance-no-width stated[0].tolerance"]
        );
        assert_eq!(tolerance_of(None, Some(0.0)), [""; 0]);
        assert_eq!(
            tolerance_of(Some(0.1), Some(-0.1)),
            ["record-tolerance-reversed stated[0].tolerance"]
        );
        let zero = serde_json::json!({"quantity": "tilt_x", "value": 0.0, "unit": "deg",
            "tolerance": {"lower": -0.1, "upper": 0.1, "relative": true}});
        assert_eq!(problems(zero), ["record-tolerance-of-zero stated[0].tolerance"]);
    }
}
