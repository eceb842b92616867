//! Quantities of a line across the beam or along it.

use super::assemble::{Evaluated, ScanInput};
use super::focal_wave::waveform;
use super::plane::{Fit, Maps, no_signal, peak_reason, values_from};
use super::point::quantities;
use super::results::{LinePicture, Picture};
use crate::base::error::Problem;
use crate::base::finding::Severity;
use crate::base::quantity::{Quantity, Reason};
use crate::dsp::interpolate;
use crate::field::{Scale, beam_width, spatial_peak};
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
    if peak.at_edge {
        findings.push(input.finding(Severity::Unfit, "peak-at-edge"));
    }
    if !peak.fitted {
        findings.push(
            input
                .finding(Severity::Note, "peak-not-fitted")
                .with("wanted", spatial_peak::FEWEST_LINE),
        );
    }
    let wave = waveform(input.part, input.plan, input.point_near(peak.cell))?;
    let top = |values: &[f64], scale: Scale| {
        spatial_peak::of_line(along_m, values, scale).map(|p| p.value)
    };
    let here = |values: &[f64]| interpolate::cubic(along_m, values, peak.x_m);
    let fit = Fit { top: &top, here: &here, method: "peak-fit-line" };
    let values = values_from(&map, &block, input, &wave, &fit);
    let mut out = quantities(&input.setting, &wave, &values);
    let whole = |outcome: Result<f64, Reason>| match &block {
        Some(block) => Err(block.reason.clone()),
        None => outcome,
    };
    let extent =
        |db: f64| beam_width::width_m(along_m, &map.ppsi, peak.x_m, peak.value, Scale::Energy, db);
    let (position, ids): (&'static str, &[(&'static str, f64)]) = match axis {
        Axis::X => ("x_peak", &[("width_x_3", 3.0), ("width_x_6", 6.0), ("width_x_12", 12.0)]),
        Axis::Y => ("y_peak", &[("width_y_3", 3.0), ("width_y_6", 6.0), ("width_y_12", 12.0)]),
        Axis::Z => ("z_peak", &[("length_3", 3.0), ("length_6", 6.0)]),
    };
    out.push(Quantity::from_outcome(position, whole(Ok(peak.x_m))).by("peak-ppsi"));
    for (id, db) in ids {
        let outcome =
            extent(*db).map(|(a, b)| b - a).ok_or_else(|| Reason::new("beam-not-within-scan"));
        out.push(Quantity::from_outcome(id, whole(outcome)).by("width-ppsi"));
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
        findings,
    })
}
