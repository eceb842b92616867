//! From draft to checked record.

use serde_json::Value;

use super::check::check;
use super::parse::parse;
use super::walk::walk;
use super::{Record, SCHEMA};
use crate::base::error::{Problem, Problems};

/// Reads a record from its text; `file` is its name as the user knows it.
///
/// # Errors
/// All problems at once, each with the file, the path and the scan it concerns: those of the text,
/// else those of the shape, else those between statements.
pub fn read(text: &str, file: &str) -> Result<Record, Problems> {
    let draft = parse(text).map_err(|problems| placed(problems, &Value::Null, file))?;
    read_value(&draft, file)
}

/// As [`read`], from a draft that is parsed already, for example the record inside a sheet.
///
/// # Errors
/// As [`read`].
pub fn read_value(draft: &Value, file: &str) -> Result<Record, Problems> {
    checked(draft).map_err(|problems| placed(problems, draft, file))
}

fn checked(draft: &Value) -> Result<Record, Problems> {
    // A file of another kind or version is not read on: hardly a key of it would be known.
    if let Some(Value::String(found)) = draft.get("schema")
        && found != SCHEMA
    {
        let found = super::path::shortened(found, 60);
        let problem = Problem::new("record-wrong-schema").at("schema");
        return Err(vec![problem.with("expected", SCHEMA).with("found", found)]);
    }
    let problems = walk(draft);
    if !problems.is_empty() {
        return Err(problems);
    }
    let mut record: Record = serde_json::from_value(without_blanks(draft)).map_err(|error| {
        vec![Problem::new("record-not-understood").with("detail", error.to_string())]
    })?;
    // Texts that no longer mean what the record holds are let go.
    record.typed.retain(|path, text| super::typed::still_means(draft, path, text));
    let problems = check(&record);
    if problems.is_empty() { Ok(record) } else { Err(problems) }
}

/// The draft without keys that are null: a blank. What the tool kept under `changes` stays.
fn without_blanks(draft: &Value) -> Value {
    match draft {
        Value::Object(object) => {
            let filled = object.iter().filter(|(_, value)| !value.is_null());
            let keep = |(key, value): (&String, &Value)| {
                let value = if key == "changes" { value.clone() } else { without_blanks(value) };
                (key.clone(), value)
            };
            Value::Object(filled.map(keep).collect())
        }
        Value::Array(list) => Value::Array(list.iter().map(without_blanks).collect()),
        other => other.clone(),
    }
}

/// Names the file, and the scan where the path lies inside one.
fn placed(problems: Problems, draft: &Value, file: &str) -> Problems {
    let scan_of = |path: &str| {
        let index = path.strip_prefix("scans[")?.split(']').next()?.parse::<usize>().ok()?;
        draft.get("scans")?.get(index)?.get("id")?.as_str().map(str::to_owned)
    };
    let place = |problem: Problem| {
        let scan = problem.place.path.as_deref().and_then(scan_of);
        let problem = problem.in_file(file);
        match scan {
            Some(id) => problem.in_scan(&super::path::shortened(&id, 60)),
            None => problem,
        }
    };
    problems.into_iter().map(place).collect()
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;
    use crate::base::finding::Arg;
    use crate::record::known::KNOWN;
    use crate::record::{AppliesTo, LowPassKind, Response, Role};

    /// A record with every key that there is, in an invented laboratory.
    const FULL: &str = include_str!("full.json");

    fn full() -> Value {
        serde_json::from_str(FULL).unwrap()
    }

    fn least() -> Value {
        json!({"schema": SCHEMA, "scans": [{"id": "a", "role": "point", "file": "a.csv"}]})
    }

    fn lines(problems: &Problems) -> Vec<String> {
        let line = |p: &Problem| format!("{} {}", p.code, p.place.path.as_deref().unwrap_or(""));
        problems.iter().map(line).collect()
    }

    fn problems_of(draft: &Value) -> Vec<String> {
        lines(&read_value(draft, "record.json").unwrap_err())
    }

    #[test]
    fn a_full_record_is_read() {
        let record = read(&format!("\u{feff}{FULL}"), "record.json").unwrap();
        assert_eq!(record.excitation.cycles, Some(20.0));
        assert_eq!(record.scans[0].role, Role::Plane);
        assert_eq!(record.chain_of(&record.scans[1]).bits, Some(12));
        assert_eq!(record.analysis.lowpass.filter().unwrap().kind, LowPassKind::OnePole);
        assert!(matches!(record.sensor.ranges[4].response, Some(Response::CheckSource { .. })));
        assert_eq!(record.changes[1].new, json!({"mode": "burst", "level": null}));
    }

    /// What was read, written and read again is the same record.
    #[test]
    fn a_record_survives_writing() {
        let record = read(FULL, "record.json").unwrap();
        let text = serde_json::to_string(&record).unwrap();
        assert_eq!(read(&text, "record.json").unwrap(), record);
        let least = read_value(&least(), "record.json").unwrap();
        assert_eq!(serde_json::to_value(&least).unwrap(), super::tests::least());
    }

    #[test]
    fn alternatives_of_a_key_are_read() {
        let mut draft = full();
        draft["analysis"]["lowpass"] = json!("auto");
        draft["sensor"]["effective_radius_m"] = json!(2.0e-4);
        draft["device"]["elements_off"] = json!(2);
        draft["uncertainties"][0]["applies_to"] = json!("pc");
        draft["scans"][1]["layout"]["time"] = json!({"array": "/scan/t", "unit": "us"});
        draft["exposure"] = Value::Null;
        let record = read_value(&draft, "record.json").unwrap();
        assert_eq!(record.analysis.lowpass.filter(), None);
        assert_eq!(record.device.elements_off.unwrap().count(), 2);
        assert_eq!(record.uncertainties[0].applies_to, Some(AppliesTo::One("pc".to_owned())));
        assert_eq!(record.exposure, None);
    }

    /// A blank is a missing key or null, for every key that may be missing.
    #[test]
    fn every_blank_may_be_null() {
        let mut draft = full();
        fn blank(value: &mut Value, path: &mut Vec<String>, all: &mut Vec<Vec<String>>) {
            if let Value::Object(object) = value {
                for (key, below) in object {
                    path.push(key.clone());
                    all.push(path.clone());
                    blank(below, path, all);
                    path.pop();
                }
            }
        }
        let mut all = Vec::new();
        blank(&mut draft, &mut Vec::new(), &mut all);
        let required = ["schema", "scans", "kind", "cutoff_hz", "value", "before", "after"];
        // One of several must be stated, or some at all.
        let needed = ["v_per_pa", "mv_per_mpa", "db_re_1v_per_upa", "device_scans"];
        for path in all {
            let mut draft = full();
            let place = path.iter().try_fold(&mut draft, |v, key| v.get_mut(key)).unwrap();
            *place = Value::Null;
            let result = read_value(&draft, "record.json");
            let last = path.last().unwrap().as_str();
            if path == ["sensor"] || path == ["sensor", "ranges"] {
                // The scans name ranges, which now do not exist.
                assert!(lines(&result.unwrap_err()).iter().all(|l| l.contains("unknown-range")));
            } else if required.contains(&last)
                && path != ["analysis", "window", "kind"]
                && path != ["sensor", "kind"]
            {
                let name = path.join(".");
                let holder = &path[path.len().saturating_sub(2)];
                let of_u = holder.starts_with("u_") || holder == "uncertainty";
                let code = match last {
                    "kind" if of_u => "record-uncertainty-kind-missing",
                    _ => "record-missing-key",
                };
                assert_eq!(lines(&result.unwrap_err()), [format!("{code} {name}")]);
            } else if needed.contains(&last) || last == "relative" && path[1] != "u_position" {
                let codes = ["record-one-factor", "record-no-device-scans", "record-not-relative"];
                let found = lines(&result.unwrap_err());
                assert!(found.iter().all(|l| codes.iter().any(|code| l.starts_with(code))));
            } else {
                assert!(result.is_ok(), "{path:?} {result:?}");
            }
        }
    }

    /// Five mistakes, five problems: each with its place, what was found, what was meant.
    #[test]
    fn all_problems_are_told_at_once() {
        let mut draft = full();
        draft["excitation"]["repetiton_hz"] = json!(100);
        draft["device"]["oxygen_mg_per_l"] = json!(3);
        draft["water"]["temperature_c"] = json!("22,4");
        draft["scans"][2]["role"] = json!("check-sourse");
        draft["sensor"]["ranges"][1]["response"]["uncertainty"] = json!({"value": 5});
        let problems = read_value(&draft, "head3.json").unwrap_err();
        assert_eq!(
            lines(&problems),
            [
                "record-unknown-key device.oxygen_mg_per_l",
                "record-wrong-type water.temperature_c",
                "record-unknown-key excitation.repetiton_hz",
                "record-uncertainty-kind-missing sensor.ranges[1].response.uncertainty.kind",
                "record-not-one-of scans[2].role",
            ]
        );
        let arg = |i: usize, name: &str| problems[i].args.get(name).cloned();
        assert_eq!(arg(0, "nearest"), Some(Arg::from("water.oxygen_mg_per_l")));
        assert_eq!(arg(1, "expected"), Some(Arg::List(vec!["number".to_owned()])));
        assert_eq!(arg(1, "found"), Some(Arg::from("string")));
        assert_eq!(arg(1, "value"), Some(Arg::from("22,4")));
        assert_eq!(arg(2, "nearest"), Some(Arg::from("repetition_hz")));
        assert_eq!(arg(4, "nearest"), Some(Arg::from("check-source")));
        assert!(problems.iter().all(|p| p.place.file.as_deref() == Some("head3.json")));
        assert_eq!(problems[4].place.scan.as_deref(), Some("source-reference"));
    }

    #[test]
    fn an_uncertainty_without_its_kind_is_refused_everywhere() {
        let spots = ["/readings/0", "/stated/0", "/uncertainties/0", "/sensor/ranges/0/response"];
        for spot in spots {
            let mut draft = full();
            let holder = draft.pointer_mut(spot).unwrap();
            holder["uncertainty"].as_object_mut().unwrap().remove("kind");
            let problems = read_value(&draft, "record.json").unwrap_err();
            assert_eq!(problems.len(), 1, "{spot}");
            assert_eq!(problems[0].code, "record-uncertainty-kind-missing", "{spot}");
        }
    }

    /// Values typed in the unit that one speaks instead of the key's.
    #[test]
    fn a_value_in_another_unit_is_out_of_range() {
        for (pointer, value) in [
            ("/excitation/frequency_hz", json!(1.1)),
            ("/excitation/cycles", json!(0)),
            ("/excitation/repetition_hz", json!(-100)),
            ("/excitation/repetition_hz", json!(0)),
            ("/device/aperture_radius_m", json!(32)),
            ("/device/radius_of_curvature_m", json!(63.2)),
            ("/water/temperature_c", json!(295.5)),
            ("/water/temperature_c", json!(-0.1)),
            ("/sensor/linear_limit_pa", json!(6)),
            ("/sensor/effective_radius_m", json!(0.2)),
            ("/sensor/response/v_per_pa", json!(50)),
            ("/analysis/lowpass/cutoff_hz", json!(80)),
            ("/sensor/ranges/0/response/uncertainty/k", json!(0)),
            ("/decision/coverage", json!(1)),
            ("/decision/coverage", json!(95)),
            ("/sensor/bits", json!(0)),
            ("/device/elements_off/0", json!(-1)),
            ("/device/elements_off/0", json!(5_000_000_000u64)),
        ] {
            let mut draft = full();
            *draft.pointer_mut(pointer).unwrap() = value;
            let problems = problems_of(&draft);
            assert_eq!(problems.len(), 1, "{pointer} {problems:?}");
            assert!(problems[0].starts_with("record-out-of-range "), "{pointer} {problems:?}");
        }
        let mut draft = full();
        draft["excitation"]["repetition_hz"] = json!(0);
        let problem = read_value(&draft, "record.json").unwrap_err().remove(0);
        assert_eq!(problem.args["minimum"], Arg::measure(0.0, "Hz"));
        assert_eq!(problem.args["exclusive"], Arg::from("minimum"));
    }

    #[test]
    fn a_record_needs_its_schema_and_a_scan() {
        assert_eq!(
            problems_of(&json!({})),
            ["record-missing-key schema", "record-missing-key scans"]
        );
        let empty = json!({"schema": SCHEMA, "scans": []});
        assert_eq!(problems_of(&empty), ["record-wrong-length scans"]);
        let scan = json!({"schema": SCHEMA, "scans": [{"id": " "}]});
        assert_eq!(
            problems_of(&scan),
            [
                "record-empty-text scans[0].id",
                "record-missing-key scans[0].role",
                "record-missing-key scans[0].file",
            ]
        );
        let sheet = json!({"schema": "focalsheet-sheet/1", "quantities": []});
        assert_eq!(problems_of(&sheet), ["record-wrong-schema schema"]);
        for other in [json!([]), json!(1), json!("text"), Value::Null] {
            assert_eq!(problems_of(&other), ["record-wrong-type "]);
        }
    }

    #[test]
    fn a_response_is_told_apart_by_its_kind() {
        let response = |response: Value| {
            let mut draft = least();
            draft["sensor"] = json!({"response": response});
            problems_of(&draft)
        };
        assert_eq!(
            response(json!({"v_per_pa": 5e-8})),
            ["record-missing-key sensor.response.kind"]
        );
        let not_one = ["record-not-one-of sensor.response.kind"];
        assert_eq!(response(json!({"kind": "curve", "file": "r.csv"})), not_one);
        assert_eq!(response(json!({"kind": 3})), ["record-wrong-type sensor.response.kind"]);
        assert_eq!(response(json!({"kind": "table"})), ["record-missing-key sensor.response.file"]);
        let unknown = ["record-unknown-key sensor.response.file"];
        assert_eq!(response(json!({"kind": "flat", "v_per_pa": 5e-8, "file": "r.csv"})), unknown);
        assert_eq!(response(json!(5e-8)), ["record-wrong-type sensor.response"]);
    }

    /// Every path of the schema is in the example, so that the tests above speak of all of them.
    #[test]
    fn the_example_has_every_key() {
        fn paths(value: &Value, path: &str, all: &mut std::collections::BTreeSet<String>) {
            match value {
                Value::Object(object) => {
                    for (key, below) in object {
                        let path = super::super::path::key_below(path, key);
                        paths(below, &path, all);
                        all.insert(path);
                    }
                }
                Value::Array(list) => list.iter().for_each(|v| paths(v, &format!("{path}[]"), all)),
                _ => {}
            }
        }
        let mut written = std::collections::BTreeSet::new();
        paths(&full(), "", &mut written);
        let missing: Vec<&str> = KNOWN
            .paths()
            .filter(|path| !written.contains(*path))
            // The sensor's own response has the same type as that of a range; steps and arrays
            // serve any axis.
            .filter(|path| !path.starts_with("sensor.response.") && !path.contains(".layout."))
            .collect();
        assert_eq!(missing, [""; 0]);
        assert!(KNOWN.paths().count() > 150);
    }

    /// Each value of the example replaced in turn by values of all types: never a panic, never an
    /// error without a problem, never a disagreement between schema and types.
    #[test]
    fn hostile_values_end_in_problems() {
        let bad = [
            Value::Null,
            json!("text"),
            json!(""),
            json!(-1),
            json!(1e300),
            json!(0.5),
            json!([]),
            json!({}),
            json!({"kind": "table"}),
            json!({"\u{0}": [{}]}),
        ];
        fn pointers(value: &Value, here: &str, all: &mut Vec<String>) {
            all.push(here.to_owned());
            match value {
                Value::Object(object) => {
                    object.iter().for_each(|(k, v)| pointers(v, &format!("{here}/{k}"), all));
                }
                Value::Array(list) => {
                    let each = list.iter().enumerate();
                    each.for_each(|(i, v)| pointers(v, &format!("{here}/{i}"), all));
                }
                _ => {}
            }
        }
        let mut all = Vec::new();
        let example = full();
        pointers(&example, "", &mut all);
        let mut refused = 0;
        for pointer in &all {
            for value in &bad {
                let mut draft = example.clone();
                *draft.pointer_mut(pointer).unwrap() = value.clone();
                if let Err(problems) = read(&draft.to_string(), "record.json") {
                    assert!(!problems.is_empty(), "{pointer} {value}");
                    let inner = problems.iter().find(|p| p.code == "record-not-understood");
                    assert_eq!(inner, None, "{pointer} {value}");
                    refused += 1;
                }
            }
        }
        assert!(refused > all.len() * bad.len() / 2, "{refused}");
    }

    /// The text cut off anywhere, or with one byte changed, never panics.
    #[test]
    fn hostile_text_ends_in_problems() {
        for (at, _) in FULL.trim_end().char_indices().step_by(7) {
            assert!(read(&FULL[..at], "record.json").is_err(), "{at}");
            let changed = format!("{}{}{}", &FULL[..at], "\u{1F4A3}", &FULL[at + 1..]);
            if let Err(problems) = read(&changed, "record.json") {
                assert!(!problems.is_empty());
            }
        }
    }

    #[test]
    fn the_flood_of_problems_is_limited() {
        let many: serde_json::Map<_, _> =
            (0..50_000).map(|i| (format!("k{i}"), json!(i))).collect();
        let problems = read_value(&Value::Object(many), "record.json").unwrap_err();
        assert_eq!(problems.len(), 101);
        assert_eq!(problems[100].code, "record-more-problems");
        let long = json!({"schema": SCHEMA, "x".repeat(100_000): 1, "scans": [{"id": 1}]});
        let text = format!("{:?}", read_value(&long, "record.json").unwrap_err());
        assert!(text.len() < 5000);
    }
}
