//! The waveforms of one scan of a check source, conditioned and read.

use crate::analysis::prepare::PreparedScan;
use crate::analysis::survey::burst;
use crate::base::error::Problem;
use crate::base::finding::{Finding, Severity};
use crate::calibration::check_source::{Reading, ReadingSetup, reading};
use crate::calibration::{
    Conditioning, LowPassShape, PressureMaker, RawWave, noise_band_hz, padded_length,
};
use crate::dsp::aligned::aligned_mean;
use crate::dsp::extremum::Interpolator;
use crate::dsp::tone::transform_at;
use crate::formats::container::Samples;
use crate::pulse::pulse_duration;

/// Most repeats that are read.
const MOST_REPEATS: usize = 64;
/// Periods left free before the arrival and after the end.
const MARGIN_PERIODS: f64 = 2.0;
/// Fewest samples before the arrival.
const FEWEST_QUIET: usize = 16;

/// A scan of the source at one level, in raw samples.
pub struct Recorded {
    pub part: PreparedScan,
    raw: Samples,
    count: usize,
    /// Mean of the repeats, volts.
    pub mean_v: Vec<f64>,
    /// Whether a waveform stood at the digitiser's end.
    pub clipped: usize,
}

/// Where the burst stands in the waveforms of a scan.
#[derive(Debug, Clone, Copy)]
pub struct Placed {
    pub start: usize,
    /// Length of the burst with its margins, s.
    pub length_s: f64,
    pub quiet: (usize, usize),
}

impl Recorded {
    /// Reads the waveforms.
    ///
    /// # Errors
    /// When the file cannot be read there.
    pub fn read(part: PreparedScan) -> Result<Self, Problem> {
        let scan = &part.scan;
        let count = scan.points().clamp(1, MOST_REPEATS);
        let raw = scan.read(0, count)?;
        let numbers = raw.to_f64();
        let mut mean_v = vec![0.0; scan.samples];
        for wave in numbers.chunks_exact(scan.samples) {
            for (slot, v) in mean_v.iter_mut().zip(wave) {
                let v = if v.is_finite() { *v } else { 0.0 };
                *slot += (v * scan.volts.volts_per_count + scan.volts.offset_v) / count as f64;
            }
        }
        let clipped = (0..count)
            .filter(|i| scan.volts.clipped(&raw, i * scan.samples, (i + 1) * scan.samples))
            .count();
        Ok(Self { raw, count, mean_v, clipped, part })
    }

    /// Finds the burst and the quiet part before it.
    ///
    /// # Errors
    /// `check-source-no-signal`, `check-source-no-quiet-part`.
    pub fn place(&self, frequency_hz: f64) -> Result<Placed, Problem> {
        let scan = &self.part.scan;
        let period = 1.0 / (frequency_hz * scan.interval_s);
        let margin = (MARGIN_PERIODS * period).ceil() as usize;
        let problem = |code: &str| Problem::new(code).in_scan(&scan.id).in_file(&scan.file);
        let found = burst::find(&self.mean_v, period)
            .filter(|b| b.loud_rms > 4.0 * b.quiet_rms)
            .ok_or_else(|| problem("check-source-no-signal"))?;
        let start = found.start.saturating_sub(margin);
        let quiet = burst::quiet_part(&self.mean_v, start, period)
            .range
            .filter(|(a, b)| b - a >= FEWEST_QUIET)
            .ok_or_else(|| problem("check-source-no-quiet-part"))?;
        let length_s = (found.stop + margin - start) as f64 * scan.interval_s;
        Ok(Placed { start, length_s, quiet })
    }

    /// Conditioned waveforms, one after the other.
    pub fn waveforms(&self, placed: &Placed, lowpass: &LowPassShape) -> Vec<Vec<f64>> {
        let scan = &self.part.scan;
        let taper = (scan.samples / 50).max(1);
        let conditioning = Conditioning {
            taper: (taper.min(placed.start.max(1)), taper),
            padded: padded_length(
                scan.samples,
                &self.part.response,
                lowpass,
                None,
                scan.interval_s,
                true,
            ),
            lowpass: *lowpass,
            narrowband_hz: None,
        };
        let mut maker = PressureMaker::<f64>::new(
            &conditioning,
            &self.part.response,
            scan.volts,
            scan.interval_s,
        );
        let mut spare = vec![0.0; scan.samples];
        (0..self.count)
            .map(|i| {
                let mut wave = vec![0.0; scan.samples];
                let at = RawWave { start: i * scan.samples, baseline: Some(placed.quiet) };
                maker.run(&self.raw, at, None, (&mut wave, &mut spare));
                wave
            })
            .collect()
    }

    /// Samples of a window of the given length, s.
    ///
    /// # Errors
    /// `check-source-not-held` where the record is too short for it.
    pub fn window(&self, placed: &Placed, length_s: f64) -> Result<(usize, usize), Problem> {
        let scan = &self.part.scan;
        let stop = placed.start + (length_s / scan.interval_s).round() as usize;
        if stop > scan.samples {
            return Err(Problem::new("check-source-not-held")
                .in_scan(&scan.id)
                .in_file(&scan.file)
                .with("expected", stop)
                .with("found", scan.samples));
        }
        Ok((placed.start, stop))
    }

    /// Readings of all repeats.
    ///
    /// # Errors
    /// `check-source-no-signal`.
    pub fn readings(
        &self,
        waves: &[Vec<f64>],
        window: (usize, usize),
        placed: &Placed,
        (frequency_hz, duration_s): (f64, f64),
        lowpass: &LowPassShape,
    ) -> Result<Vec<Reading>, Problem> {
        let scan = &self.part.scan;
        let between = Interpolator::new();
        let taper = (scan.samples / 50).max(1).min(placed.quiet.1 / 4);
        let setup = ReadingSetup {
            window,
            quiet: (placed.quiet.0.max(taper), placed.quiet.1),
            interval_s: scan.interval_s,
            frequency_hz,
            duration_s,
            noise_band_hz: noise_band_hz(lowpass, 0.5 / scan.interval_s),
        };
        waves
            .iter()
            .map(|wave| reading(wave, &setup, &between))
            .collect::<Option<Vec<Reading>>>()
            .ok_or_else(|| {
                Problem::new("check-source-no-signal").in_scan(&scan.id).in_file(&scan.file)
            })
    }

    /// Positive peak of the mean of the waveforms, aligned by the phase at the source's frequency.
    pub fn averaged_peak(
        &self,
        waves: &[Vec<f64>],
        window: (usize, usize),
        frequency_hz: f64,
    ) -> Option<f64> {
        let interval = self.part.scan.interval_s;
        let phase =
            |wave: &Vec<f64>| transform_at(wave, window.0, window.1, interval, frequency_hz);
        let first = phase(waves.first()?);
        let per_sample = 2.0 * std::f64::consts::PI * frequency_hz * interval;
        // A delay is a falling phase.
        let delays: Vec<f64> =
            waves.iter().map(|wave| -(phase(wave) / first).arg() / per_sample).collect();
        let mean = aligned_mean(waves, &delays);
        Interpolator::new().maximum(&mean, window.0, window.1, 1.0).map(|(peak, _)| peak)
    }

    /// The finding on waveforms at the digitiser's end.
    pub fn clipping(&self) -> Option<Finding> {
        (self.clipped > 0).then(|| {
            Finding::new(Severity::Unfit, "check-source-clipped")
                .in_scan(&self.part.scan.id)
                .with("points", self.clipped)
                .with("all", self.count)
        })
    }
}

/// Duration of the burst in a conditioned waveform, s (1.25 (t90 − t10) of the energy).
pub fn duration_s(wave: &[f64], window: (usize, usize), interval_s: f64) -> Option<f64> {
    pulse_duration::pulse_duration_s(wave, window, 0.0, interval_s)
}
