//! Cases of the distributions and what is made of them, over grids of their arguments.

use focalsheet::statistics::interval_probability::interval_probability;
use focalsheet::statistics::tolerance_factor::tolerance_factor;
use focalsheet::statistics::{noncentral_t, normal, student_t};
use serde_json::{Value, json};

use super::cases::Cases;

/// From one half to the smallest, then the same shares from above.
const SHARES: [f64; 17] = [
    1e-300, 1e-100, 1e-20, 1e-9, 1e-4, 0.01, 0.025, 0.099, 0.101, 0.24, 0.26, 0.49, 0.499_999, 0.5,
    0.6, 0.975, 0.9999,
];
const FREEDOMS: [f64; 14] =
    [0.05, 0.3, 1.0, 1.5, 2.0, 3.7, 10.0, 16.764, 50.0, 333.3, 1e4, 1e7, 1e10, 1e15];

pub fn add(cases: &mut Cases) {
    normal_distribution(cases);
    student(cases);
    noncentral(cases);
    tolerance_factors(cases);
    intervals(cases);
}

/// A result for each of the values, `null` where there is none.
fn each(values: &[f64], function: impl Fn(f64) -> Option<f64>) -> Value {
    json!(values.iter().map(|v| function(*v)).collect::<Vec<Option<f64>>>())
}

fn normal_distribution(cases: &mut Cases) {
    let x: Vec<f64> = (-375..=375).map(|i| 0.1 * f64::from(i) + 1e-3).collect();
    let input = json!({"x": x});
    cases.add(("normal", "cdf"), "grid", input.clone(), each(&x, |x| Some(normal::cdf(x))));
    cases.add(("normal", "sf"), "grid", input, each(&x, |x| Some(normal::sf(x))));
    let input = json!({"p": SHARES});
    cases.add(("normal", "quantile"), "shares", input, each(&SHARES, normal::quantile));
    let fine: Vec<f64> = (1..1000).map(|i| f64::from(i) / 1000.0).collect();
    let out = each(&fine, normal::quantile);
    cases.add(("normal", "quantile"), "thousandths", json!({"p": fine}), out);
}

fn student(cases: &mut Cases) {
    let t: Vec<f64> =
        [0.0, 1e-7, 0.01, 0.2, 0.5, 0.9, 1.2, 1.6, 1.75, 2.0, 2.9, 4.5, 8.0, 20.0, 36.0, 1e3, 1e8]
            .iter()
            .flat_map(|t| [-t, *t])
            .collect();
    let probabilities = [0.1, 0.5, 0.6827, 0.9, 0.95, 0.9545, 0.99, 0.9973, 0.999_999];
    for nu in FREEDOMS {
        let name = format!("nu {nu:e}");
        let out = each(&t, |t| student_t::cdf(t, nu));
        cases.add(("student_t", "cdf"), &name, json!({"t": t, "nu": nu}), out);
        let out = each(&SHARES, |p| student_t::quantile(p, nu));
        cases.add(("student_t", "quantile"), &name, json!({"p": SHARES, "nu": nu}), out);
        let out = each(&probabilities, |p| student_t::coverage_factor(p, Some(nu)));
        let input = json!({"probability": probabilities, "nu": nu});
        cases.add(("student_t", "coverage_factor"), &name, input, out);
    }
    let out = each(&probabilities, |p| student_t::coverage_factor(p, None));
    let input = json!({"probability": probabilities, "nu": null});
    cases.add(("student_t", "coverage_factor"), "normal", input, out);
}

fn noncentral(cases: &mut Cases) {
    let z = [-4.0, -1.5, -0.2, 0.0, 0.7, 2.0, 5.0, 30.0];
    let p = [0.001, 0.05, 0.3, 0.5, 0.9, 0.95, 0.99, 0.9999];
    for nu in [1.0, 2.0, 4.5, 9.0, 42.0, 300.0, 5000.0] {
        for delta in [-3.0, -0.5, 0.0, 1.0, 4.0526, 12.0, 37.0] {
            let name = format!("nu {nu}, delta {delta}");
            let mut t: Vec<f64> = z.iter().map(|z| delta + z).collect();
            t.extend([0.1, 0.3, 0.6, 1.5, 4.0, 100.0].map(|share| share * delta));
            let out = each(&t, |t| noncentral_t::cdf(t, nu, delta));
            let input = json!({"t": t, "nu": nu, "delta": delta});
            cases.add(("noncentral_t", "cdf"), &name, input, out);
            let out = each(&p, |p| noncentral_t::quantile(p, nu, delta));
            let input = json!({"p": p, "nu": nu, "delta": delta});
            cases.add(("noncentral_t", "quantile"), &name, input, out);
        }
    }
}

fn tolerance_factors(cases: &mut Cases) {
    let numbers: Vec<usize> = vec![2, 3, 4, 5, 6, 8, 10, 13, 20, 43, 100, 500, 2000];
    for (proportion, confidence) in [
        (0.9, 0.9),
        (0.95, 0.95),
        (0.9, 0.99),
        (0.99, 0.95),
        (0.3, 0.9),
        (0.999, 0.999),
        (0.5, 0.05),
    ] {
        let out: Vec<Option<f64>> =
            numbers.iter().map(|n| tolerance_factor(*n, proportion, confidence)).collect();
        let input = json!({"n": numbers, "proportion": proportion, "confidence": confidence});
        let name = format!("{proportion} with {confidence}");
        cases.add(("tolerance_factor", "tolerance_factor"), name, input, json!(out));
    }
}

fn intervals(cases: &mut Cases) {
    let (y, u) = (1.15, 0.04);
    for (name, low, high) in [
        ("two-sided", Some(0.8), Some(1.2)),
        ("at most", None, Some(1.2)),
        ("at least", Some(1.2), None),
        ("far above", Some(1.4), Some(1.5)),
        ("far below", Some(0.7), Some(0.8)),
        ("at the middle", Some(1.15), Some(1.25)),
        ("narrow", Some(1.149), Some(1.152)),
        ("no limit", None, None),
        ("turned about", Some(1.2), Some(0.8)),
    ] {
        for nu in [None, Some(1.0), Some(4.2), Some(60.0), Some(1e9)] {
            let out = interval_probability(y, u, nu, low, high);
            let input = json!({"y": y, "u": u, "nu": nu, "low": low, "high": high});
            let name = format!("{name}, nu {nu:?}");
            cases.add(("interval_probability", "interval_probability"), name, input, json!(out));
        }
    }
}
