//! Findings and problems as sentences.

use serde::{Deserialize, Serialize};

use super::wording::{Filled, Sentence, Wording};
use crate::base::error::Problem;
use crate::base::finding::{Args, Finding, Place, Severity};
use crate::base::sheet::FindingEntry;

/// A problem as shown to the user.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ProblemText {
    pub code: String,
    /// File as the user named it, or empty.
    pub file: String,
    pub text: String,
    pub hint: String,
}

/// Problems as sentences.
pub fn problem_texts(problems: &[Problem], words: &dyn Wording) -> Vec<ProblemText> {
    problems
        .iter()
        .map(|problem| {
            let filled = Filled::new(&problem.args, &problem.place, words.marks());
            let sentence = words
                .problem(&problem.code, &filled)
                .unwrap_or_else(|| unworded(&problem.code, &problem.place, &problem.args));
            ProblemText {
                code: problem.code.clone(),
                file: problem.place.file.clone().unwrap_or_default(),
                text: sentence.text,
                hint: sentence.hint,
            }
        })
        .collect()
}

/// A finding with its sentence.
pub fn finding_entry(finding: &Finding, words: &dyn Wording) -> FindingEntry {
    let filled = Filled::new(&finding.args, &finding.place, words.marks());
    let sentence = words
        .finding(&finding.code, &filled)
        .unwrap_or_else(|| unworded(&finding.code, &finding.place, &finding.args));
    FindingEntry {
        severity: finding.severity,
        code: finding.code.clone(),
        place: finding.place.clone(),
        args: finding.args.clone(),
        text: sentence.text,
        hint: sentence.hint,
    }
}

/// A code without a sentence shows itself with its arguments: nothing is hidden. A test sees to it
/// that every code has its sentence.
fn unworded(code: &str, place: &Place, args: &Args) -> Sentence {
    let mut text = code.to_owned();
    for part in [serde_json::to_string(place), serde_json::to_string(args)].into_iter().flatten() {
        if part != "{}" {
            text.push(' ');
            text.push_str(&part);
        }
    }
    Sentence::new(text, "")
}

/// Findings in order of gravity, in their own order within one.
pub fn rank(findings: &[FindingEntry]) -> Vec<&FindingEntry> {
    let mut sorted: Vec<&FindingEntry> = findings.iter().collect();
    sorted.sort_by_key(|finding| std::cmp::Reverse(finding.severity));
    sorted
}

/// Key of the word for a severity.
pub fn severity_key(severity: Severity) -> &'static str {
    match severity {
        Severity::Note => "severity-note",
        Severity::Caution => "severity-caution",
        Severity::Unfit => "severity-unfit",
    }
}
