//! What goes back to the scripts.

use serde::Serialize;
use wasm_bindgen::JsValue;

use super::language::words;
use crate::base::error::Problem;
use crate::report::{PickText, ProblemText, problem_texts};

/// Thrown by every method that fails.
#[derive(Serialize)]
pub struct Refusal {
    pub problems: Vec<ProblemText>,
}

#[derive(Serialize)]
pub struct CheckLine {
    pub name: String,
    pub ok: bool,
    pub detail: String,
}

#[derive(Serialize)]
pub struct FileLine {
    pub name: String,
    pub role: String,
    /// The role in words.
    pub text: String,
}

#[derive(Serialize)]
pub struct ScanLine {
    pub id: String,
    pub role: String,
    pub points: f64,
    pub samples: f64,
    pub bytes: f64,
    pub bands: f64,
    /// Whether the engine reads for the band workers.
    pub reader: bool,
    pub text: String,
}

#[derive(Serialize)]
pub struct Opened {
    pub ok: bool,
    pub problems: Vec<ProblemText>,
    /// The record as used, pretty JSON.
    pub record: String,
    /// The record as typed, which edits begin from, and its name.
    pub draft: String,
    pub record_name: String,
    pub files: Vec<FileLine>,
    pub scans: Vec<ScanLine>,
    /// Opaque; for the band workers.
    pub plan: String,
    /// What has to be asked of files of others, before there can be a sheet.
    pub picks: Vec<PickText>,
    /// Files of a saved sheet that are not here yet.
    pub missing: Vec<String>,
}

#[derive(Default, Serialize)]
pub struct Head {
    pub title: String,
    pub number: Option<String>,
}

#[derive(Serialize)]
pub struct FindingLine {
    pub severity: String,
    pub word: String,
    pub code: String,
    pub place: String,
    pub text: String,
    pub hint: String,
}

#[derive(Default, Serialize)]
pub struct Finished {
    pub head: Head,
    /// The sheet's parts, each one element, and their language.
    pub parts: Vec<String>,
    pub lang: String,
    pub page: String,
    pub findings: Vec<FindingLine>,
    pub fit: bool,
    /// What is saved: empty until `settled`.
    pub json: String,
    pub csv: String,
    pub saved: String,
    /// Whether nothing was left for later.
    pub settled: bool,
    /// What is still to come, and greyed until then: `draws`, `spreads` or empty.
    pub stale: &'static str,
    /// Whether the waveforms have to be read again first; the rest is then empty.
    pub again: bool,
    /// The numbers against those of the saved sheet, line by line.
    pub compared: Vec<String>,
}

/// What came of an edit.
#[derive(Default, Serialize)]
pub struct EditLine {
    pub ok: bool,
    /// `sheet`, `map`, `read`; empty where nothing changed.
    pub tier: String,
    /// The draft, and the record to be saved.
    pub draft: String,
    pub record: String,
    /// Why the text is refused.
    pub problem: Option<ProblemText>,
    /// All of them, of a table one a row.
    pub problems: Vec<ProblemText>,
    /// Both readings of an ambiguous number, the decimal one first.
    pub readings: Vec<String>,
}

#[derive(Serialize)]
pub struct QuantityLine {
    pub id: String,
    pub name: String,
}

/// A point of a figure.
#[derive(Serialize)]
pub struct PointLine {
    /// Panel, curve and index, to be handed back.
    pub place: (usize, usize, usize),
    /// Shares of the figure's width and height.
    pub at: (f64, f64),
    pub text: String,
    /// Whether it stands for a waveform.
    pub wave: bool,
}

#[derive(Serialize)]
pub struct WaveLine {
    pub heading: String,
    pub text: String,
}

/// A value as plain JS objects; a refusal if it cannot be one.
pub fn to_js<T: Serialize>(value: &T) -> Result<JsValue, JsValue> {
    value
        .serialize(&serde_wasm_bindgen::Serializer::json_compatible())
        .map_err(|error| JsValue::from_str(&error.to_string()))
}

/// Problems as a thrown object.
pub fn refuse(problems: &[Problem]) -> JsValue {
    let refusal = Refusal { problems: problem_texts(problems, words()) };
    to_js(&refusal).unwrap_or_else(|error| error)
}
