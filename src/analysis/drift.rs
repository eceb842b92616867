//! When the points of a scan were measured, and the correction of their amplitudes for the drift that
//! revisits of one point show.

use super::prepare::{Prepared, PreparedScan};
use crate::base::finding::{Arg, Finding, Severity};
use crate::base::quantity::Quantity;
use crate::base::revisits::Revisits;
use crate::field::drift::Drift;
use crate::pulse::map::Point;
use crate::record::Role;
use crate::record::date::Instant;

/// Name of the correction, and where its factor comes from.
const NAME: &str = "drift";
const SOURCE: &str = "revisits";
/// Duration of a scan, s, from which it is told that nothing shows whether the output was steady: ten
/// minutes. Common practice, no source.
const LONG_S: f64 = 600.0;
/// Part of a scan's duration that may lie before the first or after the last visit.
const BEYOND: f64 = 0.05;

/// Instants of a scan's points in storage order, s.
#[derive(Debug, Clone, PartialEq)]
pub struct Moments {
    pub times_s: Vec<f64>,
    /// Start of the clock where the record dates it; else the file's own zero.
    dated: Option<Instant>,
}

impl Moments {
    /// From the file's times; dated by the stated start. Without them evenly from the stated start to the
    /// stated end. `None` where neither is known.
    pub fn of(part: &PreparedScan) -> Option<Self> {
        let acquisition = &part.entry.acquisition;
        let instant = |text: &Option<String>| text.as_deref().and_then(Instant::parse);
        let (started, ended) = (instant(&acquisition.started), instant(&acquisition.ended));
        if let Some(times) = &part.scan.moments_s {
            let first = times.iter().copied().fold(f64::INFINITY, f64::min);
            let zero = if started.is_some() { first } else { 0.0 };
            return Some(Self {
                times_s: times.iter().map(|t| t - zero).collect(),
                dated: started,
            });
        }
        let duration = ended?.since(started?)?;
        let n = part.scan.points();
        let step = duration / (n.max(2) - 1) as f64;
        Some(Self { times_s: (0..n).map(|i| i as f64 * step).collect(), dated: started })
    }

    /// What to add to the times of `other` to have them on this clock; `None` when the clocks cannot be
    /// compared.
    fn shift_of(&self, other: &Self) -> Option<f64> {
        match (self.dated, other.dated) {
            (Some(own), Some(theirs)) => theirs.since(own),
            (None, None) => Some(0.0),
            _ => None,
        }
    }

    fn ends(&self) -> (f64, f64) {
        let low = self.times_s.iter().copied().fold(f64::INFINITY, f64::min);
        let high = self.times_s.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        (low, high)
    }
}

/// The correction of one scan.
pub struct Correction {
    /// Factors of the amplitudes of the points, storage order.
    factors: Vec<f64>,
    u: f64,
    visits: usize,
}

impl Correction {
    /// Scatter of the visits that is left, relative, and their number: it is in the budget as the drive's.
    pub fn scatter(&self) -> (f64, usize) {
        (self.u, self.visits)
    }

    /// Brings all points to the state of the loudest one, and gives back the factor that brings that one
    /// to the mean of the visits.
    ///
    /// `cell_of` gives the place in `points` of a point in storage order.
    pub fn level(&self, points: &mut [Point], cell_of: impl Fn(usize) -> usize) -> f64 {
        let energy = |point: &usize| points.get(cell_of(*point)).map_or(0.0, |p| p.ppsi_pa2_s);
        let loudest =
            (0..self.factors.len()).max_by(|a, b| energy(a).total_cmp(&energy(b))).unwrap_or(0);
        let at_loudest = self.factors.get(loudest).copied().unwrap_or(1.0);
        for (point, factor) in self.factors.iter().enumerate() {
            if let Some(p) = points.get_mut(cell_of(point)) {
                scale(p, factor / at_loudest);
            }
        }
        at_loudest
    }

    /// Corrects a quantity of the loudest point's state; those that are ratios or lengths stay.
    pub fn apply(&self, quantity: Quantity, factor: f64) -> Quantity {
        match power(quantity.id) {
            0 => quantity,
            n => {
                let mut told = quantity.scaled(factor.powi(n), NAME, SOURCE, f64::from(n) * self.u);
                // The budget has it as the drive's scatter.
                told.sensitivities.remove(NAME);
                told
            }
        }
    }
}

/// With which power of the amplitude a quantity goes.
fn power(id: &str) -> i32 {
    match id {
        "pc" | "pr" | "pc_ss" | "pr_ss" | "p1" | "pr_derated" | "mi" => 1,
        "ppsi" | "pii" | "i_on" | "isppa" | "ispta" | "isal" | "isata" => 2,
        "isppa_derated" | "ispta_derated" => 2,
        id if id.starts_with("power_") => 2,
        _ => 0,
    }
}

fn scale(point: &mut Point, factor: f64) {
    point.pc_pa *= factor;
    point.pr_pa *= factor;
    point.ppsi_pa2_s *= factor * factor;
    point.steady_pa2 = point.steady_pa2.map(|v| v * factor * factor);
    point.harmonics.iter_mut().for_each(|h| *h *= factor);
}

/// The correction of a scan where the record asks for one and there are visits on a clock that can be
/// compared; what is to be said of it.
pub fn of_scan(
    prepared: &Prepared,
    part: &PreparedScan,
    revisits: &[Revisits],
) -> (Option<Correction>, Vec<Finding>) {
    let moments = Moments::of(part);
    let tell = |code: &str, severity| Finding::new(severity, code).in_scan(&part.scan.id);
    if !prepared.record.analysis.corrections.drift {
        let watched = prepared.record.scans.iter().any(|scan| scan.role == Role::Reference);
        let duration = moments.map_or(0.0, |m| m.ends().1 - m.ends().0);
        let unknown = (!watched && duration > LONG_S).then(|| {
            tell("steadiness-unknown", Severity::Note).with("minutes", Arg::Number(duration / 60.0))
        });
        return (None, unknown.into_iter().collect());
    }
    let Some(moments) = moments else {
        let why = tell("drift-not-corrected", Severity::Caution).with("why", "times");
        return (None, vec![why]);
    };
    let (first, last) = moments.ends();
    let found = prepared.revisits.iter().filter_map(|visits| {
        let values = revisits.iter().find(|r| r.scan == visits.scan.id)?;
        let own = Moments::of(visits)?;
        let shift = moments.shift_of(&own)?;
        let amplitudes = values.ppsi_pa2_s.iter().map(|v| v.max(0.0).sqrt());
        let pairs: Vec<(f64, f64)> =
            own.times_s.iter().map(|t| t + shift).zip(amplitudes).collect();
        Drift::new(&pairs)
    });
    let nearest = found.min_by(|a, b| a.beyond_s(first, last).total_cmp(&b.beyond_s(first, last)));
    let Some(drift) = nearest else {
        let why = tell("drift-not-corrected", Severity::Caution).with("why", "visits");
        return (None, vec![why]);
    };
    let beyond = drift.beyond_s(first, last);
    let far = (beyond > BEYOND * (last - first)).then(|| {
        tell("drift-beyond-visits", Severity::Caution).with("minutes", Arg::Number(beyond / 60.0))
    });
    let factors = moments.times_s.iter().map(|t| drift.factor_at(*t)).collect();
    let (u, visits) = (drift.u, drift.visits());
    (Some(Correction { factors, u, visits }), far.into_iter().collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: four points with factors 1, 2, 4, 5, the third the loudest: amplitudes come out times
    /// f/4, energies times its square, and the peak's own factor is 4.
    #[test]
    fn points_to_the_state_of_the_loudest() {
        let correction = Correction { factors: vec![1.0, 2.0, 4.0, 5.0], u: 0.01, visits: 5 };
        let point = |ppsi: f64| Point {
            pc_pa: 8.0,
            ppsi_pa2_s: ppsi,
            steady_pa2: Some(16.0),
            ..Point::default()
        };
        let mut points = [1.0, 9.0, 3.0, 2.0].map(point);
        // Storage order backwards: the loudest cell 1 is point 2.
        assert_eq!(correction.level(&mut points, |i| 3 - i), 4.0);
        assert_eq!(points.map(|p| p.pc_pa), [10.0, 8.0, 4.0, 2.0]);
        assert_eq!(points.map(|p| p.ppsi_pa2_s), [1.5625, 9.0, 0.75, 0.125]);
        assert_eq!(points[3].steady_pa2, Some(1.0));
        let pc = correction.apply(Quantity::value("pc", 3.0), 1.1);
        assert!((pc.outcome.clone().expect("value") - 3.3).abs() < 1e-12);
        assert_eq!(pc.uncorrected, Some(3.0));
        assert_eq!(pc.corrections[0].u, Some(0.01));
        assert!(pc.sensitivities.is_empty());
        let power = correction.apply(Quantity::value("power_on_angular", 3.0), 1.1);
        assert!((power.outcome.expect("value") - 3.63).abs() < 1e-12);
        assert_eq!(power.corrections[0].u, Some(0.02));
        assert!(correction.apply(Quantity::value("h2", 0.1), 1.1).corrections.is_empty());
    }
}
