//! Cases of `tones`, `synthesis`, `envelope` and `onset`.

use std::f64::consts::TAU;

use focalsheet::dsp::envelope::largest;
use focalsheet::dsp::filter::spectrum;
use focalsheet::dsp::onset::half_rise;
use focalsheet::dsp::synthesis::PairSynthesis;
use focalsheet::dsp::tones::Tones;
use rustfft::num_complex::Complex;
use serde_json::{Value, json};

use super::cases::{Cases, complex, narrow};
use super::signals::{burst, noise, noisy, pulse};

pub fn add(cases: &mut Cases) {
    tones(cases);
    amplitudes(cases);
    syntheses(cases);
    envelopes(cases);
    onsets(cases);
}

fn tones(cases: &mut Cases) {
    let wave = noisy(burst(3001, 400.3, 66.7, 30.0, 6), 0.02, 0.4, 60);
    let long = noisy(burst(20_000, 500.0, 41.3, 440.0, 3), 0.1, -3.0, 61);
    let harmonics: Vec<f64> = (1..=10).map(|k| f64::from(k) / 66.7).collect();
    // Zero, Nyquist's and beyond it, below zero, no bin's.
    let odd = vec![0.0, 0.5, 0.77, -0.02, 0.123_456_789, 1.0];
    for (name, wave, start, stop, frequencies) in [
        ("harmonics", &wave, 500, 2200, harmonics.clone()),
        ("no whole block", &wave, 501, 2207, harmonics.clone()),
        ("less than a block", &wave, 77, 90, harmonics.clone()),
        ("frequencies of all kinds", &wave, 3, 3001, odd),
        ("long, far from its start", &long, 1234, 19_000, vec![1.0 / 41.3, 3.0 / 41.3, 0.2]),
        ("beyond the end", &wave, 2900, 9000, harmonics.clone()),
        ("starts beyond the end", &wave, 4000, 5000, vec![0.1]),
        ("turned about", &wave, 900, 800, vec![0.1]),
        ("no frequency", &wave, 0, 3001, vec![]),
    ] {
        let input = |wave: &[f64], bits: u32| {
            json!({"waveform": wave, "start": start, "stop": stop, "frequencies": frequencies,
                   "bits": bits})
        };
        let made = Tones::<f64>::new(frequencies.clone()).transforms(wave, start, stop);
        cases.add(("tones", "transforms"), name, input(wave, 64), complex(&made));
        if !["harmonics", "no whole block", "long, far from its start"].contains(&name) {
            continue;
        }
        let (single, wide) = narrow(wave);
        let made = Tones::<f32>::new(frequencies.clone()).transforms(&single, start, stop);
        let name = format!("{name}, single precision");
        cases.add(("tones", "transforms"), name, input(&wide, 32), complex(&made));
    }
}

/// Whole cycles within the flat part of a burst, and windows to refuse.
fn amplitudes(cases: &mut Cases) {
    let wave = noisy(burst(3001, 400.3, 66.7, 30.0, 6), 0.02, 0.4, 62);
    let long = noisy(burst(12_000, 500.0, 41.3, 270.0, 3), 0.05, -1.0, 63);
    for (name, wave, period, a, b) in [
        ("20 cycles", &wave, 66.7, 640.25, 640.25 + 20.0 * 66.7),
        ("ends on samples", &wave, 66.7, 667.0, 667.0 + 10.0 * 66.7),
        ("to the last sample", &wave, 66.7, 3000.0 - 667.0, 3000.0),
        ("from the first sample", &wave, 66.7, 0.0, 667.0),
        ("long", &long, 41.3, 700.4, 700.4 + 260.0 * 41.3),
        ("within one interval", &wave, 66.7, 700.3, 700.7),
        ("over one sample", &wave, 66.7, 700.6, 701.2),
        ("before the start", &wave, 66.7, -0.25, 1333.75),
        ("beyond the end", &wave, 66.7, 2500.0, 3000.001),
        ("empty", &wave, 66.7, 800.0, 800.0),
        ("turned about", &wave, 66.7, 900.0, 800.0),
    ] {
        let frequencies: Vec<f64> = (1..=10).map(|k| f64::from(k) / period).collect();
        let input = |wave: &[f64], bits: u32| json!({"waveform": wave, "a": a, "b": b, "frequencies": frequencies, "bits": bits});
        let made = Tones::<f64>::new(frequencies.clone()).amplitudes(wave, a, b);
        let made: Value = json!(made.map(|made| complex(&made)));
        cases.add(("tones", "amplitudes"), name, input(wave, 64), made);
        if !["20 cycles", "long", "within one interval", "beyond the end"].contains(&name) {
            continue;
        }
        let (single, wide) = narrow(wave);
        let made = Tones::<f32>::new(frequencies.clone()).amplitudes(&single, a, b);
        let made: Value = json!(made.map(|made| complex(&made)));
        let name = format!("{name}, single precision");
        cases.add(("tones", "amplitudes"), name, input(&wide, 32), made);
    }
}

fn some_spectrum(count: usize, seed: u64) -> Vec<Complex<f64>> {
    let (re, im) = (noise(count, seed), noise(count, seed + 1));
    re.into_iter().zip(im).map(|(re, im)| Complex::new(re, im)).collect()
}

/// One synthesis serves all the pairs of its length.
fn syntheses(cases: &mut Cases) {
    for (length, n) in [
        ("two", 2usize),
        ("a power of two", 2048),
        ("2 and 3", 1944),
        ("twice a prime", 2018),
        ("long", 10_000),
    ] {
        let mut synthesis = PairSynthesis::new(n);
        let full = n / 2 + 1;
        let loud: Vec<Complex<f64>> = some_spectrum(full, 66).iter().map(|v| v * 1e3).collect();
        let quiet = some_spectrum(full, 68);
        let some = some_spectrum(full.div_ceil(3), 70);
        let more = some_spectrum(full + 5, 72);
        for (name, first, second, samples) in [
            ("whole", &loud, &quiet, (n, n)),
            ("of unequal length", &some, &quiet, (n, n / 2)),
            ("beyond n/2", &quiet, &more, (n / 3, n)),
            ("more slots than samples", &quiet, &some, (n + 3, 0)),
            ("second empty", &quiet, &vec![], (n, n)),
        ] {
            let (mut a, mut b) = (vec![-7.0; samples.0], vec![-7.0; samples.1]);
            synthesis.run(first, second, (&mut a, &mut b));
            let input = json!({"n": n, "first": complex(first), "second": complex(second),
                               "samples": [samples.0, samples.1], "before": -7.0});
            cases.add(("synthesis", "run"), format!("{length}, {name}"), input, json!([a, b]));
        }
        let made = synthesis.one(&quiet);
        let input = json!({"n": n, "spectrum": complex(&quiet)});
        cases.add(("synthesis", "one"), length, input, json!(made));
    }
}

/// Bands of a spectrum, without zero frequency and half the rate, whose factor is another.
fn envelopes(cases: &mut Cases) {
    let n = 4096;
    let rich = noisy(burst(3000, 700.3, 33.7, 40.0, 9), 0.05, 0.2, 74);
    let hill: Vec<f64> = pulse(n, 1700.4, 150.0, 12.5)
        .iter()
        .zip(0..)
        .map(|(v, i)| 3.0 * v + 10.0 * (TAU * 0.03 * f64::from(i)).cos())
        .collect();
    let white = noise(3001, 75);
    for (name, wave, n, bins, window) in [
        ("fundamental", &rich, n, (80, 163), (0, 3000)),
        ("third harmonic", &rich, n, (304, 425), (900, 1800)),
        ("a window beside the burst", &rich, n, (80, 163), (2300, 3000)),
        ("Gaussian beside a tone", &hill, n, (250, 406), (0, n)),
        ("before the Gaussian's top", &hill, n, (250, 406), (800, 1500)),
        ("noise, one bin", &white, n, (700, 701), (10, 2999)),
        ("noise, odd band", &white, 3001, (333, 590), (0, 3001)),
        ("noise, nearly all", &white, 3456, (1, 1728), (0, 3001)),
        ("window beyond the end", &white, 3456, (100, 300), (3000, 9999)),
        ("empty band", &white, 3456, (100, 100), (0, 3000)),
        ("empty window", &white, 3456, (100, 300), (500, 500)),
    ] {
        let made = largest(&spectrum(wave, n)[bins.0..bins.1], n, window);
        let input = json!({"waveform": wave, "n": n, "low": bins.0, "high": bins.1,
                           "window": [window.0, window.1]});
        cases.add(("envelope", "largest"), name, input, json!(made));
    }
}

fn onsets(cases: &mut Cases) {
    // Ramps of two cycles: half the amplitude after one.
    let ramp = noisy(burst(3001, 800.3, 40.0, 30.0, 1), 0.002, 0.0, 76);
    let rich = noisy(burst(3001, 800.3, 33.7, 30.0, 9), 0.02, 0.1, 77);
    let slow = pulse(6000, 3000.7, 600.0, 20.0);
    let white = noise(2000, 78);
    for (name, wave, start, stop, period) in [
        ("ramp", &ramp, 0, 3001, 40.0),
        ("harmonics and noise", &rich, 0, 3001, 33.7),
        ("part", &rich, 601, 1507, 33.7),
        ("slow Gaussian", &slow, 0, 6000, 20.0),
        ("noise", &white, 100, 1900, 12.4),
        ("a period of less than half a sample", &white, 100, 1900, 0.3),
        ("sets in at once", &rich, 1000, 1700, 33.7),
        ("beyond the end", &rich, 500, 9000, 33.7),
        ("two periods", &rich, 800, 868, 33.7),
        ("shorter than two periods", &rich, 800, 867, 33.7),
        ("silence", &vec![0.0; 500], 0, 500, 20.0),
    ] {
        let made = half_rise(wave, start, stop, period);
        let input = json!({"waveform": wave, "start": start, "stop": stop, "period": period});
        cases.add(("onset", "half_rise"), name, input, json!(made));
    }
    let (single, wide) = narrow(&rich);
    let made = half_rise(&single, 0, 3001, 33.7);
    let input = json!({"waveform": wide, "start": 0, "stop": 3001, "period": 33.7});
    cases.add(("onset", "half_rise"), "single precision", input, json!(made));
}
