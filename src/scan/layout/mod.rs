//! Layouts of foreign files: proposed with reasons, chosen where only one is complete, applied.

mod apply;
mod beside;
mod dims;
mod plausible;
mod propose;
#[cfg(test)]
mod tests;
mod words;

pub use apply::{apply, shown};
pub use propose::propose;

use super::parts::Parts;
use crate::base::error::{Problem, Problems};
use crate::base::finding::{Finding, Severity};
use crate::formats::container::Container;
use crate::record::{Layout, Record, Role, ScanEntry};

/// Most candidates told.
const TOLD: usize = 4;

/// A way to read a file as a scan.
#[derive(Debug, Clone, PartialEq)]
pub struct Proposal {
    /// The waveforms.
    pub array: String,
    pub group: String,
    /// Their dimensions as the program that wrote the file shows them.
    pub shape: Vec<u64>,
    pub role: Role,
    pub layout: Layout,
    /// What only a person can add; empty where the layout is complete.
    pub lacking: Problems,
    /// Why; cautions among them are assumptions.
    pub reasons: Vec<Finding>,
}

impl Proposal {
    /// The dimensions in words: `time 1500 × y 41 × x 61`.
    pub fn axes(&self) -> String {
        let parts = self.layout.axes.iter().zip(&self.shape);
        parts.map(|(axis, n)| format!("{} {n}", axis.as_str())).collect::<Vec<_>>().join(" × ")
    }

    /// The layout as it is written in a record.
    pub fn snippet(&self) -> String {
        serde_json::to_string(&self.layout).unwrap_or_default()
    }
}

/// The parts of an entry's scan in a file that does not describe itself: by the layout of another scan
/// of the record that fits, else by the only complete proposal.
///
/// # Errors
/// `scan-no-waveforms`; `layout-choose` for each candidate with what it lacks.
pub fn for_entry(
    record: &Record,
    entry: &ScanEntry,
    container: &dyn Container,
    findings: &mut Vec<Finding>,
) -> Result<(Parts, Layout), Problems> {
    let wanted = entry.group.as_deref().map(|group| group.trim_matches('/').to_owned());
    let here = |group: &str| wanted.as_ref().is_none_or(|wanted| group.trim_matches('/') == wanted);
    for other in record.scans.iter().filter(|scan| scan.id != entry.id) {
        if let Some(layout) = &other.layout
            && let Ok(parts) = apply(container, layout)
            && here(parts.group())
        {
            findings.push(
                Finding::new(Severity::Note, "layout-reused").with("scan", other.id.as_str()),
            );
            return Ok((parts, layout.clone()));
        }
    }
    let mut proposals = propose(container);
    proposals.retain(|p| here(&p.group));
    if proposals.is_empty() {
        let paths: Vec<String> =
            container.arrays().iter().map(|a| a.path.clone()).take(20).collect();
        return Err(vec![Problem::new("scan-no-waveforms").with("found", paths)]);
    }
    let several = proposals.len() > 1;
    if let [only] = proposals.as_slice()
        && only.lacking.is_empty()
    {
        let parts = apply(container, &only.layout)?;
        findings.push(
            Finding::new(Severity::Note, "layout-proposed")
                .at(&only.array)
                .with("axes", only.axes()),
        );
        let assumed = only.reasons.iter().filter(|reason| reason.severity > Severity::Note);
        findings.extend(assumed.cloned());
        return Ok((parts, only.layout.clone()));
    }
    let mut problems = Problems::new();
    for proposal in proposals.iter().take(TOLD) {
        let code = if several { "layout-choose" } else { "layout-incomplete" };
        problems.push(
            Problem::new(code)
                .at(proposal.array.clone())
                .with("axes", proposal.axes())
                .with("candidates", proposals.len())
                .with("snippet", proposal.snippet()),
        );
        for lack in &proposal.lacking {
            if !problems.contains(lack) {
                problems.push(lack.clone());
            }
        }
    }
    Err(problems)
}
