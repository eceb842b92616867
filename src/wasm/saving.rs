//! A saved sheet given again: its record is taken over, its numbers are compared.

use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use super::Session;
use super::answers::refuse;
use super::language::words;
use crate::analysis;
use crate::report;

#[wasm_bindgen]
impl Session {
    /// Takes the text of a saved sheet; gives the record in it.
    ///
    /// # Errors
    /// Throws `{problems}`.
    pub fn set_saved(&mut self, html: &str, name: &str) -> Result<String, JsValue> {
        let saved = analysis::saved(html).map_err(|problem| refuse(&[problem.in_file(name)]))?;
        let record = serde_json::to_string_pretty(&saved.record).unwrap_or_default();
        self.saved = Some(saved);
        Ok(record)
    }
}

impl Session {
    /// Files of the saved sheet that are not here yet, with their sizes.
    pub(super) fn missing_of_saved(&self) -> Vec<String> {
        let Some(saved) = &self.saved else { return Vec::new() };
        let here = self.files.names();
        let missing =
            |(name, _): &&(String, f64)| !here.iter().any(|given| analysis::same_file(given, name));
        let line = |(name, bytes): &(String, f64)| report::file_and_size(name, *bytes, words());
        saved.files.iter().filter(missing).map(line).collect()
    }
}
