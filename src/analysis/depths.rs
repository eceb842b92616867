//! Planes at several depths, taken together: the beam along its axis, and the focal volume.

use super::results::{Picture, PlanePicture, ScanResult};
use crate::base::depths::{BeamAxis, Depth, Stack};
use crate::base::finding::{Arg, Finding, Severity};
use crate::dsp::contour;
use crate::field::{
    Scale, beam_axis, beam_width, focal_volume, head_distance, principal_axes, spatial_peak,
};
use crate::record::{Record, Role};

/// Fewest planes of a stack.
const FEWEST: usize = 3;
/// Difference of the tilts by phase and by centres from which it is told, rad: 1°. Common practice, no
/// source.
const TILTS_APART: f64 = 0.017_453_292_519_943_295;

/// Stacks of three planes or more at different known depths, by level and range.
pub fn stacks(record: &Record, scans: &[ScanResult], findings: &mut Vec<Finding>) -> Vec<Stack> {
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
    let made = groups.into_iter().filter_map(|planes| stack(record, planes));
    let stacks: Vec<Stack> = made.collect();
    findings.extend(stacks.iter().filter_map(|stack| tilts_apart(scans, stack)));
    stacks
}

fn stack(record: &Record, mut planes: Vec<(&ScanResult, &PlanePicture, f64)>) -> Option<Stack> {
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
    let focus_shift_m = peak.as_ref().and_then(|peak| {
        head_distance::focus_shift_m(&record.frame, &record.device, peak.x_m).ok()
    });
    Some(Stack {
        level: planes[0].0.level,
        range: planes[0].0.range.clone(),
        z_peak_m: peak.map(|peak| peak.x_m),
        length_6_m,
        ellipsoid_m3,
        counted_m3: counted.map(|c| c.volume_m3),
        open: counted.is_some_and(|c| c.open),
        focus_shift_m,
        axis: axis(record, &planes),
        planes: depths,
    })
}

/// The line through the centres of gravity of the energy above −6 dB of each plane's own peak; planes
/// whose beam reaches the edge do not take part.
fn axis(record: &Record, planes: &[(&ScanResult, &PlanePicture, f64)]) -> Option<BeamAxis> {
    let head_m = head_distance::head_m(&record.frame, &record.device).ok();
    let centres: Vec<(f64, (f64, f64))> = planes
        .iter()
        .filter_map(|(_, plane, z_m)| {
            let values = &plane.ppsi_pa2_s;
            let peak = spatial_peak::of_plane(&plane.x_m, &plane.y_m, values, Scale::Energy)?;
            let axes = principal_axes::principal_axes(
                &plane.x_m,
                &plane.y_m,
                values,
                &peak,
                Scale::Energy,
                6.0,
            )?;
            Some((head_distance::from_datum_m(&record.frame, *z_m), axes.centroid_m))
        })
        .collect();
    let along = |of: fn((f64, f64)) -> f64| {
        let line: Vec<(f64, f64)> = centres.iter().map(|(z, c)| (*z, of(*c))).collect();
        beam_axis::axis_line(&line, head_m.unwrap_or(0.0))
    };
    let (x, y) = (along(|c| c.0)?, along(|c| c.1)?);
    Some(BeamAxis {
        planes: centres.len(),
        tilt_x_rad: x.tilt_rad,
        tilt_y_rad: y.tilt_rad,
        u_tilt_x_rad: x.u_tilt_rad,
        u_tilt_y_rad: y.u_tilt_rad,
        offset_x_m: head_m.map(|_| x.at_m),
        offset_y_m: head_m.map(|_| y.at_m),
        u_offset_x_m: head_m.map(|_| x.u_at_m),
        u_offset_y_m: head_m.map(|_| y.u_at_m),
    })
}

/// Tells when the tilt by the phase of the plane with the largest energy is not that through the centres.
fn tilts_apart(scans: &[ScanResult], stack: &Stack) -> Option<Finding> {
    let axis = stack.axis?;
    let energy = |d: &&Depth| d.ppsi_pa2_s.unwrap_or(0.0);
    let loudest = stack.planes.iter().max_by(|a, b| energy(a).total_cmp(&energy(b)))?;
    let scan = scans.iter().find(|scan| scan.id == loudest.scan)?;
    let by_phase = |id: &str| scan.quantities.iter().find(|q| q.id == id)?.outcome.clone().ok();
    let x = by_phase("tilt_x")? - axis.tilt_x_rad;
    let y = by_phase("tilt_y")? - axis.tilt_y_rad;
    let (which, apart, by_centres) =
        if x.abs() >= y.abs() { ("x", x, axis.tilt_x_rad) } else { ("y", y, axis.tilt_y_rad) };
    (apart.abs() > TILTS_APART).then(|| {
        Finding::new(Severity::Caution, "tilts-differ")
            .in_scan(&loudest.scan)
            .with("axis", which)
            .with("phase", Arg::measure(by_centres + apart, "deg"))
            .with("centres", Arg::measure(by_centres, "deg"))
            .with("planes", axis.planes)
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
