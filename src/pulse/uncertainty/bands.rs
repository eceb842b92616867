//! How far up signal stands above noise: energies in bands of one fundamental.

use std::f64::consts::PI;

use rustfft::num_complex::Complex;

use crate::dsp::filter::{fast_length, spectrum};

/// Energy in a band, re noise, from which the band carries signal: the rule of the low-pass that
/// follows the noise (docs/calibration.md).
const SIGNAL_ENERGY: f64 = 2.0;
/// Standard deviations of the noise's own energy by which signal in a band may be hidden.
const HIDDEN: f64 = 2.0;
/// Most bands.
const MOST: usize = 4000;

/// Pressure in bands of one fundamental f about its multiples, from (n − ½) f to (n + ½) f, up to half
/// the sampling rate.
pub struct Bands {
    pub fundamental_hz: f64,
    /// Rms amplitude in each band from n = 1 on, Pa: root of twice the mean square less the noise's,
    /// under a Hann window. Zero where there is no more than noise.
    pub amplitude_pa: Vec<f64>,
    /// Largest amplitude that may hide in a band: two standard deviations of the noise's energy more.
    pub most_pa: Vec<f64>,
    /// Number of bands, from the first on without a gap, that carry signal: twice the noise's energy
    /// or more.
    pub signal: usize,
}

/// The bands of a waveform within a window. `volts` as they go into the filter, `response` at a
/// frequency in V/Pa; signal is not looked for above `ceiling_hz`. `None` without a band.
///
/// The noise's energy in a band is known to about 1/√(f T/2) of itself, T the window's length: so many
/// independent values a band has under a Hann window.
pub fn bands(
    volts: &[f64],
    window: (usize, usize),
    interval_s: f64,
    fundamental_hz: f64,
    ceiling_hz: f64,
    noise_rms_v: f64,
    response: impl Fn(f64) -> Complex<f64>,
) -> Option<Bands> {
    let part = volts.get(window.0..window.1.min(volts.len()))?;
    let length = part.len() as f64;
    let hann = |i: usize| 0.5 - 0.5 * (2.0 * PI * (i as f64 + 0.5) / length).cos();
    let windowed: Vec<f64> = part.iter().enumerate().map(|(i, v)| hann(i) * v).collect();
    let squares: f64 = (0..part.len()).map(|i| hann(i) * hann(i)).sum();
    let count = ((0.5 / (interval_s * fundamental_hz) - 0.5).floor() as usize).min(MOST);
    if count == 0 || squares <= 0.0 {
        return None;
    }
    let n = fast_length(part.len() * 2);
    let step = 1.0 / (n as f64 * interval_s);
    // Twice the mean square of what one bin and its mirror hold.
    let scale = 4.0 / (n as f64 * squares);
    let (mut volts2, mut volts2_noise) = (vec![0.0; count + 1], vec![0.0; count + 1]);
    let (mut pascals2, mut pascals2_noise) = (vec![0.0; count + 1], vec![0.0; count + 1]);
    let noise = noise_rms_v * noise_rms_v * squares * scale;
    for (k, value) in spectrum(&windowed, n)[..n / 2].iter().enumerate() {
        let f = k as f64 * step;
        let band = (f / fundamental_hz).round() as usize;
        if band == 0 || band > count {
            continue;
        }
        let power = value.norm_sqr() * scale;
        let gain = response(f).norm_sqr();
        volts2[band] += power;
        volts2_noise[band] += noise;
        if gain > 0.0 {
            pascals2[band] += power / gain;
            pascals2_noise[band] += noise / gain;
        }
    }
    let independent = (0.5 * fundamental_hz * length * interval_s).max(1.0);
    let net = |n: usize| (pascals2[n] - pascals2_noise[n]).max(0.0);
    let hidden = |n: usize| HIDDEN * pascals2_noise[n] / independent.sqrt();
    let below = |n: &usize| (*n as f64 + 0.5) * fundamental_hz <= ceiling_hz || *n == 1;
    let carries = |n: &usize| volts2[*n] >= SIGNAL_ENERGY * volts2_noise[*n];
    Some(Bands {
        fundamental_hz,
        amplitude_pa: (1..=count).map(|n| net(n).sqrt()).collect(),
        most_pa: (1..=count).map(|n| (net(n) + hidden(n)).sqrt()).collect(),
        signal: (1..=count).take_while(below).take_while(carries).count(),
    })
}

impl Bands {
    /// Upper end of the last band that carries signal, Hz.
    pub fn reach_hz(&self) -> f64 {
        (self.signal as f64 + 0.5) * self.fundamental_hz
    }

    /// Largest amplitude that may hide in a band, from n = 1 on.
    pub fn most(&self, n: usize) -> f64 {
        n.checked_sub(1).and_then(|i| self.most_pa.get(i)).copied().unwrap_or(0.0)
    }

    /// Amplitude in a band, from n = 1 on.
    pub fn amplitude(&self, n: usize) -> f64 {
        n.checked_sub(1).and_then(|i| self.amplitude_pa.get(i)).copied().unwrap_or(0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dsp::noise::Noise;

    /// Harmonics of known amplitude under noise that hides those above the fifth: amplitudes to 1 %,
    /// and what may hide lies above what is there.
    #[test]
    fn harmonics_in_noise() {
        let (dt, f) = (1e-8, 2e6);
        let mut noise = Noise::new(11);
        let amplitude = |n: i32| 1e-2 * 0.3f64.powi(n - 1);
        let volts: Vec<f64> = (0..4000)
            .map(|i| {
                let tone =
                    |n: i32| amplitude(n) * (2.0 * PI * f * f64::from(n) * f64::from(i) * dt).sin();
                (1..=8).map(tone).sum::<f64>() + 2e-4 * noise.next()
            })
            .collect();
        let m = Complex::new(0.0, 5e-8);
        let found = bands(&volts, (100, 3900), dt, f, f64::INFINITY, 2e-4, |_| m).expect("bands");
        assert_eq!(found.amplitude_pa.len(), 24);
        for n in 1..=4i32 {
            let expected = amplitude(n) / 5e-8;
            let got = found.amplitude(n as usize);
            assert!((got / expected - 1.0).abs() < 0.02, "{n} {got} {expected}");
        }
        assert!((4..=6).contains(&found.signal), "{}", found.signal);
        for n in 6..=8i32 {
            assert!(found.most_pa[n as usize - 1] > amplitude(n) / 5e-8, "{n}");
        }
        assert_eq!(found.reach_hz(), (found.signal as f64 + 0.5) * f);
        let low = bands(&volts, (100, 3900), dt, f, 7e6, 2e-4, |_| m).expect("bands");
        assert_eq!(low.signal, 3);
    }
}
