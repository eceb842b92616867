//! Average of repeated waveforms after alignment, and its peaks.

use crate::dsp::aligned::aligned_mean;
use crate::dsp::extremum::Interpolator;
use crate::dsp::tone::transform_at;

use super::peak_pressure;

/// Peaks of the average of aligned repeats.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RepeatAverage {
    pub pc_pa: f64,
    pub pr_pa: f64,
    /// Largest distance of a repeat's instant from the first one's, s.
    pub apart_s: f64,
}

/// Averages repeats of one waveform, each first moved to the first one's instant, and takes the peaks.
///
/// The delay is that of the arrival, made exact by the phase φ of the fundamental over the window:
/// −Δφ/ω plus the whole number of periods that comes nearest to the arrival's delay. Without the
/// alignment, jitter of the trigger rounds off what is steep.
///
/// `None` with fewer than two waveforms, or when they are not of one length.
///
/// # Shape
/// `arrivals_s`: one a waveform, on a common time axis; `window` in samples.
pub fn repeat_average(
    waveforms: &[Vec<f64>],
    arrivals_s: &[f64],
    window: (usize, usize),
    interval_s: f64,
    frequency_hz: f64,
) -> Option<RepeatAverage> {
    let first = waveforms.first()?;
    let alike = waveforms.iter().all(|wave| wave.len() == first.len());
    if waveforms.len() < 2 || arrivals_s.len() != waveforms.len() || !alike {
        return None;
    }
    let phasor = |wave: &Vec<f64>| transform_at(wave, window.0, window.1, interval_s, frequency_hz);
    let reference = phasor(first);
    let period_s = 1.0 / frequency_hz;
    let delays: Vec<f64> = waveforms
        .iter()
        .zip(arrivals_s)
        .map(|(wave, arrival)| {
            let turn = (phasor(wave) * reference.conj()).arg();
            let part_s = -turn / (2.0 * std::f64::consts::PI) * period_s;
            let coarse_s = arrival - arrivals_s[0];
            (part_s + ((coarse_s - part_s) / period_s).round() * period_s) / interval_s
        })
        .collect();
    let mean = aligned_mean(waveforms, &delays);
    let between = Interpolator::new();
    Some(RepeatAverage {
        pc_pa: peak_pressure::compressional(&mean, window, &between)?.0,
        pr_pa: peak_pressure::rarefactional(&mean, window, &between)?.0,
        apart_s: delays.iter().map(|d| d.abs() * interval_s).fold(0.0, f64::max),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dsp::noise::Noise;
    use std::f64::consts::PI;

    const DT: f64 = 1e-8;
    const F: f64 = 1e6;

    /// Fubini harmonics at σ = 1, 2 J_n(n)/n (D. T. Blackstock, J. Acoust. Soc. Am. 39 (1966) 1019), under
    /// a Gaussian envelope about an instant.
    fn steep(at_s: f64) -> Vec<f64> {
        let b = [0.880_101_2, 0.352_834_0, 0.206_041_8, 0.140_564_5, 0.104_456_2];
        (0..2000)
            .map(|i| {
                let t = f64::from(i) * DT - at_s;
                let carrier: f64 = b
                    .iter()
                    .enumerate()
                    .map(|(k, b)| b * (2.0 * PI * F * (k + 1) as f64 * t).sin())
                    .sum();
                (-(t / 3e-6).powi(2)).exp() * carrier
            })
            .collect()
    }

    /// Twelve repeats that jitter by a tenth of a period keep their peak to 0.1 %; averaged as they are
    /// they lose more than a tenth of it: exp(−(2π 0.1 n)²/2) of the harmonic n (characteristic function
    /// of a normal distribution).
    #[test]
    fn jitter_is_undone() {
        let mut noise = Noise::new(8);
        let jitter: Vec<f64> = (0..12).map(|_| 1e-5 + 1e-7 * noise.next()).collect();
        let waves: Vec<Vec<f64>> = jitter.iter().map(|at| steep(*at)).collect();
        let between = Interpolator::new();
        let window = (300, 1700);
        let one = peak_pressure::compressional(&waves[0], window, &between).expect("peak").0;
        // Arrivals that err by a fifth of a period all the same.
        let arrivals: Vec<f64> = jitter.iter().map(|at| at + 2e-7 * (at * 1e9).sin()).collect();
        let found = repeat_average(&waves, &arrivals, window, DT, F).expect("average");
        assert!((found.pc_pa / one - 1.0).abs() < 1e-3, "{found:?} {one}");
        let plain: Vec<f64> =
            (0..2000).map(|i| waves.iter().map(|w| w[i]).sum::<f64>() / 12.0).collect();
        let lost = peak_pressure::compressional(&plain, window, &between).expect("peak").0;
        assert!(lost < 0.9 * one, "{lost} {one}");
        assert!(found.apart_s > 1e-8);
    }

    #[test]
    fn too_little() {
        assert_eq!(repeat_average(&[steep(1e-5)], &[1e-5], (300, 1700), DT, F), None);
        let two = [steep(1e-5), vec![0.0; 10]];
        assert_eq!(repeat_average(&two, &[1e-5, 1e-5], (300, 1700), DT, F), None);
    }
}
