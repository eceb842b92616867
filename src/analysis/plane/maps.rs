//! Maps of a scan with what cannot be used replaced, and the peak values that follow from them.

use rustfft::num_complex::Complex;

use super::sampling::row_offset;
use crate::analysis::assemble::ScanInput;
use crate::analysis::focal_wave::Waveform;
use crate::analysis::point::PeakValues;
use crate::base::finding::{Arg, Finding, Severity};
use crate::base::quantity::Reason;
use crate::field::comb::{self, Comb};
use crate::field::spatial_peak::SpatialPeak;
use crate::field::spikes::{self, Spikes};
use crate::field::{Scale, repair};
use crate::pulse::map::{MAP_HARMONICS, Point};
use crate::scan::Grid;

/// Fraction of excluded points from which a scan is unfit.
const TOO_MANY_EXCLUDED: f64 = 0.05;

/// Maps in the order of cells, excluded points replaced.
pub struct Maps {
    pub pc: Vec<f64>,
    pub pr: Vec<f64>,
    pub ppsi: Vec<f64>,
    pub ppsi_with_noise: Vec<f64>,
    pub steady: Option<Vec<f64>>,
    pub steady_with_noise: Option<Vec<f64>>,
    pub harmonics: [Vec<f64>; MAP_HARMONICS],
    /// Complex amplitudes (transforms of the whole pulse, without a steady window) of the harmonics,
    /// phases from the trigger.
    pub phasors: [Vec<Complex<f64>>; MAP_HARMONICS],
    pub excluded: Vec<bool>,
    pub clipped: Vec<bool>,
    /// Points and rows that stand off from the field around them.
    pub spikes: Spikes,
    /// Offset of the rows that was undone, and the maps before it: ppsi, pc, pr.
    pub moved: Option<(Comb, [Vec<f64>; 3])>,
    columns: usize,
}

impl Maps {
    /// Finds the points to exclude and replaces them.
    pub fn new(input: &ScanInput<'_>, columns: usize) -> Self {
        let noise_rms = input.noise_pa2.unwrap_or(0.0).sqrt();
        let peak: Vec<f64> = input.points.iter().map(|p| p.pc_pa.max(p.pr_pa)).collect();
        let dead = repair::dead(columns, &peak, noise_rms);
        let clipped: Vec<bool> = input.points.iter().map(|p| p.clipped).collect();
        let mut excluded: Vec<bool> = input
            .points
            .iter()
            .enumerate()
            .map(|(i, p)| dead[i] || clipped[i] || p.skipped || p.broken > 0)
            .collect();
        let spikes = spiky(columns, &peak, &excluded, noise_rms);
        for cell in spikes
            .points
            .iter()
            .copied()
            .chain(spikes.rows.iter().flat_map(|row| row * columns..(row + 1) * columns))
        {
            if let Some(slot) = excluded.get_mut(cell) {
                *slot = true;
            }
        }
        let take = |f: &dyn Fn(&Point) -> f64| {
            let values: Vec<f64> = input.points.iter().map(f).collect();
            repair::replaced(columns, &values, &excluded)
        };
        let steady = |f: &dyn Fn(&Point) -> Option<f64>| {
            let some = input.points.iter().any(|p| p.steady_pa2.is_some());
            some.then(|| take(&|p| f(p).unwrap_or(0.0)))
        };
        let mut maps = Self {
            pc: take(&|p| p.pc_pa),
            pr: take(&|p| p.pr_pa),
            ppsi: take(&|p| input.net_ppsi(p)),
            ppsi_with_noise: take(&|p| p.ppsi_pa2_s),
            steady: steady(&|p| input.net_steady(p)),
            steady_with_noise: steady(&|p| p.steady_pa2),
            harmonics: std::array::from_fn(|n| take(&|p| p.harmonics[n].norm())),
            phasors: std::array::from_fn(|n| {
                let all = phasors(input, n);
                let part = |f: fn(&Complex<f64>) -> f64| {
                    let values: Vec<f64> = all.iter().map(f).collect();
                    repair::replaced(columns, &values, &excluded)
                };
                let (re, im) = (part(|c| c.re), part(|c| c.im));
                re.into_iter().zip(im).map(|(re, im)| Complex::new(re, im)).collect()
            }),
            excluded,
            clipped,
            spikes,
            moved: None,
            columns,
        };
        maps.move_rows(input);
        maps
    }

    /// Undoes the offset between rows recorded forward and backward, where the record asks for it.
    fn move_rows(&mut self, input: &ScanInput<'_>) {
        let Grid::Plane { x_m, .. } = &input.part.scan.grid else { return };
        if !input.setting.record.analysis.corrections.motion {
            return;
        }
        let Some(found) = row_offset(input, x_m, &self.pc) else { return };
        let before = [&self.ppsi, &self.pc, &self.pr].map(Clone::clone);
        let move_all = |values: &mut Vec<f64>| {
            *values = comb::without_offset(x_m, values, found.offset_m);
        };
        [&mut self.pc, &mut self.pr, &mut self.ppsi, &mut self.ppsi_with_noise]
            .into_iter()
            .chain(self.steady.iter_mut())
            .chain(self.steady_with_noise.iter_mut())
            .chain(self.harmonics.iter_mut())
            .for_each(move_all);
        for phasors in &mut self.phasors {
            let mut re: Vec<f64> = phasors.iter().map(|c| c.re).collect();
            let mut im: Vec<f64> = phasors.iter().map(|c| c.im).collect();
            move_all(&mut re);
            move_all(&mut im);
            *phasors = re.into_iter().zip(im).map(|(re, im)| Complex::new(re, im)).collect();
        }
        self.moved = Some((found, before));
    }

    /// Number of columns.
    pub fn columns(&self) -> usize {
        self.columns
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
        let rows = self.spikes.rows.len();
        let strays = self.spikes.points.len() + rows * self.columns;
        if strays > 0 {
            out.push(
                input
                    .finding(Severity::Caution, "spikes")
                    .with("points", self.spikes.points.len())
                    .with("rows", rows)
                    .with("all", all),
            );
        }
        let other = other.saturating_sub(strays);
        if other > 0 {
            out.push(
                input
                    .finding(Severity::Note, "points-replaced")
                    .with("points", other)
                    .with("all", all),
            );
        }
        let other = other + strays;
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

/// Fewest points across the −6 dB region for spikes to be told from the field itself.
const ACROSS_FOR_SPIKES: f64 = 5.0;

/// Points and rows of a plane that do not belong to the field around them; none along a line, and none
/// where the steps are too coarse for the beam.
fn spiky(columns: usize, peak: &[f64], excluded: &[bool], noise_rms: f64) -> Spikes {
    let top = peak.iter().copied().fold(0.0, f64::max);
    let inside = peak.iter().filter(|p| **p > 0.5 * top).count() as f64;
    let across = 2.0 * (inside / std::f64::consts::PI).sqrt();
    if columns == peak.len() || across < ACROSS_FOR_SPIKES {
        return Spikes { points: Vec::new(), rows: Vec::new() };
    }
    let values: Vec<f64> =
        peak.iter().zip(excluded).map(|(p, e)| if *e { f64::NAN } else { *p }).collect();
    spikes::spikes(columns, &values, Scale::Amplitude, noise_rms)
}

/// Complex amplitudes of a harmonic (0 is the fundamental) in the order of cells, with the phase that
/// they have from the trigger: each record's own start is taken out.
fn phasors(input: &ScanInput<'_>, harmonic: usize) -> Vec<Complex<f64>> {
    let scan = &input.part.scan;
    let omega =
        2.0 * std::f64::consts::PI * (harmonic + 1) as f64 * input.plan.frequency_hz.unwrap_or(0.0);
    let mut out: Vec<Complex<f64>> = input.points.iter().map(|p| p.harmonics[harmonic]).collect();
    for point in 0..scan.points() {
        if let Some(slot) = out.get_mut(scan.grid.cell(point)) {
            *slot *= Complex::cis(-omega * scan.t0(point));
        }
    }
    out
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

/// What is to be said of where a peak lies and how it was found.
pub fn of_peak(input: &ScanInput<'_>, peak: &SpatialPeak, fewest: usize) -> Vec<Finding> {
    let edge = peak.at_edge.then(|| input.finding(Severity::Unfit, "peak-at-edge"));
    let bare = (!peak.fitted)
        .then(|| input.finding(Severity::Note, "peak-not-fitted").with("wanted", fewest));
    edge.into_iter().chain(bare).collect()
}

/// How values at the peak are found between the points.
pub struct Fit<'a> {
    /// The top of a quantity's own map.
    pub top: &'a dyn Fn(&[f64], Scale) -> Option<SpatialPeak>,
    /// A quantity's value at the spatial peak (of ppsi).
    pub here: &'a dyn Fn(&[f64]) -> Option<f64>,
    pub method: &'static str,
}

/// Peak values over a map or a line by the given fit.
pub fn values_from(
    map: &Maps,
    block: &Option<Block>,
    input: &ScanInput<'_>,
    wave: &Waveform,
    fit: &Fit<'_>,
) -> PeakValues {
    let top = |values: &[f64], scale: Scale| (fit.top)(values, scale).map(|peak| peak.value);
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
        give_by(&top, values, scale, seen)
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
        residuals: [
            (&map.pc, Scale::Amplitude),
            (&map.pr, Scale::Amplitude),
            (&map.ppsi, Scale::Energy),
        ]
        .map(|(values, scale)| (fit.top)(values, scale).map_or(0.0, |peak| peak.residual)),
        lower_bound: block.as_ref().is_some_and(|b| b.lower_bound),
        method: fit.method,
    }
}
