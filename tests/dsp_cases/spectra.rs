//! Cases of `filter`, `power_density` and `noise`.

use focalsheet::dsp::filter::{
    PairFilter, bin_frequencies, fast_length, impulse_response, spectrum,
};
use focalsheet::dsp::noise::Noise;
use focalsheet::dsp::power_density::PowerDensity;
use rustfft::num_complex::Complex;
use serde_json::json;

use super::cases::{Cases, complex, narrow};
use super::signals::{burst, noise, noisy};

pub fn add(cases: &mut Cases) {
    lengths(cases);
    transforms(cases);
    impulse_responses(cases);
    pairs(cases);
    densities(cases);
    let mut source = Noise::new(20_261_128);
    let numbers: Vec<f64> = (0..100_000).map(|_| source.next()).collect();
    cases.add(("noise", "next"), "many", json!({"seed": 20_261_128u64}), json!(numbers));
    let mut source = Noise::new(20_261_129);
    let numbers: Vec<f64> = (0..100_000).map(|_| source.next()).collect();
    cases.add(("noise", "next"), "next seed", json!({"seed": 20_261_129u64}), json!(numbers));
    let mut source = Noise::new(u64::MAX);
    let numbers: Vec<f64> = (0..1000).map(|_| source.next()).collect();
    cases.add(("noise", "next"), "greatest seed", json!({"seed": u64::MAX}), json!(numbers));
    let mut source = Noise::new(7);
    let numbers: Vec<f64> = (0..20_000).map(|_| source.uniform()).collect();
    cases.add(("noise", "uniform"), "many", json!({"seed": 7u64}), json!(numbers));
}

fn lengths(cases: &mut Cases) {
    let mut wanted: Vec<usize> = (0..3000).collect();
    wanted.extend([65_535, 65_536, 65_537, 1_000_003, 4_782_970, 30_000_001]);
    let found: Vec<usize> = wanted.iter().map(|n| fast_length(*n)).collect();
    cases.add(("filter", "fast_length"), "many", json!({"at_least": wanted}), json!(found));
    for (n, interval_s) in [(1, 1e-8), (2, 1e-8), (9, 2e-9), (12, 4e-9), (1501, 3.3e-9)] {
        cases.add(
            ("filter", "bin_frequencies"),
            format!("{n} bins"),
            json!({"n": n, "interval_s": interval_s}),
            json!(bin_frequencies(n, interval_s).collect::<Vec<f64>>()),
        );
    }
}

fn transforms(cases: &mut Cases) {
    let wave = noisy(burst(1501, 200.3, 33.7, 20.0, 12), 0.02, 0.3, 1);
    let long = noisy(burst(30_001, 5000.0, 66.7, 300.0, 8), 0.05, -2.0, 2);
    // Exact, padded with zeros, cut; odd, even, prime, of factors 2 and 3.
    for (name, wave, n) in [
        ("odd", &wave, 1501),
        ("padded", &wave, 2048),
        ("padded to 2 and 3", &wave, 1728),
        ("cut", &wave, 1000),
        ("prime", &wave, 1999),
        ("long", &long, 30_001),
    ] {
        let made = spectrum(wave, n);
        cases.add(("filter", "spectrum"), name, json!({"waveform": wave, "n": n}), complex(&made));
    }
}

fn densities(cases: &mut Cases) {
    let wave = noisy(burst(1501, 200.3, 33.7, 20.0, 12), 0.02, 0.3, 8);
    let long = noisy(burst(20_000, 0.0, 41.3, 480.0, 2), 0.001, -2.0, 9);
    let interval_s = 4e-9;
    // Odd, even, prime, of one sample, longer than the waveform.
    for (name, wave, n) in [
        ("odd", &wave, 1501),
        ("even", &wave, 1500),
        ("prime", &wave, 1499),
        ("long", &long, 20_000),
        ("two samples", &wave, 2),
        ("one sample", &wave, 1),
    ] {
        let mut made = PowerDensity::new(n, interval_s);
        let input = json!({"waveform": wave, "n": n, "interval_s": interval_s});
        cases.add(("power_density", "step_hz"), name, input.clone(), json!(made.step_hz()));
        made.density(&wave[..n / 2]);
        // Used again, nothing is left of the first.
        cases.add(("power_density", "density"), name, input, json!(made.density(wave)));
    }
}

/// A one-sided response that is not the transform of anything simple: resonance, delay, noise.
fn response(bins: usize, seed: u64) -> Vec<Complex<f64>> {
    let scatter = noise(2 * bins, seed);
    (0..bins)
        .map(|k| {
            let r = k as f64 / (0.3 * bins as f64);
            let resonance = Complex::new(1.0, 0.0) / Complex::new(1.0 - r * r, 0.4 * r);
            resonance * Complex::from_polar(1.0, -0.05 * k as f64)
                + Complex::new(0.01 * scatter[2 * k], 0.01 * scatter[2 * k + 1])
        })
        .collect()
}

fn impulse_responses(cases: &mut Cases) {
    for n in [2, 15, 16, 1001, 1728] {
        let response = response(n / 2 + 1, 3);
        let made = impulse_response(n, &response);
        cases.add(
            ("filter", "impulse_response"),
            format!("{n} samples"),
            json!({"n": n, "response": complex(&response)}),
            json!(made),
        );
    }
}

fn pairs(cases: &mut Cases) {
    let first = noisy(burst(1200, 150.2, 41.3, 18.0, 10), 0.03, 0.2, 4);
    let second = noisy(burst(1001, 300.0, 29.1, 12.0, 6), 0.1, -1.0, 5);
    let n = 2048;
    let any = response(n / 2 + 1, 6);
    let taps: Vec<f64> =
        noise(301, 7).iter().zip(0..).map(|(v, k)| v * (-0.02 * f64::from(k)).exp()).collect();
    let short = spectrum(&taps, n)[..=n / 2].to_vec();
    for (name, response, taps) in [("any response", &any, None), ("300 taps", &short, Some(&taps))]
    {
        let (mut a, mut b) = (first.clone(), second.clone());
        PairFilter::<f64>::new(n, response).run(&mut a, &mut b);
        cases.add(
            ("filter", "run"),
            name,
            json!({"n": n, "response": complex(response), "taps": taps,
                   "first": first, "second": second, "bits": 64}),
            json!([a, b]),
        );
        let ((mut a, wide_a), (mut b, wide_b)) = (narrow(&first), narrow(&second));
        PairFilter::<f32>::new(n, response).run(&mut a, &mut b);
        cases.add(
            ("filter", "run"),
            format!("{name}, single precision"),
            json!({"n": n, "response": complex(response), "taps": taps,
                   "first": wide_a, "second": wide_b, "bits": 32}),
            json!([a, b]),
        );
    }
    // Used again, the filter has forgotten what it filtered before; an empty second one is allowed.
    let mut filter = PairFilter::<f64>::new(n, &any);
    filter.run(&mut first.clone(), &mut second.clone());
    let (mut a, mut b) = (second.clone(), Vec::new());
    filter.run(&mut a, &mut b);
    cases.add(
        ("filter", "run"),
        "second use, alone",
        json!({"n": n, "response": complex(&any), "first": second, "second": [], "bits": 64}),
        json!([a, b]),
    );
}
