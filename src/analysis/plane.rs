//! Quantities of a plane.

use super::assemble::{Evaluated, ScanInput};
use super::focal_wave::waveform;
use super::point::{CALIBRATION, PeakValues, TEMPERATURE, exposure_duty, quantities};
use super::results::{Picture, PlanePicture};
use crate::base::error::Problem;
use crate::base::finding::{Arg, Finding, Severity};
use crate::base::quantity::{Quantity, Reason, TimeBase};
use crate::base::water;
use crate::field::{Scale, beam_area, beam_width, power, repair, spatial_peak};
use crate::pulse::map::{MAP_HARMONICS, Point};
use crate::scan::Grid;

/// Edge values above this fraction of the peak's ppsi are told: a tenth of the pressure.
const EDGE_LEVEL: f64 = 0.01;
/// Fewest points across the −6 dB width.
const POINTS_ACROSS: f64 = 5.0;
/// Fraction of excluded points from which a scan is unfit.
const TOO_MANY_EXCLUDED: f64 = 0.05;

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
    if peak.at_edge {
        findings.push(input.finding(Severity::Unfit, "peak-at-edge"));
    }
    if !peak.fitted {
        findings.push(
            input
                .finding(Severity::Note, "peak-not-fitted")
                .with("wanted", spatial_peak::FEWEST_PLANE),
        );
    }
    let wave = waveform(input.part, input.plan, input.point_near(peak.cell))?;
    let top = |values: &[f64], scale: Scale| {
        spatial_peak::of_plane(x_m, y_m, values, scale).map(|p| p.value)
    };
    let here = |values: &[f64]| beam_width::value_at(x_m, y_m, values, (peak.x_m, peak.y_m));
    let fit = Fit { top: &top, here: &here, method: "peak-fit-plane" };
    let values = values_from(&map, &at_peak, input, &wave, &fit);
    let mut out = quantities(&input.setting, &wave, &values);
    // A lower bound of the peak bounds neither its place nor a width: with a clipped peak there is none.
    let whole = |outcome: Result<f64, Reason>| match &at_peak {
        Some(block) => Err(block.reason.clone()),
        None => outcome,
    };
    out.push(Quantity::from_outcome("x_peak", whole(Ok(peak.x_m))).by("peak-ppsi"));
    out.push(Quantity::from_outcome("y_peak", whole(Ok(peak.y_m))).by("peak-ppsi"));
    let profile_x = beam_width::profile_along_x(x_m, y_m, &map.ppsi, peak.y_m).unwrap_or_default();
    let profile_y = beam_width::profile_along_y(x_m, y_m, &map.ppsi, peak.x_m).unwrap_or_default();
    let width = |axis: &[f64], profile: &[f64], at: f64, db: f64| {
        beam_width::width_m(axis, profile, at, peak.value, Scale::Energy, db)
    };
    for (ids, axis, profile, at) in [
        (["width_x_3", "width_x_6", "width_x_12"], x_m, &profile_x, peak.x_m),
        (["width_y_3", "width_y_6", "width_y_12"], y_m, &profile_y, peak.y_m),
    ] {
        for (id, db) in ids.into_iter().zip([3.0, 6.0, 12.0]) {
            let found = width(axis, profile, at, db).map(|(a, b)| b - a);
            let outcome = found.ok_or_else(|| Reason::new("beam-not-within-scan"));
            out.push(Quantity::from_outcome(id, whole(outcome)).by("width-ppsi"));
        }
    }
    let width_x = width(x_m, &profile_x, peak.x_m, 6.0);
    let width_y = width(y_m, &profile_y, peak.y_m, 6.0);
    let region = beam_area::beam_area(x_m, y_m, &map.ppsi, &peak, Scale::Energy, 6.0);
    let area = match &region {
        Some(region) if !region.at_edge => Ok(region.area),
        _ => Err(Reason::new("beam-not-within-scan")),
    };
    if let Some(region) = &region
        && region.islands > 0
    {
        findings.push(
            input.finding(Severity::Caution, "islands").on("area_6").with("points", region.islands),
        );
    }
    out.push(Quantity::from_outcome("area_6", whole(area)).by("area-contour"));
    out.extend(powers(input, x_m, y_m, &map, &wave, at_peak.as_ref()));
    findings.extend(sampling_findings(input, x_m, y_m, [width_x, width_y]));
    findings.extend(edge_finding(input, x_m.len(), &map.ppsi, peak.value));
    let picture = PlanePicture {
        x_m: x_m.clone(),
        y_m: y_m.clone(),
        z_m: *z_m,
        replaced: excluded_cells(&map.excluded),
        peak_m: (peak.x_m, peak.y_m),
        peak_ppsi: peak.value,
        profile_x,
        profile_y,
        width_x,
        width_y,
        pc_pa: map.pc,
        pr_pa: map.pr,
        ppsi_pa2_s: map.ppsi,
    };
    Ok(Evaluated {
        quantities: out,
        excluded: picture.replaced.clone(),
        picture: Picture::Plane(Box::new(picture)),
        focal: Some(wave.wave),
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
        excluded: Vec::new(),
        findings: vec![input.finding(Severity::Unfit, "no-signal")],
    }
}

/// Maps in the order of cells, excluded points replaced.
pub struct Maps {
    pub pc: Vec<f64>,
    pub pr: Vec<f64>,
    pub ppsi: Vec<f64>,
    pub ppsi_with_noise: Vec<f64>,
    pub steady: Option<Vec<f64>>,
    pub steady_with_noise: Option<Vec<f64>>,
    pub harmonics: [Vec<f64>; MAP_HARMONICS],
    pub excluded: Vec<bool>,
    pub clipped: Vec<bool>,
    columns: usize,
}

impl Maps {
    /// Finds the points to exclude and replaces them.
    pub fn new(input: &ScanInput<'_>, columns: usize) -> Self {
        let noise_rms = input.noise_pa2.unwrap_or(0.0).sqrt();
        let peak: Vec<f64> = input.points.iter().map(|p| p.pc_pa.max(p.pr_pa)).collect();
        let dead = repair::dead(columns, &peak, noise_rms);
        let clipped: Vec<bool> = input.points.iter().map(|p| p.clipped).collect();
        let excluded: Vec<bool> = input
            .points
            .iter()
            .enumerate()
            .map(|(i, p)| dead[i] || clipped[i] || p.skipped || p.broken > 0)
            .collect();
        let take = |f: &dyn Fn(&Point) -> f64| {
            let values: Vec<f64> = input.points.iter().map(f).collect();
            repair::replaced(columns, &values, &excluded)
        };
        let steady = |f: &dyn Fn(&Point) -> Option<f64>| {
            let some = input.points.iter().any(|p| p.steady_pa2.is_some());
            some.then(|| take(&|p| f(p).unwrap_or(0.0)))
        };
        Self {
            pc: take(&|p| p.pc_pa),
            pr: take(&|p| p.pr_pa),
            ppsi: take(&|p| input.net_ppsi(p)),
            ppsi_with_noise: take(&|p| p.ppsi_pa2_s),
            steady: steady(&|p| input.net_steady(p)),
            steady_with_noise: steady(&|p| p.steady_pa2),
            harmonics: std::array::from_fn(|n| take(&|p| p.harmonics[n].norm())),
            excluded,
            clipped,
            columns,
        }
    }

    /// Findings on excluded points.
    pub fn findings(&self, input: &ScanInput<'_>, _peak: f64) -> Vec<Finding> {
        let mut out = Vec::new();
        let clipped = self.clipped.iter().filter(|c| **c).count();
        let all = self.excluded.len();
        let grid = &input.part.scan.grid;
        let holes = grid.cells() - grid.points();
        let other =
            self.excluded.iter().zip(&self.clipped).filter(|(e, c)| **e && !**c).count() - holes;
        if clipped > 0 {
            out.push(
                input
                    .finding(Severity::Caution, "clipped")
                    .with("points", clipped)
                    .with("all", all),
            );
        }
        if other > 0 {
            out.push(
                input
                    .finding(Severity::Note, "points-replaced")
                    .with("points", other)
                    .with("all", all),
            );
        }
        if (clipped + other + holes) as f64 > TOO_MANY_EXCLUDED * all as f64 {
            out.push(
                input
                    .finding(Severity::Unfit, "too-many-excluded")
                    .with("points", clipped + other + holes)
                    .with("all", all)
                    .with("limit", Arg::measure(TOO_MANY_EXCLUDED, "%")),
            );
        }
        out
    }

    /// Whether an excluded point may have held the peak, and whether by clipping.
    pub fn peak_in_doubt(&self, peak_ppsi: f64) -> Option<bool> {
        let level = peak_ppsi * Scale::Energy.ratio(3.0);
        let near = |excluded: &[bool]| repair::near_peak(self.columns, &self.ppsi, excluded, level);
        if near(&self.clipped) {
            Some(true)
        } else if near(&self.excluded) {
            Some(false)
        } else {
            None
        }
    }
}

/// Why the peak quantities are null or lower bounds.
pub struct Block {
    pub reason: Reason,
    pub lower_bound: bool,
}

/// Tells when an excluded point may have held the peak.
pub fn peak_reason(
    input: &ScanInput<'_>,
    map: &Maps,
    peak: f64,
    findings: &mut Vec<Finding>,
) -> Option<Block> {
    let clipped = map.peak_in_doubt(peak)?;
    let code = if clipped { "clipped-at-peak" } else { "excluded-at-peak" };
    let count = if clipped { &map.clipped } else { &map.excluded };
    findings.push(
        input.finding(Severity::Unfit, code).with("points", count.iter().filter(|c| **c).count()),
    );
    Some(Block { reason: Reason::new(code), lower_bound: clipped })
}

/// How values at the peak are found between the points.
pub struct Fit<'a> {
    /// The top of a quantity's own map.
    pub top: &'a dyn Fn(&[f64], Scale) -> Option<f64>,
    /// A quantity's value at the spatial peak (of ppsi).
    pub here: &'a dyn Fn(&[f64]) -> Option<f64>,
    pub method: &'static str,
}

/// Peak values over a map or a line by the given fit.
pub fn values_from(
    map: &Maps,
    block: &Option<Block>,
    input: &ScanInput<'_>,
    wave: &super::focal_wave::Waveform,
    fit: &Fit<'_>,
) -> PeakValues {
    let top = fit.top;
    let raw = |f: &dyn Fn(&Point) -> f64| -> Option<f64> {
        input
            .points
            .iter()
            .map(f)
            .fold(None, |best: Option<f64>, v| Some(best.map_or(v, |b| b.max(v))))
    };
    // A clipped peak is at least what was seen, the clipped points included.
    type Top<'t> = &'t dyn Fn(&[f64], Scale) -> Option<f64>;
    let give_by =
        |by: Top<'_>, values: &[f64], scale: Scale, seen: &dyn Fn(&Point) -> f64| match block {
            None => by(values, scale).ok_or_else(|| Reason::new("no-pulse")),
            Some(block) if block.lower_bound => raw(seen).ok_or_else(|| Reason::new("no-pulse")),
            Some(block) => Err(block.reason.clone()),
        };
    let give = |values: &[f64], scale: Scale, seen: &dyn Fn(&Point) -> f64| {
        give_by(top, values, scale, seen)
    };
    let no_steady = || Reason::new(input.setting.no_steady.unwrap_or("no-steady-window"));
    let steady = match (&map.steady, wave.windows.steady) {
        (Some(values), Some(_)) => {
            give(values, Scale::Energy, &|p| input.net_steady(p).unwrap_or(0.0))
        }
        _ => Err(no_steady()),
    };
    // Without a steady window the rows hold transforms of the whole pulse: over t_d they are amplitudes.
    let per_duration = match (wave.windows.steady, wave.td_s) {
        (Some(_), _) => Ok(1.0),
        (None, Some(td)) => Ok(1.0 / td),
        (None, None) => Err(Reason::new("no-pulse")),
    };
    let harmonic = |n: usize| -> Result<f64, Reason> {
        if input.setting.frequency_hz.is_none() {
            return Err(Reason::new("no-frequency"));
        }
        // Clipping makes harmonics of its own: no bound on an amplitude follows from it.
        if let Some(block) = block {
            return Err(block.reason.clone());
        }
        let factor = per_duration.clone()?;
        // Harmonics are those of the waveform at the spatial peak, not the tops of their own maps.
        let at_peak = |values: &[f64], _: Scale| (fit.here)(values);
        give_by(&at_peak, &map.harmonics[n], Scale::Amplitude, &|p| p.harmonics[n].norm())
            .map(|v| v * factor)
    };
    let with_noise =
        |values: &Option<Vec<f64>>| values.as_ref().and_then(|v| top(v, Scale::Energy));
    PeakValues {
        pc_pa: give(&map.pc, Scale::Amplitude, &|p| p.pc_pa),
        pr_pa: give(&map.pr, Scale::Amplitude, &|p| p.pr_pa),
        ppsi_pa2_s: give(&map.ppsi, Scale::Energy, &|p| input.net_ppsi(p)),
        ppsi_with_noise: top(&map.ppsi_with_noise, Scale::Energy),
        steady_pa2: steady,
        steady_with_noise: with_noise(&map.steady_with_noise),
        harmonics_pa: (0..MAP_HARMONICS).map(harmonic).collect(),
        lower_bound: block.as_ref().is_some_and(|b| b.lower_bound),
        method: fit.method,
    }
}

fn powers(
    input: &ScanInput<'_>,
    x_m: &[f64],
    y_m: &[f64],
    map: &Maps,
    wave: &super::focal_wave::Waveform,
    block: Option<&Block>,
) -> Vec<Quantity> {
    let record = input.setting.record;
    let temperature = input.setting.temperature_c;
    let rho_c = water::impedance(temperature);
    let slope = -water::impedance_relative_slope(temperature);
    let t_on = record
        .excitation
        .burst_s()
        .map(|t| (t, "power-stated-burst"))
        .or(wave.td_s.map(|t| (t, "power-pulse-duration")));
    let usable = match (block, wave.windows.holds_burst) {
        (Some(block), _) => Err(block.reason.clone()),
        (None, false) => Err(Reason::new("burst-not-held")),
        (None, true) => Ok(()),
    };
    let on = usable.and_then(|()| {
        let (t, method) = t_on.ok_or_else(|| Reason::new("no-pulse"))?;
        Ok((power::on_plane_wave_w(x_m, y_m, &map.ppsi, rho_c, t), t, method))
    });
    let before =
        t_on.map(|(t, _)| power::on_plane_wave_w(x_m, y_m, &map.ppsi_with_noise, rho_c, t));
    let method = on.as_ref().map_or("", |(_, _, method)| *method);
    let finish = |quantity: Quantity, base: TimeBase| {
        let value = quantity.outcome.clone().unwrap_or(0.0);
        quantity
            .scales_with(CALIBRATION, -2.0)
            .sensitive_to(TEMPERATURE, slope * value)
            .on_base(base)
            .by(method)
    };
    let mut first = finish(
        Quantity::from_outcome(
            "power_on_plane_wave",
            on.as_ref().map(|(w, ..)| *w).map_err(Clone::clone),
        ),
        TimeBase::On,
    );
    if let (Some(before), true) = (before, input.setting.noise_corrected) {
        first = first.corrected_from(before, "noise-energy", "pre-arrival");
    }
    let averaged = |duty: Result<f64, Reason>| match (&on, duty) {
        (Ok((w, ..)), Ok(duty)) => Ok(w * duty),
        (Err(reason), _) => Err(reason.clone()),
        (_, Err(reason)) => Err(reason),
    };
    let tank_duty = match (&on, record.excitation.duty(), record.excitation.repetition_hz) {
        (_, Some(duty), _) => Ok(duty),
        (Ok((_, t, _)), None, Some(rate)) => Ok(t * rate),
        _ => Err(Reason::blank("excitation.repetition_hz")),
    };
    vec![
        first,
        finish(Quantity::from_outcome("power_ta_plane_wave", averaged(tank_duty)), TimeBase::Tank),
        finish(
            Quantity::from_outcome(
                "power_ta_plane_wave",
                averaged(exposure_duty(record, input.setting.level)),
            ),
            TimeBase::Exposure,
        ),
    ]
}

fn sampling_findings(
    input: &ScanInput<'_>,
    x_m: &[f64],
    y_m: &[f64],
    widths: [Option<(f64, f64)>; 2],
) -> Vec<Finding> {
    let mut out = Vec::new();
    let speed = input.plan.sound_speed_m_per_s;
    if let (Some(step), Some(f)) =
        (input.part.scan.grid.largest_lateral_step_m(), input.plan.frequency_hz)
    {
        let half = 0.5 * speed / f;
        if step > half * 1.0001 {
            out.push(
                input
                    .finding(Severity::Caution, "step-above-half-wavelength")
                    .with("step", Arg::measure(step, "m"))
                    .with("half", Arg::measure(half, "m")),
            );
        }
    }
    for ((axis, name), width) in [(x_m, "x"), (y_m, "y")].into_iter().zip(widths) {
        let (Some((a, b)), Some(first), Some(last)) = (width, axis.first(), axis.last()) else {
            continue;
        };
        let across = (b - a) / ((last - first) / (axis.len() - 1) as f64);
        if across < POINTS_ACROSS {
            out.push(
                input
                    .finding(Severity::Caution, "few-points-across")
                    .with("axis", name)
                    .with("found", across)
                    .with("wanted", POINTS_ACROSS),
            );
        }
    }
    out
}

/// The field at the edge of the window: what lies outside is missing from the power.
fn edge_finding(input: &ScanInput<'_>, columns: usize, ppsi: &[f64], peak: f64) -> Option<Finding> {
    let rows = ppsi.len() / columns;
    let edges = [
        ("left", (0..rows).map(|r| ppsi[r * columns]).fold(0.0, f64::max)),
        ("right", (0..rows).map(|r| ppsi[r * columns + columns - 1]).fold(0.0, f64::max)),
        ("bottom", ppsi[..columns].iter().copied().fold(0.0, f64::max)),
        ("top", ppsi[(rows - 1) * columns..].iter().copied().fold(0.0, f64::max)),
    ];
    let (side, level) = edges.into_iter().max_by(|a, b| a.1.total_cmp(&b.1))?;
    (level > EDGE_LEVEL * peak).then(|| {
        input
            .finding(Severity::Caution, "edge-level")
            .with("side", side)
            .with("found", Arg::measure(10.0 * (level / peak).log10(), "dB"))
            .with("wanted", Arg::measure(10.0 * EDGE_LEVEL.log10(), "dB"))
    })
}
