//! Revisits of one point: how far the output drifted over a scan.

use super::prepare::Prepared;
use super::{band_worker, survey};
use crate::base::error::Problem;
use crate::base::finding::{Arg, Finding, Severity};
use crate::base::revisits::Revisits;
use crate::dsp::statistics::{mean, standard_deviation};

/// Most revisits that are read.
const MOST: usize = 1024;
/// Range of the peak pressures over the revisits, re their mean, from which it is told: common
/// practice, no source.
const DRIFT: f64 = 0.02;

/// Evaluates all scans of revisits.
///
/// # Errors
/// When a file cannot be read.
pub fn evaluate(
    prepared: &Prepared,
    findings: &mut Vec<Finding>,
) -> Result<Vec<Revisits>, Problem> {
    let mut out = Vec::new();
    for part in &prepared.revisits {
        let scan = &part.scan;
        let plan = survey::of_scan(&prepared.record, part)?;
        let raw = scan.read(0, scan.points().min(MOST))?;
        let points = band_worker(part, &plan).run(&raw, |_| plan.windows.clone());
        let take = |f: fn(&crate::pulse::map::Point) -> f64| points.iter().map(f).collect();
        let revisits = Revisits {
            scan: scan.id.clone(),
            pc_pa: take(|p| p.pc_pa),
            pr_pa: take(|p| p.pr_pa),
            ppsi_pa2_s: take(|p| p.ppsi_pa2_s),
        };
        findings.extend(plan.findings);
        let corrected = prepared.record.analysis.corrections.drift;
        findings.extend(
            drift(&revisits)
                .map(|found| found.with("corrected", if corrected { "yes" } else { "no" })),
        );
        out.push(revisits);
    }
    Ok(out)
}

fn drift(revisits: &Revisits) -> Option<Finding> {
    let (worst, range) = [("p_{c}", &revisits.pc_pa), ("p_{r}", &revisits.pr_pa)]
        .into_iter()
        .filter_map(|(name, values)| {
            let middle = mean(values).filter(|m| *m > 0.0)?;
            let low = values.iter().copied().fold(f64::INFINITY, f64::min);
            let high = values.iter().copied().fold(0.0, f64::max);
            Some(((name, values, middle), (high - low) / middle))
        })
        .max_by(|a, b| a.1.total_cmp(&b.1))?;
    let (name, values, middle) = worst;
    (range > DRIFT && values.len() > 1).then(|| {
        let change = values[values.len() - 1] / values[0] - 1.0;
        let scatter = standard_deviation(values).unwrap_or(0.0) / middle;
        Finding::new(Severity::Caution, "output-drift")
            .in_scan(&revisits.scan)
            .with("symbol", name)
            .with("range", Arg::measure(range, "%"))
            .with("change", Arg::measure(change, "%"))
            .with("scatter", Arg::measure(scatter, "%"))
            .with("visits", values.len())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// From 1.00 to 1.05 in six steps: range 5 % of 1.025, change 5 %; a scatter within 2 % is not told.
    #[test]
    fn a_slow_rise() {
        let of = |values: Vec<f64>| Revisits {
            scan: "a".to_owned(),
            pr_pa: vec![1.0; values.len()],
            ppsi_pa2_s: Vec::new(),
            pc_pa: values,
        };
        let finding =
            drift(&of((0..6).map(|i| 1.0 + 0.01 * f64::from(i)).collect())).expect("told");
        let share = |name: &str| match finding.args[name] {
            Arg::Measure { value, .. } => value,
            _ => f64::NAN,
        };
        assert!((share("range") - 0.05 / 1.025).abs() < 1e-12);
        assert!((share("change") - 0.05).abs() < 1e-12);
        assert!(drift(&of(vec![1.0, 1.01, 0.995, 1.0])).is_none());
    }
}
