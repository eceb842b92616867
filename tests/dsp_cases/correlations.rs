//! Cases of `correlation`.

use focalsheet::dsp::correlation::Correlation;
use focalsheet::dsp::noise::Noise;
use serde_json::json;

use super::cases::Cases;
use super::signals::{noise, uneven};

/// Kind, and length where it has one.
fn kinds() -> Vec<(String, Correlation, Option<f64>)> {
    let mut all = vec![
        ("common".to_owned(), Correlation::Common, None),
        ("independent".to_owned(), Correlation::Independent, None),
    ];
    for length in [1e-3, 0.4, 3.0, 1e4] {
        let name = format!("exponential, {length}");
        all.push((name, Correlation::Exponential(length), Some(length)));
    }
    all
}

pub fn add(cases: &mut Cases) {
    forms(cases);
    draws(cases);
}

/// Places at even and uneven steps, one, none; terms of both signs and of one.
fn forms(cases: &mut Cases) {
    let rows = |count: usize, seed: u64| -> (Vec<f64>, Vec<f64>) {
        (noise(count, seed), noise(count, seed + 1).iter().map(|v| 5.0 + v).collect())
    };
    for (places, x, (a, b)) in [
        ("even steps", (0..300).map(|i| 0.05 * f64::from(i)).collect(), rows(300, 80)),
        ("uneven steps, far from zero", uneven(301, 1e3, 0.2, 0.7, 82), rows(301, 83)),
        ("the same place twice", vec![1.0, 2.0, 2.0, 2.5], rows(4, 85)),
        ("one", vec![2.5], rows(1, 87)),
        ("none", vec![], rows(0, 89)),
    ] {
        for (kind, correlation, length) in kinds() {
            for (terms, a, b) in [("mixed", &a, &b), ("one sum", &b, &b)] {
                let made = correlation.bilinear(&x, a, b);
                let input = json!({"x": x, "a": a, "b": b, "kind": kind, "length": length});
                let name = format!("{places}, {kind}, {terms}");
                cases.add(("correlation", "bilinear"), name, input, json!(made));
            }
        }
    }
}

/// Draws in a row from one source, and the numbers that this source gives.
fn draws(cases: &mut Cases) {
    const SEED: u64 = 91;
    let x = uneven(5, -2.0, 0.5, 0.6, 90);
    for (count, many) in [("few", 40), ("many", 1500)] {
        for (kind, correlation, length) in kinds() {
            let mut source = Noise::new(SEED);
            let mut out = vec![0.0; x.len()];
            let drawn: Vec<Vec<f64>> = (0..many)
                .map(|_| {
                    correlation.draw(&x, &mut source, &mut out);
                    out.clone()
                })
                .collect();
            let mut source = Noise::new(SEED);
            let numbers: Vec<f64> = (0..many * x.len()).map(|_| source.next()).collect();
            let input = json!({"x": x, "kind": kind, "length": length, "numbers": numbers});
            let name = format!("{count}, {kind}");
            cases.add(("correlation", "draw"), name, input, json!(drawn));
        }
    }
}
