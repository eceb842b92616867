//! A quantity's budget: the law of propagation of uncertainty.

use super::source::{Sources, distribution_word};
use super::typed::typed_lines;
use crate::base::budget::{Budget, Line, source};
use crate::base::quantity::{Quantity, Reason, entry_of};
use crate::record::SourceEntry;
use crate::statistics::effective_freedom::effective_freedom;
use crate::statistics::student_t::coverage_factor;

/// Part of a value below which a contribution is what rounding left of parts that cancel.
const CANCELLED: f64 = 1e-13;

/// Budget of a quantity from its sensitivities: contributions cᵢuᵢ of independent sources, their root sum
/// of squares u_c, effective degrees of freedom by Welch and Satterthwaite, U = k u_c with the k of
/// Student's distribution for the coverage probability. A quantity whose scale is that of the response
/// has none without the response's uncertainty.
///
/// # Units
/// Those of the value.
///
/// # Errors
/// Why there is no uncertainty.
///
/// # References
/// JCGM 100:2008, equation 10 and G.4.
pub fn combine(
    quantity: &Quantity,
    sources: &Sources,
    typed: &[SourceEntry],
    coverage: f64,
) -> Result<Budget, Reason> {
    let value = quantity.outcome.clone()?;
    if quantity.lower_bound {
        return Err(Reason::new("only-a-bound"));
    }
    let unit = entry_of(quantity.id).map_or("", |entry| entry.unit);
    let mut lines = Vec::new();
    let mut left_out = Vec::new();
    for (id, sensitivity) in &quantity.sensitivities {
        match sources.of(id) {
            // What cancels leaves the last digits of its parts.
            Some(source) if (sensitivity * source.u).abs() > CANCELLED * value.abs() => {
                lines.push(Line {
                    source: id.clone(),
                    // A source without a unit of its own is told in the value's.
                    u: if source.unit.is_empty() { sensitivity.abs() } else { source.u },
                    unit: if source.unit.is_empty() { unit } else { source.unit }.to_owned(),
                    distribution: match source.nu {
                        Some(_) => "t",
                        None => distribution_word(source.distribution),
                    }
                    .to_owned(),
                    nu: source.nu,
                    sensitivity: if source.unit.is_empty() {
                        sensitivity.signum()
                    } else {
                        *sensitivity
                    },
                    contribution: sensitivity * source.u,
                    share: 0.0,
                    common: source.common,
                    origin: source.origin.as_str().to_owned(),
                    from: source.from.clone(),
                })
            }
            Some(_) => {}
            None => {
                let known = sources.left_out.iter().find(|left| left.source == *id);
                if id == source::CALIBRATION {
                    return Err(Reason {
                        code: "calibration-not-sure".to_owned(),
                        blank: known.and_then(|left| left.blank.clone()),
                    });
                }
                left_out.extend(known.cloned());
            }
        }
    }
    lines.extend(typed_lines(typed, quantity.id, value, unit));
    of_lines(lines, left_out, coverage).ok_or_else(|| Reason::new("uncertainty-not-evaluated"))
}

/// A budget of lines whose shares are still open; `None` without any that contributes.
pub fn of_lines(
    mut lines: Vec<Line>,
    left_out: Vec<crate::base::budget::LeftOut>,
    coverage: f64,
) -> Option<Budget> {
    let sum = |of: &dyn Fn(&Line) -> bool| {
        lines.iter().filter(|line| of(line)).map(|line| line.contribution.powi(2)).sum::<f64>()
    };
    let variance = sum(&|_| true);
    if !(variance > 0.0 && variance.is_finite()) {
        return None;
    }
    let common = sum(&|line| line.common).sqrt();
    let repeatability = sum(&|line| !line.common).sqrt();
    let parts: Vec<(f64, Option<f64>)> =
        lines.iter().map(|line| (line.contribution, line.nu)).collect();
    for line in &mut lines {
        line.share = line.contribution.powi(2) / variance;
    }
    lines.sort_by(|a, b| b.share.total_cmp(&a.share));
    let nu_eff = effective_freedom(&parts);
    let k = coverage_factor(coverage, nu_eff)?;
    let u_standard = variance.sqrt();
    Some(Budget {
        lines,
        u_standard,
        u_common: common,
        u_repeatability: repeatability,
        nu_eff,
        coverage,
        k,
        u_expanded: k * u_standard,
        monte_carlo: None,
        left_out,
    })
}

#[cfg(test)]
mod tests {
    use super::super::source::{Origin, Source};
    use super::*;
    use crate::record::{AppliesTo, Distribution, Uncertainty, UncertaintyKind};

    fn known(id: &str, u: f64, nu: Option<f64>) -> Source {
        Source {
            id: id.to_owned(),
            u,
            unit: "m",
            distribution: Distribution::Normal,
            nu,
            common: id != "d",
            origin: Origin::Data,
            from: "test".to_owned(),
        }
    }

    /// JCGM 100:2008, H.1 (end gauge): components 25, 9.7, 2.9, 16.6 nm with 18, 25.6, 50 and 2 degrees
    /// of freedom give u_c = 31.67 nm and ν = 16.76 (the rounded 32 nm would give 17.47).
    #[test]
    fn the_end_gauge_of_the_guide() {
        let parts = [("a", 25.0, 18.0), ("b", 9.7, 25.6), ("c", 2.9, 50.0), ("d", 16.6, 2.0)];
        let known = parts.map(|(id, u, nu)| known(id, u * 1e-9, Some(nu)));
        let sources = Sources { known: known.to_vec(), left_out: Vec::new() };
        let mut quantity = Quantity::value("width_x_6", 50.000_838e-3);
        for (id, ..) in parts {
            quantity = quantity.sensitive_to(id, 1.0);
        }
        let budget = combine(&quantity, &sources, &[], 0.99).expect("a budget");
        assert!((budget.u_standard - 31.671_12e-9).abs() < 1e-13, "{}", budget.u_standard);
        let nu = budget.nu_eff.expect("finite");
        assert!((nu - 16.764_55).abs() < 1e-4, "{nu}");
        // The guide cuts the degrees of freedom to 16 (t = 2.92, U = 93 nm). Ours lies between those of
        // 16 and 17, 2.8982.
        assert!(budget.k > 2.8982 && budget.k < 2.9208, "{}", budget.k);
        assert!((budget.u_expanded - budget.k * 31.671_12e-9).abs() < 1e-12);
        assert!((budget.u_repeatability - 16.6e-9).abs() < 1e-15);
        assert!((budget.u_common.hypot(budget.u_repeatability) - budget.u_standard).abs() < 1e-18);
        assert_eq!(budget.lines[0].source, "a");
        assert!((budget.lines.iter().map(|line| line.share).sum::<f64>() - 1.0).abs() < 1e-12);
    }

    /// A factor common to a harmonic and the fundamental cancels in their ratio: 0.3 − 0.2 − 0.1 is
    /// nothing, and in doubles −3e-17.
    #[test]
    fn what_cancels_is_no_uncertainty() {
        let sources = Sources { known: vec![known("a", 1.0, None)], left_out: Vec::new() };
        let rest = 0.3_f64 - 0.2 - 0.1;
        assert!(rest != 0.0);
        let ratio = Quantity::value("h2", 0.16).sensitive_to("a", rest);
        let none = combine(&ratio, &sources, &[], 0.95);
        assert_eq!(none.unwrap_err().code, "uncertainty-not-evaluated");
        let small = Quantity::value("h2", 0.16).sensitive_to("a", 1e-9);
        assert!(combine(&small, &sources, &[], 0.95).is_ok());
    }

    /// A typed source is relative or in the value's unit, and stays with the quantities it names.
    #[test]
    fn typed_sources_join() {
        let entry = |value, relative, applies: &str| SourceEntry {
            source: "alignment".to_owned(),
            applies_to: Some(AppliesTo::One(applies.to_owned())),
            uncertainty: Uncertainty { value, kind: UncertaintyKind::Standard, k: None, relative },
            distribution: None,
            common: Some(false),
        };
        let quantity = Quantity::value("pc", 8e6);
        let typed = [entry(0.03, true, "pc"), entry(3.2e5, false, "pc"), entry(1.0, true, "pr")];
        let budget = combine(&quantity, &Sources::default(), &typed, 0.95).expect("a budget");
        assert!((budget.u_standard - 4e5).abs() < 1e-6, "{}", budget.u_standard);
        assert_eq!(budget.lines.len(), 2);
        assert_eq!(budget.u_common, 0.0);
        let none = combine(&quantity, &Sources::default(), &[], 0.95);
        assert_eq!(none.unwrap_err().code, "uncertainty-not-evaluated");
    }

    #[test]
    fn without_the_calibration_there_is_none() {
        let mut sources = Sources::default();
        sources.leave_out(source::CALIBRATION, "not-stated", Some("sensor.response.uncertainty"));
        let quantity = Quantity::value("pc", 8e6).scales_with(source::CALIBRATION, -1.0);
        let reason = combine(&quantity, &sources, &[], 0.95).unwrap_err();
        assert_eq!(reason.blank.as_deref(), Some("sensor.response.uncertainty"));
        let mut bound = Quantity::value("pc", 8e6);
        bound.lower_bound = true;
        assert_eq!(combine(&bound, &sources, &[], 0.95).unwrap_err().code, "only-a-bound");
    }
}
