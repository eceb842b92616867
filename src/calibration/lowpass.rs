//! The low-pass that keeps the division by a small response from blowing up noise.

use rustfft::num_complex::Complex;
use serde::{Deserialize, Serialize};

use crate::record::LowPassKind;

/// Width of the cosine roll-off relative to its start.
pub const COSINE_ROLL_OFF: f64 = 0.25;

/// A low-pass as used, printed on the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct LowPassShape {
    pub kind: LowPassKind,
    /// Number of poles; unused by the cosine.
    pub order: u32,
    /// Hz.
    pub cutoff_hz: f64,
}

/// Value of the low-pass at a frequency.
///
/// `one-pole`: 1/(1 + jf/f_c)^n. `cosine`: zero phase, one up to f_c, then half a cosine down to
/// zero at 1.25 f_c.
pub fn lowpass_at(shape: &LowPassShape, frequency_hz: f64) -> Complex<f64> {
    let f = frequency_hz.abs();
    match shape.kind {
        LowPassKind::OnePole => {
            let pole = Complex::new(1.0, frequency_hz / shape.cutoff_hz);
            pole.powu(shape.order.max(1)).inv()
        }
        LowPassKind::Cosine => {
            let t = (f / shape.cutoff_hz - 1.0) / COSINE_ROLL_OFF;
            Complex::new(0.5 * (1.0 + (std::f64::consts::PI * t.clamp(0.0, 1.0)).cos()), 0.0)
        }
    }
}

/// Bandwidth of an ideal low-pass that passes as much white noise: ∫|L(f)|² df up to the Nyquist
/// frequency, Hz.
pub fn noise_band_hz(shape: &LowPassShape, nyquist_hz: f64) -> f64 {
    const STEPS: usize = 2000;
    let step = nyquist_hz / STEPS as f64;
    let power = |i: usize| lowpass_at(shape, (i as f64 + 0.5) * step).norm_sqr();
    (0..STEPS).map(power).sum::<f64>() * step
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shapes() {
        let pole = LowPassShape { kind: LowPassKind::OnePole, order: 2, cutoff_hz: 80e6 };
        // |1/(1+j)²| = 1/2, phase −90°.
        let at = lowpass_at(&pole, 80e6);
        assert!((at - Complex::new(0.0, -0.5)).norm() < 1e-15);
        assert!((lowpass_at(&pole, -80e6) - at.conj()).norm() < 1e-15);
        let cosine = LowPassShape { kind: LowPassKind::Cosine, order: 0, cutoff_hz: 10e6 };
        assert_eq!(lowpass_at(&cosine, 10e6).re, 1.0);
        assert!((lowpass_at(&cosine, 11.25e6).re - 0.5).abs() < 1e-15);
        assert!(lowpass_at(&cosine, -13e6).re.abs() < 1e-15);
    }

    /// ∫ of a one-pole low-pass to infinity is (π/2) f_c; of the cosine f_c (1 + 0.25 · 3/8).
    #[test]
    fn noise_bands() {
        let pole = LowPassShape { kind: LowPassKind::OnePole, order: 1, cutoff_hz: 1e6 };
        let found = noise_band_hz(&pole, 1e9);
        // Up to 1000 f_c, f_c (π/2 − 1/1000).
        assert!((found / 1e6 - (std::f64::consts::FRAC_PI_2 - 1e-3)).abs() < 5e-3, "{found}");
        let cosine = LowPassShape { kind: LowPassKind::Cosine, order: 1, cutoff_hz: 1e6 };
        assert!((noise_band_hz(&cosine, 2e6) / 1e6 - (1.0 + 0.25 * 0.375)).abs() < 1e-3);
    }
}
