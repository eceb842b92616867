//! The files with their roles.

use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use super::Session;
use super::answers::{FileLine, to_js};
use super::language::words;
use crate::base::sheet::InputFile;
use crate::outputs::role_of;

#[wasm_bindgen]
impl Session {
    /// The files with their roles, in words.
    ///
    /// # Errors
    /// When they cannot be handed over.
    pub fn file_roles(&self) -> Result<JsValue, JsValue> {
        to_js(&self.file_lines())
    }
}

impl Session {
    pub(super) fn inputs(&self) -> Vec<InputFile> {
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

    pub(super) fn file_lines(&self) -> Vec<FileLine> {
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
