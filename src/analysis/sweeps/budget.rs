//! Budgets of what rests on several levels: the common part of one level's budget, and what the line or
//! the ratio adds.

use crate::base::budget::{Budget, Line};
use crate::base::quantity::{Quantity, Reason};
use crate::uncertainty::of_lines;

/// What is added to a budget.
pub struct Added {
    pub source: &'static str,
    /// Standard uncertainty in the unit of `unit`.
    pub u: f64,
    /// `1` for a fraction, else the unit of the value.
    pub unit: &'static str,
    /// Change of the value with it.
    pub sensitivity: f64,
    pub nu: Option<f64>,
    pub common: bool,
    pub from: &'static str,
}

/// The budget of `value` that goes with `like` to a power: its lines (the common ones alone where
/// `common_only`) in proportion, and what is added.
///
/// # Errors
/// The reason for which `like` has none.
pub fn following(
    value: f64,
    like: &Quantity,
    power: f64,
    common_only: bool,
    added: Added,
    coverage: f64,
) -> Result<Box<Budget>, Reason> {
    let before = like.outcome.clone()?;
    let own = like.uncertainty.as_ref().map_err(Clone::clone)?;
    let factor = power * value / before;
    let mut lines: Vec<Line> = own
        .lines
        .iter()
        .filter(|line| line.common || !common_only)
        .map(|line| Line {
            sensitivity: line.sensitivity * factor,
            contribution: line.contribution * factor,
            ..line.clone()
        })
        .collect();
    lines.push(Line {
        source: added.source.to_owned(),
        u: added.u,
        unit: added.unit.to_owned(),
        distribution: if added.nu.is_some() { "t" } else { "normal" }.to_owned(),
        nu: added.nu,
        sensitivity: added.sensitivity,
        contribution: added.sensitivity * added.u,
        share: 0.0,
        common: added.common,
        origin: "data".to_owned(),
        from: added.from.to_owned(),
    });
    of_lines(lines, own.left_out.clone(), coverage)
        .map(Box::new)
        .ok_or_else(|| Reason::new("uncertainty-not-evaluated"))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 2 ± (0.06 common, 0.08 apart); a slope of 10 that goes with it has 0.3 of the common part and
    /// 0.4 of the line: 0.5.
    #[test]
    fn common_part_and_line() {
        let line = |u: f64, common: bool| Line {
            source: "s".to_owned(),
            u,
            unit: "1".to_owned(),
            distribution: "normal".to_owned(),
            nu: None,
            sensitivity: 1.0,
            contribution: u,
            share: 0.0,
            common,
            origin: "record".to_owned(),
            from: String::new(),
        };
        let mut like = Quantity::value("pc", 2.0);
        let own = of_lines(vec![line(0.06, true), line(0.08, false)], Vec::new(), 0.95);
        like.uncertainty = Ok(Box::new(own.expect("a budget")));
        let added = Added {
            source: "line-fit",
            u: 0.4,
            unit: "",
            sensitivity: 1.0,
            nu: None,
            common: false,
            from: "residual",
        };
        let found = following(10.0, &like, 1.0, true, added, 0.95).expect("a budget");
        assert!((found.u_standard - 0.5).abs() < 1e-12, "{}", found.u_standard);
        assert!((found.u_common - 0.3).abs() < 1e-12);
    }
}
