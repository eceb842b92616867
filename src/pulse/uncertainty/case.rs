//! Waveforms on which the tests of this folder rest.

use std::f64::consts::PI;

use super::features::{COUNT, values};
use super::{WaveUncertainty, Waveform, of};
use crate::calibration::{
    Conditioning, LowPassShape, PressureMaker, RawWave, Response, Table, padded_length,
};
use crate::dsp::extremum::Interpolator;
use crate::formats::container::Samples;
use crate::pulse::Windows;
use crate::record::LowPassKind;
use crate::scan::Volts;

pub const DT: f64 = 1e-8;
pub const F: f64 = 2e6;

/// A waveform in volts with what it takes to make pressure of it.
pub struct Case {
    pub volts: Vec<f64>,
    pub response: Response,
    pub conditioning: Conditioning,
    pub windows: Windows,
    pub noise_pa2: Option<f64>,
    pub frequency_hz: f64,
}

impl Case {
    /// A pulse with two harmonics, padded generously, through a one-pole low-pass.
    pub fn pulse(response: Response) -> Self {
        let volts = (0..800).map(|i| pulse_volts(f64::from(i) * DT)).collect();
        let lowpass = LowPassShape { kind: LowPassKind::OnePole, order: 2, cutoff_hz: 30e6 };
        let padded = padded_length(800, &response, &lowpass, None, DT, true);
        Self {
            volts,
            conditioning: Conditioning { taper: (1, 1), padded, lowpass, narrowband_hz: None },
            response,
            windows: windows((100, 760), Some((0, 90))),
            noise_pa2: None,
            frequency_hz: F,
        }
    }

    /// Tones of period 50 samples and its half in a record that is their period: nothing is padded, so
    /// that each is one bin.
    pub fn tones(second: f64, response: Response) -> Self {
        let th = |i: usize| 2.0 * PI * i as f64 / 50.0;
        let volts = (0..1000).map(|i| 0.1 * (th(i).cos() + second * (2.0 * th(i)).cos())).collect();
        let lowpass = LowPassShape { kind: LowPassKind::Cosine, order: 1, cutoff_hz: 40e6 };
        Self {
            volts,
            conditioning: Conditioning {
                taper: (0, 0),
                padded: 1000,
                lowpass,
                narrowband_hz: None,
            },
            response,
            windows: windows((100, 900), None),
            noise_pa2: None,
            frequency_hz: F,
        }
    }

    pub fn maker(&self) -> PressureMaker<f64> {
        let volts =
            Volts { volts_per_count: 1.0, offset_v: 0.0, clip_low_high: None, count_v: None };
        PressureMaker::new(&self.conditioning, &self.response, volts, DT)
    }

    pub fn pressure(&self, raw: &[f64]) -> Vec<f64> {
        let mut out = vec![0.0; raw.len()];
        let mut none = out.clone();
        let wave = RawWave { start: 0, baseline: self.windows.baseline };
        self.maker().run(&Samples::F64(raw.to_vec()), wave, None, (&mut out, &mut none));
        out
    }

    /// Volts as they go into the filter.
    pub fn conditioned(&self) -> Vec<f64> {
        let mut volts = vec![0.0; self.volts.len()];
        let wave = RawWave { start: 0, baseline: self.windows.baseline };
        self.maker().volts_of(&Samples::F64(self.volts.clone()), wave, &mut volts);
        volts
    }

    pub fn run(&self) -> WaveUncertainty {
        let volts = self.conditioned();
        let made = Waveform {
            conditioning: &self.conditioning,
            response: &self.response,
            volts: &volts,
            taper: &self.maker().taper_weights(volts.len()),
            p_pa: &self.pressure(&self.volts),
            interval_s: DT,
            windows: &self.windows,
            noise_pa2: self.noise_pa2,
            frequency_hz: Some(self.frequency_hz),
        };
        of(&made, &Interpolator::new()).expect("calibrated")
    }

    pub fn values(&self) -> [f64; COUNT] {
        let p = self.pressure(&self.volts);
        values(&p, self.windows.pulse, DT, &Interpolator::new()).expect("a window")
    }
}

fn pulse_volts(t: f64) -> f64 {
    let th = 2.0 * PI * F * (t - 4.6e-6);
    let envelope = (-((t - 4.6e-6) / 1e-6).powi(2)).exp();
    0.2 * envelope * (th.cos() + 0.4 * (2.0 * th + 0.5).cos() + 0.2 * (3.0 * th + 0.9).cos())
}

fn windows(pulse: (usize, usize), quiet: Option<(usize, usize)>) -> Windows {
    Windows { pulse, steady: None, baseline: quiet, noise: quiet, holds_burst: true }
}

/// Five rows about the pulse's harmonics.
pub fn table() -> Table {
    let mut table = Table::new(
        vec![1e6, 2.5e6, 4e6, 7e6, 12e6],
        vec![40e-9, 44e-9, 41e-9, 52e-9, 30e-9],
        Some(vec![-0.1, -0.3, -0.2, -0.9, -1.6]),
    )
    .expect("in order");
    table.u_relative = Some(vec![0.02, 0.03, 0.025, 0.04, 0.05]);
    table.u_phase_rad = Some(vec![0.02, 0.03, 0.04, 0.03, 0.06]);
    table
}
