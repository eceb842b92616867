//! One set of files and its analysis, in one worker.

use std::collections::BTreeMap;
use std::sync::Arc;

use js_sys::{Float32Array, Float64Array, Int16Array, Int32Array};
use wasm_bindgen::prelude::wasm_bindgen;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::File;

use super::answers::{
    CheckLine, FileLine, FindingLine, Finished, Head, Opened, ScanLine, refuse, to_js,
};
use super::language::{self, words};
use super::{example, hasher, page_file::PageFile};
use crate::analysis::{
    self, BandRunner, Briefing, Kept, Pick, Plan, Prepared, Results, Saved, Waiting,
};
use crate::base::error::{Problem, Problems};
use crate::base::sheet::InputFile;
use crate::formats::container::Samples;
use crate::formats::source::{FileSet, Memory};
use crate::outputs::{Drawings, role_of, shown};
use crate::record::{self, Record, Tier};
use crate::report;
use crate::selfcheck;

/// Samples of which the engine computes the bands by itself after an edit.
const FEW_SAMPLES: usize = 4_000_000;

/// Files, record, plan and bands of one analysis.
#[wasm_bindgen]
#[derive(Default)]
pub struct Session {
    pub(super) files: FileSet,
    /// Record as typed, with its name; the name is empty for a proposed one.
    pub(super) record: Option<(String, String)>,
    /// Whether that record is another than its file.
    pub(super) edited: bool,
    /// How far back the edits since the last sheet reach.
    pub(super) pending: Option<Tier>,
    kept: Kept,
    pub(super) drawings: Drawings,
    pub(super) prepared: Option<Prepared>,
    pub(super) plan: Option<Plan>,
    runner: BandRunner,
    bands: BTreeMap<(usize, usize), Vec<f64>>,
    pub(super) hashes: BTreeMap<String, String>,
    pub(super) results: Option<Results>,
    /// Files of others of which somebody has to say how they are read.
    pub(super) picks: Vec<Pick>,
    /// The saved sheet with which the numbers are compared.
    pub(super) saved: Option<Saved>,
}

#[wasm_bindgen]
impl Session {
    /// An empty session; forgets the files of an earlier one.
    #[wasm_bindgen(constructor)]
    pub fn new() -> Self {
        PageFile::forget_all();
        Self::default()
    }

    /// Registers a dropped file.
    pub fn add_file(&mut self, name: &str, file: File) {
        self.files.insert(name, Arc::new(PageFile::new(file)));
    }

    /// Registers bytes.
    pub fn add_bytes(&mut self, name: &str, bytes: &[u8]) {
        self.hashes.insert(name.to_owned(), hasher::of(bytes));
        self.files.insert(name, Arc::new(Memory(Arc::from(bytes))));
    }

    /// Registers the example's files and its record; returns their names.
    pub fn example(&mut self) -> Vec<String> {
        for (name, bytes) in example::FILES {
            if *name == example::RECORD {
                self.hashes.insert((*name).to_owned(), hasher::of(bytes));
                self.record =
                    Some((String::from_utf8_lossy(bytes).into_owned(), (*name).to_owned()));
            } else {
                self.add_bytes(name, bytes);
            }
        }
        example::FILES.iter().map(|(name, _)| (*name).to_owned()).collect()
    }

    /// The record as JSON text; without one a skeleton is proposed from the files.
    pub fn set_record(&mut self, text: Option<String>, name: &str) {
        self.record = text.map(|text| (text, name.to_owned()));
    }

    /// The record as it was edited, in place of the one in its file.
    pub fn set_edited(&mut self, text: &str, name: &str) {
        self.record = Some((text.to_owned(), name.to_owned()));
        self.edited = true;
        self.hash_of_edited();
    }

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

    /// Computes one band.
    ///
    /// # Errors
    /// Throws `{problems}`.
    pub fn band(&mut self, scan: usize, index: usize) -> Result<Float64Array, JsValue> {
        let (Some(prepared), Some(plan)) = (&self.prepared, &self.plan) else {
            return Err(refuse(&[Problem::new("band-missing")]));
        };
        let rows = self.runner.band(prepared, plan, scan, index).map_err(|p| refuse(&[p]))?;
        Ok(Float64Array::from(rows.as_slice()))
    }

    /// The waveforms of a band, for a worker that does not read the file itself: a typed array of the
    /// kind of number that is stored.
    ///
    /// # Errors
    /// Throws `{problems}`.
    pub fn raw(&self, scan: usize, index: usize) -> Result<JsValue, JsValue> {
        PageFile::begin();
        let (prepared, _) = self.ready()?;
        let samples = analysis::raw_band(prepared, scan, index).map_err(|p| refuse(&[p]))?;
        Ok(match samples {
            Samples::I16(v) => Int16Array::from(v.as_slice()).into(),
            Samples::I32(v) => Int32Array::from(v.as_slice()).into(),
            Samples::F32(v) => Float32Array::from(v.as_slice()).into(),
            Samples::F64(v) => Float64Array::from(v.as_slice()).into(),
        })
    }

    /// Computes one band from waveforms that were handed over.
    ///
    /// # Errors
    /// Throws `{problems}`.
    pub fn band_of(
        &mut self,
        scan: usize,
        index: usize,
        raw: &JsValue,
    ) -> Result<Float64Array, JsValue> {
        let (Some(prepared), Some(plan)) = (&self.prepared, &self.plan) else {
            return Err(refuse(&[Problem::new("band-missing")]));
        };
        let samples = if let Some(v) = raw.dyn_ref::<Int16Array>() {
            Samples::I16(v.to_vec())
        } else if let Some(v) = raw.dyn_ref::<Int32Array>() {
            Samples::I32(v.to_vec())
        } else if let Some(v) = raw.dyn_ref::<Float32Array>() {
            Samples::F32(v.to_vec())
        } else if let Some(v) = raw.dyn_ref::<Float64Array>() {
            Samples::F64(v.to_vec())
        } else {
            return Err(refuse(&[Problem::new("band-missing")]));
        };
        let rows = self.runner.band_of(prepared, plan, scan, index, &samples);
        let rows = rows.map_err(|p| refuse(&[p]))?;
        Ok(Float64Array::from(rows.as_slice()))
    }

    /// Hands a band's result in.
    pub fn accept(&mut self, scan: usize, index: usize, rows: &Float64Array) {
        self.results = None;
        self.bands.insert((scan, index), rows.to_vec());
    }

    /// A band that could not be computed becomes a finding.
    ///
    /// # Errors
    /// Throws `{problems}` when nothing was opened.
    pub fn skip(&mut self, scan: usize, index: usize) -> Result<(), JsValue> {
        let rows = analysis::skipped_band(self.ready()?.0, scan, index);
        self.results = None;
        self.bands.insert((scan, index), rows);
        Ok(())
    }

    /// The progress line, worded.
    pub fn progress(&self, done: f64, all: f64, seconds: f64) -> String {
        report::progress(done, all, seconds, words())
    }

    /// SHA-256 of a file, lower-case hexadecimal.
    pub fn set_hash(&mut self, name: &str, hex: &str) {
        // An edited record is no longer its file.
        if self.edited && name == self.record_name() {
            return;
        }
        self.hashes.insert(name.to_owned(), hex.to_owned());
    }

    /// Assembles the bands, as far as edits ask for it, and makes the sheet. With `later`, spreads and
    /// draws that are not known from before and the parts to be saved are left out; `settled` is then
    /// false.
    ///
    /// # Errors
    /// Throws `{problems}`.
    pub fn finish(&mut self, later: bool) -> Result<JsValue, JsValue> {
        PageFile::begin();
        if !self.follow_edits().map_err(|p| refuse(&p))? {
            return to_js(&Finished { again: true, ..Finished::default() });
        }
        if self.results.is_none() || self.kept.waiting() != Waiting::Nothing {
            let (prepared, plan) = self.ready()?;
            let tables = self.tables(prepared);
            self.kept.begin(later);
            let results = analysis::assemble_with(prepared, plan, &tables, &self.kept);
            self.results = Some(results.map_err(|p| refuse(&p))?);
        }
        let Some(results) = &self.results else {
            return Err(refuse(&[Problem::new("band-missing")]));
        };
        let text = self.record.as_ref().map_or("", |(text, _)| text.as_str());
        let typed: serde_json::Value =
            serde_json::from_str(text.trim_start_matches('\u{feff}')).unwrap_or_default();
        let inputs = self.inputs();
        let made = shown(results, typed, &inputs, words(), &mut self.drawings);
        let findings = report::finding_rows(&made.sheet, words())
            .into_iter()
            .map(|row| FindingLine {
                severity: format!("{:?}", row.severity).to_lowercase(),
                word: row.word,
                code: row.code,
                place: row.place,
                text: report::plain_symbols(&row.text),
                hint: report::plain_symbols(&row.hint),
            })
            .collect();
        let mut finished = Finished {
            head: Head { title: made.model.front.title.clone(), number: made.sheet.number.clone() },
            parts: made.parts(),
            lang: made.model.language.clone(),
            page: made.page_style(),
            findings,
            fit: made.fit,
            settled: !later,
            stale: match self.kept.waiting() {
                Waiting::Nothing => "",
                Waiting::Draws => "draws",
                Waiting::Spreads => "spreads",
            },
            compared: self
                .saved
                .as_ref()
                .map(|saved| report::compared(saved, &made.sheet, words()))
                .unwrap_or_default(),
            ..Finished::default()
        };
        if !later {
            let whole = made.complete().map_err(|p| refuse(&p))?;
            finished.json = whole.json;
            finished.csv = whole.csv;
            finished.saved = whole.document;
        }
        to_js(&finished)
    }

    /// The check bodies of `selfcheck`, run by this engine: `[{name, ok, detail}]`.
    ///
    /// # Errors
    /// When they cannot be handed over.
    pub fn selfcheck(&self) -> Result<JsValue, JsValue> {
        let lines: Vec<CheckLine> = selfcheck::all(example::FILES)
            .into_iter()
            .map(|(name, outcome)| CheckLine {
                name: name.to_owned(),
                ok: outcome.is_ok(),
                detail: outcome.err().unwrap_or_default(),
            })
            .collect();
        to_js(&lines)
    }

    /// Chooses the language of all later answers by its tag; every worker is told for itself.
    pub fn set_language(&self, tag: &str) {
        language::choose(tag);
    }

    /// The files with their roles, in words.
    ///
    /// # Errors
    /// When they cannot be handed over.
    pub fn file_roles(&self) -> Result<JsValue, JsValue> {
        to_js(&self.file_lines())
    }

    /// The page's own words by key.
    ///
    /// # Errors
    /// When they cannot be handed over.
    pub fn words(&self) -> Result<JsValue, JsValue> {
        let mut all: BTreeMap<&str, serde_json::Value> =
            words().page_words().iter().map(|(key, text)| (*key, (*text).into())).collect();
        let outline = words()
            .outline()
            .iter()
            .map(|(heading, text)| serde_json::json!({ "heading": heading, "text": text }))
            .collect();
        all.insert("outline", serde_json::Value::Array(outline));
        all.insert("quantities", super::editing::quantities());
        to_js(&all)
    }
}

impl Session {
    pub(super) fn ready(&self) -> Result<(&Prepared, &Plan), JsValue> {
        match (&self.prepared, &self.plan) {
            (Some(prepared), Some(plan)) => Ok((prepared, plan)),
            _ => Err(refuse(&[Problem::new("band-missing")])),
        }
    }

    pub(super) fn typed(&self) -> Result<Record, Problems> {
        match &self.record {
            Some((text, name)) => record::read(text, name),
            None => Err(vec![Problem::new("record-empty")]),
        }
    }

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

    fn tables(&self, prepared: &Prepared) -> Vec<Vec<f64>> {
        let bands_of = |scan: usize| self.bands.range((scan, 0)..(scan + 1, 0));
        (0..prepared.scans.len())
            .map(|scan| bands_of(scan).flat_map(|(_, rows)| rows.iter().copied()).collect())
            .collect()
    }

    /// Brings plan, bands and results up to the edited record; `false` where the waveforms have to be
    /// read again.
    fn follow_edits(&mut self) -> Result<bool, Problems> {
        let Some(tier) = self.pending else { return Ok(true) };
        let record = self.typed()?;
        let (Some(prepared), Some(before)) = (&mut self.prepared, &self.plan) else {
            return Ok(false);
        };
        if tier == Tier::Read {
            return Ok(false);
        }
        analysis::with_record(prepared, record, &self.files)?;
        match &mut self.results {
            Some(results) if tier == Tier::Sheet => analysis::restated(results, prepared),
            _ => {
                let (plan, moved) = analysis::replanned(prepared, before)?;
                if !moved.is_empty() && !self.few(&moved) {
                    return Ok(false);
                }
                self.redo(plan, &moved)?;
                self.results = None;
            }
        }
        self.pending = None;
        Ok(true)
    }

    /// Whether the engine may compute the bands of some scans by itself, in a moment.
    fn few(&self, scans: &[usize]) -> bool {
        let parts = scans.iter().filter_map(|i| self.prepared.as_ref()?.scans.get(*i));
        parts.map(|part| part.scan.points() * part.scan.samples).sum::<usize>() <= FEW_SAMPLES
    }

    /// Takes a new plan and computes the bands of some scans anew.
    fn redo(&mut self, plan: Plan, scans: &[usize]) -> Result<(), Problems> {
        if let Some(prepared) = &self.prepared {
            let mut runner = BandRunner::default();
            for scan in scans {
                let count = prepared.scans.get(*scan).map_or(0, |part| part.scan.bands().len());
                for index in 0..count {
                    let rows = runner.band(prepared, &plan, *scan, index).map_err(|p| vec![p])?;
                    self.bands.insert((*scan, index), rows);
                }
            }
        }
        self.plan = Some(plan);
        Ok(())
    }

    /// The record with the layouts that were used, to be saved.
    pub(super) fn record_to_save(&self) -> String {
        let Some((text, _)) = &self.record else { return String::new() };
        match &self.prepared {
            Some(prepared) if !prepared.layouts.is_empty() => {
                let bare = text.trim_start_matches('\u{feff}');
                let mut typed = serde_json::from_str(bare).unwrap_or_default();
                record::with_layouts(&mut typed, &prepared.layouts);
                serde_json::to_string_pretty(&typed).unwrap_or_else(|_| text.clone())
            }
            _ => text.clone(),
        }
    }

    pub(super) fn record_name(&self) -> &str {
        self.record.as_ref().map_or("", |(_, name)| name.as_str())
    }

    fn inputs(&self) -> Vec<InputFile> {
        let role = |name: &str| match &self.prepared {
            Some(prepared) => role_of(&prepared.record, self.record_name(), name),
            None => "unused",
        };
        let mut inputs: Vec<InputFile> = self
            .files
            .iter()
            .map(|(name, source)| InputFile {
                name: name.clone(),
                role: role(name).to_owned(),
                bytes: source.len(),
                sha256: self.hashes.get(name).cloned(),
            })
            .filter(|input| input.role != "unused")
            .collect();
        if let Some((text, name)) = self.record.as_ref().filter(|(_, name)| !name.is_empty()) {
            inputs.push(InputFile {
                name: name.clone(),
                role: "record".to_owned(),
                bytes: text.len() as u64,
                sha256: self.hashes.get(name).cloned(),
            });
        }
        inputs.sort_by(|a, b| a.name.cmp(&b.name));
        inputs
    }

    fn file_lines(&self) -> Vec<FileLine> {
        let typed = self.typed().unwrap_or_default();
        let name = self.record_name().to_owned();
        let mut names = self.files.names();
        if !name.is_empty() {
            names.insert(0, name.clone());
        }
        names
            .into_iter()
            .map(|file| {
                let role = role_of(&typed, &name, &file);
                let text = words().label(&format!("role-{role}")).unwrap_or(role).to_owned();
                FileLine { name: file, role: role.to_owned(), text }
            })
            .collect()
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
