//! Cases of `minimum_phase`.

use std::f64::consts::TAU;

use focalsheet::dsp::minimum_phase::{MinimumPhase, grid_for, of_table};
use serde_json::json;

use super::cases::Cases;
use super::signals::{noise, uneven};

pub fn add(cases: &mut Cases) {
    analytic(cases);
    digital(cases);
    tables(cases);
}

fn spread(low: f64, high: f64, count: u32) -> Vec<f64> {
    (0..count).map(|i| low * (high / low).powf(f64::from(i) / f64::from(count - 1))).collect()
}

/// Magnitudes with a closed form and their filters' names.
fn analytic(cases: &mut Cases) {
    let at = spread(2e4, 60e6, 120);
    // A logarithm has no value at infinity: constant from 1 THz on.
    let butterworth = |f: f64| -0.5 * (f.min(1e12) / 20e6).powi(10).ln_1p();
    let made = MinimumPhase::new(butterworth, 5e6, 1 << 18);
    let phases: Vec<f64> = at.iter().map(|f| made.at(*f)).collect();
    let input = json!({"filter": "Butterworth", "order": 5, "cutoff_hz": 20e6, "at": at});
    cases.add(("minimum_phase", "at"), "Butterworth of order 5", input, json!(phases));
    cases.add(("minimum_phase", "points"), "2^18", json!({"n": 1 << 18}), json!(made.points()));

    let (f0, q) = (12e6, 3.0);
    let resonance = |f: f64| {
        let r = f.min(1e12) / f0;
        -(1.0 - r * r).hypot(r / q).ln()
    };
    let made = MinimumPhase::new(resonance, 4e6, 1 << 18);
    let both: Vec<f64> = at.iter().flat_map(|f| [*f, -*f]).collect();
    let phases: Vec<f64> = both.iter().map(|f| made.at(*f)).collect();
    let input = json!({"filter": "resonance", "f0_hz": f0, "q": q, "at": both});
    cases.add(("minimum_phase", "at"), "resonance", input, json!(phases));
}

/// A filter of taps, taken to the grid by the bilinear map: ω = 2 atan(f/c).
fn digital(cases: &mut Cases) {
    let mut taps: Vec<f64> = noise(41, 40)
        .iter()
        .zip(-20..)
        .map(|(v, k)| 0.3 * v * (-0.03 * f64::from(k * k)).exp())
        .collect();
    taps[20] += 3.0;
    // Even about its middle: a linear phase, of which the minimum phase is the counterpart.
    for k in 0..20 {
        taps[40 - k] = taps[k];
    }
    let log = |f: f64| {
        let w = 2.0 * (f / 1e6).atan();
        let (re, im) = taps.iter().zip(0..).fold((0.0, 0.0), |(re, im), (h, k)| {
            let angle = w * f64::from(k);
            (re + h * angle.cos(), im - h * angle.sin())
        });
        re.hypot(im).ln()
    };
    let made = MinimumPhase::new(log, 1e6, 1 << 15);
    let at = spread(1e4, 1e8, 200);
    let phases: Vec<f64> = at.iter().map(|f| made.at(*f)).collect();
    let input = json!({"taps": taps, "centre_hz": 1e6, "at": at});
    cases.add(("minimum_phase", "at"), "taps", input, json!(phases));
}

fn tables(cases: &mut Cases) {
    let wavy: Vec<f64> = uneven(60, 0.5e6, 0.6e6, 0.5, 41);
    let wavy_m: Vec<f64> = wavy
        .iter()
        .map(|f| {
            let r = f / 25e6;
            40.0 * (1.0 + 0.1 * (TAU * f / 9e6).sin()) / (1.0 - r * r).hypot(0.4 * r)
        })
        .collect();
    let few = vec![1e6, 3e6, 5e6, 10e6, 15e6, 20e6];
    let few_m = vec![50.0, 52.0, 55.0, 48.0, 30.0, 22.0];
    let fine = (0..=2000).map(|i| 0.05e6 * f64::from(i)).collect::<Vec<f64>>();
    let fine_m: Vec<f64> = fine.iter().map(|f| 50.0 / (1.0 + (f / 30e6).powi(4)).sqrt()).collect();
    for (name, f, m) in
        [("uneven", wavy, wavy_m), ("few rows", few, few_m), ("fine, from zero", fine, fine_m)]
    {
        let (centre, n) = grid_for(&f);
        let input = json!({"frequency_hz": f});
        cases.add(("minimum_phase", "grid_for"), name, input, json!({"centre_hz": centre, "n": n}));
        let highest = f[f.len() - 1];
        let at = spread(0.02 * highest, 1.3 * highest, 80);
        let phases =
            of_table(&f, &m).map(|made| at.iter().map(|f| made.at(*f)).collect::<Vec<f64>>());
        let input = json!({"frequency_hz": f, "magnitude": m, "at": at});
        cases.add(("minimum_phase", "of_table"), name, input, json!(phases));
    }
    let input = json!({"frequency_hz": [1e6, 2e6, 3e6], "magnitude": [1.0, 0.0, 1.0], "at": []});
    let refused = of_table(&[1e6, 2e6, 3e6], &[1.0, 0.0, 1.0]).map(|made| made.points());
    cases.add(("minimum_phase", "of_table"), "a null", input, json!(refused));
}
