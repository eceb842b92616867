//! Amplitude and phase of a tone in a window.

use rustfft::num_complex::Complex;

/// Samples over which one table of phasors serves.
const BLOCK: usize = 64;
/// Independent partial sums, so that several samples are taken at once.
const LANES: usize = 4;

/// Σ x(n) exp(−jω t(n)) over the samples `start .. stop`, t(n) = n·interval: blocks of 64 samples
/// against one table of phasors, each block turned to its own place.
pub fn transform_at<T: Copy + Into<f64>>(
    waveform: &[T],
    start: usize,
    stop: usize,
    interval: f64,
    frequency: f64,
) -> Complex<f64> {
    let stop = stop.min(waveform.len());
    let part = waveform.get(start.min(stop)..stop).unwrap_or(&[]);
    let angle = -2.0 * std::f64::consts::PI * frequency * interval;
    let (cos, sin) = phasors(angle);
    let mut sum = Complex::new(0.0, 0.0);
    for (block, samples) in part.chunks(BLOCK).enumerate() {
        let inner = Complex::new(dot(samples, &cos), dot(samples, &sin));
        sum += inner * Complex::from_polar(1.0, angle * (start + block * BLOCK) as f64);
    }
    sum
}

/// Real and imaginary parts of exp(j k·angle), k = 0 … 63, by repeated turns.
fn phasors(angle: f64) -> ([f64; BLOCK], [f64; BLOCK]) {
    let turn = Complex::from_polar(1.0, angle);
    let mut phasor = Complex::new(1.0, 0.0);
    let (mut cos, mut sin) = ([0.0; BLOCK], [0.0; BLOCK]);
    for (c, s) in cos.iter_mut().zip(&mut sin) {
        (*c, *s) = (phasor.re, phasor.im);
        phasor *= turn;
    }
    (cos, sin)
}

/// Σ x·w over the shorter of the two, in independent partial sums.
fn dot<T: Copy + Into<f64>>(samples: &[T], weights: &[f64; BLOCK]) -> f64 {
    let mut lanes = [0.0f64; LANES];
    let whole = samples.len() / LANES * LANES;
    for (x, w) in samples.chunks_exact(LANES).zip(weights.chunks_exact(LANES)) {
        for ((lane, x), w) in lanes.iter_mut().zip(x).zip(w) {
            *lane += (*x).into() * w;
        }
    }
    let rest = samples.iter().zip(weights).skip(whole);
    lanes.iter().sum::<f64>() + rest.map(|(x, w)| (*x).into() * w).sum::<f64>()
}

/// Complex amplitude A of the tone A exp(jωt) in a window of whole cycles with fractional ends:
/// 2/(b − a) ∫ x(t) exp(−jωt) dt from `a` to `b` in samples, trapezoidal with the end values
/// interpolated linearly in the product.
pub fn amplitude<T: Copy + Into<f64>>(
    waveform: &[T],
    a: f64,
    b: f64,
    interval: f64,
    frequency: f64,
) -> Option<Complex<f64>> {
    if !(a >= 0.0 && b > a && b <= waveform.len() as f64 - 1.0) {
        return None;
    }
    let omega = 2.0 * std::f64::consts::PI * frequency * interval;
    let product = |i: usize| Complex::from_polar(1.0, -omega * i as f64) * waveform[i].into();
    Some(
        integral(
            product,
            a,
            b,
            transform_at(waveform, a.ceil() as usize, b.floor() as usize + 1, interval, frequency),
        ) * (2.0 / (b - a)),
    )
}

/// Mean square over a window with fractional ends, in samples.
pub fn mean_square<T: Copy + Into<f64>>(waveform: &[T], a: f64, b: f64) -> Option<f64> {
    if !(a >= 0.0 && b > a && b <= waveform.len() as f64 - 1.0) {
        return None;
    }
    let product = |i: usize| {
        let x: f64 = waveform[i].into();
        Complex::new(x * x, 0.0)
    };
    let sum =
        super::energy::square_integral(waveform, a.ceil() as usize, b.floor() as usize + 1, 1.0);
    Some(integral(product, a, b, Complex::new(sum, 0.0)).re / (b - a))
}

/// Trapezoidal integral from `a` to `b` given the plain sum of the samples between.
pub(super) fn integral(
    f: impl Fn(usize) -> Complex<f64>,
    a: f64,
    b: f64,
    sum: Complex<f64>,
) -> Complex<f64> {
    let (first, last) = (a.ceil() as usize, b.floor() as usize);
    if first > last {
        let i = a.floor() as usize;
        let t = 0.5 * (a + b) - i as f64;
        return (f(i) * (1.0 - t) + f(i + 1) * t) * (b - a);
    }
    let mut total = sum - (f(first) + f(last)) * 0.5;
    let head = first as f64 - a;
    if head > 0.0 && first > 0 {
        let edge = f(first - 1) * head + f(first) * (1.0 - head);
        total += (edge + f(first)) * (0.5 * head);
    }
    let tail = b - last as f64;
    if tail > 0.0 {
        let edge = f(last) * (1.0 - tail) + f(last + 1) * tail;
        total += (f(last) + edge) * (0.5 * tail);
    }
    total
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    /// Against the sum as it is written, over ranges that do and do not fill blocks.
    #[test]
    fn blocks_are_the_plain_sum() {
        let w: Vec<f64> = (0..500).map(|i| (f64::from(i * i % 101) * 0.1).sin()).collect();
        for (start, stop) in [(0, 500), (3, 64), (70, 391), (10, 10), (499, 600)] {
            let plain: Complex<f64> = (start..stop.min(500))
                .map(|i| Complex::from_polar(1.0, -2.0 * PI * 0.037 * i as f64) * w[i])
                .sum();
            assert!((transform_at(&w, start, stop, 1.0, 0.037) - plain).norm() < 1e-11);
        }
    }

    /// Two tones cos θ + 0.5 cos 2θ over whole cycles: amplitudes 1 and 0.5, mean square 0.625.
    #[test]
    fn two_tones() {
        let (interval, f) = (1e-8, 1.5e6);
        let w: Vec<f64> = (0..2000)
            .map(|i| {
                let th = 2.0 * PI * f * interval * f64::from(i) + 0.4;
                th.cos() + 0.5 * (2.0 * th).cos()
            })
            .collect();
        let period = 1.0 / (f * interval);
        let (a, b) = (101.3, 101.3 + 20.0 * period);
        let one = amplitude(&w, a, b, interval, f).expect("inside");
        let two = amplitude(&w, a, b, interval, 2.0 * f).expect("inside");
        assert!((one.norm() - 1.0).abs() < 1e-4 && (one.arg() - 0.4).abs() < 1e-4);
        assert!((two.norm() - 0.5).abs() < 1e-4 && (two.arg() - 0.8).abs() < 2e-4);
        assert!((mean_square(&w, a, b).expect("inside") - 0.625).abs() < 1e-4);
        assert_eq!(amplitude(&w, 1990.0, 2010.0, interval, f), None);
    }
}
