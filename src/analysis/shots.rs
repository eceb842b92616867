//! Several shots at one place: which count, and what they give together.

use super::assemble::{Evaluated, ScanInput};
use super::point::{PeakValues, quantities, values_of_waveform};
use super::results::Picture;
use crate::base::bubbles::BubbleSigns;
use crate::base::budget::source::{PEAK_FIT, SHOTS};
use crate::base::error::Problem;
use crate::base::finding::Severity;
use crate::base::quantity::{Quantity, Reason};
use crate::dsp::statistics::{mean, standard_deviation};
use crate::pulse::map::Point;
use crate::scan::Scan;

/// The shots of a scan at one place.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Shots {
    /// Those that count.
    pub used: Vec<usize>,
    /// Those that a monitor marks as with bubbles.
    pub marked: Vec<usize>,
    /// All shots that count were clipped.
    pub clipped: bool,
}

impl Shots {
    /// Shots that were computed, that no monitor marks, and that were not clipped if any was not.
    pub fn new(points: &[Point], signs: Option<&BubbleSigns>) -> Self {
        let monitor = signs.filter(|signs| signs.monitor.is_some());
        let is_marked = |shot: usize| {
            monitor.and_then(|signs| signs.shots.get(shot)).is_some_and(|signs| signs.marked)
        };
        let (marked, calm): (Vec<usize>, Vec<usize>) =
            (0..points.len()).partition(|i| is_marked(*i));
        let computed = |shot: &usize| points.get(*shot).is_some_and(|p| !p.skipped);
        let (clipped, whole): (Vec<usize>, Vec<usize>) = calm
            .into_iter()
            .filter(computed)
            .partition(|shot| points.get(*shot).is_some_and(|p| p.clipped));
        let all_clipped = whole.is_empty() && !clipped.is_empty();
        Self { used: if all_clipped { clipped } else { whole }, marked, clipped: all_clipped }
    }

    /// The used shot of median energy.
    fn middle(&self, points: &[Point]) -> Option<usize> {
        let mut used = self.used.clone();
        let energy = |shot: &usize| points.get(*shot).map_or(0.0, |p| p.ppsi_pa2_s);
        used.sort_by(|a, b| energy(a).total_cmp(&energy(b)));
        used.get(used.len().saturating_sub(1) / 2).copied()
    }
}

/// Takes out the points of a plane or a line that a monitor marks as with bubbles; gives their cells.
pub fn without_marked(
    scan: &Scan,
    signs: Option<&BubbleSigns>,
    points: &mut [Point],
) -> Vec<usize> {
    let Some(signs) = signs.filter(|signs| signs.monitor.is_some()) else { return Vec::new() };
    let marked = signs.shots.iter().enumerate().filter(|(_, shot)| shot.marked);
    let cells: Vec<usize> = marked.map(|(point, _)| scan.grid.cell(point)).collect();
    for cell in &cells {
        if let Some(point) = points.get_mut(*cell) {
            *point = Point::skipped();
        }
    }
    cells
}

/// Evaluates a scan at one place: quantities of each shot, then their means; the waveform shown is that of
/// the shot of median energy.
///
/// # Errors
/// When that waveform cannot be read.
pub fn evaluate(input: &ScanInput<'_>) -> Result<Evaluated, Problem> {
    let shots = &input.shots;
    let chosen = shots.middle(&input.points).unwrap_or(0);
    let wave = input.wave(chosen)?;
    let mut values = values_of_waveform(&input.setting, &wave, shots.clipped);
    let mut findings = Vec::new();
    let spread = over_shots(input, chosen, &mut values);
    if shots.clipped {
        findings.push(
            input.finding(Severity::Unfit, "clipped-at-peak").with("points", shots.used.len()),
        );
    }
    if shots.used.is_empty() {
        without_shots(
            &mut values,
            if shots.marked.is_empty() { "no-pulse" } else { "bubbles-in-all" },
        );
    }
    let mut out = quantities(&input.setting, &wave, &values);
    for quantity in &mut out {
        if let Some(fit) = quantity.sensitivities.remove(PEAK_FIT)
            && shots.used.len() > 1
        {
            quantity.sensitivities.insert(SHOTS.to_owned(), fit);
        }
        if let (Some(part), Ok(value)) = (spread.of(quantity.id), &quantity.outcome) {
            quantity.sensitivities.insert(SHOTS.to_owned(), part * value);
        }
    }
    Ok(Evaluated {
        quantities: out,
        picture: Picture::None,
        focal: Some(wave.wave),
        element: None,
        along: None,
        excluded: shots.marked.clone(),
        findings,
    })
}

/// Relative standard deviations of the means of the harmonics' amplitudes.
struct HarmonicSpread(Vec<f64>);

impl HarmonicSpread {
    fn of(&self, id: &str) -> Option<f64> {
        let at = |n: usize| self.0.get(n - 1).copied();
        match id {
            "p1" => at(1),
            "h2" => at(2),
            "h3" => at(3),
            "h4" => at(4),
            "h5" => at(5),
            _ => None,
        }
    }
}

/// Puts the means over the shots in the place of the chosen waveform's values, with the relative standard
/// deviations of the means of pc, pr and ppsi as residuals.
fn over_shots(input: &ScanInput<'_>, chosen: usize, values: &mut PeakValues) -> HarmonicSpread {
    let used = &input.shots.used;
    let points: Vec<&Point> = used.iter().filter_map(|shot| input.points.get(*shot)).collect();
    let Some(own) = input.points.get(chosen).filter(|_| points.len() > 1) else {
        return HarmonicSpread(Vec::new());
    };
    let root = (points.len() as f64).sqrt();
    // Mean re the chosen shot, and the relative standard deviation of the mean.
    let over = |of: &dyn Fn(&Point) -> f64| -> (f64, f64) {
        let all: Vec<f64> = points.iter().map(|p| of(p)).collect();
        let (middle, one) = (mean(&all).unwrap_or(0.0), of(own));
        if middle == 0.0 || one == 0.0 {
            return (1.0, 0.0);
        }
        (middle / one, standard_deviation(&all).unwrap_or(0.0) / root / middle.abs())
    };
    let scale = |outcome: &mut Result<f64, Reason>, factor: f64| {
        if let Ok(value) = outcome {
            *value *= factor;
        }
    };
    let pc = over(&|p| p.pc_pa);
    let pr = over(&|p| p.pr_pa);
    let energy = over(&|p| input.net_ppsi(p));
    let steady = over(&|p| input.net_steady(p).unwrap_or(0.0));
    scale(&mut values.pc_pa, pc.0);
    scale(&mut values.pr_pa, pr.0);
    scale(&mut values.ppsi_pa2_s, energy.0);
    scale(&mut values.steady_pa2, steady.0);
    values.ppsi_with_noise = values.ppsi_with_noise.map(|v| v * over(&|p| p.ppsi_pa2_s).0);
    values.steady_with_noise =
        values.steady_with_noise.map(|v| v * over(&|p| p.steady_pa2.unwrap_or(0.0)).0);
    values.residuals = [pc.1, pr.1, energy.1];
    values.method = "mean-of-shots";
    let mut deviations = Vec::new();
    for (index, harmonic) in values.harmonics_pa.iter_mut().enumerate() {
        let (factor, deviation) = over(&|p| p.harmonics.get(index).map_or(0.0, |c| c.norm()));
        scale(harmonic, factor);
        deviations.push(deviation);
    }
    HarmonicSpread(deviations)
}

/// No value of the pressure without a shot that counts.
fn without_shots(values: &mut PeakValues, code: &str) {
    let reason = || Err(Reason::new(code));
    values.pc_pa = reason();
    values.pr_pa = reason();
    values.ppsi_pa2_s = reason();
    values.steady_pa2 = reason();
    values.harmonics_pa.iter_mut().for_each(|harmonic| *harmonic = reason());
}

/// The scatter of the shots has the noise in it: where it stands, the noise of a single waveform does not.
pub fn scatter_for_noise(quantities: &mut [Quantity]) {
    for quantity in quantities.iter_mut().filter(|q| q.sensitivities.contains_key(SHOTS)) {
        quantity.sensitivities.remove(crate::base::budget::source::NOISE);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::bubbles::ShotSigns;

    fn point(ppsi: f64, clipped: bool) -> Point {
        Point { ppsi_pa2_s: ppsi, clipped, ..Point::default() }
    }

    fn signs(monitor: Option<&str>, marked: &[bool]) -> BubbleSigns {
        BubbleSigns {
            scan: "a".to_owned(),
            monitor: monitor.map(str::to_owned),
            level: None,
            shots: marked
                .iter()
                .map(|marked| ShotSigns { noise_db: 0.0, lines_db: 0.0, marked: *marked })
                .collect(),
            band_hz: (0.0, 0.0),
            threshold_db: 6.0,
            baseline: Vec::new(),
        }
    }

    #[test]
    fn marked_and_clipped_shots_do_not_count() {
        let points = [point(3.0, false), point(1.0, true), point(2.0, false), point(9.0, false)];
        let of = |signs: Option<&BubbleSigns>| Shots::new(&points, signs);
        let all = of(None);
        assert_eq!((all.used.as_slice(), all.clipped), (&[0, 2, 3][..], false));
        assert_eq!(all.middle(&points), Some(0));
        let marks = [true, false, true, true];
        let few = of(Some(&signs(Some("m"), &marks)));
        assert_eq!((few.used.as_slice(), few.clipped), (&[1][..], true));
        assert_eq!(few.marked, [0, 2, 3]);
        // The sensor's own trace is a remark only.
        assert_eq!(of(Some(&signs(None, &marks))).used, [0, 2, 3]);
        let none = of(Some(&signs(Some("m"), &[true; 4])));
        assert!(none.used.is_empty() && none.middle(&points).is_none());
    }
}
