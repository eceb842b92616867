//! A record for scan files that came without one: roles guessed from the shape, blanks left blank.

use crate::base::error::Problems;
use crate::formats::{self, source::FileSet};
use crate::record::{Record, Role, ScanEntry};
use crate::scan::locate;

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
        let found = locate(container.as_ref());
        if found.is_empty() {
            if let Some(array) =
                container.array("/frequency_hz").or(container.array("/frequency_mhz"))
                && array.shape.len() == 1
                && record.sensor.response.is_none()
            {
                record.sensor.response = Some(crate::record::Response::Table {
                    file: name.clone(),
                    refers_to: None,
                    load: None,
                    gain_db: None,
                    uncertainty: None,
                });
            }
            continue;
        }
        let several = found.len() > 1;
        for array in found {
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
            let stem = name.rsplit(['/', '\\']).next().unwrap_or(name);
            let stem = stem.rsplit_once('.').map_or(stem, |(stem, _)| stem);
            let group = array.group().trim_matches('/').to_owned();
            let id = if several {
                format!("{stem}-{}", group.replace('/', "-"))
            } else {
                stem.to_owned()
            };
            let mut entry = ScanEntry::new(&id, role, name);
            if several {
                entry.group = Some(group);
            }
            record.scans.push(entry);
        }
    }
    (record, problems)
}
