//! Readings of a foreign file, in words.

use serde::Serialize;

use super::remarks::{finding_entry, problem_texts};
use super::rounding;
use super::wording::{Filled, Wording};
use crate::analysis::{Pick, Preview, WrongAnswer};
use crate::base::error::Problem;
use crate::base::finding::Severity;

/// A file of which somebody has to say how it is read.
#[derive(Debug, Serialize)]
pub struct PickText {
    pub scan: usize,
    pub file: String,
    pub notes: Vec<String>,
    /// Index of the reading that is offered first, or is in use.
    pub choice: usize,
    pub choices: Vec<ChoiceText>,
}

/// A way to read it.
#[derive(Debug, Serialize)]
pub struct ChoiceText {
    /// The dimensions in words.
    pub title: String,
    pub exchanged: bool,
    pub role: &'static str,
    pub reasons: Vec<ReasonText>,
    pub fields: Vec<FieldText>,
}

/// Why.
#[derive(Debug, Serialize)]
pub struct ReasonText {
    pub text: String,
    /// Whether it is only an assumption.
    pub assumed: bool,
}

/// A question with its offered answer; empty where it has to be typed.
#[derive(Debug, Serialize)]
pub struct FieldText {
    pub key: &'static str,
    pub text: String,
}

/// What is wrong with an answer.
#[derive(Debug, Serialize)]
pub struct WrongText {
    pub scan: Option<usize>,
    pub key: String,
    pub text: String,
    pub hint: String,
}

/// The readings of a file in words.
pub fn pick_text(pick: &Pick, words: &dyn Wording) -> PickText {
    let choices = pick.choices.iter().map(|choice| {
        let reasons = choice.proposal.reasons.iter().map(|reason| ReasonText {
            text: finding_entry(reason, words).text,
            assumed: reason.severity > Severity::Note,
        });
        let mark = words.marks().decimal;
        let offered = |text: &str| text.replace('.', &mark.to_string());
        ChoiceText {
            title: words.axes(&choice.proposal.axes()),
            exchanged: choice.exchanged,
            role: choice.proposal.role.as_str(),
            reasons: reasons.collect(),
            fields: choice
                .fields
                .iter()
                .map(|field| FieldText { key: field.key, text: offered(&field.text) })
                .collect(),
        }
    });
    PickText {
        scan: pick.scan,
        file: pick.entry.file.clone(),
        notes: problem_texts(&pick.notes, words).into_iter().map(|note| note.text).collect(),
        choice: pick.choice,
        choices: choices.collect(),
    }
}

/// What is wrong with answers.
pub fn wrong_texts(wrong: &[WrongAnswer], words: &dyn Wording) -> Vec<WrongText> {
    let line = |wrong: &WrongAnswer| {
        let said = problem_texts(std::slice::from_ref(&wrong.problem), words).pop();
        let (text, hint) = said.map(|said| (said.text, said.hint)).unwrap_or_default();
        WrongText { scan: wrong.scan, key: wrong.key.clone(), text, hint }
    };
    wrong.iter().map(line).collect()
}

/// What a quick look saw, in a sentence.
pub fn preview_text(seen: &Preview, words: &dyn Wording) -> String {
    let digits = |value: f64| rounding::digits(value, 3, words.marks());
    let span = |ends: [f64; 2]| digits((ends[1] - ends[0]).abs() * 1e3);
    let problem = Problem::new("pick-preview")
        .with("points", seen.points)
        .with("seen", seen.looked_at)
        .with("samples", seen.samples)
        .with("interval", digits(seen.interval_s * 1e9))
        .with("duration", digits(seen.interval_s * 1e6 * seen.samples as f64))
        .with("across", span(seen.across_m))
        .with("up", span(seen.up_m))
        .with("low", digits(seen.loudest_v[0] * 1e3))
        .with("high", digits(seen.loudest_v[1] * 1e3));
    let filled = Filled::new(&problem.args, &problem.place, words.marks());
    words.problem(&problem.code, &filled).map(|said| said.text).unwrap_or_default()
}
