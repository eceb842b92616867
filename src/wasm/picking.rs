//! Files of others: the readings that are offered, a quick look, and the draft that answers make.

use serde::Serialize;
use serde_json::Value;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use super::Session;
use super::answers::{refuse, to_js};
use super::language::words;
use crate::analysis::{self, Answers, WrongAnswer};
use crate::base::error::Problem;
use crate::report::{self, WrongText};

/// What a quick look shows.
#[derive(Default, Serialize)]
struct Seen {
    columns: usize,
    rows: usize,
    swing: Vec<f32>,
    wave: Vec<f32>,
    text: String,
    wrong: Vec<WrongText>,
}

/// The draft, or what is wrong with the answers.
#[derive(Default, Serialize)]
struct Drafted {
    draft: String,
    wrong: Vec<WrongText>,
}

#[wasm_bindgen]
impl Session {
    /// A quick look at the first scan of the answers.
    ///
    /// # Errors
    /// When it cannot be handed over; what is wrong with the answers is part of it.
    pub fn preview(&self, answers: &str) -> Result<JsValue, JsValue> {
        let answers = answers_of(answers)?;
        let Some(own) = answers.scans.first() else { return to_js(&Seen::default()) };
        let (Ok(record), Some(pick)) =
            (self.typed(), self.picks.iter().find(|pick| pick.scan == own.scan))
        else {
            return to_js(&Seen::default());
        };
        let seen = analysis::picked_entry(&self.picks, own).and_then(|entry| {
            pick.preview(&record, &entry).map_err(|problems| {
                let wrong =
                    |problem| WrongAnswer { scan: Some(own.scan), key: String::new(), problem };
                problems.into_iter().map(wrong).collect()
            })
        });
        match seen {
            Ok(seen) => {
                let text = report::preview_text(&seen, words());
                let (columns, rows) = (seen.columns, seen.rows);
                let (swing, wave) = (seen.swing_v, seen.wave_v);
                to_js(&Seen { columns, rows, swing, wave, text, wrong: Vec::new() })
            }
            Err(wrong) => {
                let wrong = report::wrong_texts(&wrong, words());
                to_js(&Seen { wrong, ..Seen::default() })
            }
        }
    }

    /// The readings of files of others whose layout is stated, to be read otherwise. The sheet stays.
    ///
    /// # Errors
    /// As [`Session::preview`].
    pub fn pick_again(&mut self) -> Result<JsValue, JsValue> {
        self.picks = self
            .typed()
            .map(|record| analysis::picks_again(&record, &self.files))
            .unwrap_or_default();
        let picks: Vec<_> =
            self.picks.iter().map(|pick| report::pick_text(pick, words())).collect();
        to_js(&picks)
    }

    /// The draft of the record that the answers make; `when` is the time where a file is read otherwise.
    ///
    /// # Errors
    /// As [`Session::preview`].
    pub fn picked(&self, answers: &str, when: &str) -> Result<JsValue, JsValue> {
        let answers = answers_of(answers)?;
        let text = self.record.as_ref().map_or("", |(text, _)| text.as_str());
        let draft: Value =
            serde_json::from_str(text.trim_start_matches('\u{feff}')).unwrap_or_default();
        match analysis::drafted(
            &draft,
            &self.picks,
            &answers,
            Some(when).filter(|when| !when.is_empty()),
        ) {
            Ok(draft) => {
                let draft = serde_json::to_string_pretty(&draft).unwrap_or_default();
                to_js(&Drafted { draft, wrong: Vec::new() })
            }
            Err(wrong) => {
                let wrong = report::wrong_texts(&wrong, words());
                to_js(&Drafted { draft: String::new(), wrong })
            }
        }
    }
}

fn answers_of(text: &str) -> Result<Answers, JsValue> {
    serde_json::from_str(text).map_err(|_| refuse(&[Problem::new("pick-needed")]))
}
