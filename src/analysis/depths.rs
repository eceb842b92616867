//! Planes at several depths, taken together: the beam along its axis, and the focal volume.

use super::results::{Picture, PlanePicture, ScanResult};
use crate::base::depths::{Depth, Stack};
use crate::dsp::contour;
use crate::field::{Scale, beam_width, focal_volume, spatial_peak};
use crate::record::Role;

/// Fewest planes of a stack.
const FEWEST: usize = 3;

/// Stacks of three planes or more at different known depths, by level and range.
pub fn stacks(scans: &[ScanResult]) -> Vec<Stack> {
    let mut groups: Vec<Vec<(&ScanResult, &PlanePicture, f64)>> = Vec::new();
    for scan in scans.iter().filter(|scan| scan.role == Role::Plane && scan.calibrated) {
        let Picture::Plane(plane) = &scan.picture else { continue };
        let Some(z_m) = plane.z_m else { continue };
        let same = |group: &&mut Vec<(&ScanResult, &PlanePicture, f64)>| {
            group.first().is_some_and(|(s, ..)| s.level == scan.level && s.range == scan.range)
        };
        match groups.iter_mut().find(same) {
            Some(group) => group.push((scan, plane, z_m)),
            None => groups.push(vec![(scan, plane, z_m)]),
        }
    }
    groups.into_iter().filter_map(stack).collect()
}

fn stack(mut planes: Vec<(&ScanResult, &PlanePicture, f64)>) -> Option<Stack> {
    planes.sort_by(|a, b| a.2.total_cmp(&b.2));
    planes.dedup_by(|a, b| a.2 == b.2);
    if planes.len() < FEWEST {
        return None;
    }
    let value = |scan: &ScanResult, id: &str| {
        let quantity = scan.quantities.iter().find(|q| q.id == id)?;
        quantity.outcome.clone().ok().filter(|_| !quantity.lower_bound)
    };
    let largest =
        planes.iter().map(|(_, plane, _)| plane.peak_ppsi).reduce(f64::max).filter(|v| *v > 0.0)?;
    let level = largest * Scale::Energy.ratio(6.0);
    let depths: Vec<Depth> = planes
        .iter()
        .map(|(scan, plane, z_m)| Depth {
            scan: scan.id.clone(),
            z_m: *z_m,
            pc_pa: value(scan, "pc"),
            pr_pa: value(scan, "pr"),
            ppsi_pa2_s: value(scan, "ppsi"),
            width_x_6_m: value(scan, "width_x_6"),
            width_y_6_m: value(scan, "width_y_6"),
            area_m2: area(plane, level),
        })
        .collect();
    let along: Vec<f64> = depths.iter().map(|d| d.z_m).collect();
    let energy: Option<Vec<f64>> = depths.iter().map(|d| d.ppsi_pa2_s).collect();
    let peak = energy.as_ref().and_then(|energy| {
        spatial_peak::of_line(&along, energy, Scale::Energy).filter(|peak| !peak.at_edge)
    });
    let length_6_m = energy.as_ref().zip(peak.as_ref()).and_then(|(energy, peak)| {
        let found = beam_width::width_m(&along, energy, peak.x_m, peak.value, Scale::Energy, 6.0);
        found.map(|(a, b)| b - a)
    });
    let nearest = peak.as_ref().and_then(|peak| depths.get(peak.cell));
    let ellipsoid_m3 = nearest.and_then(|d| {
        Some(focal_volume::ellipsoid_m3(d.width_x_6_m?, d.width_y_6_m?, length_6_m?))
    });
    let areas: Vec<(f64, f64)> = depths.iter().map(|d| (d.z_m, d.area_m2)).collect();
    let counted = focal_volume::counted_m3(&areas);
    Some(Stack {
        level: planes[0].0.level,
        range: planes[0].0.range.clone(),
        z_peak_m: peak.map(|peak| peak.x_m),
        length_6_m,
        ellipsoid_m3,
        counted_m3: counted.map(|c| c.volume_m3),
        open: counted.is_some_and(|c| c.open),
        planes: depths,
    })
}

/// Area about the plane's peak above an absolute level; 0 where even the peak stays below.
fn area(plane: &PlanePicture, level: f64) -> f64 {
    let columns = plane.x_m.len();
    let top = plane.ppsi_pa2_s.iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1));
    let Some((cell, _)) = top.filter(|(_, value)| **value > level) else { return 0.0 };
    let seed = (cell / columns.max(1), cell % columns.max(1));
    contour::region(&plane.x_m, &plane.y_m, &plane.ppsi_pa2_s, level, seed).map_or(0.0, |r| r.area)
}
