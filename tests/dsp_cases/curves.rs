//! Cases of `interpolate` and `quadratic`.

use std::f64::consts::TAU;

use focalsheet::dsp::interpolate::{crossing, cubic, interval, lagrange_weights, linear};
use focalsheet::dsp::quadratic::{Top, top_1d, top_2d};
use serde_json::{Value, json};

use super::cases::Cases;
use super::signals::{noise, uneven};

pub fn add(cases: &mut Cases) {
    interpolations(cases);
    profiles(cases);
    tops_along_a_line(cases);
    tops_over_a_plane(cases);
}

fn interpolations(cases: &mut Cases) {
    for (name, count) in
        [("even number", 40), ("odd number", 41), ("three", 3), ("two", 2), ("one", 1)]
    {
        let x = uneven(count, -3.0, 0.25, 0.6, 30);
        let scatter = noise(count, 31);
        let y: Vec<f64> =
            x.iter().zip(&scatter).map(|(x, n)| 5.0 + (TAU * x / 3.0).sin() + 0.1 * n).collect();
        let mut at: Vec<f64> = (0..400).map(|i| -4.0 + 0.033 * f64::from(i)).collect();
        at.extend(&x);
        let input = json!({"x": x, "y": y, "at": at});
        let all =
            |f: &dyn Fn(f64) -> Value| json!(at.iter().map(|v| f(*v)).collect::<Vec<Value>>());
        let places = all(&|v| json!(interval(&x, v)));
        cases.add(("interpolate", "interval"), name, input.clone(), places);
        let straight = all(&|v| json!(linear(&x, &y, v)));
        cases.add(("interpolate", "linear"), name, input.clone(), straight);
        let weights = all(&|v| json!(lagrange_weights(&x, v)));
        cases.add(("interpolate", "lagrange_weights"), name, input.clone(), weights);
        let smooth = all(&|v| json!(cubic(&x, &y, v)));
        cases.add(("interpolate", "cubic"), name, input, smooth);
    }
}

/// Squared pressures across a beam, on an even and on an uneven raster, with and without noise.
fn profiles(cases: &mut Cases) {
    let gauss = |x: f64| (-2.0 * x * x).exp();
    // J1 by its integral, (1/π) ∫ cos(τ − v sin τ) dτ from 0 to π, by the midpoint rule.
    let airy = |x: f64| {
        const PARTS: u32 = 400;
        let v = (4.0 * x).abs();
        if v < 1e-9 {
            return 1.0;
        }
        let sum: f64 = (0..PARTS)
            .map(|i| (f64::from(i) + 0.5) * std::f64::consts::PI / f64::from(PARTS))
            .map(|t| (t - v * t.sin()).cos())
            .sum();
        (2.0 * (sum / f64::from(PARTS)) / v).powi(2)
    };
    let even: Vec<f64> = (0..41).map(|i| -2.0 + 0.1 * f64::from(i) + 0.013).collect();
    let odd = uneven(36, -2.0, 0.11, 0.5, 32);
    let beams: [(&str, &dyn Fn(f64) -> f64); 2] = [("Gaussian", &gauss), ("Airy", &airy)];
    for (beam, value) in beams {
        for (raster, x, rough) in
            [("even", &even, 0.0), ("uneven", &odd, 0.0), ("even, noisy", &even, 0.005)]
        {
            let scatter = noise(x.len(), 33);
            let y: Vec<f64> =
                x.iter().zip(scatter).map(|(x, n)| (value(*x) + rough * n).max(1e-6)).collect();
            for db in [3.0, 6.0, 12.0] {
                let level = 10f64.powf(-0.1 * db);
                for forward in [true, false] {
                    let made = crossing(x, &y, 0.02, level, forward);
                    let input = json!({"x": x, "y": y, "from": 0.02, "level": level,
                                       "forward": forward, "beam": beam, "rough": rough});
                    cases.add(
                        ("interpolate", "crossing"),
                        format!("{beam}, {raster}, −{db} dB"),
                        input,
                        json!(made),
                    );
                }
            }
        }
    }
    let rising: Vec<f64> = even.iter().map(|x| 1.0 + 0.1 * x).collect();
    let input = json!({"x": even, "y": rising, "from": 0.0, "level": 0.5, "forward": true,
                       "beam": "none", "rough": 0.0});
    cases.add(
        ("interpolate", "crossing"),
        "never falls",
        input,
        json!(crossing(&even, &rising, 0.0, 0.5, true)),
    );
}

fn top(top: Option<Top>) -> Value {
    json!(top.map(|t| json!({"x": t.x, "y": t.y, "value": t.value, "residual": t.residual})))
}

fn tops_along_a_line(cases: &mut Cases) {
    for (name, count, offset, rough) in [
        ("parabola of 4", 4, 0.0, 0.02),
        ("parabola of 6", 6, 1e3, 0.01),
        ("fourth degree of 7", 7, 0.0, 0.01),
        ("fourth degree of 15, far from zero", 15, 5e4, 0.03),
        ("fourth degree of 40", 40, -2.0, 0.1),
        ("too few", 3, 0.0, 0.0),
    ] {
        let scatter = noise(count, 34);
        let points: Vec<(f64, f64)> = uneven(count, -1.0, 2.0 / count as f64, 0.4, 35)
            .into_iter()
            .zip(scatter)
            .map(|(u, n)| {
                (offset + 3.0 * u, 2.0 - (u - 0.1).powi(2) - 0.4 * (u - 0.1).powi(3) + rough * n)
            })
            .collect();
        cases.add(("quadratic", "top_1d"), name, json!({"points": points}), top(top_1d(&points)));
    }
    let rising: Vec<(f64, f64)> = (0..9).map(|i| (f64::from(i), f64::from(i).exp())).collect();
    cases.add(("quadratic", "top_1d"), "no top", json!({"points": rising}), top(top_1d(&rising)));
}

fn tops_over_a_plane(cases: &mut Cases) {
    for (name, nx, ny, offset, rough, tilt) in [
        ("even and odd", 4, 5, 0.0, 0.0, 0.5),
        ("noise", 7, 6, 0.0, 0.05, 0.5),
        ("far from zero, unequal steps", 5, 5, 4e3, 0.02, -0.8),
        ("a saddle", 5, 5, 0.0, 0.01, 4.0),
        ("too few", 2, 4, 0.0, 0.0, 0.5),
    ] {
        let (x, y) = (uneven(nx, -1.0, 0.45, 0.3, 36), uneven(ny, -1.0, 0.4, 0.3, 37));
        let scatter = noise(nx * ny, 38);
        let points: Vec<(f64, f64, f64)> = y
            .iter()
            .flat_map(|y| x.iter().map(move |x| (*x, *y)))
            .zip(scatter)
            .map(|((x, y), n)| {
                let (u, w) = (x - 0.12, y + 0.2);
                (offset + x, 10.0 * y, 4.0 - u * u - 1.5 * w * w + tilt * u * w + rough * n)
            })
            .collect();
        cases.add(("quadratic", "top_2d"), name, json!({"points": points}), top(top_2d(&points)));
    }
}
