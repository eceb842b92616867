//! `bandwidth` and the −3 dB points from which `f_awf_mean` follows.

use crate::dsp::filter::{fast_length, spectrum};

/// Least number of frequency bins across the −3 dB band after zero padding.
const PADDING: usize = 16;

/// The −3 dB points f1, f2 of the pressure spectrum of the window, Hz: where the amplitude is
/// 10^(−3/20) of its maximum, searched outward from the maximum nearest the fundamental and below
/// three times f1. `None` when the spectrum does not fall so far.
///
/// # References
/// IEC 62127-1 (bandwidth; definition from memory). The exact −3.000 dB ratio is used, not half power
/// (0.17 % apart for a Gaussian pulse).
pub fn minus_3_db_points_hz(
    p: &[f64],
    window: (usize, usize),
    interval_s: f64,
    fundamental_hz: f64,
) -> Option<(f64, f64)> {
    let part = p.get(window.0..window.1.min(p.len()))?;
    let n = fast_length(part.len().max(64) * PADDING);
    let amplitude: Vec<f64> = spectrum(part, n)[..=n / 2].iter().map(|c| c.norm()).collect();
    let step = 1.0 / (n as f64 * interval_s);
    let bin = |f: f64| (f / step) as usize;
    let (low, high) = (bin(0.5 * fundamental_hz).max(1), bin(1.5 * fundamental_hz).min(n / 2));
    let top = (low..=high).max_by(|a, b| amplitude[*a].total_cmp(&amplitude[*b]))?;
    let level = amplitude[top] * 10f64.powf(-3.0 / 20.0);
    let cross = |inner: usize, outer: usize| {
        let t = (amplitude[inner] - level) / (amplitude[inner] - amplitude[outer]);
        (inner as f64 + t * (outer as f64 - inner as f64)) * step
    };
    let below = (1..=top).rev().find(|i| amplitude[*i - 1] < level)?;
    let f1 = cross(below, below - 1);
    let above = (top..n / 2)
        .take_while(|i| (*i as f64) * step < 3.0 * f1)
        .find(|i| amplitude[*i + 1] < level)?;
    Some((f1, cross(above, above + 1)))
}

/// Bandwidth f2 − f1, Hz.
pub fn bandwidth_hz(f1_hz: f64, f2_hz: f64) -> f64 {
    f2_hz - f1_hz
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Gaussian pulse τ = 1 µs at 3 MHz: 374139.53 Hz at exactly −3 dB, centred at 3 MHz (closed form).
    #[test]
    fn gaussian_pulse() {
        let dt = 1e-8;
        let p: Vec<f64> = (-600..600)
            .map(|i| {
                let t = f64::from(i) * dt;
                (-(t / 1e-6).powi(2)).exp() * (2.0 * std::f64::consts::PI * 3e6 * t).cos()
            })
            .collect();
        let (f1, f2) = minus_3_db_points_hz(&p, (0, p.len()), dt, 3e6).expect("some");
        assert!((bandwidth_hz(f1, f2) / 374_139.53 - 1.0).abs() < 1e-3, "{}", f2 - f1);
        assert!(
            (super::super::working_frequency::arithmetic_mean_hz(f1, f2) / 3e6 - 1.0).abs() < 1e-4
        );
    }
}
