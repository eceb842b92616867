//! Blanks of the sheet filled in: the draft of the record, and what has to be computed again.

use serde_json::Value;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use super::answers::{EditLine, QuantityLine, to_js};
use super::language::words;
use super::{Session, hasher};
use crate::base::error::Problems;
use crate::base::quantity::{CATALOGUE, is_safety};
use crate::record::{self, Edited, Tier, TypedReading};
use crate::report;

#[wasm_bindgen]
impl Session {
    /// Fills a text into the blank at a path. `reading` tells how an ambiguous number is meant
    /// (`decimal`, `thousands`, else empty); `when` is the time, for the record's changes.
    ///
    /// # Errors
    /// When the answer cannot be handed over; a refused text is part of the answer.
    pub fn edit(
        &mut self,
        path: &str,
        text: &str,
        reading: &str,
        when: &str,
    ) -> Result<JsValue, JsValue> {
        self.with_draft(|draft| record::edit(draft, path, text, meant(reading), some(when)))
    }

    /// Adds a stated value of a quantity: `7.8 MPa ± 20 %`.
    ///
    /// # Errors
    /// As [`Session::edit`].
    pub fn add_stated(
        &mut self,
        quantity: &str,
        text: &str,
        reading: &str,
        when: &str,
    ) -> Result<JsValue, JsValue> {
        let (reading, when) = (meant(reading), some(when));
        self.with_draft(|draft| record::add_stated(draft, quantity, text, reading, when))
    }

    /// Adds the stated values of a pasted table.
    ///
    /// # Errors
    /// As [`Session::edit`].
    pub fn paste_stated(&mut self, text: &str, when: &str) -> Result<JsValue, JsValue> {
        let when = some(when);
        self.with_draft(|draft| record::paste_stated(draft, text, when))
    }

    /// Takes an entry out of a list.
    ///
    /// # Errors
    /// As [`Session::edit`].
    pub fn remove(&mut self, path: &str, when: &str) -> Result<JsValue, JsValue> {
        self.with_draft(|draft| record::remove(draft, path, some(when)))
    }

    /// Takes an earlier or later draft.
    ///
    /// # Errors
    /// As [`Session::edit`].
    pub fn set_draft(&mut self, text: &str) -> Result<JsValue, JsValue> {
        let text = text.to_owned();
        self.with_draft(|draft| {
            record::read(&text, "")?;
            let other: Value = parsed(&text);
            let tier = record::tier_between(draft, &other);
            Ok(Edited::Done { draft: other, tier })
        })
    }

    /// Names of files with their sizes, worded.
    ///
    /// # Errors
    /// When they cannot be handed over.
    pub fn sizes(&self, names: Vec<String>, bytes: Vec<f64>) -> Result<JsValue, JsValue> {
        let line = |(name, size): (&String, &f64)| report::file_and_size(name, *size, words());
        let lines: Vec<String> = names.iter().zip(&bytes).map(line).collect();
        to_js(&lines)
    }
}

impl Session {
    fn with_draft(
        &mut self,
        make: impl FnOnce(&Value) -> Result<Edited, Problems>,
    ) -> Result<JsValue, JsValue> {
        let text = self.record.as_ref().map_or("", |(text, _)| text.as_str());
        let draft = parsed(text);
        let line = match make(&draft) {
            Ok(Edited::Done { draft: new, tier }) => {
                if draft != new {
                    let name = self.record_name().to_owned();
                    let text = serde_json::to_string_pretty(&new).unwrap_or_default();
                    self.record = Some((text, name));
                    self.edited = true;
                    self.hash_of_edited();
                    // A text that reads otherwise is a matter of the sheet.
                    self.pending = self.pending.max(tier).max(Some(Tier::Sheet));
                }
                EditLine { ok: true, tier: tier_word(tier).to_owned(), ..EditLine::default() }
            }
            Ok(Edited::Ambiguous(readings)) => {
                let mark = words().marks().decimal.to_string();
                let readings = readings.map(|reading| reading.replace('.', &mark)).to_vec();
                EditLine { readings, ..EditLine::default() }
            }
            Err(problems) => {
                let problems = report::problem_texts(&problems, words());
                EditLine { problem: problems.first().cloned(), problems, ..EditLine::default() }
            }
        };
        let draft = self.record.as_ref().map_or_else(String::new, |(text, _)| text.clone());
        to_js(&EditLine { draft, record: self.record_to_save(), ..line })
    }

    /// The checksum of an edited record is that of its text.
    pub(super) fn hash_of_edited(&mut self) {
        if let Some((text, name)) = self.record.as_ref().filter(|(_, name)| !name.is_empty()) {
            let hash = hasher::of(text.as_bytes());
            self.hashes.insert(name.clone(), hash);
        }
    }
}

/// Quantities that may be stated, with their names.
pub fn quantities() -> Value {
    let line = |id: &str| QuantityLine {
        id: id.to_owned(),
        name: words().quantity(id).map_or(id, |q| q.name).replace("_{", "").replace('}', ""),
    };
    let mut lines: Vec<QuantityLine> = Vec::new();
    for entry in CATALOGUE.iter().filter(|entry| !is_safety(entry.id)) {
        let own = line(entry.id);
        // An other name stands in the list itself: it is then found by its first letters.
        let others = record::other_names().filter(|(_, id)| *id == entry.id);
        let others = others.map(|(name, id)| (id, format!("{name} ({})", own.name)));
        let others: Vec<_> =
            others.map(|(id, name)| QuantityLine { id: id.to_owned(), name }).collect();
        lines.push(own);
        lines.extend(others);
    }
    serde_json::to_value(lines).unwrap_or_default()
}

fn parsed(text: &str) -> Value {
    serde_json::from_str(text.trim_start_matches('\u{feff}')).unwrap_or_default()
}

fn some(text: &str) -> Option<&str> {
    Some(text).filter(|text| !text.is_empty())
}

fn meant(reading: &str) -> Option<TypedReading> {
    match reading {
        "decimal" => Some(TypedReading::Decimal),
        "thousands" => Some(TypedReading::Thousands),
        _ => None,
    }
}

fn tier_word(tier: Option<Tier>) -> &'static str {
    match tier {
        None => "",
        Some(Tier::Sheet) => "sheet",
        Some(Tier::Map) => "map",
        Some(Tier::Read) => "read",
    }
}
