//! The sensitivity of a sensor and the unit of a file's samples, each as one text.

use serde_json::{Value, json};

use super::quantity::wrong_uncertainty;
use super::{fault, scaled};
use crate::base::error::Problem;
use crate::base::typed_unit;
use crate::record::place::get;
use crate::record::stated_table::number::number;
use crate::record::stated_table::tolerance::Owner;
use crate::record::stated_table::uncertainty;

/// Units that a message proposes.
const PROPOSED: [&str; 6] = ["mV/MPa", "nV/Pa", "V/MPa", "µV/Pa", "V/Pa", "dB"];

/// A flat response: `40 mV/MPa`, `-268 dB` re 1 V/µPa, with its uncertainty behind a comma or a sign:
/// `40 mV/MPa, 12 % (k=2)`. The frequency of `40 mV/MPa at 1 MHz` stays in the text: the factor is flat. A table or a check source is no text.
pub fn response(record: &Value, path: &str, text: &str) -> Result<Value, Problem> {
    let kind = get(record, path).and_then(|old| old.get("kind")).and_then(Value::as_str);
    if kind.is_some_and(|kind| kind != "flat") {
        return Err(Problem::new("typed-not-flat"));
    }
    let (value, rest) = number(text).map_err(fault)?;
    let rest = &without_frequency(rest)?;
    let end = rest.find([',', ';', '±', '(']).unwrap_or(rest.len());
    let (unit, behind) = rest.split_at(end);
    let unit = unit.trim();
    let factor = |of: &str| typed_unit::factor(of, unit).filter(|_| !unit.is_empty());
    let (key, value) = match (factor("mV/MPa"), factor("V/Pa")) {
        _ if unit.starts_with("dB") => ("db_re_1v_per_upa", value),
        (Some(factor), _) => ("mv_per_mpa", scaled(value, factor)),
        (None, Some(factor)) => ("v_per_pa", scaled(value, factor)),
        (None, None) => {
            let allowed = PROPOSED.map(str::to_owned).to_vec();
            return Err(Problem::new("typed-wrong-unit").with("allowed", allowed));
        }
    };
    let mut out = json!({"kind": "flat", key: value});
    let behind = behind.trim_start_matches([',', ';', ' ', '±']);
    let owner = Owner { si: "V/Pa", unit: "V/Pa", heading: None };
    if let Some(u) =
        uncertainty::uncertainty(behind, "", owner).map_err(|wrong| wrong_uncertainty(wrong, ""))?
    {
        out["uncertainty"] = json!(u);
    }
    Ok(out)
}

/// What stands behind the number without the frequency at which a flat factor was found.
fn without_frequency(rest: &str) -> Result<String, Problem> {
    let split = [" at ", " bei ", "@"].iter().find_map(|mark| rest.split_once(mark));
    let Some((before, after)) = split else { return Ok(rest.to_owned()) };
    let (_, tail) = number(after).map_err(fault)?;
    let (unit, behind) =
        tail.split_at(tail.find(|c: char| !c.is_alphabetic()).unwrap_or(tail.len()));
    if unit.is_empty() || typed_unit::factor("Hz", unit).is_none() {
        return Err(super::wrong_unit("Hz"));
    }
    Ok(format!("{}{behind}", before.trim_end()))
}

/// What one number of a file is: `1 mV`, `0.1 mV` for a count. An offset stays.
pub fn volts(record: &Value, path: &str, text: &str) -> Result<Value, Problem> {
    let (scale, unit) = number(text).map_err(fault)?;
    let unit = unit.replace(['µ', 'μ'], "u");
    if !typed_unit::fitting("V").contains(&unit.as_str()) {
        return Err(super::wrong_unit("V"));
    }
    if scale == 0.0 {
        return Err(Problem::new("typed-not-a-number"));
    }
    let mut out = json!({"scale": scale, "unit": unit});
    if let Some(offset) = get(record, path).and_then(|old| old.get("offset")) {
        out["offset"] = offset.clone();
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    const PATH: &str = "sensor.response";

    fn said(text: &str) -> Result<Value, Problem> {
        response(&json!({}), PATH, text)
    }

    /// By hand: 1 µV/Pa is 1000 mV/MPa, 1e-6 V/Pa; −268 dB re 1 V/µPa is 10^(−13.4) V/µPa.
    #[test]
    fn sensitivities() {
        let u = json!({"value": 0.12, "kind": "expanded", "k": 2.0, "relative": true});
        for (text, key, value, with_u) in [
            ("40 mV/MPa", "mv_per_mpa", 40.0, false),
            ("40,5 nV/Pa", "mv_per_mpa", 40.5, false),
            ("0.04 V/MPa; 12 % (k=2)", "mv_per_mpa", 40.0, true),
            ("40 mV/MPa, 12 % (k\u{a0}=\u{a0}2)", "mv_per_mpa", 40.0, true),
            ("40 mV/MPa ± 12 % (k=2)", "mv_per_mpa", 40.0, true),
            ("40 mV/MPa at 1 MHz, 12 % (k=2)", "mv_per_mpa", 40.0, true),
            ("40 mV/MPa bei 1,5 MHz, 12 % (k=2)", "mv_per_mpa", 40.0, true),
            ("40 mV/MPa, 12 % (k=2) at 1 MHz", "mv_per_mpa", 40.0, true),
            ("40 mV/MPa @ 1 MHz", "mv_per_mpa", 40.0, false),
            ("1 µV/Pa", "v_per_pa", 1e-6, false),
            ("-268 dB re 1 V/µPa, 12 %, k = 2", "db_re_1v_per_upa", -268.0, true),
        ] {
            let mut expected = json!({"kind": "flat", key: value});
            if with_u {
                expected["uncertainty"] = u.clone();
            }
            assert_eq!(said(text).unwrap(), expected, "{text}");
        }
        let absolute = said("40 mV/MPa, 4 mV/MPa standard").unwrap();
        let u = &absolute["uncertainty"];
        assert!((u["value"].as_f64().unwrap() - 4e-9).abs() < 1e-20, "in V/Pa: {u}");
    }

    #[test]
    fn what_is_no_sensitivity_is_refused() {
        for (text, code) in [
            ("40", "typed-wrong-unit"),
            ("40 mV", "typed-wrong-unit"),
            ("forty", "typed-not-a-number"),
            ("40 mV/MPa at 21 °C", "typed-wrong-unit"),
            ("40 mV/MPa at 1", "typed-wrong-unit"),
            ("40 mV/MPa at room temperature", "typed-not-a-number"),
            ("40 mV/MPa at 1,500 MHz", "typed-ambiguous"),
            ("40 mV/MPa, 12 %", "typed-no-kind"),
            ("40 mV/MPa, some", "typed-no-uncertainty"),
        ] {
            assert_eq!(said(text).unwrap_err().code, code, "{text}");
        }
        for kind in ["table", "check-source"] {
            let record = json!({"sensor": {"response": {"kind": kind}}});
            let wrong = response(&record, PATH, "40 mV/MPa").unwrap_err();
            assert_eq!(wrong.code, "typed-not-flat");
        }
    }

    #[test]
    fn units_of_samples() {
        let path = "scans[0].layout.volts";
        let record = json!({"scans": [{"layout": {"volts": {"scale": 1.0, "offset": 0.5}}}]});
        let said = |text: &str| volts(&record, path, text);
        assert_eq!(
            said("0,1 mV").unwrap(),
            json!({"scale": 0.1, "unit": "mV", "offset": 0.5}),
            "the offset stays"
        );
        assert_eq!(said("-5 µV").unwrap()["unit"], json!("uV"));
        for (text, code) in [
            ("1", "typed-wrong-unit"),
            ("1 MPa", "typed-wrong-unit"),
            ("0 V", "typed-not-a-number"),
        ] {
            assert_eq!(said(text).unwrap_err().code, code, "{text}");
        }
    }
}
