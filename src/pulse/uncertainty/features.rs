//! The features of a waveform whose uncertainty is told: pc, pr and ppsi, and how they change with
//! the pressure at each instant.

use rustfft::num_complex::Complex;

use crate::dsp::energy::square_integral;
use crate::dsp::extremum::Interpolator;
use crate::dsp::filter::spectrum;
use crate::pulse::peak_pressure;

/// Number of features.
pub const COUNT: usize = 3;
/// Their ids and units, in the order of all arrays below.
pub const FEATURES: [(&str, &str); COUNT] = [("pc", "Pa"), ("pr", "Pa"), ("ppsi", "Pa2 s")];
/// Transforms of the features' gradients.
pub type Gradients = [Vec<Complex<f64>>; COUNT];
/// Place of ppsi among them.
pub const PPSI: usize = 2;

/// Values of the features of a waveform within a window; `None` for an empty window.
pub fn values(
    p: &[f64],
    window: (usize, usize),
    interval_s: f64,
    between: &Interpolator,
) -> Option<[f64; COUNT]> {
    let (pc, _) = peak_pressure::compressional(p, window, between)?;
    let (pr, _) = peak_pressure::rarefactional(p, window, between)?;
    Some([pc, pr, square_integral(p, window.0, window.1, interval_s)])
}

/// Transforms (one-sided, of length n) of q(t) = ∂y/∂p(t) of each feature.
///
/// An extremum is stationary in time, so that its derivative is that of the band-limited waveform at
/// its instant τ: Q(k) = ± exp(−2πi kτ/n). For ∫p² it is 2 p(t) Δt inside the window.
pub fn gradients(
    p: &[f64],
    window: (usize, usize),
    interval_s: f64,
    between: &Interpolator,
    n: usize,
) -> Option<Gradients> {
    let (_, at_pc) = peak_pressure::compressional(p, window, between)?;
    let (_, at_pr) = peak_pressure::rarefactional(p, window, between)?;
    let inside = |(i, p): (usize, &f64)| {
        if (window.0..window.1).contains(&i) { 2.0 * p * interval_s } else { 0.0 }
    };
    let q: Vec<f64> = p.iter().enumerate().map(inside).collect();
    let mut of_square = spectrum(&q, n);
    of_square.truncate(n / 2 + 1);
    Some([delta(at_pc, 1.0, n), delta(at_pr, -1.0, n), of_square])
}

/// Transform of a band-limited impulse at an instant, samples.
pub fn delta(at: f64, height: f64, n: usize) -> Vec<Complex<f64>> {
    let turn = -2.0 * std::f64::consts::PI * at / n as f64;
    let mut out: Vec<Complex<f64>> =
        (0..=n / 2).map(|k| Complex::from_polar(1.0, turn * k as f64) * height).collect();
    if let Some(last) = out.last_mut().filter(|_| n.is_multiple_of(2)) {
        *last = Complex::new(last.re, 0.0);
    }
    out
}
