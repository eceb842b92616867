use std::collections::BTreeMap;
use std::fmt::Write as _;

use super::*;
use crate::analysis::pick::draft::ScanAnswers;
use crate::analysis::skeleton;
use crate::formats::source::Memory;
use crate::record::Role;

/// 5 × 4 points of 40 samples: a value that says where it stands.
fn table(head: &str, before: impl Fn(usize, usize) -> String) -> FileSet {
    let mut text = head.to_owned();
    for (j, i) in (0..4).flat_map(|j| (0..5).map(move |i| (j, i))) {
        text.push_str(&before(i, j));
        for k in 0..40 {
            let value = (100 + 10 * i + j) * if k == 20 { 1 } else { 0 };
            let _ = write!(text, "{value},");
        }
        text.pop();
        text.push('\n');
    }
    let mut files = FileSet::default();
    files.insert("scan.csv", Arc::new(Memory(Arc::from(text.as_bytes()))));
    files
}

fn typed(pairs: &[(&str, &str)]) -> BTreeMap<String, String> {
    pairs.iter().map(|(key, text)| ((*key).to_owned(), (*text).to_owned())).collect()
}

fn keys(choice: &Choice) -> Vec<&str> {
    choice.fields.iter().map(|field| field.key).collect()
}

#[test]
fn indices_without_headings_are_asked_for_and_read() {
    let files = table("", |i, j| format!("{i},{j},"));
    let (record, _) = skeleton(&files);
    let picks = picks(&record, &files);
    let [pick] = picks.as_slice() else { panic!() };
    assert_eq!(pick.notes[0].code, "text-index-columns");
    assert_eq!(pick.choices.len(), 2);
    let choice = &pick.choices[0];
    assert_eq!(keys(choice), ["x", "y", "dt", "volts"]);
    let none = answered(choice, &BTreeMap::new());
    let wrong: Vec<_> =
        none.wrong.iter().map(|w| (w.key.as_str(), w.problem.code.as_str())).collect();
    assert_eq!(wrong, [("dt", "pick-needed"), ("volts", "pick-needed")]);
    let answers =
        typed(&[("x", "0,25 mm"), ("y", "500 µm"), ("dt", "50 MHz"), ("volts", "0.1 mV")]);
    let told = answered(choice, &answers);
    assert_eq!(told.wrong, []);
    let mut entry = pick.entry.clone();
    entry.layout = Some(told.layout);
    let seen = pick.preview(&record, &entry).unwrap();
    assert_eq!((seen.columns, seen.rows, seen.looked_at, seen.samples), (5, 4, 20, 40));
    assert!((seen.across_m[1] - 1.0e-3).abs() < 1e-12, "four steps of 0.25 mm");
    assert!((seen.up_m[1] - 1.5e-3).abs() < 1e-12);
    assert!((seen.interval_s - 2e-8).abs() < 1e-20);
    // 143 counts of 0.1 mV at the last point, of one sign.
    assert_eq!(seen.loudest_v[0], 0.0);
    assert!((seen.loudest_v[1] - 143e-4).abs() < 1e-9);
    assert!((f64::from(seen.swing_v[5]) - 0.5 * 101e-4).abs() < 1e-8, "the second row");
    // Exchanged: the map lies on its side.
    let other = answered(&pick.choices[1], &answers);
    entry.layout = Some(other.layout);
    let seen = pick.preview(&record, &entry).unwrap();
    assert_eq!((seen.columns, seen.rows), (4, 5));
}

#[test]
fn points_without_coordinates_are_put_in_rows() {
    let files = table("", |_, _| String::new());
    let (record, _) = skeleton(&files);
    let pick = &picks(&record, &files)[0];
    let choice = &pick.choices[0];
    assert_eq!(keys(choice), ["columns", "x-step", "y-step", "dt", "volts"]);
    let mut answers = typed(&[
        ("columns", "6"),
        ("x-step", "0.25 mm"),
        ("y-step", "1 furlong"),
        ("dt", "20 ns"),
        ("volts", "1 mV"),
    ]);
    let told = answered(choice, &answers);
    let codes: Vec<_> = told.wrong.iter().map(|w| w.problem.code.as_str()).collect();
    assert_eq!(codes, ["pick-columns", "typed-wrong-unit"]);
    answers.extend(typed(&[("columns", "5"), ("y-step", "0.5 mm")]));
    let mut entry = pick.entry.clone();
    entry.layout = Some(answered(choice, &answers).layout);
    assert_eq!(entry.role, Role::Plane);
    let seen = pick.preview(&record, &entry).unwrap();
    assert_eq!((seen.columns, seen.rows), (5, 4));
    assert!((seen.across_m[0] + 0.5e-3).abs() < 1e-12, "about zero");
    assert!((f64::from(seen.swing_v[1]) - 0.5 * 110e-3).abs() < 1e-7, "x is the faster");
}

#[test]
fn headings_answer_for_themselves() {
    let times: Vec<String> = (0..40).map(|k| format!("{:.2}", 0.02 * f64::from(k))).collect();
    let files = table(&format!("x (mm),y (mm),{}\n", times.join(",")), |i, j| format!("{i},{j},"));
    let (record, _) = skeleton(&files);
    let pick = &picks(&record, &files)[0];
    let texts: Vec<_> = pick.choices[0].fields.iter().map(|f| (f.key, f.text.as_str())).collect();
    assert_eq!(texts, [("x", "1 mm"), ("y", "1 mm"), ("t", "1 µs"), ("volts", "")]);
    let described = record.scans.len();
    assert_eq!(described, 1);
    let mut stated = record.clone();
    stated.scans[0].layout = Some(answered(&pick.choices[0], &BTreeMap::new()).layout);
    assert!(picks(&stated, &files).is_empty(), "a stated layout is not asked about");
}

/// A file that was read is asked about again: as it is in use, also where the sheet changed it since.
#[test]
fn another_reading_begins_with_the_one_in_use() {
    let files = table("", |_, _| String::new());
    let (record, _) = skeleton(&files);
    let first = picks(&record, &files);
    let own = [
        ("columns", "5"),
        ("x-step", "0.25 mm"),
        ("y-step", "0.5 mm"),
        ("dt", "20 ns"),
        ("volts", "1 mV"),
        ("serpentine", ""),
    ];
    let scans = |pairs: &[(&str, &str)]| {
        vec![ScanAnswers { typed: typed(pairs), role: Some(Role::Line), ..ScanAnswers::default() }]
    };
    let response =
        [("sensor.response", "40 mV/MPa"), ("sensor.response.uncertainty", "± 12 % (k=2)")];
    let answers = Answers { scans: scans(&own), record: typed(&response) };
    let draft = serde_json::to_value(&record).unwrap();
    let read = drafted(&draft, &first, &answers, None).unwrap();
    assert_eq!(read.get("changes"), None);
    assert_eq!(read["sensor"]["response"]["uncertainty"]["value"], 0.12);
    let used = crate::record::read_value(&read, "").unwrap();
    let again = picks_again(&used, &files);
    let [pick] = again.as_slice() else { panic!() };
    let choice = &pick.choices[pick.choice];
    assert_eq!(choice.proposal.role, Role::Line, "the role in use");
    let texts: Vec<_> = choice.fields.iter().map(|f| (f.key, f.text.as_str())).collect();
    assert_eq!(texts, own[..5]);
    let time = Some("2026-05-05T10:00:00");
    let same = Answers { scans: vec![ScanAnswers::default()], ..Answers::default() };
    assert_eq!(drafted(&read, &again, &same, time).unwrap(), read, "as it was");
    let turned = Answers { scans: scans(&[("volts", "-2 mV")]), ..Answers::default() };
    let other = drafted(&read, &again, &turned, time).unwrap();
    let changes = other["changes"].as_array().unwrap();
    assert_eq!(changes.len(), 1);
    assert_eq!(changes[0]["field"], "scans[0].layout.volts.scale");
    assert_eq!(other["sensor"], read["sensor"], "what was typed stays");
}

/// Columns that hold the coordinates: which is x is part of the reading.
#[test]
fn an_exchanged_reading_is_known_again() {
    let files = table("", |i, j| format!("{i},{j},"));
    let (record, _) = skeleton(&files);
    let first = picks(&record, &files);
    let own = [("x", "0.25 mm"), ("y", "0.5 mm"), ("dt", "20 ns"), ("volts", "1 mV")];
    for choice in 0..2 {
        let scans = vec![ScanAnswers { choice, typed: typed(&own), ..ScanAnswers::default() }];
        let answers = Answers { scans, ..Answers::default() };
        let draft = serde_json::to_value(&record).unwrap();
        let read = drafted(&draft, &first, &answers, None).unwrap();
        let again = picks_again(&crate::record::read_value(&read, "").unwrap(), &files);
        assert_eq!(again[0].choice, choice);
        let fields = &again[0].choices[choice].fields;
        assert_eq!((fields[0].text.as_str(), fields[1].text.as_str()), ("0.25 mm", "0.5 mm"));
    }
}

/// Each message stands at its own field and speaks of what was typed there.
#[test]
fn one_wrong_answer_leaves_the_others_alone() {
    let files = table("", |_, _| String::new());
    let (record, _) = skeleton(&files);
    let picks = picks(&record, &files);
    let own = typed(&[
        ("columns", "5"),
        ("x-step", "0.25 mm"),
        ("y-step", "0.5 mm"),
        ("dt", "20 ns"),
        ("volts", "1 mV"),
    ]);
    let scans = || vec![ScanAnswers { typed: own.clone(), ..ScanAnswers::default() }];
    let draft = serde_json::to_value(&record).unwrap();
    let wrong = |pairs: &[(&str, &str)]| -> Vec<(String, String, String)> {
        let answers = Answers { scans: scans(), record: typed(pairs) };
        let text = |problem: &crate::base::error::Problem, key: &str| match problem.args.get(key) {
            Some(crate::base::finding::Arg::Text(text)) => text.clone(),
            _ => String::new(),
        };
        let all = drafted(&draft, &picks, &answers, None).unwrap_err().into_iter();
        all.map(|w| (w.key, w.problem.code.clone(), text(&w.problem, "found"))).collect()
    };
    let row = |a: &str, b: &str, c: &str| (a.to_owned(), b.to_owned(), c.to_owned());
    let (response, u) = ("sensor.response", "sensor.response.uncertainty");
    assert_eq!(
        wrong(&[(response, "forty"), (u, "12 % (k=2)")]),
        [row(response, "typed-not-a-number", "forty")]
    );
    assert_eq!(
        wrong(&[(response, "forty"), (u, "12 %")]),
        [row(response, "typed-not-a-number", "forty"), row(u, "typed-no-kind", "12 %")]
    );
    assert_eq!(wrong(&[(u, "12 % (k=2)")]), [row(response, "pick-belongs", "")]);
    assert_eq!(
        wrong(&[("water.temperature_c", "120"), ("excitation.cycles", "8 cycles")]),
        [row("water.temperature_c", "record-out-of-range", "")],
        "what was found is a number"
    );
}
