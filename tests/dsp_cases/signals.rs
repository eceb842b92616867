//! Waveforms for the cases.

use std::f64::consts::{PI, TAU};

use focalsheet::dsp::noise::Noise;

/// A steepened burst: harmonics 1 … `harmonics` with amplitude k^(−1.4), `period` samples a cycle,
/// half-cosine ramps of two cycles, zero before and after.
pub fn burst(count: usize, start: f64, period: f64, cycles: f64, harmonics: u32) -> Vec<f64> {
    (0..count)
        .map(|n| {
            let u = (n as f64 - start) / period;
            let ramp = |v: f64| 0.5 - 0.5 * (PI * (v / 2.0).clamp(0.0, 1.0)).cos();
            let wave: f64 = (1..=harmonics)
                .map(|k| (TAU * f64::from(k) * u + 0.3).sin() / f64::from(k).powf(1.4))
                .sum();
            ramp(u) * ramp(cycles - u) * wave
        })
        .collect()
}

/// The waveform with normal noise and an offset.
pub fn noisy(mut waveform: Vec<f64>, deviation: f64, offset: f64, seed: u64) -> Vec<f64> {
    let mut noise = Noise::new(seed);
    for v in &mut waveform {
        *v += offset + deviation * noise.next();
    }
    waveform
}

/// Normal noise alone.
pub fn noise(count: usize, seed: u64) -> Vec<f64> {
    noisy(vec![0.0; count], 1.0, 0.0, seed)
}

/// Gaussian pulse exp(−((n − at)/width)²) cos(2π (n − at)/period).
pub fn pulse(count: usize, at: f64, width: f64, period: f64) -> Vec<f64> {
    (0..count)
        .map(|n| {
            let u = n as f64 - at;
            (-(u / width).powi(2)).exp() * (TAU * u / period).cos()
        })
        .collect()
}

/// Rising coordinates with steps that vary by up to `share`.
pub fn uneven(count: usize, from: f64, step: f64, share: f64, seed: u64) -> Vec<f64> {
    let mut noise = Noise::new(seed);
    let mut at = from;
    (0..count)
        .map(|_| {
            let here = at;
            at += step * (1.0 + share * noise.next().clamp(-1.0, 1.0));
            here
        })
        .collect()
}
