use std::sync::Arc;

use serde_json::Value;

use super::*;
use crate::analysis::{BandRunner, Kept, assemble_with, prepare, run, survey};
use crate::base::sheet::InputFile;
use crate::formats::source::Memory;
use crate::outputs::{Drawings, outputs, shown};
use crate::record::{self, Edited, Tier};
use crate::report::wording::en::English;

const RECORD: &str = include_str!("../../../demo-data/example/record.json");

fn files() -> FileSet {
    let mut files = FileSet::default();
    let all: [(&str, &[u8]); 3] = [
        ("focal-plane.h5", include_bytes!("../../../demo-data/example/focal-plane.h5")),
        ("axial-line.csv", include_bytes!("../../../demo-data/example/axial-line.csv")),
        ("sensitivity.csv", include_bytes!("../../../demo-data/example/sensitivity.csv")),
    ];
    for (name, bytes) in all {
        files.insert(name, Arc::new(Memory(Arc::from(bytes))));
    }
    files
}

/// What the page keeps between edits.
struct Open {
    files: FileSet,
    draft: Value,
    prepared: Prepared,
    plan: Plan,
    tables: Vec<Vec<f64>>,
    kept: Kept,
    drawings: Drawings,
    results: Results,
}

impl Open {
    fn new() -> Self {
        let files = files();
        let draft: Value = serde_json::from_str(RECORD).unwrap();
        let prepared = prepare(record::read(RECORD, "").unwrap(), &files).unwrap();
        let plan = survey(&prepared).unwrap();
        let tables: Vec<Vec<f64>> =
            (0..prepared.scans.len()).map(|scan| table(&prepared, &plan, scan)).collect();
        let kept = Kept::default();
        Self {
            drawings: Drawings::default(),
            results: assemble_with(&prepared, &plan, &tables, &kept).unwrap(),
            files,
            draft,
            prepared,
            plan,
            tables,
            kept,
        }
    }

    fn assembled(&self) -> Results {
        assemble_with(&self.prepared, &self.plan, &self.tables, &self.kept).unwrap()
    }

    fn edit(&mut self, path: &str, text: &str) -> Tier {
        let edited = record::edit(&self.draft, path, text, None, Some("2026-05-05T10:00:00"));
        let Ok(Edited::Done { draft, tier }) = edited else { panic!("{path} {text} {edited:?}") };
        let tier = tier.unwrap();
        self.draft = draft;
        let new = record::read_value(&self.draft, "").unwrap();
        with_record(&mut self.prepared, new, &self.files).unwrap();
        match tier {
            Tier::Sheet => restated(&mut self.results, &self.prepared),
            Tier::Map => {
                let (plan, moved) = replanned(&self.prepared, &self.plan).unwrap();
                self.plan = plan;
                for scan in moved {
                    self.tables[scan] = table(&self.prepared, &self.plan, scan);
                }
                // First without the draws, as the page does.
                self.kept.begin(true);
                self.results = self.assembled();
                self.kept.begin(false);
                self.results = self.assembled();
            }
            Tier::Read => panic!("{path} is read anew"),
        }
        tier
    }

    fn json(&mut self) -> String {
        let drawings = &mut self.drawings;
        let shown = shown(&self.results, self.draft.clone(), &inputs(), &English, drawings);
        shown.complete().unwrap().json
    }

    fn fresh(&self) -> String {
        let new = record::read_value(&self.draft, "").unwrap();
        let results = run(new, &self.files, &mut |_, _| {}).unwrap();
        outputs(&results, self.draft.clone(), &inputs(), &English).unwrap().json
    }
}

fn table(prepared: &Prepared, plan: &Plan, scan: usize) -> Vec<f64> {
    let mut runner = BandRunner::default();
    let bands = prepared.scans[scan].scan.bands().len();
    (0..bands).flat_map(|band| runner.band(prepared, plan, scan, band).unwrap()).collect()
}

fn inputs() -> Vec<InputFile> {
    Vec::new()
}

/// Edit, then computed again as far as the tier says, against a fresh analysis of the edited record: the
/// same `sheet.json` to the last bit.
#[test]
fn edited_sheets_are_those_of_a_fresh_analysis() {
    let mut open = Open::new();
    for (tier, edits) in [
        (
            Tier::Sheet,
            &[
                ("title", "Another"),
                ("date", "2026-05-06"),
                ("device.serial", "7"),
                ("water.treatment", "none"),
                ("sensor.description", "another"),
                ("stated[0]", "8,2 MPa ± 10 %"),
                ("decision.rule", "simple"),
            ][..],
        ),
        // The axial scan's windows move.
        (Tier::Map, &[("water.temperature_c", "35 °C")]),
        (
            Tier::Map,
            &[
                ("water.u_temperature_c", "0,4"),
                ("excitation.repetition_hz", "120 Hz"),
                ("excitation.u_drive", "3 % (k=2)"),
                ("sensor.effective_radius_m", "0.2 mm"),
            ],
        ),
        (
            Tier::Map,
            &[
                ("device.radius_of_curvature_m", "50 mm"),
                ("device.aperture_radius_m", "19"),
                ("frame.u_position", "0,02 mm standard"),
                ("sensor.u_gain", "2 % standard"),
                ("excitation.level", "80"),
                ("decision.coverage", "0.9"),
                ("exposure.burst_s", "5 ms"),
            ],
        ),
        (Tier::Map, &[("water.temperature_c", "")]),
    ] {
        for (path, text) in edits {
            assert_eq!(open.edit(path, text), tier, "{path}");
        }
        let (json, fresh) = (open.json(), open.fresh());
        let differing = json.lines().zip(fresh.lines()).find(|(a, b)| a != b);
        assert!(json == fresh, "{edits:?}: {differing:?}");
    }
}

/// What the sheet prints in a blank may be typed into it again, and means the same within its digits.
#[test]
fn printed_blanks_may_be_typed_again() {
    use crate::record::{Typed, TypedReading, typed};
    use crate::report::{self, model::Block};
    let mut draft: Value = serde_json::from_str(RECORD).unwrap();
    draft["excitation"]["u_drive"] =
        serde_json::json!({"value": 0.03, "kind": "half-width", "relative": true});
    draft["sensor"]["u_gain"] =
        serde_json::json!({"value": 0.02, "kind": "expanded", "k": 2.0, "relative": true});
    draft["exposure"] = serde_json::json!({"burst_s": 0.02, "repetition_hz": 5.0});
    let record = record::read_value(&draft, "").unwrap();
    let results = run(record, &files(), &mut |_, _| {}).unwrap();
    let sheet = report::sheet(&results, draft.clone(), &inputs(), &English);
    let model = report::model(&results, &sheet, &English);
    let blocks = model.sections.iter().flat_map(|section| &section.blocks);
    let items = blocks.flat_map(|block| match block {
        Block::Definitions { items, .. } => items.as_slice(),
        _ => &[],
    });
    let items = model.front.identity.iter().chain(items);
    let stated = model.front.verdicts.iter().flat_map(|table| &table.rows);
    let texts: Vec<(String, String)> = items
        .filter(|item| !item.path.is_empty() && !item.blank)
        .map(|item| (item.path.clone(), item.text.clone()))
        .chain(stated.map(|row| (row.path.clone(), row.stated.clone())))
        .collect();
    assert!(texts.len() > 25, "{}", texts.len());
    for (path, text) in texts {
        let meant = typed(&draft, &path, &text, Some(TypedReading::Decimal));
        let Ok(Typed::Values(values)) = meant else { panic!("{path} {text} {meant:?}") };
        for (path, value) in values {
            let pointer = format!("/{}", path.replace(['.', '['], "/").replace(']', ""));
            let held = draft.pointer(&pointer).cloned().unwrap_or(Value::Null);
            let same = match (held.as_f64(), value.as_f64()) {
                // The unit of a stated value may become the printed one.
                _ if path.starts_with("stated[") => true,
                (Some(a), Some(b)) => (a - b).abs() <= 5e-3 * a.abs(),
                _ => held == value || path.contains("u_") || held.is_null(),
            };
            assert!(same, "{path} {text}: {held} {value}");
        }
    }
}
