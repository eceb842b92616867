//! The whole way from a record's stated values to verdicts.

use crate::base::budget::{Budget, Line};
use crate::base::finding::{Arg, Severity};
use crate::base::quantity::{Quantity, Reason, TimeBase, Window, WindowKind};
use crate::base::verdict::{Outcome, VerdictEntry};
use crate::record::{Record, Role, Stated};

use super::{ScanValues, judge};

/// One source of uncertainty with its contribution; everything in one line.
pub fn line(source: &str, contribution: f64) -> Line {
    Line {
        source: source.to_owned(),
        u: contribution.abs(),
        unit: "1".to_owned(),
        distribution: "normal".to_owned(),
        nu: None,
        sensitivity: 1.0,
        contribution,
        share: 0.0,
        common: true,
        origin: "record".to_owned(),
        from: String::new(),
    }
}

/// A budget with a standard uncertainty and k = 2.
pub fn budget(u: f64, mut lines: Vec<Line>) -> Budget {
    for line in &mut lines {
        line.share = (line.contribution / u).powi(2);
    }
    Budget {
        lines,
        u_standard: u,
        u_common: u,
        u_repeatability: 0.0,
        nu_eff: None,
        coverage: 0.95,
        k: 2.0,
        u_expanded: 2.0 * u,
        monte_carlo: None,
        left_out: Vec::new(),
    }
}

fn measured(id: &'static str, value: f64, u: f64, calibration: f64) -> Quantity {
    let mut line = line("calibration", calibration * value);
    line.u = calibration;
    let rest = (u * u - (calibration * value).powi(2)).max(0.0).sqrt();
    let mut quantity = Quantity::value(id, value);
    quantity.uncertainty = Ok(Box::new(budget(u, vec![line, self::line("noise", rest)])));
    quantity
}

fn scan<'a>(id: &'a str, quantities: &'a [Quantity]) -> ScanValues<'a> {
    ScanValues {
        id,
        role: Role::Plane,
        level: Some(40.0),
        range: None,
        place_m: [None; 3],
        fitness: Severity::Note,
        sign_doubted: false,
        quantities,
    }
}

fn record(stated: serde_json::Value) -> Record {
    let stated: Vec<Stated> = serde_json::from_value(stated).unwrap();
    let mut record = Record { stated, ..Record::default() };
    record.excitation.level_unit = Some("Vpp".to_owned());
    record
}

fn pc(value: f64, more: serde_json::Value) -> serde_json::Value {
    let mut out = serde_json::json!({"quantity": "pc", "value": value, "unit": "MPa",
        "tolerance": {"lower": -0.15, "upper": 0.15, "relative": true}});
    for (key, value) in more.as_object().unwrap() {
        out[key.as_str()] = value.clone();
    }
    serde_json::json!([out])
}

fn none() -> serde_json::Value {
    serde_json::json!({})
}

fn codes(entry: &VerdictEntry) -> Vec<&str> {
    entry.reasons.iter().map(|reason| reason.code.as_str()).collect()
}

/// A head that gives 10 MPa with u of 5.5 %, 5 % of it from the calibration; tolerance ±15 %. By
/// hand from tables of the normal distribution (digits from scipy.stats.norm):
/// stated 40 % too high: limits 11.9 … 16.1, p = Φ(6.1/0.55) − Φ(1.9/0.55) = 1 − Φ(3.4545) = 0.000 275 611;
/// honest: 8.5 … 11.5, p = 2Φ(2.7273) − 1 = 0.993 614;
/// 20 % too high: 10.2 … 13.8, p = 1 − Φ(0.3636) = 0.358 065.
#[test]
fn three_heads() {
    let quantities = [measured("pc", 10e6, 0.55e6, 0.05)];
    let judged =
        |stated: f64| judge(&record(pc(stated, none())), &[scan("focus", &quantities)])[0].clone();
    let high = judged(14.0);
    assert_eq!(high.outcome, Outcome::DoesNotConform);
    assert!((high.probability.unwrap() - 0.000_275_611).abs() < 1e-8, "{high:?}");
    let honest = judged(10.0);
    assert_eq!((honest.outcome, honest.reasons.len()), (Outcome::Conforms, 0));
    assert!((honest.probability.unwrap() - 0.993_613_98).abs() < 1e-7, "{honest:?}");
    let between = judged(12.0);
    assert_eq!(between.outcome, Outcome::Undecided);
    assert_eq!(codes(&between), ["verdict-probability"]);
    assert!((between.probability.unwrap() - 0.358_064_78).abs() < 1e-7, "{between:?}");
    // It does not conform once 1 − Φ(0.2/u) ≤ 0.05: u ≤ 0.2/1.644 854 = 0.121 591 MPa. The other
    // sources alone are √(0.55² − 0.5²) = 0.229 MPa: a better calibration would not do, nor the best.
    let settle = between.settle.unwrap();
    assert_eq!(
        (settle.code.as_str(), settle.would_be),
        ("settle-out-of-reach", Outcome::DoesNotConform),
        "a calibration of 4 % leaves U = 0.4 MPa"
    );
    assert!((settle.u_expanded.unwrap() - 2.0 * 0.121_591e6).abs() < 1.0);
}

/// As above with all but a little from the calibration, 12 % expanded: limits 9.35 … 12.65 (stated
/// 11), y = 10.3, u = 0.06 · 10.3 = 0.618 with 0.05 of noise: p = 0.937 189.
/// It conforms where Φ(2.35/u) − Φ(−0.95/u) = 0.95, at u = 0.577 48 (root by scipy.optimize.brentq):
/// √(u² − 0.05²)/10.3 = 5.5855 %, 11.17 % expanded.
#[test]
fn a_better_calibration_settles_it() {
    let u = (0.618f64.powi(2) + 0.05f64.powi(2)).sqrt() * 1e6;
    let quantities = [measured("pc", 10.3e6, u, 0.06)];
    let entry = &judge(&record(pc(11.0, none())), &[scan("focus", &quantities)])[0];
    let settle = entry.settle.clone().unwrap();
    assert_eq!((settle.code.as_str(), settle.would_be), ("settle-calibration", Outcome::Conforms));
    assert!((settle.calibration_now.unwrap() - 0.12).abs() < 1e-12);
    assert!((settle.calibration.unwrap() - 0.111_710_7).abs() < 1e-7, "{settle:?}");
}

/// E_n by hand: (10 − 11)/√(1.1² + 0.66²) = −0.779 54.
#[test]
fn e_n_where_the_maker_states_an_uncertainty() {
    let quantities = [measured("pc", 10e6, 0.55e6, 0.05)];
    let uncertain =
        serde_json::json!({"uncertainty": {"value": 0.06, "kind": "expanded", "relative": true}});
    let entry = &judge(&record(pc(11.0, uncertain.clone())), &[scan("focus", &quantities)])[0];
    assert!((entry.e_n.unwrap() + 0.779_54).abs() < 1e-5, "{:?}", entry.e_n);
    let mut open = pc(11.0, uncertain);
    open[0].as_object_mut().unwrap().remove("tolerance");
    let entry = &judge(&record(open), &[scan("focus", &quantities)])[0];
    assert!(entry.e_n.is_some() && entry.probability.is_none());
    assert_eq!((entry.outcome, codes(entry)), (Outcome::Undecided, vec!["verdict-no-tolerance"]));
    assert_eq!(judge(&record(pc(11.0, none())), &[scan("focus", &quantities)])[0].e_n, None);
}

/// The rule of the definitions: a stated condition that differs, unfit data, a lower bound, no value
/// or no uncertainty leave it undecided, with that reason, and nothing is computed.
#[test]
fn conditions_that_differ_are_not_judged() {
    let mut quantity = measured("pc", 10e6, 0.55e6, 0.05);
    quantity.window = Some(Window { kind: WindowKind::WholePulse, start_s: 0.0, stop_s: 1e-5 });
    let quantities = [quantity.clone()];
    let fit = scan("focus", &quantities);
    let check = |more: serde_json::Value, scan: ScanValues<'_>, expected: &[&str]| {
        let entry = &judge(&record(pc(10.0, more)), &[scan])[0];
        assert_eq!(codes(entry), expected);
        let outcome = if expected.is_empty() { Outcome::Conforms } else { Outcome::Undecided };
        assert_eq!(entry.outcome, outcome);
        assert_eq!(entry.probability.is_some(), expected.is_empty(), "{expected:?}");
    };
    let json = |text: &str| serde_json::from_str::<serde_json::Value>(text).unwrap();
    check(none(), fit, &[]);
    check(json(r#"{"level": 40, "medium": "water", "window": "whole-pulse"}"#), fit, &[]);
    check(json(r#"{"level": 60}"#), fit, &["verdict-level-differs"]);
    check(json(r#"{"level": 60}"#), ScanValues { level: None, ..fit }, &["verdict-level-unknown"]);
    check(json(r#"{"window": "steady-state"}"#), fit, &["verdict-window-differs"]);
    check(json(r#"{"medium": "derated"}"#), fit, &["verdict-medium-differs"]);
    check(json(r#"{"scan": "other"}"#), fit, &["verdict-not-measured"]);
    check(none(), ScanValues { fitness: Severity::Unfit, ..fit }, &["verdict-unfit"]);
    let mut bound = quantity.clone();
    bound.lower_bound = true;
    check(none(), scan("focus", &[bound]), &["verdict-lower-bound"]);
    let missing = Quantity::missing("pc", Reason::blank("sensor.response"));
    check(none(), scan("focus", &[missing]), &["verdict-no-value"]);
    check(none(), scan("focus", &[Quantity::value("pc", 10e6)]), &["verdict-no-uncertainty"]);
}

/// Of two temporal averages the one with the stated base, of two levels the stated level; a named
/// array that was split by levels is found by its parts.
#[test]
fn the_measured_quantity_is_the_one_meant() {
    let mut tank = measured("ispta", 1.0e3, 20.0, 0.01);
    tank.time_base = Some(TimeBase::Tank);
    let exposure =
        Quantity::missing("ispta", Reason::blank("exposure")).on_base(TimeBase::Exposure);
    let quantities = [tank, exposure];
    let stated = |base: Option<&str>| {
        let tolerance = serde_json::json!({"lower": -0.3, "upper": 0.3, "relative": true});
        record(serde_json::json!([{"quantity": "ispta", "value": 0.1, "unit": "W/cm2",
            "time_base": base, "tolerance": tolerance}]))
    };
    let of = |base| judge(&stated(base), &[scan("focus", &quantities)])[0].clone();
    assert_eq!(of(Some("tank")).outcome, Outcome::Conforms);
    assert_eq!(of(None).outcome, Outcome::Conforms);
    let missing = of(Some("exposure"));
    assert_eq!(codes(&missing), ["verdict-no-value"]);
    assert_eq!(missing.reasons[0].args["blank"], Arg::from("exposure"));
    assert_eq!(codes(&of(Some("on"))), ["verdict-time-base-differs"]);

    let low = [measured("pc", 5e6, 0.1e6, 0.01)];
    let high = [measured("pc", 10e6, 0.1e6, 0.01)];
    let scans = [
        ScanValues { level: Some(20.0), ..scan("focus-level-1", &low) },
        ScanValues { level: Some(40.0), ..scan("focus-level-2", &high) },
    ];
    let entry =
        &judge(&record(pc(10.0, serde_json::json!({"scan": "focus", "level": 40}))), &scans)[0];
    assert_eq!((entry.scan.as_deref(), entry.outcome), (Some("focus-level-2"), Outcome::Conforms));
    let entry = &judge(&record(pc(10.0, serde_json::json!({"level": 40}))), &scans)[0];
    assert_eq!(entry.scan.as_deref(), Some("focus-level-2"));
}

/// With the peaks perhaps exchanged nothing is advised for what rests on their sign; other values are
/// judged as ever.
#[test]
fn a_doubted_sign_comes_first() {
    let quantities = [measured("pc", 10e6, 0.55e6, 0.05), measured("isppa", 10.0, 0.5, 0.04)];
    let doubted = ScanValues { sign_doubted: true, ..scan("focus", &quantities) };
    let between = judge(&record(pc(12.0, none())), &[doubted])[0].clone();
    assert_eq!((between.outcome, between.settle.is_none()), (Outcome::Undecided, true));
    assert_eq!(codes(&between), ["verdict-probability", "verdict-sign-doubted"]);
    let honest = judge(&record(pc(10.0, none())), &[doubted])[0].clone();
    assert_eq!((honest.outcome, codes(&honest)), (Outcome::Conforms, vec!["verdict-sign-doubted"]));
    let stated = serde_json::json!([{"quantity": "isppa", "value": 12, "unit": "W/m2",
        "tolerance": {"lower": -0.15, "upper": 0.15, "relative": true}}]);
    let other = judge(&record(stated), &[doubted])[0].clone();
    assert_eq!(codes(&other), ["verdict-probability"]);
    assert!(other.settle.is_some());
}
