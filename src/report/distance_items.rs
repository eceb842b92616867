//! How far scans lie from the head, where only a person can say it.

use super::front::item;
use super::model::Item;
use super::wording::{Wording, stated_measure};
use crate::analysis::{self, Results};

/// The distances that are stated, or that nothing else says; with the scan's name where there are several.
pub fn distances(results: &Results, words: &dyn Wording) -> Vec<Item> {
    let scans = &results.record.scans;
    let asked = analysis::asked_distances(results);
    let entries: Vec<_> = asked.into_iter().filter_map(|i| Some((i, scans.get(i)?))).collect();
    let label = words.label("distance").unwrap_or_default();
    let several = entries.len() > 1;
    let items = entries.into_iter().map(|(i, entry)| {
        let text = entry.distance_m.map(|distance| stated_measure(distance, "m", words.marks()));
        let label = if several { format!("{label}, {}", entry.id) } else { label.to_owned() };
        item(label, text, &format!("scans[{i}].distance_m"), words)
    });
    items.collect()
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::base::quantity::Reason;
    use crate::formats::source::{FileSet, Memory};
    use crate::record::{self, Edited, Tier};
    use crate::report::wording::{self, en::English};

    /// A Gaussian beam of 1 MHz at 9 × 9 places 0.7 mm apart, with or without z in the file.
    fn plane(z: Option<f64>) -> FileSet {
        let burst = |k: u32, x: f64, y: f64| match k {
            100..300 => {
                (0.02 * std::f64::consts::TAU * f64::from(k)).sin() * (-(x * x + y * y) / 4.0).exp()
            }
            _ => 0.0,
        };
        let times: Vec<String> = (0..400).map(|k| format!("{:.2}", 0.02 * f64::from(k))).collect();
        let heading = if z.is_some() { "x (mm),y (mm),z (mm)" } else { "x (mm),y (mm)" };
        let mut text = format!("{heading},{}\n", times.join(","));
        for (i, j) in (0..81).map(|n| (n % 9, n / 9)) {
            let (x, y) = (0.7 * f64::from(i - 4), 0.7 * f64::from(j - 4));
            text += &format!("{x:.1},{y:.1}");
            text += &z.map_or_else(String::new, |z| format!(",{z}"));
            text.extend((0..400).map(|k| format!(",{:.4}", burst(k, x, y))));
            text.push('\n');
        }
        let mut files = FileSet::default();
        files.insert("a.csv", Arc::new(Memory(Arc::from(text.as_bytes()))));
        files
    }

    fn said(results: &Results, words: &dyn Wording) -> Vec<(String, String, String, bool)> {
        let own = distances(results, words).into_iter();
        own.map(|i| (i.label, i.text.replace('\u{a0}', " "), i.path, i.blank)).collect()
    }

    /// The record of these files, samples in volts.
    fn draft(files: &FileSet) -> serde_json::Value {
        let (record, _) = analysis::skeleton(files);
        let picks = analysis::picks(&record, files);
        let own = serde_json::json!({"scans": [{"role": "plane", "typed": {"volts": "1 V"}}]});
        let answers = serde_json::from_value(own).unwrap();
        let draft = serde_json::to_value(&record).unwrap();
        analysis::drafted(&draft, &picks, &answers, None).unwrap()
    }

    fn computed(draft: &serde_json::Value, files: &FileSet) -> Results {
        let record = record::read_value(draft, "").unwrap();
        analysis::run(record, files, &mut |_, _| {}).unwrap()
    }

    /// One entry suffices: nothing asks for the distance, a z or its zero any more.
    #[test]
    fn a_stated_distance_is_all_that_is_asked() {
        let files = plane(None);
        let mut draft = draft(&files);
        draft["excitation"] = serde_json::json!({"frequency_hz": 1e6});
        draft["device"] = serde_json::json!({"source_area_m2": 3e-4});
        draft["sensor"] = serde_json::json!({"response": {"kind": "flat", "mv_per_mpa": 100.0}});
        let offset = |results: &Results| {
            let all = results.scans[0].quantities.iter();
            let of = |id: &str| all.clone().find(|q| q.id == id).unwrap().outcome.clone();
            [of("axis_offset_x"), of("isal")]
        };
        let asks = |why: &Result<f64, Reason>| {
            why.as_ref().err().and_then(|reason| reason.blank.clone()).unwrap_or_default()
        };
        let before = computed(&draft, &files);
        assert_eq!(
            said(&before, &English)[0],
            (
                "Distance from the head".to_owned(),
                "not stated".to_owned(),
                "scans[0].distance_m".to_owned(),
                true
            )
        );
        assert_eq!(said(&before, wording::of("de"))[0].0, "Abstand vom Kopf");
        assert_eq!(offset(&before).map(|why| asks(&why)), ["scans.distance_m"; 2]);
        let when = Some("2026-05-05T10:00:00");
        let edited = record::edit(&draft, "scans[0].distance_m", "60 mm", None, when);
        let Ok(Edited::Done { draft: stated, tier }) = edited else { panic!("{edited:?}") };
        assert_eq!(tier, Some(Tier::Read));
        assert_eq!(stated["changes"][0]["field"], "scans[0].distance_m");
        assert_eq!(stated["changes"][0]["new"], 0.06);
        let after = computed(&stated, &files);
        assert_eq!(said(&after, &English)[0].1, "60 mm");
        assert!(offset(&after)[0].is_ok(), "{:?}", offset(&after));
        for why in offset(&after) {
            assert!(
                !["scans.distance_m", "frame.z_zero"].contains(&asks(&why).as_str()),
                "{why:?}"
            );
        }
    }

    /// A z in the file with its stated zero asks nothing; without the zero it does not say the distance.
    #[test]
    fn what_the_file_says_is_not_asked() {
        let files = plane(Some(60.0));
        let mut draft = draft(&files);
        assert_eq!(said(&computed(&draft, &files), &English).len(), 1);
        draft["frame"] = serde_json::json!({"z_zero": "apex"});
        assert_eq!(said(&computed(&draft, &files), &English), []);
        draft["scans"][0]["distance_m"] = serde_json::json!(0.06);
        assert_eq!(said(&computed(&draft, &files), &English)[0].1, "60 mm");
    }

    /// Of several scans each has its name.
    #[test]
    fn several_scans_are_named() {
        let files = plane(None);
        let mut draft = draft(&files);
        let mut second = draft["scans"][0].clone();
        second["id"] = serde_json::json!("later");
        draft["scans"].as_array_mut().unwrap().push(second);
        let labels: Vec<_> =
            said(&computed(&draft, &files), &English).into_iter().map(|i| i.0).collect();
        assert!(labels[0].starts_with("Distance from the head, "), "{labels:?}");
        assert_eq!(labels[1], "Distance from the head, later");
    }
}
