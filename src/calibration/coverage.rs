//! How much of a signal lies where a table says nothing.

use super::response::Response;
use crate::base::finding::{Arg, Finding, Severity};
use crate::dsp::filter::{fast_length, spectrum};

/// Shares of the energy outside the table from which a finding is made, and a grave one. Common
/// practice, no source: 0.1 % is 3 % in amplitude, 1 % is 10 %.
const SHARES: (f64, f64) = (1e-3, 1e-2);

/// Share of the energy (amplitude squared) of a one-sided amplitude spectrum that lies outside a band.
/// Each value stands for its bin, half a step to either side, the first and the last for half a bin;
/// zero for a spectrum without energy.
///
/// # Units
/// Amplitude in any unit; `step_hz` and `band_hz` in Hz.
///
/// # Examples
/// Of equal amplitudes at 0 … 10 Hz, the band from 2 to 8 Hz leaves out 4/10.
pub fn outside(amplitude: &[f64], step_hz: f64, band_hz: (f64, f64)) -> f64 {
    let last = amplitude.len().saturating_sub(1);
    let (mut all, mut inside) = (0.0, 0.0);
    for (k, a) in amplitude.iter().enumerate() {
        let low = (k as f64 - if k == 0 { 0.0 } else { 0.5 }) * step_hz;
        let high = (k as f64 + if k == last { 0.0 } else { 0.5 }) * step_hz;
        let width = high - low;
        let within = (high.min(band_hz.1) - low.max(band_hz.0)).max(0.0);
        all += a * a * width;
        inside += a * a * within;
    }
    if all > 0.0 { (1.0 - inside / all).clamp(0.0, 1.0) } else { 0.0 }
}

/// Tells how much of a waveform's energy lies outside the table's band, where there is a table and the
/// share is not small. The waveform is pressure after the low-pass, its pulse alone.
pub fn extrapolated(response: &Response, pulse_pa: &[f64], interval_s: f64) -> Option<Finding> {
    let band = response.as_table()?.band_hz();
    let n = fast_length(pulse_pa.len().max(16) * 2);
    let amplitude: Vec<f64> = spectrum(pulse_pa, n)[..=n / 2].iter().map(|c| c.norm()).collect();
    let share = outside(&amplitude, 1.0 / (n as f64 * interval_s), band);
    if share < SHARES.0 {
        return None;
    }
    let severity = if share < SHARES.1 { Severity::Note } else { Severity::Caution };
    Some(
        Finding::new(severity, "response-extrapolated")
            .with("share", Arg::measure(share, "%"))
            .with("low", Arg::measure(band.0, "Hz"))
            .with("high", Arg::measure(band.1, "Hz")),
    )
}

#[cfg(test)]
mod tests {
    use super::super::table::Table;
    use super::*;
    use std::f64::consts::PI;

    #[test]
    fn shares_of_a_flat_spectrum() {
        let flat = [3.0; 11];
        assert!((outside(&flat, 1.0, (2.0, 8.0)) - 0.4).abs() < 1e-12);
        assert!((outside(&flat, 1.0, (0.0, 10.0))).abs() < 1e-12);
        assert!((outside(&flat, 1.0, (2.25, 2.75)) - 0.95).abs() < 1e-12);
        assert_eq!(outside(&flat, 1.0, (11.0, 20.0)), 1.0);
        assert_eq!(outside(&[0.0; 4], 1.0, (0.0, 1.0)), 0.0);
    }

    /// A decay exp(−t/τ) has the energy share 1 − (2/π) atan(2πfτ) above f (Lorentzian).
    #[test]
    fn share_of_a_decay() {
        let (dt, tau) = (1e-9, 100e-9);
        let p: Vec<f64> = (0..2000).map(|i| (-(f64::from(i) + 0.5) * dt / tau).exp()).collect();
        let table = |high: f64| Table::flat_between(0.0, high);
        let response = Response::table(table(10e6), 0.0);
        let finding = extrapolated(&response, &p, dt).expect("told");
        let expected = 1.0 - 2.0 / PI * (2.0 * PI * 10e6 * tau).atan();
        let Some(Arg::Measure { value, .. }) = finding.args.get("share") else { panic!("a share") };
        assert!((value - expected).abs() < 2e-3, "{value} {expected}");
        assert_eq!(finding.severity, Severity::Caution);
        // All of it inside.
        assert!(extrapolated(&Response::table(table(1e9), 0.0), &p, dt).is_none());
        assert!(extrapolated(&Response::flat(1.0), &p, dt).is_none());
    }
}
