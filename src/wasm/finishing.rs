//! The sheet from its bands, and again after edits.

use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use super::Session;
use super::answers::{FindingLine, Finished, Head, refuse, to_js};
use super::language::words;
use super::page_file::PageFile;
use crate::analysis::{self, BandRunner, Plan, Waiting};
use crate::base::error::{Problem, Problems};
use crate::outputs::shown;
use crate::record::Tier;
use crate::report;

/// Samples of which the engine computes the bands by itself after an edit.
const FEW_SAMPLES: usize = 4_000_000;

#[wasm_bindgen]
impl Session {
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
}

impl Session {
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
}
