//! One set of files and its analysis, in one worker.

use std::collections::BTreeMap;
use std::sync::Arc;

use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;
use web_sys::File;

use super::answers::{CheckLine, refuse, to_js};
use super::language::{self, words};
use super::{example, hasher, page_file::PageFile};
use crate::analysis::{BandRunner, Kept, Pick, Plan, Prepared, Results, Saved};
use crate::base::error::{Problem, Problems};
use crate::formats::source::{FileSet, Memory};
use crate::outputs::Drawings;
use crate::record::{self, Record, Tier};
use crate::selfcheck;

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
    pub(super) kept: Kept,
    pub(super) drawings: Drawings,
    pub(super) prepared: Option<Prepared>,
    pub(super) plan: Option<Plan>,
    pub(super) runner: BandRunner,
    pub(super) bands: BTreeMap<(usize, usize), Vec<f64>>,
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

    /// SHA-256 of a file, lower-case hexadecimal.
    pub fn set_hash(&mut self, name: &str, hex: &str) {
        // An edited record is no longer its file.
        if self.edited && name == self.record_name() {
            return;
        }
        self.hashes.insert(name.to_owned(), hex.to_owned());
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
}
