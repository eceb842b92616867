//! Cases of `aligned`, `energy`, `extremum`, `statistics`, `tone` and `zero_crossings`.

use focalsheet::dsp::aligned::aligned_mean;
use focalsheet::dsp::energy::{fraction_times, square_integral};
use focalsheet::dsp::extremum::Interpolator;
use focalsheet::dsp::filter::{PairFilter, bin_frequencies};
use focalsheet::dsp::statistics::{mean, median, standard_deviation};
use focalsheet::dsp::tone::{amplitude, mean_square, transform_at};
use focalsheet::dsp::zero_crossings::zero_crossings;
use rustfft::num_complex::Complex;
use serde_json::json;

use super::cases::{Cases, complex, narrow};
use super::signals::{burst, noise, noisy, pulse};

pub fn add(cases: &mut Cases) {
    energies(cases);
    extrema(cases);
    tones(cases);
    means(cases);
    crossings(cases);
    means_of_waveforms(cases);
}

fn energies(cases: &mut Cases) {
    let wave = noisy(burst(2001, 300.5, 66.7, 20.0, 10), 0.01, 0.0, 10);
    let long = noisy(vec![0.0; 60_000], 1e-3, 1e3, 11);
    for (name, wave, start, stop) in [
        ("whole", &wave, 0, 2001),
        ("part", &wave, 311, 1503),
        ("beyond the end", &wave, 1990, 5000),
        ("nothing", &wave, 700, 700),
        ("turned about", &wave, 900, 800),
        ("long with an offset", &long, 1, 59_998),
    ] {
        let made = square_integral(wave, start, stop, 5e-9);
        let input = json!({"waveform": wave, "start": start, "stop": stop, "interval": 5e-9});
        cases.add(("energy", "square_integral"), name, input, json!(made));
    }
    let (single, wide) = narrow(&wave);
    cases.add(
        ("energy", "square_integral"),
        "single precision",
        json!({"waveform": wide, "start": 0, "stop": 2001, "interval": 5e-9}),
        json!(square_integral(&single, 0, 2001, 5e-9)),
    );
    let fractions = [0.1, 0.5, 0.9];
    let gauss = pulse(4000, 2000.0, 200.0, 66.7);
    for (name, wave, start, stop, power) in [
        ("noisy burst", &wave, 250, 1700, 0.0),
        ("less its noise", &wave, 250, 1700, 1e-4),
        ("Gaussian pulse", &gauss, 0, 4000, 0.0),
        ("odd part", &gauss, 1601, 2302, 1e-5),
        ("more noise than signal", &wave, 250, 1700, 10.0),
        ("beyond the end", &wave, 250, 9000, 0.0),
    ] {
        let made = fraction_times(wave, start, stop, power, &fractions);
        let input = json!({"waveform": wave, "start": start, "stop": stop, "noise_power": power,
                           "fractions": fractions});
        cases.add(("energy", "fraction_times"), name, input, json!(made));
    }
}

/// Keeps what lies below 0.72 of the Nyquist frequency, as white noise never is after calibration.
fn band_limited(waveform: &[f64]) -> Vec<f64> {
    let n = 2 * waveform.len().next_power_of_two();
    let response: Vec<Complex<f64>> = bin_frequencies(n, 1.0)
        .take(n / 2 + 1)
        .map(|f| Complex::new(if f <= 0.36 { 1.0 } else { 0.0 }, 0.0))
        .collect();
    let mut out = waveform.to_vec();
    PairFilter::<f64>::new(n, &response).run(&mut out, &mut []);
    out
}

fn extrema(cases: &mut Cases) {
    let interpolator = Interpolator::new();
    let clean = burst(1501, 300.3, 33.7, 20.0, 11);
    let coarse = burst(600, 100.4, 7.3, 30.0, 2);
    let band = band_limited(&noisy(burst(2000, 400.7, 33.7, 25.0, 11), 0.02, 0.0, 12));
    let white = noisy(burst(1501, 300.3, 33.7, 20.0, 4), 0.02, 0.0, 13);
    let long = band_limited(&noisy(burst(40_000, 9000.0, 66.7, 300.0, 9), 0.01, 0.0, 14));
    let five = band_limited(&noisy(burst(1201, 100.4, 5.1, 150.0, 1), 0.1, 0.0, 22));
    let tone = pulse(401, 200.12, 40.0, 2.6);
    let offset: Vec<f64> = clean.iter().map(|v| 0.01 * v - 5.0).collect();
    for (name, wave, start, stop) in [
        ("steepened burst", &clean, 0, 1501),
        ("four samples a cycle of its second harmonic", &coarse, 0, 600),
        ("noise in its band", &band, 0, 2000),
        ("white noise", &white, 0, 1501),
        ("long", &long, 0, 40_000),
        ("five samples a cycle", &five, 0, 1201),
        ("part", &clean, 310, 700),
        ("on an offset", &offset, 100, 1400),
    ] {
        for sign in [1.0, -1.0] {
            let made = interpolator.maximum(wave, start, stop, sign);
            let input = json!({"waveform": wave, "start": start, "stop": stop, "sign": sign});
            cases.add(("extremum", "maximum"), name, input, json!(made));
        }
    }
    // Its largest cycle shows in its samples; see the routine.
    cases.add(
        ("extremum", "maximum"),
        "0.77 of Nyquist",
        json!({"waveform": tone, "start": 0, "stop": 401, "sign": 1.0}),
        json!(interpolator.maximum(&tone, 0, 401, 1.0)),
    );
    let (single, wide) = narrow(&band);
    cases.add(
        ("extremum", "maximum"),
        "noise in its band, single precision",
        json!({"waveform": wide, "start": 0, "stop": 2000, "sign": 1.0}),
        json!(interpolator.maximum(&single, 0, 2000, 1.0)),
    );
}

fn tones(cases: &mut Cases) {
    let wave = noisy(burst(3001, 400.3, 66.7, 30.0, 6), 0.02, 0.4, 15);
    let long = noisy(burst(50_000, 500.0, 41.3, 1100.0, 3), 0.1, -3.0, 16);
    let (single, wide) = narrow(&wave);
    for (name, wave, start, stop, frequency) in [
        ("fundamental", &wave, 500, 2200, 1.0 / 66.7),
        ("fifth harmonic", &wave, 501, 2203, 5.0 / 66.7),
        ("off every bin", &wave, 0, 3001, 0.123_456_789),
        ("zero", &wave, 7, 2900, 0.0),
        ("long, far from its start", &long, 1234, 49_000, 3.0 / 41.3),
        ("beyond the end", &wave, 2900, 9000, 0.02),
        ("nothing", &wave, 40, 40, 0.02),
    ] {
        let made = transform_at(wave, start, stop, 1.0, frequency);
        let input = json!({"waveform": wave, "start": start, "stop": stop, "interval": 1.0,
                           "frequency": frequency});
        cases.add(("tone", "transform_at"), name, input, complex(&[made]));
    }
    let made = transform_at(&single, 500, 2200, 1.0, 1.0 / 66.7);
    let input = json!({"waveform": wide, "start": 500, "stop": 2200, "interval": 1.0,
                       "frequency": 1.0 / 66.7});
    cases.add(("tone", "transform_at"), "single precision", input, complex(&[made]));

    // Whole cycles within the flat part; an interval in seconds.
    let interval = 5e-9;
    for (name, wave, period, a, cycles, harmonic) in [
        ("fundamental", &wave, 66.7, 640.25, 20.0, 1u32),
        ("second", &wave, 66.7, 640.25, 20.0, 2),
        ("third, ends on samples", &wave, 66.7, 667.0, 10.0, 3),
        ("long", &long, 41.3, 700.0, 1050.0, 1),
        ("within one interval", &wave, 66.7, 700.3, 0.006, 1),
        ("before the start", &wave, 66.7, -1.0, 20.0, 1),
        ("beyond the end", &wave, 66.7, 2500.0, 20.0, 1),
    ] {
        let b = a + cycles * period;
        let frequency = f64::from(harmonic) / (period * interval);
        let made = amplitude(wave, a, b, interval, frequency);
        let input = json!({"waveform": wave, "a": a, "b": b, "interval": interval,
                           "frequency": frequency, "harmonic": harmonic});
        cases.add(("tone", "amplitude"), name, input, json!(made.map(|c| [c.re, c.im])));
        let input = json!({"waveform": wave, "a": a, "b": b});
        cases.add(("tone", "mean_square"), name, input, json!(mean_square(wave, a, b)));
    }
}

fn means(cases: &mut Cases) {
    let lists: [(&str, Vec<f64>); 6] = [
        ("noise", noise(10_001, 17)),
        ("even number", noise(10_000, 18)),
        ("large offset", noisy(vec![0.0; 5000], 1e-3, 1e6, 19)),
        ("one", vec![3.25]),
        ("two", vec![3.25, -1.0]),
        ("none", vec![]),
    ];
    for (name, values) in &lists {
        let input = json!({"values": values});
        cases.add(("statistics", "mean"), *name, input.clone(), json!(mean(values)));
        let spread = standard_deviation(values);
        cases.add(("statistics", "standard_deviation"), *name, input.clone(), json!(spread));
        cases.add(("statistics", "median"), *name, input, json!(median(values)));
    }
    let mut gaps = noise(500, 20);
    (gaps[3], gaps[77], gaps[498]) = (f64::NAN, f64::INFINITY, f64::NEG_INFINITY);
    let kept: Vec<f64> = gaps.iter().copied().filter(|v| v.is_finite()).collect();
    cases.add(
        ("statistics", "median"),
        "not finite left out",
        json!({"values": kept}),
        json!(median(&gaps)),
    );
}

fn crossings(cases: &mut Cases) {
    let clean = burst(1501, 300.3, 33.7, 20.0, 3);
    let rough = noisy(clean.clone(), 0.02, 0.1, 21);
    // As a coarse converter stores them: many samples are exactly zero.
    let steps: Vec<f64> = rough.iter().map(|v| (v * 8.0).round()).collect();
    for (name, wave, start, stop) in [
        ("burst", &clean, 310, 960),
        ("noise and offset", &rough, 0, 1501),
        ("part", &rough, 401, 800),
        ("coarse steps", &steps, 0, 1501),
        ("beyond the end", &rough, 1400, 3000),
        ("one sample", &rough, 10, 11),
    ] {
        let made = zero_crossings(wave, start, stop);
        let input = json!({"waveform": wave, "start": start, "stop": stop});
        cases.add(("zero_crossings", "zero_crossings"), name, input, json!(made));
    }
}

/// Delays are whole multiples of 1/64 sample, so that a resampled waveform has them among its samples.
fn means_of_waveforms(cases: &mut Cases) {
    let delays = [0.0, 1.375, -12.5, 40.015_625, -0.984_375];
    for (name, count, deviation) in [("odd, noisy", 1201, 0.05), ("even", 800, 0.0)] {
        let waves: Vec<Vec<f64>> = (60u64..)
            .zip(delays)
            .map(|(seed, d)| noisy(burst(count, 150.3 + d, 33.7, 12.0, 5), deviation, 0.1, seed))
            .collect();
        let made = aligned_mean(&waves, &delays);
        let input = json!({"waveforms": waves, "delays": delays});
        cases.add(("aligned", "aligned_mean"), name, input, json!(made));
    }
    let empty = aligned_mean(&[], &[]);
    let input = json!({"waveforms": [], "delays": []});
    cases.add(("aligned", "aligned_mean"), "none", input, json!(empty));
}
