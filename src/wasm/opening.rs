//! Files and record opened: surveyed in the engine worker, taken over in the band workers.

use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use super::Session;
use super::answers::{Opened, ScanLine, refuse, to_js};
use super::language::words;
use super::page_file::PageFile;
use crate::analysis::{self, BandRunner, Briefing, Kept, Prepared};
use crate::base::error::{Problem, Problems};
use crate::report;

#[wasm_bindgen]
impl Session {
    /// Reads headers, surveys, freezes the plan.
    ///
    /// # Errors
    /// Throws `{problems}`.
    pub fn open(&mut self) -> Result<JsValue, JsValue> {
        PageFile::begin();
        let mut opened = Opened {
            ok: false,
            problems: Vec::new(),
            record: String::new(),
            draft: String::new(),
            record_name: String::new(),
            files: Vec::new(),
            scans: Vec::new(),
            plan: String::new(),
            picks: Vec::new(),
            missing: self.missing_of_saved(),
        };
        if let Err(problems) = self.prepare_and_survey() {
            opened.picks = self.picks.iter().map(|pick| report::pick_text(pick, words())).collect();
            opened.problems = report::problem_texts(&problems, words());
        }
        opened.record = self.record_to_save();
        if let Some((text, name)) = &self.record {
            opened.draft.clone_from(text);
            opened.record_name.clone_from(name);
        }
        opened.files = self.file_lines();
        if let (Some(prepared), Some(plan)) = (&self.prepared, &self.plan) {
            opened.ok = true;
            opened.scans = scan_lines(prepared);
            opened.plan = serde_json::to_string(&Briefing::new(prepared, plan))
                .map_err(|error| JsValue::from_str(&error.to_string()))?;
        }
        to_js(&opened)
    }

    /// In band workers: the same files and record, with the plan of [`Session::open`].
    ///
    /// # Errors
    /// Throws `{problems}`.
    pub fn resume(&mut self, plan: &str) -> Result<(), JsValue> {
        let record = self.typed().map_err(|p| refuse(&p))?;
        let briefing: Briefing =
            serde_json::from_str(plan).map_err(|error| JsValue::from_str(&error.to_string()))?;
        let known = Some(&briefing.transfers[..]);
        let prepared = analysis::prepare_with(record, &self.files, &briefing.given, known);
        self.runner = BandRunner::default();
        self.prepared = Some(prepared.map_err(|p| refuse(&p))?);
        self.plan = Some(briefing.plan);
        Ok(())
    }
}

impl Session {
    fn prepare_and_survey(&mut self) -> Result<(), Problems> {
        self.prepared = None;
        self.plan = None;
        self.results = None;
        self.picks.clear();
        self.pending = None;
        self.kept = Kept::default();
        self.runner = BandRunner::default();
        self.bands.clear();
        if self.record.is_none() {
            let (proposed, problems) = analysis::skeleton(&self.files);
            if proposed.scans.is_empty() {
                return Err(if problems.is_empty() {
                    vec![Problem::new("record-no-scans")]
                } else {
                    problems
                });
            }
            let text = serde_json::to_string_pretty(&proposed).unwrap_or_default();
            self.record = Some((text, String::new()));
            // What was guessed is confirmed by a person first.
            self.picks = analysis::picks(&proposed, &self.files);
            if !self.picks.is_empty() {
                return Err(problems);
            }
        }
        let record = self.typed()?;
        let prepared = match analysis::prepare(record.clone(), &self.files) {
            Ok(prepared) => prepared,
            Err(problems) => {
                let unread = |problem: &Problem| {
                    matches!(problem.code.as_str(), "layout-choose" | "layout-incomplete")
                };
                if problems.iter().any(unread) {
                    self.picks = analysis::picks(&record, &self.files);
                }
                return Err(problems);
            }
        };
        self.plan = Some(analysis::survey(&prepared)?);
        self.prepared = Some(prepared);
        Ok(())
    }
}

fn scan_lines(prepared: &Prepared) -> Vec<ScanLine> {
    prepared
        .scans
        .iter()
        .map(|part| {
            let role = part.scan.role.as_str();
            ScanLine {
                id: part.scan.id.clone(),
                role: role.to_owned(),
                points: part.scan.points() as f64,
                samples: part.scan.samples as f64,
                bytes: part.scan.bytes as f64,
                bands: part.scan.bands().len() as f64,
                reader: part.scan.one_reader,
                text: words().label(&format!("role-{role}")).unwrap_or(role).to_owned(),
            }
        })
        .collect()
}
