//! `ppsi`: pulse-pressure-squared integral.

use crate::dsp::energy::square_integral;

/// Σ p² Δt over the window, Pa² s, before the noise energy is subtracted.
///
/// # References
/// IEC 62127-1 (pulse-pressure-squared integral; definition from memory).
pub fn ppsi<T: Copy + Into<f64>>(p: &[T], window: (usize, usize), interval_s: f64) -> f64 {
    square_integral(p, window.0, window.1, interval_s)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// N cycles of A sin ωt: A² N/(2f) (closed form).
    #[test]
    fn sine_bursts() {
        let (f, dt) = (1e6, 1e-8);
        for (n, expected) in [(3.0, 1.5e6), (5.0, 2.5e6), (10.0, 5e6)] {
            let p: Vec<f64> = (0..4000)
                .map(|i| {
                    let t = f64::from(i) * dt - 1e-6;
                    if t >= 0.0 && t <= n / f {
                        1e6 * (2.0 * std::f64::consts::PI * f * t).sin()
                    } else {
                        0.0
                    }
                })
                .collect();
            assert!((ppsi(&p, (0, 4000), dt) / expected - 1.0).abs() < 1e-6);
        }
    }
}
