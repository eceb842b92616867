//! The plane waves of each harmonic, summed over the harmonics.

use super::element_size::radius_at;
use super::maps::{Block, Maps};
use crate::analysis::assemble::ScanInput;
use crate::analysis::focal_wave::Waveform;
use crate::base::budget::source::{AXES, CALIBRATION, LOW_PASS, NOISE, TEMPERATURE, WINDOW};
use crate::base::finding::{Arg, Finding, Severity};
use crate::base::quantity::Reason;
use crate::base::water;
use crate::field::{angular_power, beam_half_angle};

/// Harmonics summed.
pub struct Sum {
    /// Noise subtracted, W.
    pub power_w: f64,
    pub with_noise_w: f64,
    /// Factors that undo the averaging over the sensor: on `power_w`, and on a power as of plane waves.
    pub disc: (f64, f64),
    /// Power, as of plane waves, of the harmonics that the step does not carry, re all.
    left_out: f64,
    /// Power guessed outside the window re that inside.
    beyond: Option<f64>,
    /// Evanescent share of the fundamental's energy.
    evanescent: f64,
    /// Frequency and power of each harmonic, Hz and W.
    harmonics: Vec<(f64, f64)>,
    /// Variance from noise, W².
    noise_w2: f64,
    /// Change with the logarithm of the wave number, W.
    by_wave_number_w: f64,
}

/// Shares from which a finding is made: half a percent left out or not propagating, two percent outside
/// the window. Common practice, no source.
const LEFT_OUT: f64 = 0.005;
const BEYOND: f64 = 0.02;

impl Sum {
    /// Relative sensitivities: to the response at each harmonic, to noise, to what the low-pass and the
    /// window leave out, to lengths, and to the temperature through the waves' directions.
    pub fn relative(&self, input: &ScanInput<'_>) -> Vec<(&'static str, f64)> {
        let parts: Vec<_> = self.harmonics.iter().map(|(f, w)| (*f, -2.0 * w)).collect();
        let taken: f64 = self.harmonics.iter().map(|(f, w)| 2.0 * w * input.loss_at(*f)).sum();
        let sure = 3f64.sqrt();
        let temperature = input.setting.temperature_c;
        let faster =
            water::sound_speed_slope(temperature) / water::sound_speed_m_per_s(temperature);
        [
            (CALIBRATION, input.response.sensitivity(&parts)),
            (NOISE, self.noise_w2.sqrt()),
            (LOW_PASS, taken / sure),
            (WINDOW, self.beyond.unwrap_or(0.0) * self.power_w / sure),
            (AXES, 2.0 * self.power_w + self.by_wave_number_w),
            (TEMPERATURE, -self.by_wave_number_w * faster),
        ]
        .map(|(source, watts)| (source, watts / self.power_w))
        .into_iter()
        .filter(|(_, power)| *power != 0.0)
        .collect()
    }

    /// What is to be said of the power.
    pub fn findings(&self, input: &ScanInput<'_>) -> Vec<Finding> {
        let mut out = Vec::new();
        let mut tell = |code: &str, share: f64| {
            let finding = input.finding(Severity::Caution, code).on("power_on_angular");
            out.push(finding.with("share", Arg::measure(share, "%")));
        };
        if self.left_out > LEFT_OUT {
            tell("harmonics-left-out", self.left_out);
        }
        if self.evanescent > LEFT_OUT {
            tell("evanescent-energy", self.evanescent);
        }
        if let Some(beyond) = self.beyond.filter(|share| *share > BEYOND) {
            tell("power-beyond-window", beyond);
        }
        out
    }
}

/// Powers of the harmonics that the step carries.
pub fn spectra(
    input: &ScanInput<'_>,
    (x_m, y_m): (&[f64], &[f64]),
    map: &Maps,
    wave: &Waveform,
    block: Option<&Block>,
) -> Result<Sum, Reason> {
    if let Some(block) = block {
        return Err(block.reason.clone());
    }
    let f = input.plan.frequency_hz.ok_or_else(|| Reason::new("no-frequency"))?;
    let (length, taken) = match (wave.wave.steady, wave.td_s) {
        (Some(w), _) => (w.stop_s - w.start_s, w.stop_s - w.start_s),
        (None, Some(td)) => (wave.wave.pulse.stop_s - wave.wave.pulse.start_s, td),
        (None, None) => return Err(Reason::new("no-pulse")),
    };
    // Without a steady window the maps hold transforms of the whole pulse.
    let amplitude = if wave.wave.steady.is_some() { 1.0 } else { 1.0 / taken };
    let noise = if input.setting.noise_corrected { input.noise_pa2.unwrap_or(0.0) } else { 0.0 };
    let noise_pa = (2.0 * noise / wave.noise_band_hz * length).sqrt() / taken;
    let speed = water::sound_speed_m_per_s(input.setting.temperature_c);
    let impedance = water::impedance(input.setting.temperature_c);
    let device = &input.setting.record.device;
    let bowl = device
        .aperture_radius_m
        .zip(device.radius_of_curvature_m)
        .and_then(|(a, r)| beam_half_angle::sine_of_bowl(a, r));
    let step = input.part.scan.grid.largest_lateral_step_m();
    let mut sum = Sum {
        power_w: 0.0,
        with_noise_w: 0.0,
        disc: (1.0, 1.0),
        left_out: 0.0,
        beyond: None,
        evanescent: 0.0,
        harmonics: Vec::new(),
        noise_w2: 0.0,
        by_wave_number_w: 0.0,
    };
    let cell = mean_step_m(x_m) * mean_step_m(y_m) / (2.0 * impedance);
    let (mut skipped_w, mut planar_w, mut undone_w) = (0.0, 0.0, (0.0, 0.0));
    let highest = wave.wave.lowpass_cutoff_hz;
    for (index, phasors) in map.phasors.iter().enumerate() {
        let n = index + 1;
        if n > 1 && n as f64 * f > highest {
            break;
        }
        let plane: Vec<_> = phasors.iter().map(|c| c * amplitude).collect();
        let one = angular_power::angular_power(
            x_m,
            y_m,
            &plane,
            n as f64 * f,
            speed,
            impedance,
            angular_power::Sensor {
                noise_pa,
                radius_m: radius_at(input, n as f64 * f).unwrap_or(0.0),
            },
        );
        let Some(one) = one else {
            if n == 1 {
                return Err(Reason::new("no-pulse"));
            }
            continue;
        };
        let sine = bowl.or(one.sine_half_angle).unwrap_or(1.0);
        let largest = beam_half_angle::largest_step_m(speed / f, n as u32, sine);
        let carried = step.is_some_and(|step| step <= largest * 1.0001);
        if !carried {
            if n == 1 {
                return Err(Reason::new("step-too-large"));
            }
            skipped_w += one.plane_wave_w;
            continue;
        }
        if n == 1 {
            sum.evanescent = one.evanescent;
            sum.beyond = one.beyond_w.map(|w| w / one.power_w);
        }
        sum.power_w += one.power_w;
        sum.harmonics.push((n as f64 * f, one.power_w));
        // Of Σ |A + n|², with noise of mean square |n|² in each point by itself.
        sum.noise_w2 += 2.0 * one.power_w.max(0.0) * cell * noise_pa * noise_pa;
        sum.by_wave_number_w += one.by_wave_number * one.power_w;
        sum.with_noise_w += one.power_with_noise_w;
        planar_w += one.plane_wave_w;
        undone_w.0 += one.power_w * one.disc.0;
        undone_w.1 += one.plane_wave_w * one.disc.1;
    }
    sum.disc = (undone_w.0 / sum.power_w, undone_w.1 / planar_w);
    sum.left_out = skipped_w / (sum.power_w + skipped_w);
    Ok(sum)
}

fn mean_step_m(axis: &[f64]) -> f64 {
    match axis {
        [first, .., last] => ((last - first) / (axis.len() - 1) as f64).abs(),
        _ => 0.0,
    }
}
