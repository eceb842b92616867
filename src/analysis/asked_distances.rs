//! Scans of which a person has to say how far they lie from the head.

use super::results::{Picture, Results};
use crate::field::head_distance;
use crate::record::{Role, ScanEntry};

/// Indices in the record's scans of those whose distance is stated, or that nothing else says.
pub fn asked_distances(results: &Results) -> Vec<usize> {
    let asked = |entry: &ScanEntry| {
        let one_depth = matches!(entry.role, Role::Plane | Role::Line | Role::Point | Role::Sweep);
        entry.distance_m.is_some() || (one_depth && !is_known(results, entry))
    };
    let entries = results.record.scans.iter().enumerate();
    entries.filter(|(_, entry)| asked(entry)).map(|(i, _)| i).collect()
}

/// Whether file and frame say how far a scan is from the head; one without results asks nothing.
fn is_known(results: &Results, entry: &ScanEntry) -> bool {
    let record = &results.record;
    // Of an array that holds several scans, all begin with the entry's id.
    let own = |id: &str| {
        id.strip_prefix(entry.id.as_str())
            .is_some_and(|rest| rest.is_empty() || rest.starts_with('-'))
    };
    let scans = results.scans.iter().filter(|scan| scan.file == entry.file && own(&scan.id));
    let mut z_m = scans
        .filter_map(|scan| match (&scan.picture, &scan.focal) {
            (Picture::Plane(plane), _) => Some(plane.z_m),
            (_, Some(wave)) => Some(wave.position_m[2]),
            _ => None,
        })
        .peekable();
    let from_datum = head_distance::head_m(&record.frame, &record.device).is_ok();
    z_m.peek().is_none() || (from_datum && z_m.all(|z| z.is_some()))
}
