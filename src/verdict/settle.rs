//! What would settle an undecided verdict: the largest uncertainty at which the same measured value
//! would have been decided.
//!
//! Below the present uncertainty there is one crossing: inside the limits the probability of
//! conformity rises to 1 as the uncertainty falls, outside it falls to 0 (it has a single maximum
//! against u). The crossing is found by halving.

use crate::base::budget::{Budget, Line, source};
use crate::base::verdict::{Outcome, Settle};
use crate::record::Decision;

use super::{Limits, Spread, outcome};

/// Share of the variance from which the calibration is named.
const DOMINATES: f64 = 0.5;
/// Below this part of the present uncertainty the value lies on the limit, for practical purposes.
/// Common practice, no source.
const LEAST: f64 = 0.05;
const HALVINGS: usize = 60;
/// Coverage factor of a calibration's uncertainty as it is printed.
const K: f64 = 2.0;

/// What would settle it; `None` where it is decided already.
pub fn settle(decision: &Decision, limits: &Limits, value: f64, budget: &Budget) -> Option<Settle> {
    let now = Spread::of(budget);
    let decided = |factor: f64| {
        outcome(decision, limits, value, Some(now.times(factor)))
            .ok()
            .filter(|said| *said != Outcome::Undecided)
    };
    if decided(1.0).is_some() {
        return None;
    }
    let Some((would_be, factor)) = decided(LEAST).map(|said| (said, largest(LEAST, decided)))
    else {
        return Some(Settle {
            code: "settle-none".to_owned(),
            would_be: Outcome::Undecided,
            u_expanded: None,
            calibration_now: None,
            calibration: None,
            text: String::new(),
        });
    };
    let calibration = strongest_calibration(budget);
    let with_better = calibration.and_then(|line| {
        let decided = |part: f64| {
            let spread = Spread { ..with_line(budget, line, part) };
            outcome(decision, limits, value, Some(spread))
                .ok()
                .filter(|said| *said != Outcome::Undecided)
        };
        decided(LEAST).map(|_| K * line.u * largest(LEAST, decided))
    });
    Some(Settle {
        code: if with_better.is_some() { "settle-calibration" } else { "settle-measurement" }
            .to_owned(),
        would_be,
        u_expanded: Some(now.u_expanded * factor),
        calibration_now: with_better.and(calibration).map(|line| K * line.u),
        calibration: with_better,
        text: String::new(),
    })
}

/// The largest factor between `low`, at which it is decided, and 1, at which it is not.
fn largest(mut low: f64, decided: impl Fn(f64) -> Option<Outcome>) -> f64 {
    let mut high = 1.0;
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if decided(middle).is_some() {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

/// The calibration's line with a relative uncertainty, where it makes up most of the variance.
fn strongest_calibration(budget: &Budget) -> Option<&Line> {
    budget
        .lines
        .iter()
        .filter(|line| line.source == source::CALIBRATION && line.unit == "1")
        .max_by(|a, b| a.share.total_cmp(&b.share))
        .filter(|line| line.share >= DOMINATES)
}

/// The budget's uncertainty with one line reduced to a part of itself, the others unchanged; degrees
/// of freedom by Welch and Satterthwaite, the coverage factor scaled with none.
///
/// # References
/// JCGM 100:2008, G.4.1 (equation G.2b).
fn with_line(budget: &Budget, reduced: &Line, part: f64) -> Spread {
    let contribution =
        |line: &Line| if std::ptr::eq(line, reduced) { part } else { 1.0 } * line.contribution;
    let gone = reduced.contribution.powi(2) * (1.0 - part * part);
    let variance = (budget.u_standard.powi(2) - gone).max(0.0);
    let over_nu: f64 = budget
        .lines
        .iter()
        .filter_map(|line| line.nu.map(|nu| contribution(line).powi(4) / nu))
        .sum();
    let nu = (over_nu > 0.0).then(|| variance * variance / over_nu);
    let u_standard = variance.sqrt();
    Spread { u_standard, u_expanded: budget.k * u_standard, nu }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::DecisionRule;
    use crate::verdict::tests::{budget, line};

    fn upper(high: f64) -> Limits {
        Limits { stated: high, low: None, high: Some(high) }
    }

    /// By hand: 1 below the limit of 10 with u = 1 is undecided at 95 %; it conforms from u =
    /// 1/1.644 853 627 = 0.607 957 on, so U = 2u = 1.215 914.
    #[test]
    fn a_smaller_uncertainty_by_hand() {
        let plain = budget(1.0, vec![line("noise", 1.0)]);
        let found = settle(&Decision::default(), &upper(10.0), 9.0, &plain).unwrap();
        assert_eq!(
            (found.code.as_str(), found.would_be),
            ("settle-measurement", Outcome::Conforms)
        );
        assert!((found.u_expanded.unwrap() - 2.0 / 1.644_853_626_951_472_2).abs() < 1e-6);
        let above = settle(&Decision::default(), &upper(10.0), 11.0, &plain).unwrap();
        assert_eq!(above.would_be, Outcome::DoesNotConform);
        assert!((above.u_expanded.unwrap() - 2.0 / 1.644_853_626_951_472_2).abs() < 1e-6);
    }

    /// By hand: u² = 0.8² + 0.6² = 1 with 0.8 from a calibration of 8 % (value 10); decided at u =
    /// 0.607 957, so √(0.369 612 − 0.36) = 0.098 04 is left for the calibration: U of 1.96 % in place
    /// of 16 %.
    #[test]
    fn a_better_calibration_by_hand() {
        let mut calibration = line("calibration", 0.8);
        calibration.u = 0.08;
        let both = budget(1.0, vec![calibration, line("noise", 0.6)]);
        let found = settle(&Decision::default(), &upper(11.0), 10.0, &both).unwrap();
        assert_eq!(found.code, "settle-calibration");
        assert!((found.calibration_now.unwrap() - 0.16).abs() < 1e-12);
        let left = (1.0 / 1.644_853_626_951_472_2f64).powi(2) - 0.36;
        assert!((found.calibration.unwrap() - 0.2 * left.sqrt()).abs() < 1e-6, "{found:?}");
        // With 0.62 from elsewhere no calibration would do.
        let mut large = line("calibration", 0.784_6);
        large.u = 0.078_46;
        let both = budget(1.0, vec![large, line("noise", 0.62)]);
        let found = settle(&Decision::default(), &upper(11.0), 10.0, &both).unwrap();
        assert_eq!((found.code.as_str(), found.calibration), ("settle-measurement", None));
    }

    /// On the limit the probability is one half whatever the uncertainty.
    #[test]
    fn nothing_settles_a_value_on_the_limit() {
        let plain = budget(1.0, vec![line("noise", 1.0)]);
        let found = settle(&Decision::default(), &upper(10.0), 10.0, &plain).unwrap();
        assert_eq!((found.code.as_str(), found.u_expanded), ("settle-none", None));
    }

    /// By hand: within 8 to 10, y = 9.4 and U = 2 are decided by U = 0.6 under the expanded rule.
    #[test]
    fn the_expanded_rule_by_hand() {
        let decision = Decision { rule: DecisionRule::GuardExpanded, ..Decision::default() };
        let limits = Limits { stated: 9.0, low: Some(8.0), high: Some(10.0) };
        let plain = budget(1.0, vec![line("noise", 1.0)]);
        let found = settle(&decision, &limits, 9.4, &plain).unwrap();
        assert!((found.u_expanded.unwrap() - 0.6).abs() < 1e-9);
        assert!(settle(&decision, &limits, 9.4, &budget(0.3, vec![line("noise", 0.3)])).is_none());
    }
}
