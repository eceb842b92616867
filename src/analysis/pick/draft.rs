//! From all answers to a draft of the record.

use std::collections::BTreeMap;

use serde::Deserialize;
use serde_json::{Value, json};

use super::{Pick, Wrong, answered};
use crate::base::error::Problem;
use crate::record::{self, Edited, Role, ScanEntry, Typed};

/// All that was answered.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub struct Answers {
    pub scans: Vec<ScanAnswers>,
    /// Texts by the path of their blank in the record; empty ones leave it blank.
    pub record: BTreeMap<String, String>,
}

/// What was answered of one scan.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub struct ScanAnswers {
    /// Index of the scan in the record.
    pub scan: usize,
    /// Index of the reading that was chosen.
    pub choice: usize,
    pub role: Option<Role>,
    /// Texts by the key of their field.
    pub typed: BTreeMap<String, String>,
}

/// What is wrong with an answer: of a scan, or of the record.
#[derive(Debug, PartialEq)]
pub struct WrongAnswer {
    pub scan: Option<usize>,
    pub key: String,
    pub problem: Problem,
}

/// The entry of a scan with its role and the layout that the answers make.
///
/// # Errors
/// All that is wrong with the answers.
pub fn entry(picks: &[Pick], answers: &ScanAnswers) -> Result<ScanEntry, Vec<WrongAnswer>> {
    let scan = Some(answers.scan);
    let pick = picks.iter().find(|pick| pick.scan == answers.scan);
    let Some((pick, choice)) = pick.and_then(|p| Some((p, p.choices.get(answers.choice)?))) else {
        let problem = Problem::new("pick-needed");
        return Err(vec![WrongAnswer { scan, key: String::new(), problem }]);
    };
    let told = answered(choice, &answers.typed);
    if !told.wrong.is_empty() {
        let own = |wrong: Wrong| WrongAnswer { scan, key: wrong.key, problem: wrong.problem };
        return Err(told.wrong.into_iter().map(own).collect());
    }
    let mut entry = pick.entry.clone();
    entry.role = answers.role.unwrap_or(choice.proposal.role);
    entry.layout = Some(told.layout);
    Ok(entry)
}

/// A draft with the layouts, the roles and the blanks that were answered. `when`, the present time, is given
/// where a file is read otherwise: what bears on a verdict is then kept as changed.
///
/// # Errors
/// All that is wrong with the answers.
pub fn drafted(
    draft: &Value,
    picks: &[Pick],
    answers: &Answers,
    when: Option<&str>,
) -> Result<Value, Vec<WrongAnswer>> {
    let mut new = draft.clone();
    let mut wrong = Vec::new();
    for pick in picks {
        let none = ScanAnswers { scan: pick.scan, ..ScanAnswers::default() };
        let own = answers.scans.iter().find(|own| own.scan == pick.scan).unwrap_or(&none);
        match entry(picks, own) {
            Ok(entry) => {
                let slot = new.get_mut("scans").and_then(|scans| scans.get_mut(pick.scan));
                if let Some(slot) = slot.and_then(Value::as_object_mut) {
                    slot.insert("role".to_owned(), json!(entry.role.as_str()));
                    slot.insert("layout".to_owned(), json!(entry.layout));
                }
            }
            Err(found) => wrong.extend(found),
        }
    }
    // The uncertainty of a response comes after the response.
    for (path, text) in &answers.record {
        if text.trim().is_empty() {
            continue;
        }
        // Without what it belongs to, a text is looked at by itself.
        let alone = wrong.iter().any(|w| w.scan.is_none() && is_below(path, &w.key));
        let filled = if alone {
            match record::typed(&new, path, text, None) {
                Ok(Typed::Values(_)) => continue,
                Ok(Typed::Ambiguous(_)) => Ok(None),
                Err(problem) => Err(vec![problem]),
            }
        } else {
            match record::edit(&new, path, text, None, None) {
                Ok(Edited::Done { draft, .. }) => Ok(Some(draft)),
                Ok(Edited::Ambiguous(_)) => Ok(None),
                Err(problems) => Err(problems),
            }
        };
        let problem = match filled {
            Ok(Some(draft)) => {
                new = draft;
                continue;
            }
            Ok(None) => Problem::new("typed-ambiguous"),
            Err(problems) => {
                problems.into_iter().next().unwrap_or_else(|| Problem::new("typed-no-blank"))
            }
        };
        wrong.push(of_record(&answers.record, path, problem));
    }
    if !wrong.is_empty() {
        return Err(wrong);
    }
    record::note_between(draft, &mut new, when);
    Ok(new)
}

/// A problem that an answer of the record met, at the field that it is about.
fn of_record(answers: &BTreeMap<String, String>, path: &str, mut problem: Problem) -> WrongAnswer {
    let about = problem.place.path.take().unwrap_or_default();
    // What the text needs and nobody typed: the blank above it.
    let missing = problem.code == "record-missing-key" && !is_below(&about, path);
    let above = about.rsplit_once('.').map_or("", |(above, _)| above);
    if missing && record::takes_text(above) {
        let problem = Problem::new("pick-belongs").at(above);
        return WrongAnswer { scan: None, key: above.to_owned(), problem };
    }
    let own = answers.keys().rev().find(|key| is_below(&about, key));
    let key = own.map_or(path, String::as_str);
    let mut problem = problem.at(key);
    if !problem.args.contains_key("found") {
        let typed = answers.get(key).map_or("", |text| text.trim());
        problem = problem.with("found", typed);
    }
    WrongAnswer { scan: None, key: key.to_owned(), problem }
}

/// Whether a path is another or lies below it.
fn is_below(path: &str, other: &str) -> bool {
    path.strip_prefix(other).is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
}
