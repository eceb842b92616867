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
/// Smallest expanded (k = 2) relative uncertainty with which a pressure sensor can be had calibrated; what
/// asks for less is out of reach. Value from memory.
const BEST_CALIBRATION: f64 = 0.04;
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
    let with_better = with_better.filter(|u| *u >= BEST_CALIBRATION);
    let wanted = now.u_expanded * factor;
    let whole = calibrations(budget).max_by(|a, b| a.share.total_cmp(&b.share));
    let (code, line) = if with_better.is_some() {
        ("settle-calibration", calibration)
    } else if wanted <= of_calibration(budget, Some(BEST_CALIBRATION)) {
        ("settle-out-of-reach", None)
    } else if wanted <= of_calibration(budget, None) {
        ("settle-both", whole)
    } else {
        ("settle-measurement", None)
    };
    Some(Settle {
        code: code.to_owned(),
        would_be,
        u_expanded: Some(wanted),
        calibration_now: line.map(|line| K * line.u),
        calibration: with_better,
        text: String::new(),
    })
}

/// The expanded uncertainty that the calibration alone leaves, as it is or with a better one.
fn of_calibration(budget: &Budget, best: Option<f64>) -> f64 {
    let part = |line: &Line| {
        let better = best.map_or(1.0, |best| (best / (K * line.u)).min(1.0));
        (line.contribution * better).powi(2)
    };
    budget.k * calibrations(budget).map(part).sum::<f64>().sqrt()
}

fn calibrations(budget: &Budget) -> impl Iterator<Item = &Line> {
    budget.lines.iter().filter(|line| line.source == source::CALIBRATION && line.unit == "1")
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
    calibrations(budget)
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

    /// By hand: u² = 0.8² + 0.3² with 0.8 from a calibration of 8 % (value 10); decided at u = 0.607 957,
    /// so √(0.369 612 − 0.09) = 0.528 783 is left for the calibration: U of 10.576 % in place of 16 %.
    #[test]
    fn a_better_calibration_by_hand() {
        let found = settle(&Decision::default(), &upper(11.0), 10.0, &two(0.8, 0.3)).unwrap();
        assert_eq!(found.code, "settle-calibration");
        assert!((found.calibration_now.unwrap() - 0.16).abs() < 1e-12);
        let left = (1.0 / 1.644_853_626_951_472_2f64).powi(2) - 0.09;
        assert!((found.calibration.unwrap() - 0.2 * left.sqrt()).abs() < 1e-6, "{found:?}");
    }

    /// Contributions of a calibration and of noise to a value of 10.
    fn two(calibration: f64, noise: f64) -> Budget {
        let mut line = line("calibration", calibration);
        line.u = 0.1 * calibration;
        budget(calibration.hypot(noise), vec![line, crate::verdict::tests::line("noise", noise)])
    }

    /// By hand, decided at U = 1.215 914: with noise of 0.6 the calibration would have to be one of
    /// 0.2 × √(0.369 612 − 0.36) = 1.96 %, and with 0.62 none would do. The calibration alone leaves
    /// 1.6 as it is, and 0.4 where it is one of 4 %.
    #[test]
    fn what_no_calibration_can_give_is_not_asked_for() {
        for noise in [0.6, 0.62] {
            let found = settle(&Decision::default(), &upper(11.0), 10.0, &two(0.8, noise)).unwrap();
            assert_eq!((found.code.as_str(), found.calibration), ("settle-both", None), "{noise}");
            assert!((found.calibration_now.unwrap() - 0.16).abs() < 1e-12);
            assert!((found.u_expanded.unwrap() - 1.215_914).abs() < 1e-5);
        }
        let found = settle(&Decision::default(), &upper(11.0), 10.0, &two(0.5, 0.8)).unwrap();
        assert_eq!(found.code, "settle-measurement", "the calibration leaves 1.0");
        // 0.2 below the limit: decided at U = 0.4/1.644 854 = 0.243.
        let found = settle(&Decision::default(), &upper(10.2), 10.0, &two(0.8, 0.6)).unwrap();
        assert_eq!((found.code.as_str(), found.calibration), ("settle-out-of-reach", None));
        // One that is better than that already is left as it is: 0.1 leaves U = 0.2.
        let found = settle(&Decision::default(), &upper(10.2), 10.0, &two(0.1, 0.6)).unwrap();
        assert_eq!(found.code, "settle-measurement");
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
