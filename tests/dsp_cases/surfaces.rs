//! Cases of `contour`.

use focalsheet::dsp::contour::region;
use serde_json::{Value, json};

use super::cases::Cases;
use super::signals::{noise, uneven};

type Height<'a> = &'a dyn Fn(f64, f64) -> f64;
/// Name, coordinates, heights, level, deviation of the noise.
type Surface<'a> = (&'static str, Vec<f64>, Vec<f64>, Height<'a>, f64, f64);

pub fn add(cases: &mut Cases) {
    let even = |count: u32, step: f64| -> Vec<f64> {
        (0..count).map(|i| (f64::from(i) - f64::from(count - 1) / 2.0) * step).collect()
    };
    // Half axes at exp(−2), axes turned by 0.5 rad.
    let hill = |x: f64, y: f64, (a, b): (f64, f64)| {
        let (s, c) = 0.5f64.sin_cos();
        let (u, v) = (c * x + s * y, c * y - s * x);
        (-2.0 * ((u / a).powi(2) + (v / b).powi(2))).exp()
    };
    let level = 10f64.powf(-0.6);
    let round = |x: f64, y: f64| hill(x - 0.05, y + 0.03, (1.0, 1.0));
    let long = |x: f64, y: f64| hill(x, y, (2.0, 0.8));
    let two = |x: f64, y: f64| long(x, y) + 0.6 * hill(x - 3.0, y + 2.0, (0.5, 0.5));
    // A main lobe and side lobes above the level: rings of a beam.
    let rings = |x: f64, y: f64| {
        let r = 3.0 * x.hypot(y);
        (r.cos() * (-0.15 * r).exp()).powi(2)
    };
    let surfaces: [Surface<'_>; 8] = [
        ("circle, odd", even(41, 0.2), even(41, 0.2), &round, level, 0.0),
        ("circle, even", even(40, 0.2), even(30, 0.25), &round, level, 0.0),
        ("ellipse", even(51, 0.17), even(49, 0.15), &long, level, 0.0),
        (
            "ellipse, uneven steps",
            uneven(45, -4.3, 0.19, 0.4, 50),
            uneven(41, -3.6, 0.18, 0.4, 51),
            &long,
            level,
            0.0,
        ),
        ("noise", even(51, 0.17), even(49, 0.15), &long, level, 0.01),
        ("an island", even(61, 0.17), even(59, 0.15), &two, level, 0.0),
        ("rings", even(61, 0.1), even(61, 0.1), &rings, 0.3, 0.0),
        ("cut by the edge", even(15, 0.2), even(41, 0.2), &long, level, 0.0),
    ];
    for (name, x, y, value, level, rough) in surfaces {
        let scatter = noise(x.len() * y.len(), 52);
        let values: Vec<f64> = y
            .iter()
            .flat_map(|y| x.iter().map(move |x| (*x, *y)))
            .zip(scatter)
            .map(|((x, y), n)| value(x, y) + rough * n)
            .collect();
        let best = (0..values.len()).max_by(|a, b| values[*a].total_cmp(&values[*b])).unwrap_or(0);
        let seed = (best / x.len(), best % x.len());
        let made = region(&x, &y, &values, level, seed);
        let input = json!({"x": x, "y": y, "values": values, "level": level, "seed": seed});
        let output: Value = json!(made.map(|r| json!({
            "area": r.area, "at_edge": r.at_edge, "islands": r.islands, "inside": r.inside})));
        cases.add(("contour", "region"), name, input, output);
    }
    let flat = vec![1.0; 9];
    let three = vec![0.0, 1.0, 2.0];
    let input = json!({"x": three, "y": three, "values": flat, "level": 2.0, "seed": [1, 1]});
    let made = region(&three, &three, &flat, 2.0, (1, 1)).map(|r| r.area);
    cases.add(("contour", "region"), "below the level", input, json!(made));
}
