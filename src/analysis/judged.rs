//! Stated values and repeats, judged from the finished scans.

use super::fitness::rarefaction_excess;
use super::results::{Picture, ScanResult};
use crate::base::verdict::{Repeats, VerdictEntry};
use crate::record::{Record, Role};
use crate::verdict::{ScanValues, judge, repeats};

/// Verdicts on the record's stated values, and its repeats.
pub fn judged(record: &Record, scans: &[ScanResult]) -> (Vec<VerdictEntry>, Vec<Repeats>) {
    let values: Vec<ScanValues<'_>> = scans
        .iter()
        .map(|scan| ScanValues {
            id: &scan.id,
            role: scan.role,
            level: scan.level,
            range: scan.range.as_deref(),
            place_m: place(record, scan),
            fitness: scan.fitness,
            sign_doubted: rarefaction_excess(&scan.quantities).is_some(),
            quantities: &scan.quantities,
        })
        .collect();
    (judge(record, &values), repeats::groups(&values))
}

/// Where a plane lies along the beam, or a point in space, as far as it is stated.
fn place(record: &Record, scan: &ScanResult) -> [Option<f64>; 3] {
    let stated = record.scan(&scan.id).and_then(|entry| entry.distance_m);
    match (&scan.picture, &scan.focal) {
        (Picture::Plane(plane), _) => [None, None, plane.z_m.or(stated)],
        (_, Some(wave)) if scan.role == Role::Point => {
            let [x, y, z] = wave.position_m;
            [x, y, z.or(stated)]
        }
        _ => [None; 3],
    }
}
