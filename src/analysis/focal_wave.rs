//! The waveform at the spatial peak and the quantities that rest on it alone, in f64.

use super::prepare::PreparedScan;
use super::results::FocalWave;
use super::survey::ScanPlan;
use crate::base::error::Problem;
use crate::base::quantity::{Window, WindowKind};
use crate::calibration::{PressureMaker, RawWave, noise_band_hz};
use crate::dsp::energy::square_integral;
use crate::dsp::extremum::Interpolator;
use crate::dsp::filter::{fast_length, spectrum};
use crate::dsp::noise::Noise;
use crate::formats::container::Samples;
use crate::pulse::peak_bias::{self, PeakBias};
use crate::pulse::{
    Windows, bandwidth, harmonics, peak_pressure, pulse_duration, uncertainty, working_frequency,
};
use crate::scan::Grid;

/// Lowest value of the drawn spectrum, dB.
const SPECTRUM_FLOOR_DB: f64 = -120.0;

/// Seed of the noise by which the bias of the peaks is found: the same waveform gives the same bias.
const NOISE_SEED: u64 = 62127;

/// A waveform with what rests on it alone.
#[derive(Clone)]
pub struct Waveform {
    pub wave: FocalWave,
    pub windows: Windows,
    pub noise_pa2: Option<f64>,
    /// What noise adds to the peaks, compressional and rarefactional, in a single waveform.
    pub bias: Option<[PeakBias; 2]>,
    /// Bandwidth of the low-pass, as of an ideal one that passes as much white noise, Hz.
    pub noise_band_hz: f64,
    pub td_s: Option<f64>,
    pub f_zero_hz: Option<f64>,
    pub band_hz: Option<(f64, f64)>,
    /// Amplitudes of the harmonics 1 …, Pa.
    pub harmonics_pa: Vec<f64>,
}

/// Reads and evaluates the waveform of one point (storage order).
///
/// # Errors
/// When the file cannot be read there.
pub fn waveform(part: &PreparedScan, plan: &ScanPlan, point: usize) -> Result<Waveform, Problem> {
    let scan = &part.scan;
    let raw = scan.read(point, 1)?;
    let mut maker =
        PressureMaker::<f64>::new(&plan.conditioning, &part.response, scan.volts, scan.interval_s);
    let mut p = vec![0.0; scan.samples];
    let mut none = vec![0.0; scan.samples];
    let windows = plan.windows_of(scan, point);
    let whole = RawWave { start: 0, baseline: windows.baseline };
    maker.run(&raw, whole, None, (&mut p, &mut none));
    let between = Interpolator::new();
    let t = |sample: f64| scan.t0(point) + sample * scan.interval_s;
    let placed = |found: Option<(f64, f64)>| found.map_or((0.0, t(0.0)), |(v, at)| (v, t(at)));
    let noise_pa2 = windows.noise.map(|(a, b)| square_integral(&p, a, b, 1.0) / (b - a) as f64);
    let mut volts = vec![0.0; scan.samples];
    maker.volts_of(&raw, whole, &mut volts);
    let made = uncertainty::Waveform {
        conditioning: &plan.conditioning,
        response: &part.response,
        volts: &volts,
        taper: &maker.taper_weights(scan.samples),
        p_pa: &p,
        interval_s: scan.interval_s,
        windows: &windows,
        noise_pa2,
        frequency_hz: plan.frequency_hz,
    };
    let uncertainty = uncertainty::of(&made, &between);
    let bias = noise_pa2.and_then(|n| bias(&mut maker, &p, &windows, n.sqrt(), &between));
    let td_s = windows
        .holds_burst
        .then(|| {
            pulse_duration::pulse_duration_s(
                &p,
                windows.pulse,
                noise_pa2.unwrap_or(0.0),
                scan.interval_s,
            )
        })
        .flatten();
    let steady_samples = windows.steady.map(|(a, b)| (a.ceil() as usize, b.floor() as usize));
    let spectral = steady_samples.unwrap_or(windows.pulse);
    let f = plan.frequency_hz;
    let harmonics_pa = match (f, windows.steady, td_s) {
        (Some(f), Some(steady), _) => (1..=10)
            .map_while(|n| harmonics::in_steady_state(&p, steady, scan.interval_s, f, n))
            .map(|c| c.norm())
            .collect(),
        (Some(f), None, Some(td)) => (1..=10)
            .map(|n| harmonics::of_whole_pulse(&p, windows.pulse, scan.interval_s, f, n, td).norm())
            .collect(),
        _ => Vec::new(),
    };
    let (spectrum_step_hz, spectrum_db) = amplitude_spectrum(&p, windows.pulse, scan.interval_s);
    let position_m = position(&scan.grid, point);
    let wave = FocalWave {
        position_m,
        t0_s: scan.t0(point),
        interval_s: scan.interval_s,
        pc: placed(peak_pressure::compressional(&p, windows.pulse, &between)),
        pr: placed(peak_pressure::rarefactional(&p, windows.pulse, &between)),
        pulse: Window {
            kind: WindowKind::WholePulse,
            start_s: t(windows.pulse.0 as f64),
            stop_s: t(windows.pulse.1 as f64),
        },
        steady: windows.steady.map(|(a, b)| Window {
            kind: WindowKind::SteadyState,
            start_s: t(a),
            stop_s: t(b),
        }),
        spectrum_step_hz,
        spectrum_db,
        frequency_hz: f,
        lowpass_cutoff_hz: plan.conditioning.lowpass.cutoff_hz,
        p_pa: Vec::new(),
        uncertainty,
    };
    let f_zero_hz = working_frequency::zero_crossing_hz(&p, spectral, scan.interval_s);
    let band_hz = f
        .or(f_zero_hz)
        .and_then(|f| bandwidth::minus_3_db_points_hz(&p, windows.pulse, scan.interval_s, f));
    Ok(Waveform {
        wave: FocalWave { p_pa: p, ..wave },
        windows,
        noise_pa2,
        bias,
        noise_band_hz: noise_band_hz(&plan.conditioning.lowpass, 0.5 / scan.interval_s),
        td_s,
        f_zero_hz,
        band_hz,
        harmonics_pa,
    })
}

/// What noise adds to the peaks: white noise of the digitiser, sent the way of the waveform and
/// brought to the measured level.
fn bias(
    maker: &mut PressureMaker<f64>,
    p: &[f64],
    windows: &Windows,
    rms_pa: f64,
    between: &Interpolator,
) -> Option<[PeakBias; 2]> {
    let n = p.len();
    let mut noise = Noise::new(NOISE_SEED);
    let (mut spare, mut spare_left) = (vec![0.0; n], false);
    let mut unit = 0.0;
    let mut fill = |out: &mut [f64]| {
        if spare_left {
            out.copy_from_slice(&spare);
            spare_left = false;
            return;
        }
        let raw = Samples::F64((0..2 * n).map(|_| noise.next()).collect());
        let at = |start| RawWave { start, baseline: Some((0, n)) };
        maker.run(&raw, at(0), Some(at(n)), (out, &mut spare));
        if unit == 0.0 {
            // Both realisations together set the scale, once: levels vary from shot to shot as they do.
            let square = |v: &[f64]| v.iter().map(|v| v * v).sum::<f64>();
            unit = ((square(out) + square(&spare)) / (2 * n) as f64).sqrt();
        }
        if unit > 0.0 {
            out.iter_mut().chain(&mut spare).for_each(|v| *v *= rms_pa / unit);
        }
        spare_left = true;
    };
    let pc = peak_bias::peak_bias(p, windows.pulse, 1.0, between, &mut fill)?;
    let pr = peak_bias::peak_bias(p, windows.pulse, -1.0, between, &mut fill)?;
    Some([pc, pr])
}

fn position(grid: &Grid, point: usize) -> [Option<f64>; 3] {
    let cell = grid.cell(point);
    match grid {
        Grid::Plane { x_m, y_m, z_m, .. } => {
            [x_m.get(cell % x_m.len()).copied(), y_m.get(cell / x_m.len()).copied(), *z_m]
        }
        Grid::Line { axis, along_m, fixed_m, .. } => {
            let mut out = *fixed_m;
            out[*axis as usize] = along_m.get(cell).copied();
            out
        }
        Grid::Point { position_m, .. } => *position_m,
    }
}

/// Amplitude spectrum of a window, dB re its maximum, zero-padded twofold.
fn amplitude_spectrum(p: &[f64], window: (usize, usize), interval_s: f64) -> (f64, Vec<f64>) {
    let part = p.get(window.0..window.1.min(p.len())).unwrap_or(&[]);
    let n = fast_length(part.len().max(16) * 2);
    let amplitude: Vec<f64> = spectrum(part, n)[..=n / 2].iter().map(|c| c.norm()).collect();
    let top = amplitude.iter().copied().fold(0.0, f64::max);
    let db = amplitude
        .iter()
        .map(|a| {
            if top > 0.0 && *a > 0.0 {
                (20.0 * (a / top).log10()).max(SPECTRUM_FLOOR_DB)
            } else {
                SPECTRUM_FLOOR_DB
            }
        })
        .collect();
    (1.0 / (n as f64 * interval_s), db)
}
