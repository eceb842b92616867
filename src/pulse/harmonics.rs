//! `p1`, `h2`, `h3`: amplitude of the fundamental, harmonics relative to it.

use rustfft::num_complex::Complex;

use crate::dsp::tone::{amplitude, transform_at};

/// Complex amplitude of the harmonic `n` over the steady window (whole cycles), Pa. `None` outside
/// the record.
///
/// # References
/// Fourier coefficient of the periodic waveform; harmonic amplitudes as in IEC 62127-1 (from memory).
pub fn in_steady_state<T: Copy + Into<f64>>(
    p: &[T],
    window: (f64, f64),
    interval_s: f64,
    frequency_hz: f64,
    n: u32,
) -> Option<Complex<f64>> {
    amplitude(p, window.0, window.1, interval_s, f64::from(n) * frequency_hz)
}

/// Complex amplitude of the harmonic `n` of a whole pulse: 2/t_d ∫ p exp(−jωt) dt, Pa. It equals the
/// amplitude of a burst of constant amplitude; of other pulses it is a definition of ours, so stated.
pub fn of_whole_pulse<T: Copy + Into<f64>>(
    p: &[T],
    window: (usize, usize),
    interval_s: f64,
    frequency_hz: f64,
    n: u32,
    pulse_duration_s: f64,
) -> Complex<f64> {
    let sum = transform_at(p, window.0, window.1, interval_s, f64::from(n) * frequency_hz);
    sum * (2.0 * interval_s / pulse_duration_s)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    /// Fubini amplitudes at σ = 0.5: B1 0.96907, B2 0.22981, B3 0.08129 (D. T. Blackstock, J. Acoust.
    /// Soc. Am. 39 (1966) 1019; values by mpmath from 2 J_n(nσ)/(nσ)).
    #[test]
    fn fubini() {
        let b = [0.969_073_830_7, 0.229_806_969_863_8, 0.081_285_268_188];
        let (f, dt) = (1e6, 1e-8);
        let p: Vec<f64> = (0..3000)
            .map(|i| {
                let th = 2.0 * PI * f * dt * f64::from(i);
                b.iter().enumerate().map(|(k, a)| a * ((k + 1) as f64 * th).sin()).sum()
            })
            .collect();
        let window = (512.0, 512.0 + 2000.0);
        let one = in_steady_state(&p, window, dt, f, 1).expect("inside").norm();
        for (n, expected) in (1u32..).zip(b) {
            let a = in_steady_state(&p, window, dt, f, n).expect("inside").norm();
            assert!((a / one - expected / b[0]).abs() < 1e-4);
        }
    }

    /// A burst of ten cycles and amplitude 1: exactly 1 by the whole-pulse definition.
    #[test]
    fn whole_burst() {
        let (f, dt) = (1e6, 1e-8);
        let p: Vec<f64> = (0..1500)
            .map(|i| if i < 1000 { (2.0 * PI * f * dt * f64::from(i)).sin() } else { 0.0 })
            .collect();
        assert!((of_whole_pulse(&p, (0, 1500), dt, f, 1, 10e-6).norm() - 1.0).abs() < 1e-3);
    }
}
