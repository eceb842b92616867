//! Quantities of a line across the beam or along it.

use super::assemble::{Evaluated, ScanInput};
use super::plane::maps::{Fit, Maps, of_peak, peak_reason, values_from};
use super::plane::no_signal;
use super::point::quantities;
use super::results::{LinePicture, Picture};
use super::{safety, spread};
use crate::base::error::Problem;
use crate::base::quantity::{Quantity, Reason};
use crate::dsp::interpolate;
use crate::field::{Scale, beam_width, head_distance, spatial_peak};
use crate::record::Role;
use crate::scan::{Axis, Grid};

/// Evaluates a line.
///
/// # Errors
/// When the waveform at the peak cannot be read.
pub fn evaluate(input: &ScanInput<'_>) -> Result<Evaluated, Problem> {
    let Grid::Line { axis, along_m, .. } = &input.part.scan.grid else {
        return Err(Problem::new("band-missing").in_scan(&input.part.scan.id));
    };
    let map = Maps::new(input, along_m.len());
    let Some(peak) = spatial_peak::of_line(along_m, &map.ppsi, Scale::Energy) else {
        return Ok(no_signal(input));
    };
    let mut findings = map.findings(input, peak.value);
    let block = peak_reason(input, &map, peak.value, &mut findings);
    findings.extend(of_peak(input, &peak, spatial_peak::FEWEST_LINE));
    let wave = input.wave(input.point_near(peak.cell))?;
    let top = |values: &[f64], scale: Scale| spatial_peak::of_line(along_m, values, scale);
    let here = |values: &[f64]| interpolate::cubic(along_m, values, peak.x_m);
    let fit = Fit { top: &top, here: &here, method: "peak-fit-line" };
    let values = values_from(&map, &block, input, &wave, &fit);
    let mut out = quantities(&input.setting, &wave, &values);
    let extent =
        |db: f64| beam_width::width_m(along_m, &map.ppsi, peak.x_m, peak.value, Scale::Energy, db);
    let blocked = block.as_ref().map(|block| &block.reason);
    out.extend(extents_along(*axis, 0, along_m, &map.ppsi, Some(&peak), blocked));
    for (which, values) in [(1, &map.pc), (2, &map.pr)] {
        let own = spatial_peak::of_line(along_m, values, Scale::Amplitude);
        out.extend(extents_along(*axis, which, along_m, values, own.as_ref(), blocked));
    }
    spread::of_line(input, (*axis, along_m), &map, &wave, &mut out);
    if *axis == Axis::Z {
        let shift = focus_shift(input, &peak, blocked);
        out.push(shift.moves_with(&out, "z_peak"));
    }
    let mut derated = None;
    if input.part.scan.role == Role::Axial && input.setting.record.analysis.safety_values {
        let (quantities, along) = safety::along::evaluate(input, along_m, &map, &wave, blocked)?;
        out.extend(quantities);
        derated = along;
    }
    let picture = LinePicture {
        axis: axis.name(),
        along_m: along_m.clone(),
        peak_m: peak.x_m,
        peak_ppsi: peak.value,
        extent_6: extent(6.0),
        replaced: map.excluded.iter().enumerate().filter(|(_, e)| **e).map(|(i, _)| i).collect(),
        pc_pa: map.pc,
        pr_pa: map.pr,
        ppsi_pa2_s: map.ppsi,
    };
    Ok(Evaluated {
        quantities: out,
        excluded: picture.replaced.clone(),
        picture: Picture::Line(Box::new(picture)),
        focal: Some(wave.wave),
        element: None,
        along: derated,
        findings,
    })
}

/// The peak of the energy re the geometric focus.
fn focus_shift(
    input: &ScanInput<'_>,
    peak: &spatial_peak::SpatialPeak,
    blocked: Option<&Reason>,
) -> Quantity {
    let record = input.setting.record;
    let outcome = match blocked {
        Some(reason) => Err(reason.clone()),
        None => head_distance::focus_shift_m(&record.frame, &record.device, peak.x_m),
    };
    Quantity::from_outcome("focus_shift", outcome).by("peak-less-geometric")
}

/// Ids of one quantity along a line: its position, its extents with their levels in dB.
struct Ids {
    position: &'static str,
    extents: Vec<(&'static str, f64)>,
    methods: [&'static str; 2],
    scale: Scale,
}

/// Ids along an axis of the energy (0), of the compressional (1) and of the rarefactional peak (2).
fn ids(axis: Axis, which: usize) -> Ids {
    let position = match axis {
        Axis::X => ["x_peak", "x_peak_pc", "x_peak_pr"],
        Axis::Y => ["y_peak", "y_peak_pc", "y_peak_pr"],
        Axis::Z => ["z_peak", "z_peak_pc", "z_peak_pr"],
    };
    let extents: [&[&'static str]; 3] = match axis {
        Axis::X => [
            &["width_x_3", "width_x_6", "width_x_12"],
            &["width_x_3_pc", "width_x_6_pc", "width_x_12_pc"],
            &["width_x_3_pr", "width_x_6_pr", "width_x_12_pr"],
        ],
        Axis::Y => [
            &["width_y_3", "width_y_6", "width_y_12"],
            &["width_y_3_pc", "width_y_6_pc", "width_y_12_pc"],
            &["width_y_3_pr", "width_y_6_pr", "width_y_12_pr"],
        ],
        Axis::Z => [&["length_3", "length_6"], &["length_6_pc"], &["length_6_pr"]],
    };
    let methods = [["peak-ppsi", "width-ppsi"], ["peak-pc", "width-pc"], ["peak-pr", "width-pr"]];
    let level = |id: &str| match id {
        id if id.contains("_12") => 12.0,
        id if id.contains("_6") => 6.0,
        _ => 3.0,
    };
    Ids {
        position: position[which],
        extents: extents[which].iter().map(|id| (*id, level(id))).collect(),
        methods: methods[which],
        scale: if which == 0 { Scale::Energy } else { Scale::Amplitude },
    }
}

/// Position and extents along an axis of the energy (0), of the compressional (1) or of the
/// rarefactional peak (2).
pub fn extents_along(
    axis: Axis,
    which: usize,
    along_m: &[f64],
    values: &[f64],
    peak: Option<&spatial_peak::SpatialPeak>,
    blocked: Option<&Reason>,
) -> Vec<Quantity> {
    let whole = |outcome: Result<f64, Reason>| match blocked {
        Some(reason) => Err(reason.clone()),
        None => outcome,
    };
    let ids = ids(axis, which);
    let place = peak.map(|peak| peak.x_m).ok_or_else(|| Reason::new("no-pulse"));
    let mut out = vec![Quantity::from_outcome(ids.position, whole(place)).by(ids.methods[0])];
    for (id, db) in &ids.extents {
        let found = peak.and_then(|peak| {
            beam_width::width_m(along_m, values, peak.x_m, peak.value, ids.scale, *db)
        });
        let outcome = found.map(|(a, b)| b - a).ok_or_else(|| Reason::new("beam-not-within-scan"));
        out.push(Quantity::from_outcome(id, whole(outcome)).by(ids.methods[1]));
    }
    out
}
