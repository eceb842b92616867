//! A record for scan files that came without one: roles guessed from the shape, blanks left blank.

use crate::base::error::Problems;
use crate::calibration::is_table;
use crate::formats::container::{ArrayInfo, Container};
use crate::formats::{self, source::FileSet};
use crate::record::{Record, Response, Role, ScanEntry};
use crate::scan::{layout, locate};

/// A record that names the scans found in the files. Files without waveforms are left out; files that
/// cannot be read are returned as problems beside it.
pub fn skeleton(files: &FileSet) -> (Record, Problems) {
    let mut record = Record::default();
    let mut problems = Problems::new();
    for (name, source) in files.iter() {
        if name.to_lowercase().ends_with(".json") {
            continue;
        }
        let container = match formats::open(name, source.clone()) {
            Ok(container) => container,
            Err(found) => {
                problems.extend(found);
                continue;
            }
        };
        let mut found: Vec<Found> = locate(container.as_ref())
            .iter()
            .map(|array| described(container.as_ref(), array))
            .collect();
        if found.is_empty() {
            if let Some(response) = sensitivity(name, container.as_ref()) {
                record.sensor.response.get_or_insert(response);
                continue;
            }
            found = foreign(container.as_ref());
        }
        let several = found.len() > 1;
        for Found { group, role } in found {
            let stem = name.rsplit(['/', '\\']).next().unwrap_or(name);
            let stem = stem.rsplit_once('.').map_or(stem, |(stem, _)| stem);
            let group = group.trim_matches('/').to_owned();
            let id = if several && !group.is_empty() {
                format!("{stem}-{}", group.replace('/', "-"))
            } else {
                stem.to_owned()
            };
            let mut entry = ScanEntry::new(&id, role, name);
            if several && !group.is_empty() {
                entry.group = Some(group);
            }
            record.scans.push(entry);
        }
    }
    (record, problems)
}

/// A scan found in a file.
struct Found {
    group: String,
    role: Role,
}

/// A scan that describes itself, with a role by its shape.
fn described(container: &dyn Container, array: &ArrayInfo) -> Found {
    let has = |axis: &str| {
        container.array(&format!("{}/{axis}", array.group())).map_or(0, |a| a.elements())
    };
    let points: u64 = array.shape.split_last().map_or(1, |(_, lead)| lead.iter().product());
    let listed = has("position_m") > 0;
    let role = match (has("x_m"), has("y_m"), has("z_m")) {
        _ if points <= 1 => Role::Point,
        (x, y, _) if listed || (x > 1 && y > 1) => Role::Plane,
        (_, _, z) if z > 1 && z == points => Role::Axial,
        _ => Role::Line,
    };
    Found { group: array.group().to_owned(), role }
}

/// Scans of a file that does not describe itself. Their layouts are proposed when they are opened, with
/// all that has to be said of them.
fn foreign(container: &dyn Container) -> Vec<Found> {
    let mut out: Vec<Found> = Vec::new();
    for proposal in layout::propose(container) {
        if !out.iter().any(|found| found.group == proposal.group) {
            out.push(Found { group: proposal.group, role: proposal.role });
        }
    }
    out
}

/// The response that a table of sensitivities gives; `None` if the file is none.
fn sensitivity(file: &str, container: &dyn Container) -> Option<Response> {
    is_table(container).then(|| Response::Table {
        file: file.to_owned(),
        refers_to: None,
        load: None,
        gain_db: None,
        uncertainty: None,
        frequency_correlation: None,
    })
}
