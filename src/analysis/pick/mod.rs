//! Foreign files that a person has yet to say how to read: the readings that are possible, what has to
//! be asked of each, and a quick look at what comes of it.

mod answers;
mod draft;
mod fields;
mod preview;

use std::sync::Arc;

use answers::{Wrong, answered};
pub use draft::{Answers, WrongAnswer, drafted, entry};
pub use fields::Field;
pub use preview::Preview;

use crate::base::error::Problems;
use crate::calibration::is_table;
use crate::formats::container::Container;
use crate::formats::{self, source::FileSet};
use crate::record::{AxisName, AxisSource, Layout, Record, ScanEntry};
use crate::scan::layout::{Proposal, propose};
use crate::scan::locate;

/// Most readings of one file that are offered.
const MOST: usize = 8;

/// A scan of the record of which somebody has to say how its file is read.
pub struct Pick {
    /// Index in the record's scans.
    pub scan: usize,
    pub entry: ScanEntry,
    /// What the reader passed over or made of the file.
    pub notes: Problems,
    pub choices: Vec<Choice>,
    /// Index of the reading that is offered first, or is in use.
    pub choice: usize,
    container: Arc<dyn Container>,
}

/// A way to read the file.
pub struct Choice {
    pub proposal: Proposal,
    /// Whether x and y are exchanged against the proposal.
    pub exchanged: bool,
    pub fields: Vec<Field>,
}

impl Pick {
    /// A quick look at the scan as a choice reads it, with what was answered.
    ///
    /// # Errors
    /// What stands in the way of reading it.
    pub fn preview(&self, record: &Record, entry: &ScanEntry) -> Result<Preview, Problems> {
        preview::preview(record, entry, &self.container)
    }
}

/// The scans of a record without a layout whose files do not describe themselves. Files that cannot be
/// opened are left to those who open them all.
pub fn picks(record: &Record, files: &FileSet) -> Vec<Pick> {
    let open = |(scan, entry): (usize, &ScanEntry)| {
        if entry.layout.is_some() {
            return None;
        }
        let container = formats::open(&entry.file, files.get(&entry.file)?).ok()?;
        if !locate(container.as_ref()).is_empty() || is_table(container.as_ref()) {
            return None;
        }
        let wanted = entry.group.as_deref().map(|group| group.trim_matches('/'));
        let here = |p: &Proposal| wanted.is_none_or(|wanted| p.group.trim_matches('/') == wanted);
        let proposals: Vec<Proposal> =
            propose(container.as_ref()).into_iter().filter(here).collect();
        let exchanged: Vec<Proposal> = proposals.iter().filter_map(exchanged).collect();
        let plain = proposals.into_iter().map(|proposal| (proposal, false));
        let mut choices: Vec<Choice> = Vec::new();
        for (proposal, exchanged) in plain.chain(exchanged.into_iter().map(|p| (p, true))) {
            if choices.len() < MOST && !choices.iter().any(|c| c.proposal.layout == proposal.layout)
            {
                let fields = fields::fields(container.as_ref(), &proposal);
                choices.push(Choice { proposal, exchanged, fields });
            }
        }
        (!choices.is_empty()).then(|| Pick {
            scan,
            entry: entry.clone(),
            notes: container.notes(),
            choices,
            choice: 0,
            container,
        })
    };
    record.scans.iter().enumerate().filter_map(open).collect()
}

/// The scans of a record whose layout is stated, to be read otherwise: the same readings, with the one in
/// use chosen and answered as it is.
pub fn picks_again(record: &Record, files: &FileSet) -> Vec<Pick> {
    let mut bare = record.clone();
    let layouts: Vec<Option<Layout>> = bare.scans.iter_mut().map(|s| s.layout.take()).collect();
    let mut out = picks(&bare, files);
    out.retain_mut(|pick| match layouts.get(pick.scan) {
        Some(Some(layout)) => {
            pick.answer(layout);
            true
        }
        _ => false,
    });
    out
}

impl Pick {
    /// Chooses the reading of a layout and answers with it.
    fn answer(&mut self, layout: &Layout) {
        let is_it = |choice: &Choice| same_reading(&choice.proposal.layout, layout);
        self.choice = self.choices.iter().position(is_it).unwrap_or(0);
        for (index, choice) in self.choices.iter_mut().enumerate() {
            let in_use = index == self.choice;
            if in_use {
                choice.proposal.role = self.entry.role;
            }
            for field in &mut choice.fields {
                let told = fields::told(field.key, layout);
                if let Some(text) = told.filter(|_| in_use || field.text.is_empty()) {
                    field.text = text;
                }
            }
        }
    }
}

/// Whether two layouts take the same arrays for the same; numbers and units aside.
fn same_reading(proposed: &Layout, used: &Layout) -> bool {
    let array = |source: &Option<AxisSource>| match source {
        Some(AxisSource::Array(at)) => Some(at.array.clone()),
        _ => None,
    };
    let arrays = |layout: &Layout| [&layout.x, &layout.y, &layout.z].map(array);
    proposed.waveforms == used.waveforms
        && proposed.axes == used.axes
        && arrays(proposed) == arrays(used)
}

/// The same reading with x and y exchanged; none where it has neither.
fn exchanged(proposal: &Proposal) -> Option<Proposal> {
    let Layout { x, y, axes, .. } = &proposal.layout;
    let has = |axis: AxisName| axes.contains(&axis);
    if x.is_none() && y.is_none() && !(has(AxisName::X) && has(AxisName::Y)) {
        return None;
    }
    let mut other = proposal.clone();
    (other.layout.x, other.layout.y) = (y.clone(), x.clone());
    for axis in &mut other.layout.axes {
        *axis = match *axis {
            AxisName::X => AxisName::Y,
            AxisName::Y => AxisName::X,
            same => same,
        };
    }
    Some(other)
}

#[cfg(test)]
mod tests;
