//! `td`: pulse duration.

use crate::dsp::energy::fraction_times;

/// 1.25 (t90 − t10), s: t10 and t90 are the instants at which the running integral of p², less the
/// noise power, reaches 10 % and 90 % of its end value. `None` where that integral is not positive.
///
/// # References
/// IEC 62127-1 and AIUM/NEMA UD 2 (pulse duration; definition from memory).
pub fn pulse_duration_s(
    p: &[f64],
    window: (usize, usize),
    noise_mean_square: f64,
    interval_s: f64,
) -> Option<f64> {
    let times = fraction_times(p, window.0, window.1, noise_mean_square, &[0.1, 0.9])?;
    Some(1.25 * (times[1] - times[0]) * interval_s)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    /// N cycles of a sine at 1 MHz: 3.06197554748, 5 and 10 µs (closed form).
    #[test]
    fn sine_bursts() {
        let (f, dt) = (1e6, 2e-9);
        for (n, expected) in [(3.0, 3.061_975_547_48e-6), (5.0, 5e-6), (10.0, 10e-6)] {
            let p: Vec<f64> = (0..6000)
                .map(|i| {
                    let t = f64::from(i) * dt - 0.5e-6;
                    if t >= 0.0 && t <= n / f { (2.0 * PI * f * t).sin() } else { 0.0 }
                })
                .collect();
            let td = pulse_duration_s(&p, (0, 6000), 0.0, dt).expect("some");
            // The running integral is flat where t10 and t90 stand: two sample intervals.
            assert!((td - expected).abs() < 2.0 * dt, "{n} {td}");
        }
    }

    /// Gaussian exp(−(t/τ)²) cos(2π f0 t), τ = 1 µs, f0 = 3 MHz: 1.63546656 µs (mpmath).
    #[test]
    fn gaussian_pulse() {
        let dt = 1e-9;
        let p: Vec<f64> = (-6000..6000)
            .map(|i| {
                let t = f64::from(i) * dt;
                (-(t / 1e-6).powi(2)).exp() * (2.0 * PI * 3e6 * t).cos()
            })
            .collect();
        let td = pulse_duration_s(&p, (0, 12000), 0.0, dt).expect("some");
        assert!((td - 1.635_466_560_19e-6).abs() < 2e-9, "{td}");
    }
}
