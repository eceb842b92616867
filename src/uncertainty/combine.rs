//! A quantity's budget: the law of propagation of uncertainty.

use super::source::{Sources, distribution_word};
use super::typed::typed_lines;
use crate::base::budget::{Budget, Line, source};
use crate::base::quantity::{Quantity, Reason, entry_of};
use crate::record::SourceEntry;
use crate::statistics::effective_freedom::effective_freedom;
use crate::statistics::student_t::coverage_factor;

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
            Some(source) if *sensitivity != 0.0 => lines.push(Line {
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
            }),
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
    budget(lines, left_out, coverage).ok_or_else(|| Reason::new("uncertainty-not-evaluated"))
}

/// A budget of lines whose shares are still open; `None` without any that contributes.
fn budget(
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
