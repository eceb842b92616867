//! Quantities of a plane.

mod beam;
pub mod element_size;
mod further;
pub mod maps;
mod motion;
mod plane_waves;
mod powers;
mod sampling;
pub mod widths;

use super::assemble::{Evaluated, ScanInput};
use super::point::quantities;
use super::results::{Picture, PlanePicture};
use super::spread;
use crate::base::error::Problem;
use crate::base::finding::Severity;
use crate::base::quantity::{Quantity, Reason};
use crate::field::{Scale, beam_width, spatial_peak};
use crate::scan::Grid;
use maps::{Fit, Maps, peak_reason, values_from};

/// Evaluates a plane.
///
/// # Errors
/// When the waveform at the peak cannot be read.
pub fn evaluate(input: &ScanInput<'_>) -> Result<Evaluated, Problem> {
    let Grid::Plane { x_m, y_m, z_m, .. } = &input.part.scan.grid else {
        return Err(Problem::new("band-missing").in_scan(&input.part.scan.id));
    };
    let map = Maps::new(input, x_m.len());
    let Some(peak) = spatial_peak::of_plane(x_m, y_m, &map.ppsi, Scale::Energy) else {
        return Ok(no_signal(input));
    };
    let mut findings = map.findings(input, peak.value);
    let at_peak = peak_reason(input, &map, peak.value, &mut findings);
    findings.extend(maps::of_peak(input, &peak, spatial_peak::FEWEST_PLANE));
    let wave = input.wave(input.point_near(peak.cell))?;
    let top = |values: &[f64], scale: Scale| spatial_peak::of_plane(x_m, y_m, values, scale);
    let here = |values: &[f64]| beam_width::value_at(x_m, y_m, values, (peak.x_m, peak.y_m));
    let fit = Fit { top: &top, here: &here, method: "peak-fit-plane" };
    let values = values_from(&map, &at_peak, input, &wave, &fit);
    let mut out = quantities(&input.setting, &wave, &values);
    // A lower bound of the peak bounds neither its place nor a width: with a clipped peak there is none.
    let blocked = at_peak.as_ref().map(|block| &block.reason);
    let axes = (x_m.as_slice(), y_m.as_slice());
    let energy = widths::geometry(&widths::OF_ENERGY, axes, &map.ppsi, &peak, blocked);
    if energy.islands > 0 {
        findings.push(
            input.finding(Severity::Caution, "islands").on("area_6").with("points", energy.islands),
        );
    }
    let area = energy.quantities.iter().find(|q| q.id == "area_6");
    let area_m2 = area.and_then(|q| q.outcome.clone().ok());
    out.extend(energy.quantities);
    let (of_pc, profiles_pc) = widths::of_pressure(&widths::OF_PC, axes, &map.pc, blocked);
    let (of_pr, profiles_pr) = widths::of_pressure(&widths::OF_PR, axes, &map.pr, blocked);
    out.extend(of_pc);
    out.extend(of_pr);
    let (angular, remarks, disc) = powers::angular(input, axes, &map, &wave, at_peak.as_ref());
    out.extend(powers::plane_wave(input, axes, &map, &wave, at_peak.as_ref(), disc));
    out.extend(angular);
    findings.extend(remarks);
    let beam = beam::Beam {
        input,
        axes,
        map: &map,
        peak: &peak,
        wave: &wave,
        block: at_peak.as_ref(),
        area_m2,
    };
    out.extend(beam.own_axes());
    let (lobe, at_edge) = beam.side_lobe();
    let (tilt, offsets, tilted) = beam.tilt();
    out.push(lobe);
    out.extend(tilt);
    out.extend(beam.averages());
    out.extend(beam.radiating_area());
    spread::of_plane(input, axes, &map, &wave, &mut out);
    out.extend(offsets.map(|(offset, id)| offset.moves_with(&out, id)));
    let (mut out, element) = element_size::corrected(input, axes, &map, &peak, out);
    findings.extend(at_edge);
    findings.extend(tilted);
    findings.extend(sampling::sampling_findings(input, x_m, y_m, energy.limits));
    match &map.moved {
        Some((found, before)) => {
            let fresh = std::mem::take(&mut out);
            out = motion::noted(fresh, axes, found, before);
            findings.push(sampling::row_offset_finding(input, found, true));
        }
        None => findings.extend(
            sampling::row_offset(input, x_m, &map.pc)
                .map(|found| sampling::row_offset_finding(input, &found, false)),
        ),
    }
    findings.extend(sampling::edge_finding(input, x_m.len(), &map.ppsi, peak.value));
    let picture = PlanePicture {
        x_m: x_m.clone(),
        y_m: y_m.clone(),
        z_m: *z_m,
        replaced: excluded_cells(&map.excluded),
        peak_m: (peak.x_m, peak.y_m),
        peak_ppsi: peak.value,
        profile_x: energy.profile_x,
        profile_y: energy.profile_y,
        width_x: energy.limits[0],
        width_y: energy.limits[1],
        profiles_pc,
        profiles_pr,
        harmonics: further::harmonics(input, &map, &wave),
        phase_rad: further::phase_rad(&map, peak.cell),
        arrival_s: further::arrival_s(input, &map, peak.cell),
        pc_pa: map.pc,
        pr_pa: map.pr,
        ppsi_pa2_s: map.ppsi,
    };
    Ok(Evaluated {
        quantities: out,
        excluded: picture.replaced.clone(),
        picture: Picture::Plane(Box::new(picture)),
        focal: Some(wave.wave),
        element,
        along: None,
        findings,
    })
}

fn excluded_cells(excluded: &[bool]) -> Vec<usize> {
    excluded.iter().enumerate().filter(|(_, e)| **e).map(|(i, _)| i).collect()
}

/// A scan without any positive energy.
pub fn no_signal(input: &ScanInput<'_>) -> Evaluated {
    let ids = ["pc", "pr", "ppsi", "pii", "td", "i_on", "isppa", "ispta"];
    Evaluated {
        quantities: ids.map(|id| Quantity::missing(id, Reason::new("no-pulse"))).to_vec(),
        picture: Picture::None,
        focal: None,
        element: None,
        along: None,
        excluded: Vec::new(),
        findings: vec![input.finding(Severity::Unfit, "no-signal")],
    }
}
