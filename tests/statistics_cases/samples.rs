//! Cases of what is computed from samples and from the components of a budget.

use focalsheet::dsp::noise::Noise;
use focalsheet::statistics::coverage_interval::{shortest_interval, symmetric_interval};
use focalsheet::statistics::effective_freedom::effective_freedom;
use focalsheet::statistics::moments::{
    lag_1_autocorrelation, mean, standard_deviation, standard_deviation_of_mean,
};
use focalsheet::statistics::numerical_tolerance::numerical_tolerance;
use focalsheet::statistics::straight_line::straight_line;
use focalsheet::statistics::weighted_line::weighted_line;
use serde_json::json;

use super::cases::Cases;

pub fn add(cases: &mut Cases) {
    moments(cases);
    lines(cases);
    weighted_lines(cases);
    freedoms(cases);
    intervals(cases);
    tolerances(cases);
}

fn noise(count: usize, seed: u64) -> Vec<f64> {
    let mut noise = Noise::new(seed);
    (0..count).map(|_| noise.next()).collect()
}

/// The four sets on numerical accuracy of the NIST Statistical Reference Datasets, and some of our own.
fn moments(cases: &mut Cases) {
    let alternating = |first: f64, a: f64, b: f64| -> Vec<f64> {
        std::iter::once(first).chain((0..1000).map(|i| if i % 2 == 0 { a } else { b })).collect()
    };
    let far: Vec<f64> = noise(777, 3).iter().map(|v| 1e12 + v).collect();
    let wide: Vec<f64> = noise(500, 4).iter().map(|v| (20.0 * v).exp()).collect();
    for (name, values) in [
        ("NumAcc1", vec![10000001.0, 10000003.0, 10000002.0]),
        ("NumAcc2", alternating(1.2, 1.1, 1.3)),
        ("NumAcc3", alternating(1000000.2, 1000000.1, 1000000.3)),
        ("NumAcc4", alternating(10000000.2, 10000000.1, 10000000.3)),
        ("noise", noise(4001, 2)),
        ("far from zero", far),
        ("of all sizes", wide),
        ("equal", vec![0.1; 13]),
        ("two", vec![3.0, 4.5]),
        ("one", vec![3.0]),
        ("none", vec![]),
    ] {
        let input = json!({"values": values});
        cases.add(("moments", "mean"), name, input.clone(), json!(mean(&values)));
        let out = json!(standard_deviation(&values));
        cases.add(("moments", "standard_deviation"), name, input.clone(), out);
        let out = json!(standard_deviation_of_mean(&values));
        cases.add(("moments", "standard_deviation_of_mean"), name, input.clone(), out);
        let out = json!(lag_1_autocorrelation(&values));
        cases.add(("moments", "lag_1_autocorrelation"), name, input, out);
    }
}

fn lines(cases: &mut Cases) {
    let scattered = |count: usize, x0: f64, seed: u64| -> Vec<(f64, f64)> {
        let (x, e) = (noise(count, seed), noise(count, seed + 1));
        x.iter().zip(e).map(|(x, e)| (x0 + 3.0 * x, 0.7 - 2.5 * x + 0.2 * e)).collect()
    };
    for (name, points) in [
        ("scattered", scattered(300, 0.0, 11)),
        ("far from zero", scattered(40, 1e5, 13)),
        ("three", scattered(3, 1.0, 15)),
        ("flat", vec![(0.0, 2.0), (1.0, 2.0), (2.0, 2.0), (3.0, 2.0)]),
        ("two", scattered(2, 0.0, 17)),
        ("upright", vec![(1.0, 2.0), (1.0, 3.0), (1.0, 4.0)]),
    ] {
        let (x, y): (Vec<f64>, Vec<f64>) = points.iter().copied().unzip();
        let out = straight_line(&points).map(|l| {
            [l.slope, l.intercept, l.slope_error, l.intercept_error, l.residual_deviation]
        });
        cases.add(("straight_line", "straight_line"), name, json!({"x": x, "y": y}), json!(out));
    }
}

fn weighted_lines(cases: &mut Cases) {
    let scatter = noise(60, 17);
    let of = |count: usize, far: f64| -> Vec<(f64, f64, f64)> {
        (0..count)
            .map(|i| {
                let (x, u) = (far + i as f64, 0.01 + 0.3 * scatter[i].abs());
                (x, 2.0 + 0.7 * x + u * scatter[59 - i], u)
            })
            .collect()
    };
    for (name, points) in [
        ("ten", of(10, 0.0)),
        ("sixty far away", of(60, 1e5)),
        ("two", of(2, 3.0)),
        ("one", of(1, 3.0)),
        ("upright", vec![(1.0, 2.0, 0.1), (1.0, 3.0, 0.1), (1.0, 4.0, 0.1)]),
        ("no uncertainty", vec![(1.0, 2.0, 0.1), (2.0, 3.0, 0.0), (3.0, 4.0, 0.1)]),
    ] {
        let column = |f: fn(&(f64, f64, f64)) -> f64| points.iter().map(f).collect::<Vec<f64>>();
        let input = json!({"x": column(|p| p.0), "y": column(|p| p.1), "u": column(|p| p.2)});
        let out = weighted_line(&points)
            .map(|l| [l.slope, l.intercept, l.u_slope, l.u_intercept, l.covariance, l.chi_square]);
        cases.add(("weighted_line", "weighted_line"), name, input.clone(), json!(out));
        let Some(line) = weighted_line(&points) else { continue };
        let ends = [points[0].0, points[points.len() - 1].0, -3.0];
        let read = |of: &dyn Fn(f64) -> f64| ends.iter().map(|x| of(*x)).collect::<Vec<f64>>();
        cases.add(("weighted_line", "at"), name, input.clone(), json!(read(&|x| line.at(x))));
        cases.add(("weighted_line", "u_at"), name, input.clone(), json!(read(&|x| line.u_at(x))));
        let ratio = json!(line.scatter_ratio());
        cases.add(("weighted_line", "scatter_ratio"), name, input.clone(), ratio);
        let wide = line.widened(3.0);
        let wide = json!([wide.u_slope, wide.u_intercept, wide.covariance]);
        cases.add(("weighted_line", "widened"), name, input, wide);
    }
}

fn freedoms(cases: &mut Cases) {
    for (name, components) in [
        (
            "end gauge",
            vec![(25.0, Some(18.0)), (9.7, Some(25.6)), (2.9, Some(50.0)), (16.6, Some(2.0))],
        ),
        (
            "some infinite",
            vec![(0.05, None), (0.012, Some(4.0)), (0.03, Some(7.5)), (0.0, Some(1.0))],
        ),
        ("one", vec![(3.0, Some(11.5))]),
        ("all infinite", vec![(0.05, None), (0.03, None)]),
    ] {
        let (u, nu): (Vec<f64>, Vec<Option<f64>>) = components.iter().copied().unzip();
        let out = json!(effective_freedom(&components));
        let input = json!({"u": u, "freedoms": nu});
        cases.add(("effective_freedom", "effective_freedom"), name, input, out);
    }
}

fn intervals(cases: &mut Cases) {
    let sorted = |mut values: Vec<f64>| {
        values.sort_by(f64::total_cmp);
        values
    };
    let normal = sorted(noise(3001, 21));
    let skew = sorted(noise(1000, 22).iter().map(|v| v.exp()).collect());
    let peaks = sorted(noise(501, 23).iter().map(|v| v + 8.0 * v.signum()).collect());
    let ties = sorted(noise(300, 24).iter().map(|v| v.round()).collect());
    // Closed form: the quantiles of the exponential distribution.
    let exponential: Vec<f64> =
        (1..=5000).map(|r| -(1.0 - (f64::from(r) - 0.5) / 5000.0).ln()).collect();
    for (name, values) in [
        ("normal", normal),
        ("skew", skew),
        ("two peaks", peaks),
        ("ties", ties),
        ("exponential", exponential),
        ("four", vec![1.0, 2.0, 4.0, 4.5]),
        ("out of order", vec![1.0, 3.0, 2.0, 4.0]),
        ("one", vec![1.0]),
        ("none", vec![]),
    ] {
        for probability in [0.01, 0.5, 0.6827, 0.95, 0.9545, 0.999, 1.0] {
            let input = json!({"values": values, "probability": probability});
            let name = format!("{name}, {probability}");
            let out = json!(shortest_interval(&values, probability));
            cases.add(("coverage_interval", "shortest_interval"), &name, input.clone(), out);
            let out = json!(symmetric_interval(&values, probability));
            cases.add(("coverage_interval", "symmetric_interval"), &name, input, out);
        }
    }
}

fn tolerances(cases: &mut Cases) {
    let some = [
        0.000_35, 2.0, 0.000_996, 0.000_994, 9.5, 9.4999, 0.095, 1e-12, 1e-6, 0.1, 1.0, 1e3, 1e15,
        7.3e-31, 123_456.0, 9.99e22,
    ];
    for digits in 1..=4 {
        let out: Vec<Option<f64>> = some.iter().map(|u| numerical_tolerance(*u, digits)).collect();
        let input = json!({"u": some, "digits": digits});
        let name = format!("{digits} digits");
        cases.add(("numerical_tolerance", "numerical_tolerance"), name, input, json!(out));
    }
}
