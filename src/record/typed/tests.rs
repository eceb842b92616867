use super::*;
use crate::record::place::get;

fn record() -> Value {
    json!({
        "schema": "focalsheet-record/1",
        "excitation": {"level": 90.0, "level_unit": "Vpp"},
        "stated": [{"quantity": "pc", "value": 7.8, "unit": "MPa"}, {"quantity": "td", "value": 5e-6}],
        "scans": [{"id": "a", "role": "point", "file": "a.csv"}]
    })
}

fn value(path: &str, text: &str) -> Value {
    match typed(&record(), path, text, None) {
        Ok(Typed::Values(values)) => values[0].1.clone(),
        other => panic!("{path} {text} {other:?}"),
    }
}

fn refused(path: &str, text: &str) -> Problem {
    typed(&record(), path, text, None).unwrap_err()
}

/// Definitions of the SI prefixes (SI Brochure, 9th edition, table 7), by hand.
#[test]
fn numbers_with_units() {
    for (path, text, expected) in [
        ("water.temperature_c", "21,4 °C", 21.4),
        ("water.temperature_c", "21.4", 21.4),
        ("water.u_temperature_c", "0,2 K", 0.2),
        ("excitation.frequency_hz", "1.5 MHz", 1.5e6),
        ("excitation.frequency_hz", "1,1", 1.1e6),
        ("excitation.frequency_hz", "1100 kHz", 1.1e6),
        ("excitation.repetition_hz", "100", 100.0),
        ("excitation.repetition_hz", "0.1 kHz", 100.0),
        ("excitation.cycles", "12", 12.0),
        ("device.radius_of_curvature_m", "120 mm", 0.12),
        ("device.radius_of_curvature_m", "45", 0.045),
        ("device.aperture_radius_m", "2 cm", 0.02),
        ("sensor.effective_radius_m", "10 µm", 1e-5),
        ("sensor.linear_limit_pa", "20", 2e7),
        ("sensor.full_scale_v", "0.5 V", 0.5),
        ("sensor.full_scale_v", "500", 0.5),
        ("device.source_area_m2", "13,257 cm²", 0.001_325_7),
        ("exposure.burst_s", "20", 0.02),
        ("excitation.power_electrical_w", "18 W", 18.0),
        ("water.sensor_soak_min", "1 h", 60.0),
        ("device.operating_hours", "212 h", 212.0),
        ("excitation.cycles", "8 cycles", 8.0),
        ("excitation.cycles", "8 Zyklen", 8.0),
        ("excitation.repetition_hz", "50 per second", 50.0),
        ("excitation.repetition_hz", "50/s", 50.0),
        ("excitation.repetition_hz", "50 1/s", 50.0),
        ("excitation.repetition_hz", "50 je Sekunde", 50.0),
        ("water.temperature_c", "22,5 degrees", 22.5),
        ("water.temperature_c", "22,5 deg C", 22.5),
        ("water.temperature_c", "22.5 C", 22.5),
        ("water.temperature_c", "22,5 Grad", 22.5),
        ("sensor.effective_radius_m", "diameter 0,4 mm", 0.0002),
        ("sensor.effective_radius_m", "0.4 mm diameter", 0.0002),
        ("sensor.effective_radius_m", "Ø 0,4 mm", 0.0002),
        ("sensor.effective_radius_m", "Ø0,4", 0.0002),
        ("sensor.effective_radius_m", "Durchmesser: 0,4 mm", 0.0002),
        ("sensor.effective_radius_m", "0,2 mm radius", 0.0002),
        ("device.aperture_radius_m", "64 mm in diameter", 0.032),
        ("scans[0].distance_m", "60 mm", 0.06),
        ("excitation.level", "40 Vpp", 40.0),
        ("decision.min_probability", "0.95", 0.95),
    ] {
        let found = match typed(&record(), path, text, Some(Reading::Decimal)) {
            Ok(Typed::Values(values)) => values[0].1.as_f64().unwrap(),
            other => panic!("{path} {text} {other:?}"),
        };
        assert_eq!(found, expected, "{path} {text}");
    }
    assert_eq!(value("sensor.bits", "12"), json!(12));
    assert_eq!(value("water.temperature_c", ""), Value::Null);
}

#[test]
fn what_may_be_either_is_asked() {
    for (path, text, readings) in [
        ("excitation.frequency_hz", "1,500 MHz", ["1.5 MHz", "1500 MHz"]),
        ("excitation.repetition_hz", "1.500", ["1.5", "1500"]),
        ("device.radius_of_curvature_m", "1,512 mm", ["1.512 mm", "1512 mm"]),
        ("stated[0]", "7,800 MPa ± 20 %", ["7.8 MPa ± 20 %", "7800 MPa ± 20 %"]),
    ] {
        let asked = typed(&record(), path, text, None);
        assert_eq!(asked, Ok(Typed::Ambiguous(readings.map(str::to_owned))), "{text}");
    }
    let read = |reading| typed(&record(), "excitation.repetition_hz", "1,500", Some(reading));
    let one =
        |value: f64| Ok(Typed::Values(vec![("excitation.repetition_hz".to_owned(), json!(value))]));
    assert_eq!(read(Reading::Decimal), one(1.5));
    assert_eq!(read(Reading::Thousands), one(1500.0));
    assert_eq!(value("site", "1,500"), json!("1,500"));
}

#[test]
fn refusals_say_what_is_taken() {
    let allowed = |path: &str, text: &str| refused(path, text).args["allowed"].clone();
    let list = |units: &[&str]| {
        crate::base::finding::Arg::List(units.iter().map(|u| (*u).to_owned()).collect())
    };
    assert_eq!(allowed("water.temperature_c", "21 mm"), list(&["°C", "degC"]));
    assert_eq!(allowed("excitation.level", "40 V"), list(&["Vpp"]));
    assert_eq!(allowed("excitation.u_drive", "2 mm (k=2)"), list(&["%"]));
    for (path, text, code) in [
        ("water.temperature_c", "warm", "typed-not-a-number"),
        ("excitation.frequency_hz", "1.5 V", "typed-wrong-unit"),
        ("excitation.cycles", "12 Hz", "typed-no-unit"),
        ("sensor.bits", "12 cycles", "typed-no-unit"),
        ("excitation.repetition_hz", "50 per minute", "typed-wrong-unit"),
        ("water.temperature_c", "72 F", "typed-wrong-unit"),
        ("device.radius_of_curvature_m", "diameter 45 mm", "typed-not-a-number"),
        ("sensor.effective_radius_m", "diameter of something", "typed-not-a-number"),
        ("sensor.effective_radius_m", "diameter", "typed-not-a-number"),
        ("sensor.bits", "12.5", "typed-not-whole"),
        ("date", "05/04/2026", "typed-not-a-day"),
        ("date", "2026-02-30", "typed-not-a-day"),
        ("excitation.mode", "sometimes", "typed-not-one-of"),
        ("excitation.u_drive", "3 %", "typed-no-kind"),
        ("stated[0]", "7.8 mm", "typed-wrong-unit"),
        ("stated[0].tolerance", "15", "typed-wrong-unit"),
        ("stated[0].tolerance", "about right", "typed-not-a-number"),
        ("stated[9]", "7.8 MPa", "typed-no-blank"),
        ("schema", "x", "typed-no-blank"),
        ("changes[0].old", "x", "typed-no-blank"),
        ("water", "x", "typed-no-blank"),
        ("water.nothing", "x", "typed-no-blank"),
        ("scans[0]", "x", "typed-no-blank"),
    ] {
        let problem = refused(path, text);
        assert_eq!(
            (problem.code.as_str(), problem.place.path.as_deref()),
            (code, Some(path)),
            "{text}"
        );
    }
    assert_eq!(refused("site", &"x".repeat(3000)).code, "typed-too-long");
}

/// An example is one of the blank's own dimension, and is taken there.
#[test]
fn a_refusal_shows_what_the_blank_takes() {
    for (path, example) in [
        ("device.radius_of_curvature_m", "1.5 mm"),
        ("scans[0].distance_m", "1.5 mm"),
        ("water.temperature_c", "21.4 °C"),
        ("excitation.frequency_hz", "1.5 MHz"),
        ("excitation.cycles", "8"),
        ("excitation.level", "40 Vpp"),
        ("sensor.response", "40 mV/MPa"),
        ("stated[0]", "7.8 MPa"),
        ("stated[1].value", "7.8 µs"),
    ] {
        let problem = refused(path, "about right");
        let arg = crate::base::finding::Arg::Text(example.to_owned());
        assert_eq!(problem.args.get("example"), Some(&arg), "{path}");
        assert!(typed(&record(), path, example, None).is_ok(), "{path} {example}");
    }
}

#[test]
fn words_days_and_texts() {
    assert_eq!(value("excitation.mode", "Burst"), json!("burst"));
    assert_eq!(
        value("excitation.level_kind", "percent of amplitude"),
        json!("percent-of-amplitude")
    );
    assert_eq!(value("date", "4.5.2026"), json!("2026-05-04"));
    assert_eq!(value("date", "2026-05-04"), json!("2026-05-04"));
    assert_eq!(value("site", " tank 2 "), json!("tank 2"));
}

#[test]
fn stated_values_and_uncertainties() {
    let Ok(Typed::Values(values)) = typed(&record(), "stated[0]", "8,2 MPa +20 % / -10 %", None)
    else {
        panic!("refused")
    };
    let mut draft = record();
    for (path, value) in values {
        assert!(crate::record::place::set(&mut draft, &path, value));
    }
    assert_eq!(get(&draft, "stated[0].value"), Some(&json!(8.2)));
    assert_eq!(
        get(&draft, "stated[0].tolerance"),
        Some(&json!({"lower": -0.1, "upper": 0.2, "relative": true}))
    );
    let one = |path: &str, text: &str| value(path, text);
    assert_eq!(one("stated[0].value", "800 kPa"), json!(0.8));
    assert_eq!(one("stated[0].value", "8"), json!(8.0));
    // The row has no unit: seconds; a bare number is in the printed unit.
    assert_eq!(one("stated[1].value", "6.5"), json!(6.5e-6));
    assert_eq!(
        one("excitation.u_drive", "3 % (k=2)"),
        json!({"value": 0.03, "kind": "expanded", "k": 2.0, "relative": true})
    );
    for said in ["± 3 % (k=2)", "+-3 % (k=2)"] {
        assert_eq!(one("excitation.u_drive", said), one("excitation.u_drive", "3 % (k=2)"));
    }
    assert_eq!(
        one("frame.u_position", "0.05 mm standard"),
        json!({"value": 5e-5, "kind": "standard", "relative": false})
    );
    let Ok(Typed::Values(limit)) = typed(&record(), "stated[0]", "≤ 9 MPa", None) else {
        panic!("refused")
    };
    assert_eq!(limit[2].1, json!({"upper": 0.0, "relative": false}));
}

/// A text that no longer means what the record holds is stale.
#[test]
fn stale_texts_are_known() {
    let mut draft = record();
    draft["water"] = json!({"temperature_c": 21.4});
    draft["excitation"]["repetition_hz"] = json!(1500.0);
    assert!(still_means(&draft, "water.temperature_c", "21,4 °C"));
    assert!(!still_means(&draft, "water.temperature_c", "21,5 °C"));
    assert!(still_means(&draft, "excitation.repetition_hz", "1,500 Hz"));
    draft["excitation"]["repetition_hz"] = json!(1500);
    assert!(still_means(&draft, "excitation.repetition_hz", "1,500 Hz"));
}

/// Every path of the schema, typed with all sorts of text: never a panic.
#[test]
fn hostile_texts_end_in_problems() {
    for path in crate::record::known::KNOWN.paths() {
        for path in [path.to_owned(), path.replace("[]", "[0]"), path.replace("[]", "[99]")] {
            for text in [
                "",
                "1",
                "-",
                "±",
                "1,500",
                "≤",
                "%",
                "é€",
                "1e",
                "+20 % / ",
                "k=",
                "..",
                "1.e5 MHz",
                "Ø",
                "⌀é",
                "diameterdiameter",
                "4 at ",
                "4 @é, ±",
            ] {
                let _ = typed(&record(), &path, text, None);
            }
        }
    }
    for path in ["", ".", "[", "a[", "a[1", "stated[18446744073709551616]", "stated[].value", "…"]
    {
        assert!(typed(&record(), path, "1", None).is_err(), "{path}");
    }
}
