//! From all answers to a draft of the record.

use std::collections::BTreeMap;

use serde::Deserialize;
use serde_json::{Value, json};

use super::{Pick, Wrong, answered};
use crate::base::error::Problem;
use crate::record::{self, Edited, Role, ScanEntry};

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
        let filled = match record::edit(&new, path, text, None, None) {
            Ok(Edited::Done { draft, .. }) => {
                new = draft;
                Ok(())
            }
            Ok(Edited::Ambiguous(_)) => Err(Problem::new("typed-ambiguous")),
            Err(problems) => {
                Err(problems.into_iter().next().unwrap_or_else(|| Problem::new("typed-no-blank")))
            }
        };
        if let Err(problem) = filled {
            let mut problem = problem.at(path.clone());
            if !problem.args.contains_key("found") {
                problem = problem.with("found", text.trim());
            }
            wrong.push(WrongAnswer { scan: None, key: path.clone(), problem });
        }
    }
    if !wrong.is_empty() {
        return Err(wrong);
    }
    record::note_between(draft, &mut new, when);
    Ok(new)
}
