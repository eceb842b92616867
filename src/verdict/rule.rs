//! Decision rules: from a measured value, its uncertainty and the limits to a verdict.
//!
//! - *guarded on both sides* (default): conforms if the probability p_c that the true value lies
//!   within the limits is at least the stated p, does not conform if p_c ≤ 1 − p, else undecided;
//! - *simple*: conforms if the measured value lies within the limits;
//! - *guard-expanded*: conforms if y ± U lies wholly within the limits, does not conform if it lies
//!   wholly outside, else undecided.
//!
//! # References
//! JCGM 106:2012, 7.2 to 7.4 (p_c = Φ((T_U − y)/u) − Φ((T_L − y)/u)), 8.2 (simple acceptance), 8.3
//! (guard bands); ILAC-G8:09/2019 (w = U; rejection and "undecided" between, from memory). With few
//! degrees of freedom Student's t takes the place of the normal distribution (JCGM 106, 7.2.3, from
//! memory).

use crate::base::budget::Budget;
use crate::base::verdict::{Outcome, Remark};
use crate::record::{Decision, DecisionRule};
use crate::statistics::interval_probability::interval_probability;

use super::Limits;

/// Uncertainty of a measured value, in its unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    pub u_standard: f64,
    pub u_expanded: f64,
    /// Degrees of freedom; `None` where infinite.
    pub nu: Option<f64>,
}

impl Spread {
    /// That of a budget.
    pub fn of(budget: &Budget) -> Self {
        Self { u_standard: budget.u_standard, u_expanded: budget.u_expanded, nu: budget.nu_eff }
    }

    /// The same with an uncertainty multiplied by a factor.
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        Self {
            u_standard: self.u_standard * factor,
            u_expanded: self.u_expanded * factor,
            nu: self.nu,
        }
    }
}

/// Word of a rule, as the record has it.
pub fn word(rule: DecisionRule) -> &'static str {
    match rule {
        DecisionRule::GuardedBothSides => "guarded-both-sides",
        DecisionRule::Simple => "simple",
        DecisionRule::GuardExpanded => "guard-expanded",
    }
}

/// Probability that the true value lies within the limits.
pub fn probability(limits: &Limits, value: f64, spread: Spread) -> f64 {
    let (low, high) = (limits.low, limits.high);
    // Without a distribution (u = 0) the value itself decides.
    interval_probability(value, spread.u_standard, spread.nu, low, high)
        .unwrap_or_else(|| if limits.hold(value) { 1.0 } else { 0.0 })
}

/// Verdict on a measured value.
///
/// # Errors
/// `verdict-no-uncertainty` where the rule needs an uncertainty and there is none.
pub fn outcome(
    decision: &Decision,
    limits: &Limits,
    value: f64,
    spread: Option<Spread>,
) -> Result<Outcome, Remark> {
    let of = |conforms: bool, fails: bool| match (conforms, fails) {
        (true, _) => Outcome::Conforms,
        (_, true) => Outcome::DoesNotConform,
        _ => Outcome::Undecided,
    };
    if decision.rule == DecisionRule::Simple {
        let inside = limits.hold(value);
        return Ok(of(inside, !inside));
    }
    let spread = spread.ok_or_else(|| Remark::new("verdict-no-uncertainty"))?;
    Ok(match decision.rule {
        DecisionRule::GuardExpanded => {
            let (from, to) = (value - spread.u_expanded, value + spread.u_expanded);
            let outside = limits.low.is_some_and(|low| to < low)
                || limits.high.is_some_and(|high| from > high);
            of(limits.hold(from) && limits.hold(to), outside)
        }
        _ => {
            let inside = probability(limits, value, spread);
            let least = decision.min_probability;
            of(inside >= least, inside <= 1.0 - least)
        }
    })
}

/// Why a rule could not decide.
pub fn why_undecided(decision: &Decision, probability: Option<f64>) -> Remark {
    match (decision.rule, probability) {
        (DecisionRule::GuardedBothSides, Some(p)) => Remark::new("verdict-probability")
            .with("probability", p)
            .with("least", decision.min_probability)
            .with("most", 1.0 - decision.min_probability),
        _ => Remark::new("verdict-straddles"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn within(low: Option<f64>, high: Option<f64>) -> Limits {
        Limits { stated: 0.0, low, high }
    }

    fn normal(u: f64) -> Spread {
        Spread { u_standard: u, u_expanded: 2.0 * u, nu: None }
    }

    fn by(rule: DecisionRule, p: f64) -> Decision {
        Decision { rule, min_probability: p, coverage: 0.95 }
    }

    /// JCGM 106:2012, clause 7, Zener diode: limit −5.40 V, y = −5.47 V, u = 0.05 V: p_c = 0.92
    /// (Φ(1.4) = 0.919 243 340 766). Equation (7) with 0.8 … 1.2, y = 1.15, u = 0.04:
    /// Φ(1.25) − Φ(−8.75) = 0.894 350 226 333. Digits from scipy.stats.norm.
    #[test]
    fn probabilities_of_the_guide() {
        let zener = probability(&within(None, Some(-5.40)), -5.47, normal(0.05));
        assert!((zener - 0.919_243_340_766_229).abs() < 1e-9, "{zener}");
        let two = probability(&within(Some(0.8), Some(1.2)), 1.15, normal(0.04));
        assert!((two - 0.894_350_226_333_145).abs() < 1e-9, "{two}");
    }

    /// ILAC-G8:09/2019, table 1 (from memory): a value on the acceptance limit T − rU, k = 2, is
    /// falsely accepted with the probability Φ(−2r): r = 1 < 2.5 %, 0.83 < 5 %, 0 at most 50 %, 1.5 <
    /// 0.16 %. Digits from scipy.stats.norm.
    #[test]
    fn guard_bands() {
        let u = 0.5;
        for (r, false_acceptance) in [
            (1.0, 0.022_750_131_948_179_2),
            (0.83, 0.048_457_226_266_722_8),
            (0.0, 0.5),
            (1.5, 0.001_349_898_031_630_09),
        ] {
            let y = 10.0 - r * 2.0 * u;
            let p = 1.0 - probability(&within(None, Some(10.0)), y, normal(u));
            assert!((p - false_acceptance).abs() < 1e-9, "{r} {p}");
        }
    }

    /// The definition: on the acceptance limit itself a value conforms; beyond it not.
    #[test]
    fn expanded_guard_band() {
        let limits = within(Some(4.0), Some(10.0));
        let rule = by(DecisionRule::GuardExpanded, 0.95);
        let said = |y: f64| outcome(&rule, &limits, y, Some(normal(0.5))).unwrap();
        assert_eq!(said(9.0), Outcome::Conforms);
        assert_eq!(said(9.01), Outcome::Undecided);
        assert_eq!(said(11.0), Outcome::Undecided);
        assert_eq!(said(11.01), Outcome::DoesNotConform);
        assert_eq!(said(5.0), Outcome::Conforms);
        assert_eq!(said(2.99), Outcome::DoesNotConform);
        assert!(outcome(&rule, &limits, 9.0, None).is_err());
    }

    /// z of 95 % on one side is 1.644 853 627 (tables of the normal distribution).
    #[test]
    fn guarded_on_both_sides() {
        let limits = within(None, Some(10.0));
        let rule = by(DecisionRule::GuardedBothSides, 0.95);
        let said = |z: f64| outcome(&rule, &limits, 10.0 - z * 0.5, Some(normal(0.5))).unwrap();
        assert_eq!(said(1.645), Outcome::Conforms);
        assert_eq!(said(1.6448), Outcome::Undecided);
        assert_eq!(said(-1.6448), Outcome::Undecided);
        assert_eq!(said(-1.645), Outcome::DoesNotConform);
        assert_eq!(outcome(&rule, &limits, 9.0, None).unwrap_err().code, "verdict-no-uncertainty");
    }

    /// Simple acceptance asks for no uncertainty; one of zero is certainty.
    #[test]
    fn simple_rule_and_certainty() {
        let limits = within(Some(4.0), Some(10.0));
        let rule = by(DecisionRule::Simple, 0.95);
        assert_eq!(outcome(&rule, &limits, 10.0, None), Ok(Outcome::Conforms));
        assert_eq!(outcome(&rule, &limits, 10.1, None), Ok(Outcome::DoesNotConform));
        assert_eq!(probability(&limits, 10.0, normal(0.0)), 1.0);
        assert_eq!(probability(&limits, 3.9, normal(0.0)), 0.0);
    }

    /// Student t with 3 degrees of freedom: P(T ≤ 2.353 363) = 0.95 (tables).
    #[test]
    fn few_degrees_of_freedom() {
        let spread = Spread { nu: Some(3.0), ..normal(0.5) };
        let p = probability(&within(None, Some(10.0)), 10.0 - 2.353_363_434_801_8 * 0.5, spread);
        assert!((p - 0.95).abs() < 1e-6, "{p}");
    }
}
