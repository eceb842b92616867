//! How volts become pascals, as the record states it.

use super::front::item;
use super::model::Item;
use super::rounding;
use super::stated_uncertainty as u;
use super::wording::Wording;
use crate::analysis::Results;

/// Where the sensitivity may be typed: not where it is by table, check source or range.
pub fn sensitivity_path(results: &Results) -> &'static str {
    let sensor = &results.record.sensor;
    let blank = match &sensor.response {
        Some(response) => response.flat_v_per_pa().is_some(),
        None => sensor.ranges.iter().all(|range| range.response.is_none()),
    };
    if blank { "sensor.response" } else { "" }
}

/// Kinds of the list of equipment that mean the sensor, by which older records state its certificate.
const SENSOR: [&str; 4] = ["sensor", "hydrophone", "hydrophon", "drucksensor"];

/// Certificate of the sensor, its day, and the day until which it holds; where an instrument of the list
/// is the sensor and states them, as they stand there.
pub fn certificate(results: &Results, words: &dyn Wording) -> Vec<Item> {
    let record = &results.record;
    let own = &record.sensor;
    let mut listed = record.equipment.iter().enumerate();
    let listed = listed.find(|(_, e)| SENSOR.contains(&e.kind.trim().to_lowercase().as_str()));
    let one = |key: &str, own: &Option<String>, other: Option<(usize, &Option<String>)>| {
        let (text, path) = match (own, other) {
            (None, Some((i, Some(text)))) => (Some(text), format!("equipment[{i}].{key}")),
            _ => (own.as_ref(), format!("sensor.{key}")),
        };
        item(words.label(key).unwrap_or_default().to_owned(), text.cloned(), &path, words)
    };
    vec![
        one("certificate", &own.certificate, listed.map(|(i, e)| (i, &e.certificate))),
        one("calibrated", &own.calibrated, listed.map(|(i, e)| (i, &e.calibrated))),
        one("due", &own.due, listed.map(|(i, e)| (i, &e.due))),
    ]
}

/// Samples of files that do not say their volts; each file's where there are several.
pub fn file_units(results: &Results, words: &dyn Wording) -> Vec<Item> {
    let scans = results.record.scans.iter().enumerate();
    let stated = scans.filter_map(|(i, s)| Some((i, &s.id, s.layout.as_ref()?.volts.as_ref()?)));
    let stated: Vec<_> = stated.collect();
    let several = stated.len() > 1;
    let label = words.label("file-unit").unwrap_or_default();
    let items = stated.into_iter().map(|(i, id, volts)| {
        let unit = volts.unit.as_deref().unwrap_or("V").replace('u', "µ");
        let scale = rounding::shortest(volts.scale.unwrap_or(1.0), words.marks());
        let label = if several { format!("{label}, {id}") } else { label.to_owned() };
        let path = format!("scans[{i}].layout.volts");
        item(label, Some(format!("{scale}\u{a0}{unit}")), &path, words)
    });
    items.collect()
}

/// How volts become pascals, as stated: `42 mV/MPa, 10 % (k = 2)`.
pub fn sensitivity(results: &Results, words: &dyn Wording) -> Option<String> {
    let response = results.record.sensor.response.as_ref()?;
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let stated = match response.flat_v_per_pa() {
        Some(factor) => {
            let (digits, unit) = (factor * 1e9, "mV/MPa");
            format!("{}\u{a0}{unit}", rounding::shortest(digits, words.marks()))
        }
        None => label(&format!("sensitivity-{}", response.kind())),
    };
    let u = response.stated_uncertainty().and_then(|u| {
        let in_percent = || {
            let of = response.flat_v_per_pa().filter(|of| *of > 0.0)?;
            Some((u.value / of, u.kind.word(), u.coverage_factor()))
        };
        u.relative_parts().or_else(in_percent)
    });
    let of_u = u::relative(u, words).map_or_else(String::new, |u| format!(", {u}"));
    Some(stated + &of_u)
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::analysis;
    use crate::formats::source::{FileSet, Memory};
    use crate::record::{self, Edited, Tier};
    use crate::report::conditions;
    use crate::report::model::Block;
    use crate::report::wording::en::English;

    /// A burst of 1 MHz in one column.
    fn results() -> Results {
        let volts = |k: u32| match k {
            100..300 => (0.02 * std::f64::consts::TAU * f64::from(k)).sin(),
            _ => 0.0,
        };
        let row = |k: u32| format!("{:.2},{:.4}\n", 0.02 * f64::from(k), volts(k));
        let text = format!("time (us),CH1 (V)\n{}", (0..400).map(row).collect::<String>());
        let mut files = FileSet::default();
        files.insert("a.csv", Arc::new(Memory(Arc::from(text.as_bytes()))));
        let (record, _) = analysis::skeleton(&files);
        analysis::run(record, &files, &mut |_, _| {}).unwrap()
    }

    /// What a record with these parts prints of its sensor, by path.
    fn items(results: &mut Results, parts: serde_json::Value) -> Vec<Item> {
        let mut whole = serde_json::to_value(&results.record).unwrap();
        for (key, part) in parts.as_object().unwrap() {
            whole[key] = part.clone();
        }
        results.record = serde_json::from_value(whole).unwrap();
        let blocks = conditions::blocks(results, &English).into_iter();
        let items = blocks.flat_map(|block| match block {
            Block::Definitions { items, .. } => items,
            _ => Vec::new(),
        });
        items.collect()
    }

    /// The certificate is typed beside the serial number, its days as one writes them; the table of
    /// equipment begins with it. What an older record lists of the sensor stays where it is.
    #[test]
    fn a_certificate_and_its_days_are_blanks() {
        let mut results = results();
        let of_certificate = |items: Vec<Item>| -> Vec<(String, String, String)> {
            let own = items
                .into_iter()
                .filter(|item| ["Certificate", "Calibrated", "Due"].contains(&item.label.as_str()));
            own.map(|item| (item.path, item.text, item.typed)).collect()
        };
        let row = |path: &str, text: &str| (path.to_owned(), text.to_owned(), String::new());
        assert_eq!(
            of_certificate(items(&mut results, serde_json::json!({}))),
            [
                row("sensor.certificate", "not stated"),
                row("sensor.calibrated", "not stated"),
                row("sensor.due", "not stated")
            ]
        );
        let mut draft = serde_json::to_value(&results.record).unwrap();
        let when = Some("2026-05-05T10:00:00");
        for (path, text) in [
            ("sensor.certificate", "K-2025-31"),
            ("sensor.calibrated", "24.11.2025"),
            ("sensor.due", "2026-11-24"),
        ] {
            match record::edit(&draft, path, text, None, when) {
                Ok(Edited::Done { draft: new, tier }) => {
                    assert_eq!(tier, Some(Tier::Sheet), "{path}");
                    draft = new;
                }
                other => panic!("{path} {other:?}"),
            }
        }
        assert_eq!(draft["changes"].as_array().unwrap().len(), 3);
        // Kept in the record; a day on the sheet is one day.
        assert_eq!(draft["typed"]["sensor.calibrated"], "24.11.2025");
        let refused = record::edit(&draft, "sensor.due", "31.11.2026", None, when).unwrap_err();
        assert_eq!(refused[0].code, "typed-not-a-day");
        let early = record::edit(&draft, "sensor.due", "2025-11-01", None, when).unwrap_err();
        assert_eq!(early[0].code, "record-ends-before-start");
        let parts = serde_json::json!({"sensor": draft["sensor"], "typed": draft["typed"]});
        assert_eq!(
            of_certificate(items(&mut results, parts)),
            [
                row("sensor.certificate", "K-2025-31"),
                row("sensor.calibrated", "2025-11-24"),
                row("sensor.due", "2026-11-24")
            ]
        );
        let tables = crate::report::calibration::blocks(&results, &English).into_iter();
        let rows: Vec<_> = tables
            .filter_map(|block| match block {
                Block::Table { caption, rows, .. } if caption == "Equipment" => Some(rows),
                _ => None,
            })
            .flatten()
            .collect();
        assert_eq!(rows, [["Sensor", "not stated", "K-2025-31", "2025-11-24", "2026-11-24"]]);
        let listed = serde_json::json!([{"kind": "Hydrophone", "certificate": "H-1"}]);
        let parts = serde_json::json!({"sensor": {}, "typed": {}, "equipment": listed});
        assert_eq!(
            of_certificate(items(&mut results, parts))[..2],
            [row("equipment[0].certificate", "H-1"), row("sensor.calibrated", "not stated")]
        );
    }

    /// A factor and the unit of a file's samples are typed where they stand; a table is not.
    #[test]
    fn sensitivity_and_units_are_blanks() {
        let mut results = results();
        let mut said = |parts| -> Vec<(String, String)> {
            let all = items(&mut results, parts).into_iter();
            let of_calibration = |item: &Item| {
                ["Sensitivity", "Gain after", "One unit"]
                    .iter()
                    .any(|start| item.label.starts_with(start))
            };
            all.filter(of_calibration)
                .map(|item| (item.path, item.text.replace('\u{a0}', " ")))
                .collect()
        };
        let own = |path: &str, text: &str| (path.to_owned(), text.to_owned());
        let blank = said(serde_json::json!({}));
        assert_eq!(blank[0].0, "sensor.response");
        let layout = |scale: f64| serde_json::json!({"waveforms": "/w", "axes": ["t"], "volts": {"scale": scale, "unit": "uV"}});
        let u = serde_json::json!({"value": 4e-9, "kind": "expanded", "k": 2});
        let flat = serde_json::json!({"kind": "flat", "v_per_pa": 4e-8, "uncertainty": u});
        let scan = |id: &str| serde_json::json!({"id": id, "role": "point", "file": "a.csv", "layout": layout(0.5)});
        assert_eq!(
            said(serde_json::json!({"sensor": {"response": flat}, "scans": [scan("a")]})),
            [
                own("sensor.response", "40 mV/MPa, 10 % (k = 2)"),
                own("scans[0].layout.volts", "0.5 µV")
            ]
        );
        let table = serde_json::json!({"kind": "table", "file": "s.csv", "gain_db": 20});
        assert_eq!(
            said(
                serde_json::json!({"sensor": {"response": table}, "scans": [scan("a"), scan("b")]})
            ),
            [
                own("", "by table over frequency"),
                own("sensor.response.gain_db", "20 dB"),
                own("scans[0].layout.volts", "0.5 µV"),
                own("scans[1].layout.volts", "0.5 µV")
            ]
        );
    }
}
