//! Values by the rules for diagnostic equipment, where the record asks for them: each with its value, or the
//! reason for which its conditions do not hold.
//!
//! ```text
//! axial scan ─ along ─ pr, isppa, ispta derated, MI ─┐
//! plane, exposure ─ thermal ─ TIS, TIB, TIC ─────────┴─ quantities of the axial scan
//! plane ─ distortion ─ findings on derating by a linear rule
//! ```

pub mod along;
mod distortion;
mod goes_with;
mod thermal;

use super::results::ScanResult;
use crate::base::finding::Finding;
use crate::base::quantity::{Quantity, Reason};
use crate::base::safety::SafetyBasis;
use crate::field::source_area::source_area_m2;
use crate::record::{Record, Role};
use crate::safety::derating::DB_PER_CM_MHZ;

/// Completes the safety values of every axial scan (without one, of the plane at the highest level) from
/// the planes at its level; tells on what they rest. Nothing where the record does not ask for them.
pub fn complete(
    record: &Record,
    scans: &mut [ScanResult],
    findings: &mut Vec<Finding>,
) -> Vec<SafetyBasis> {
    if !record.analysis.safety_values {
        return Vec::new();
    }
    let mut out = Vec::new();
    for host in hosts(scans) {
        let Some(scan) = scans.get(host) else { continue };
        let mut basis = SafetyBasis {
            scan: scan.id.clone(),
            derating_db_per_cm_mhz: DB_PER_CM_MHZ,
            aperture_m2: source_area_m2(&record.device),
            depth_m: scan.along.as_ref().map(|along| along.depth_m),
            z_m: scan.along.as_ref().map(|along| along.z_m),
            ..SafetyBasis::default()
        };
        let mut own = Vec::new();
        if !scan.quantities.iter().any(|q| along::IDS.contains(&q.id)) {
            let reason = if scan.role == Role::Axial { "no-pulse" } else { "no-axial-scan" };
            own.extend(along::IDS.map(|id| Quantity::missing(id, Reason::new(reason))));
        }
        own.extend(thermal::indices(record, scans, scan, &mut basis));
        findings.extend(distortion::finding(record, scans, scan, &mut basis));
        if let Some(scan) = scans.get_mut(host) {
            scan.quantities.extend(own);
        }
        out.push(basis);
    }
    out
}

/// The scans that carry the values.
fn hosts(scans: &[ScanResult]) -> Vec<usize> {
    let of = |role: Role| scans.iter().enumerate().filter(move |(_, scan)| scan.role == role);
    let axial: Vec<usize> = of(Role::Axial).map(|(i, _)| i).collect();
    if !axial.is_empty() {
        return axial;
    }
    let highest = |role: Role| {
        of(role).reduce(|best, one| if one.1.level > best.1.level { one } else { best })
    };
    highest(Role::Plane)
        .or_else(|| scans.iter().enumerate().next())
        .map(|(i, _)| i)
        .into_iter()
        .collect()
}
