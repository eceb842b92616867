//! The budget of a value that follows from measured ones.

use std::collections::BTreeMap;

use crate::base::budget::{LeftOut, Line};
use crate::base::quantity::{Quantity, Reason};
use crate::uncertainty::of_lines;

/// Gives a quantity the sensitivities and the budget that follow from those of others, each with the power
/// with which the quantity goes with it. A source that is the same in every measurement counts once, with
/// the sum of its contributions; what scatters from scan to scan counts for each.
pub fn goes_with(mut quantity: Quantity, others: &[(&Quantity, f64)], coverage: f64) -> Quantity {
    let Ok(value) = quantity.outcome else { return quantity };
    let mut lines: BTreeMap<(String, usize), Line> = BTreeMap::new();
    let mut left_out: Vec<LeftOut> = Vec::new();
    let mut missing: Option<Reason> = None;
    for (i, (other, power)) in others.iter().enumerate() {
        let Ok(from) = other.outcome else { continue };
        let factor = power * value / from;
        for (source, derivative) in &other.sensitivities {
            *quantity.sensitivities.entry(source.clone()).or_insert(0.0) += factor * derivative;
        }
        match &other.uncertainty {
            Err(reason) => missing = missing.or_else(|| Some(reason.clone())),
            Ok(budget) => {
                left_out.extend(budget.left_out.iter().cloned());
                for line in &budget.lines {
                    add(&mut lines, i, line, factor);
                }
            }
        }
    }
    left_out.sort_by(|a, b| a.source.cmp(&b.source));
    left_out.dedup_by(|a, b| a.source == b.source);
    let lines: Vec<Line> = lines.into_values().collect();
    quantity.uncertainty = match missing {
        Some(reason) => Err(reason),
        None => of_lines(lines, left_out, coverage)
            .map(Box::new)
            .ok_or_else(|| Reason::new("uncertainty-not-evaluated")),
    };
    quantity
}

fn add(lines: &mut BTreeMap<(String, usize), Line>, other: usize, line: &Line, factor: f64) {
    let key = (line.source.clone(), if line.common { 0 } else { other });
    let own_unit = line.sensitivity.abs() == 1.0 && line.unit != "1";
    let contribution = factor * line.contribution;
    let slot = lines.entry(key).or_insert_with(|| Line {
        contribution: 0.0,
        sensitivity: 0.0,
        ..line.clone()
    });
    slot.contribution += contribution;
    if own_unit {
        // Told in the unit of the value, which is now a pure number.
        slot.unit = "1".to_owned();
        slot.u = slot.contribution.abs();
        slot.sensitivity = slot.contribution.signum();
    } else {
        slot.sensitivity += factor * line.sensitivity;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::budget::Budget;

    fn with(id: &'static str, value: f64, parts: &[(&str, f64, bool)]) -> Quantity {
        let lines = parts.iter().map(|(source, relative, common)| Line {
            source: (*source).to_owned(),
            u: *relative,
            unit: "1".to_owned(),
            distribution: "normal".to_owned(),
            nu: None,
            sensitivity: value,
            contribution: relative * value,
            share: 0.0,
            common: *common,
            origin: "record".to_owned(),
            from: String::new(),
        });
        let mut quantity = Quantity::value(id, value);
        for (source, ..) in parts {
            quantity = quantity.scales_with(source, 1.0);
        }
        let budget: Option<Budget> = of_lines(lines.collect(), Vec::new(), 0.95);
        quantity.uncertainty = budget.map(Box::new).ok_or_else(|| Reason::new("none"));
        quantity
    }

    /// By hand: √(P I) with a common source of 6 % in both keeps 6 %; scatters of 3 % and 4 %, each by itself,
    /// give half of 5 %. Of P alone both stay as they are.
    #[test]
    fn common_sources_add_up() {
        let p =
            with("power_ta_angular", 2.0, &[("calibration", 0.06, true), ("drive", 0.03, false)]);
        let i = with("ispta_derated", 5e3, &[("calibration", 0.06, true), ("drive", 0.04, false)]);
        let tib = goes_with(Quantity::value("tib", 0.8), &[(&p, 0.5), (&i, 0.5)], 0.95);
        let budget = tib.uncertainty.expect("a budget");
        let relative = |u: f64| u / 0.8;
        assert!((relative(budget.u_common) - 0.06).abs() < 1e-12, "{budget:?}");
        assert!((relative(budget.u_repeatability) - 0.025).abs() < 1e-12, "{budget:?}");
        assert!((tib.sensitivities["calibration"] - 0.8).abs() < 1e-12);
        let tic = goes_with(Quantity::value("tic", 3.0), &[(&p, 1.0)], 0.95);
        let budget = tic.uncertainty.expect("a budget");
        assert!((budget.u_standard / 3.0 - 0.06f64.hypot(0.03)).abs() < 1e-12, "{budget:?}");
    }

    #[test]
    fn without_one_there_is_none() {
        let p = Quantity::value("power_ta_angular", 2.0);
        let tic = goes_with(Quantity::value("tic", 3.0), &[(&p, 1.0)], 0.95);
        assert_eq!(tic.uncertainty.unwrap_err().code, "uncertainty-not-evaluated");
    }
}
