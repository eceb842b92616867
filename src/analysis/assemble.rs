//! From the bands' tables to the results.

use std::collections::BTreeMap;

use super::budgets::{self, ResponseSensitivity};
use super::conditions::{conditions, temperature_c};
use super::element_size::{self, KnownPlane};
use super::focal_wave::Waveform;
use super::judged::judged;
use super::kept::Kept;
use super::plane::element_size::Factors;
use super::point::Setting;
use super::prepare::{Prepared, PreparedScan};
use super::results::{FocalWave, Picture, ResponseCurve, Results, ScanResult};
use super::safety::along::Along;
use super::shots::{self, Shots};
use super::survey::{Plan, ScanPlan};
use super::told_once::told_once;
use super::{
    bubbles, depths, drift, fitness, level_fields, line, noise_scans, plane, repeats_average,
    revisits, safety, sensor_check, sweeps,
};
use crate::base::bubbles::BubbleSigns;
use crate::base::error::{Problem, Problems};
use crate::base::finding::{Finding, Severity};
use crate::base::quantity::{Quantity, Reason, entry_of, is_safety};
use crate::base::revisits::Revisits;
use crate::calibration::lowpass_at;
use crate::dsp::statistics::median;
use crate::pulse::map::{Point, WIDTH};
use crate::record::Record;
use crate::scan::Grid;
use crate::uncertainty::Sources;

/// What a plane or a line gives.
pub struct Evaluated {
    pub quantities: Vec<Quantity>,
    pub picture: Picture,
    pub focal: Option<FocalWave>,
    /// Factors of a plane for the sensor's size.
    pub element: Option<Factors>,
    /// The axis along which values were derated, where the record asks for them.
    pub along: Option<Along>,
    pub excluded: Vec<usize>,
    pub findings: Vec<Finding>,
}

/// Everything a scan's evaluation needs.
pub struct ScanInput<'a> {
    pub part: &'a PreparedScan,
    pub plan: &'a ScanPlan,
    pub setting: Setting<'a>,
    /// Points in the order of cells.
    pub points: Vec<Point>,
    /// Noise mean square of the scan (median over its points), Pa².
    pub noise_pa2: Option<f64>,
    /// What is uncertain about it.
    pub sources: Sources,
    pub response: ResponseSensitivity,
    /// Parts of an earlier assembly.
    pub kept: &'a Kept,
    /// Shots that count, of a scan at one place.
    pub shots: Shots,
}

impl ScanInput<'_> {
    /// Part of an amplitude at a frequency that the low-pass takes away.
    pub fn loss_at(&self, frequency_hz: f64) -> f64 {
        1.0 / lowpass_at(&self.plan.conditioning.lowpass, frequency_hz).norm().max(1e-3) - 1.0
    }

    /// The waveform of a point (storage order).
    ///
    /// # Errors
    /// When the file cannot be read there.
    pub fn wave(&self, point: usize) -> Result<Waveform, Problem> {
        self.kept.wave(self.part, self.plan, point)
    }

    /// A finding placed in this scan.
    pub fn finding(&self, severity: Severity, code: &str) -> Finding {
        Finding::new(severity, code).in_scan(&self.part.scan.id)
    }

    /// The point of a cell (storage order); where the cell has none, the loudest there is.
    pub fn point_near(&self, cell: usize) -> usize {
        let grid = &self.part.scan.grid;
        grid.point_of_cell(cell).unwrap_or_else(|| {
            let energy =
                |point: &usize| self.points.get(grid.cell(*point)).map_or(0.0, |p| p.ppsi_pa2_s);
            (0..grid.points()).max_by(|a, b| energy(a).total_cmp(&energy(b))).unwrap_or(0)
        })
    }

    /// ∫p² of a point less the noise energy in the same window, where that is asked for.
    pub fn net_ppsi(&self, point: &Point) -> f64 {
        let (a, b) = self.plan.windows.pulse;
        let duration = (b - a) as f64 * self.part.scan.interval_s;
        let noise = if self.setting.noise_corrected { self.noise_pa2.unwrap_or(0.0) } else { 0.0 };
        point.ppsi_pa2_s - noise * duration
    }

    /// Mean square over the steady window less the noise, where that is asked for.
    pub fn net_steady(&self, point: &Point) -> Option<f64> {
        let noise = if self.setting.noise_corrected { self.noise_pa2.unwrap_or(0.0) } else { 0.0 };
        point.steady_pa2.map(|v| v - noise)
    }
}

/// Merges the tables (one a scan, rows in storage order) into results.
///
/// # Errors
/// When a table has not the length of its scan, or the focal waveform cannot be read.
pub fn assemble(
    prepared: &Prepared,
    plan: &Plan,
    tables: &[Vec<f64>],
) -> Result<Results, Problems> {
    assemble_with(prepared, plan, tables, &Kept::default())
}

/// As [`assemble`], taking over what an earlier assembly of the same scans kept.
///
/// # Errors
/// As [`assemble`].
pub fn assemble_with(
    prepared: &Prepared,
    plan: &Plan,
    tables: &[Vec<f64>],
    kept: &Kept,
) -> Result<Results, Problems> {
    let record = &prepared.record;
    let (conditions, mut findings) = conditions(record, plan);
    findings.extend(prepared.findings.iter().cloned());
    let revisits = revisits::evaluate(prepared, &mut findings).map_err(|p| vec![p])?;
    let bubbles = bubbles::evaluate(prepared, plan, &mut findings).map_err(|p| vec![p])?;
    let mut planes = Vec::new();
    let mut scans: Vec<(usize, ScanResult)> = Vec::new();
    // Planes first: what they show of the field, lines and points through it need.
    let is_plane = |part: &PreparedScan| matches!(part.scan.grid, Grid::Plane { .. });
    let all = || prepared.scans.iter().enumerate();
    let lines = all().filter(|(_, part)| !is_plane(part));
    for (index, part) in all().filter(|(_, part)| is_plane(part)).chain(lines) {
        let scan_plan = plan.scans.get(index).ok_or_else(|| vec![Problem::new("band-missing")])?;
        let table = tables.get(index).map_or(&[][..], Vec::as_slice);
        if table.len() != part.scan.points() * WIDTH {
            return Err(vec![Problem::new("band-missing").in_scan(&part.scan.id)]);
        }
        findings.extend(scan_plan.findings.iter().cloned());
        let known = (revisits.as_slice(), bubbles.as_slice(), &mut planes);
        let (result, found) =
            evaluate(prepared, part, scan_plan, known, (table, kept)).map_err(|p| vec![p])?;
        findings.extend(found);
        scans.push((index, result));
    }
    scans.sort_by_key(|(index, _)| *index);
    let mut scans: Vec<ScanResult> = scans.into_iter().map(|(_, scan)| scan).collect();
    scans.extend(sweeps::evaluate(prepared, plan, &scans, &bubbles, &mut findings));
    let level_fields = level_fields::evaluate(record, &scans);
    let noise = noise_scans::evaluate(prepared, plan, &mut findings).map_err(|p| vec![p])?;
    scans.extend(noise);
    scans.extend(sensor_check::evaluate(prepared, &mut findings));
    findings.extend(repeats_average::findings(&prepared.scans, &scans));
    let safety = safety::complete(record, &mut scans, &mut findings);
    let depths = depths::stacks(record, &scans, &mut findings);
    let ranges = noise_scans::by_range(prepared, plan, &scans);
    for scan in &mut scans {
        let own = findings.iter().filter(|f| f.place.scan.as_deref() == Some(&scan.id));
        scan.fitness = own.map(|f| f.severity).max().unwrap_or(Severity::Note);
    }
    told_once(&mut findings);
    findings.sort_by_key(|f| std::cmp::Reverse(f.severity));
    let (verdicts, repeats) = judged(record, &scans);
    Ok(Results {
        record: record.clone(),
        conditions,
        scans,
        findings,
        transfers: prepared.transfers.clone(),
        depths,
        revisits,
        verdicts,
        repeats,
        bubbles,
        level_fields,
        ranges,
        safety,
        layouts: prepared.layouts.clone(),
        unused_files: prepared.unused_files.clone(),
    })
}

fn evaluate(
    prepared: &Prepared,
    part: &PreparedScan,
    plan: &ScanPlan,
    (revisits, bubbles, planes): (&[Revisits], &[BubbleSigns], &mut Vec<KnownPlane>),
    (table, kept): (&[f64], &Kept),
) -> Result<(ScanResult, Vec<Finding>), Problem> {
    let record = &prepared.record;
    let scan = &part.scan;
    // Places without a point are replaced like points that could not be computed.
    let mut points = vec![Point::skipped(); scan.grid.cells()];
    for (index, row) in table.chunks_exact(WIDTH).enumerate() {
        if let (Some(point), Some(slot)) =
            (Point::from_row(row), points.get_mut(scan.grid.cell(index)))
        {
            *slot = point;
        }
    }
    let signs = bubbles.iter().find(|signs| signs.scan == scan.id);
    let single = matches!(scan.grid, Grid::Point { .. });
    // Points of a plane or a line that a monitor marks are replaced like dead ones.
    let marked = if single { Vec::new() } else { shots::without_marked(scan, signs, &mut points) };
    let (drift, of_drift) = drift::of_scan(prepared, part, revisits);
    let drift = drift.map(|drift| {
        let factor = drift.level(&mut points, |point| scan.grid.cell(point));
        (drift, factor)
    });
    let noise: Vec<f64> =
        points.iter().filter(|p| !p.skipped).filter_map(|p| p.noise_pa2).collect();
    let response =
        ResponseSensitivity::of(&part.response, plan.conditioning.narrowband_hz, plan.frequency_hz);
    let shots = match single {
        true => Shots::new(&points, signs),
        false => Shots { marked, ..Shots::default() },
    };
    let corrected = drift.as_ref().map(|(drift, _)| drift.scatter());
    let mut sources = budgets::sources(prepared, part, &response, revisits, corrected);
    sources.known.extend(budgets::of_shots(shots.used.len()));
    let input = ScanInput {
        sources,
        shots,
        response,
        kept,
        part,
        plan,
        setting: Setting {
            record,
            temperature_c: temperature_c(record).0,
            frequency_hz: plan.frequency_hz,
            level: record.level_of(&part.entry),
            no_steady: plan.no_steady.as_deref(),
            noise_corrected: record.analysis.corrections.noise,
            limit_pa: largest_pressure(record, part, plan.frequency_hz),
        },
        points,
        noise_pa2: median(&noise),
    };
    let mut evaluated = match &scan.grid {
        Grid::Plane { .. } => plane::evaluate(&input)?,
        Grid::Line { .. } => line::evaluate(&input)?,
        Grid::Point { .. } => shots::evaluate(&input)?,
    };
    match evaluated.element.take() {
        Some(factors) => planes.extend(known_plane(&input, &evaluated, factors)),
        None => {
            let plain = std::mem::take(&mut evaluated.quantities);
            let derated_m = evaluated.along.as_ref().map(|along| along.z_m);
            evaluated.quantities = element_size::corrected(&input, planes, derated_m, plain);
        }
    }
    evaluated.findings.extend(fitness::findings(&input, &evaluated));
    evaluated.findings.extend(of_drift);
    if let Some((drift, factor)) = drift {
        let plain = std::mem::take(&mut evaluated.quantities);
        evaluated.quantities = plain.into_iter().map(|q| drift.apply(q, factor)).collect();
    }
    let calibrated = part.response.is_calibrated();
    if !calibrated {
        evaluated
            .findings
            .push(input.finding(Severity::Caution, "no-response").at("sensor.response"));
        for quantity in &mut evaluated.quantities {
            let needs_pascals = entry_of(quantity.id).is_some_and(|e| {
                e.unit.contains("Pa") || e.unit.contains('W') || e.unit.contains('J')
            }) || is_safety(quantity.id);
            if needs_pascals && quantity.outcome.is_ok() {
                *quantity = Quantity {
                    window: quantity.window,
                    time_base: quantity.time_base,
                    ..Quantity::missing(quantity.id, Reason::blank("sensor.response"))
                };
            }
        }
    }
    let focal = evaluated.focal.as_ref();
    evaluated.findings.extend(budgets::complete(&input, focal, &mut evaluated.quantities));
    let result = ScanResult {
        id: scan.id.clone(),
        role: scan.role,
        file: scan.file.clone(),
        range: part.entry.range.clone(),
        level: record.level_of(&part.entry),
        points: scan.points(),
        samples: scan.samples,
        interval_s: scan.interval_s,
        calibrated,
        calibration: calibration_words(part, plan),
        fitness: Severity::Note,
        quantities: evaluated.quantities,
        excluded: evaluated.excluded,
        picture: evaluated.picture,
        focal: evaluated.focal,
        along: evaluated.along,
        response: part.response.as_table().map(|table| ResponseCurve {
            frequency_hz: table.frequency_hz.clone(),
            v_per_pa: table.frequency_hz.iter().map(|f| part.response.at(*f).norm()).collect(),
            u_relative: table.u_relative.clone(),
            cutoff_hz: plan.conditioning.lowpass.cutoff_hz,
        }),
    };
    Ok((result, evaluated.findings))
}

/// What a plane shows of the field about its axis.
fn known_plane(
    input: &ScanInput<'_>,
    evaluated: &Evaluated,
    factors: Factors,
) -> Option<KnownPlane> {
    let width = |id: &str| {
        evaluated.quantities.iter().find(|q| q.id == id).and_then(|q| q.outcome.clone().ok())
    };
    let width_m = width("width_x_6")?.min(width("width_y_6")?);
    let z_m = input.part.scan.grid.z_m(0);
    Some(KnownPlane { level: input.setting.level, z_m, width_m, factors })
}

/// Largest pressure of either sign that the chain of a scan holds: where it stops being linear, or its
/// full scale at the drive frequency.
pub fn largest_pressure(
    record: &Record,
    part: &PreparedScan,
    frequency_hz: Option<f64>,
) -> Option<f64> {
    let chain = record.chain_of(&part.entry);
    let sensitivity = frequency_hz.map(|f| part.response.at(f).norm()).filter(|m| *m > 0.0);
    let full_scale = chain.full_scale_v.zip(sensitivity).map(|(volts, m)| volts / m);
    match (chain.linear_limit_pa, full_scale) {
        (Some(a), Some(b)) => Some(a.min(b)),
        (a, b) => a.or(b),
    }
}

pub fn calibration_words(part: &PreparedScan, plan: &ScanPlan) -> BTreeMap<String, String> {
    let shape = &plan.conditioning.lowpass;
    let response = if part.response.is_transferred() {
        "check-source"
    } else if !part.response.is_calibrated() {
        "none"
    } else if part.response.as_table().is_some() {
        "table"
    } else {
        "flat"
    };
    let number = |v: f64| format!("{v}");
    BTreeMap::from([
        ("response".to_owned(), response.to_owned()),
        (
            "lowpass_kind".to_owned(),
            match shape.kind {
                crate::record::LowPassKind::OnePole => "one-pole",
                crate::record::LowPassKind::Cosine => "cosine",
            }
            .to_owned(),
        ),
        ("lowpass_order".to_owned(), shape.order.to_string()),
        ("lowpass_cutoff_hz".to_owned(), number(shape.cutoff_hz)),
        ("lowpass_from".to_owned(), plan.lowpass_from.clone()),
        ("padded_samples".to_owned(), plan.conditioning.padded.to_string()),
        (
            "method".to_owned(),
            if plan.conditioning.narrowband_hz.is_some() { "narrowband" } else { "broadband" }
                .to_owned(),
        ),
    ])
}
