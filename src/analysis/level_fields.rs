//! Planes and lines at one place and several drive levels.

use std::collections::BTreeMap;

use super::results::{Picture, ScanResult};
use crate::base::drive::{LevelField, LevelFields};
use crate::record::{Record, Role};

/// Places along the beam closer than this are one, m.
const SAME_PLACE_M: f64 = 5e-4;
/// Extents that are compared.
const EXTENTS: [&str; 8] = [
    "width_x_6_pc",
    "width_x_6_pr",
    "width_y_6_pc",
    "width_y_6_pr",
    "length_6_pc",
    "length_6_pr",
    "area_6_pc",
    "area_6_pr",
];

/// Groups of two levels or more, each from the lowest to the highest.
pub fn evaluate(record: &Record, scans: &[ScanResult]) -> Vec<LevelFields> {
    let mut groups: Vec<LevelFields> = Vec::new();
    for scan in scans {
        let Some((axis, z_m, field)) = field(record, scan) else { continue };
        let same = |group: &&mut LevelFields| {
            let near = match (group.z_m, z_m) {
                (Some(a), Some(b)) => (a - b).abs() <= SAME_PLACE_M,
                (a, b) => a.is_none() && b.is_none(),
            };
            group.role == scan.role.as_str() && group.axis == axis && near
        };
        match groups.iter_mut().find(same) {
            Some(group) => group.fields.push(field),
            None => groups.push(LevelFields {
                role: scan.role.as_str().to_owned(),
                axis: axis.to_owned(),
                z_m,
                fields: vec![field],
            }),
        }
    }
    for group in &mut groups {
        group.fields.sort_by(|a, b| a.level.total_cmp(&b.level));
    }
    groups.retain(|group| {
        group.fields.first().zip(group.fields.last()).is_some_and(|(a, b)| a.level < b.level)
    });
    groups
}

fn field(record: &Record, scan: &ScanResult) -> Option<(&'static str, Option<f64>, LevelField)> {
    let level = scan.level?;
    let stated = record.scan(&scan.id).and_then(|entry| entry.distance_m);
    let (axis, z_m, along_m, pc, pr) = match &scan.picture {
        Picture::Plane(plane) => {
            let (pc, pr) = plane.profiles_pc.as_ref().zip(plane.profiles_pr.as_ref())?;
            ("x", plane.z_m.or(stated), &plane.x_m, &pc.x_pa, &pr.x_pa)
        }
        Picture::Line(line) => {
            let z_m = scan.focal.as_ref().and_then(|wave| wave.position_m[2]).or(stated);
            let z_m = z_m.filter(|_| scan.role == Role::Line);
            (line.axis, z_m, &line.along_m, &line.pc_pa, &line.pr_pa)
        }
        _ => return None,
    };
    let top = |values: &[f64]| values.iter().copied().fold(0.0, f64::max);
    let re_peak = |values: &[f64]| -> Vec<f64> {
        let peak = top(values);
        values.iter().map(|v| if peak > 0.0 { v / peak } else { 0.0 }).collect()
    };
    let at = (0..pc.len()).max_by(|a, b| pc[*a].total_cmp(&pc[*b]))?;
    let middle = along_m.get(at).copied()?;
    let extents: BTreeMap<String, f64> = EXTENTS
        .iter()
        .filter_map(|id| {
            let quantity = scan.quantities.iter().find(|q| q.id == *id)?;
            Some(((*id).to_owned(), quantity.outcome.clone().ok()?))
        })
        .collect();
    Some((
        axis,
        z_m,
        LevelField {
            scan: scan.id.clone(),
            level,
            extents,
            along_m: along_m.iter().map(|x| x - middle).collect(),
            pc: re_peak(pc),
            pr: re_peak(pr),
        },
    ))
}
