//! Reads a fixed sparse subset of a scan plus its loudest points, and freezes what the bands then
//! use: gate, noise part, low-pass, padding, steady window.

pub(super) mod burst;
mod loudest;
mod low_pass;
mod steady;
mod typed;

use serde::{Deserialize, Serialize};

use super::conditions::temperature_c;
use super::fitness::bits::few_bits;
use super::prepare::{Prepared, PreparedScan};
use crate::base::error::Problems;
use crate::base::finding::{Arg, Finding, Severity};
use crate::base::water;
use crate::calibration::{Conditioning, PressureMaker, RawWave, padded_length};
use crate::dsp::filter::{fast_length, spectrum};
use crate::dsp::statistics::median;
use crate::pulse::Windows;
use crate::record::{ExcitationMode, Method, Record, WindowRule};
use crate::scan::{Axis, Grid, Scan};

/// Fewest cycles of a burst for which a steady part is looked for.
pub const LONG_BURST_CYCLES: f64 = 8.0;
/// Periods left free before the arrival and after the end.
const MARGIN_PERIODS: f64 = 2.0;
/// Fewest samples of a baseline.
const FEWEST_BASELINE: usize = 16;

/// What is frozen for all scans of a record.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Plan {
    pub scans: Vec<ScanPlan>,
}

/// What is frozen for one scan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ScanPlan {
    pub conditioning: Conditioning,
    pub windows: Windows,
    /// Point (storage order) to which the windows refer.
    pub reference_point: usize,
    pub frequency_hz: Option<f64>,
    /// `record` or `signal`.
    pub frequency_from: String,
    /// Arrival at the reference point, s after the trigger.
    pub arrival_s: f64,
    /// Code of the reason for which there is no steady window.
    pub no_steady: Option<String>,
    /// How the low-pass came about: `record`, `noise`, `default`.
    pub lowpass_from: String,
    /// Speed of sound used for geometry, m/s.
    pub sound_speed_m_per_s: f64,
    pub findings: Vec<Finding>,
}

impl ScanPlan {
    /// Windows of a point: along an axial scan the arrival moves with the distance.
    pub fn windows_of(&self, scan: &Scan, point: usize) -> Windows {
        self.windows.shifted(
            shift_samples(scan, self.reference_point, point, self.sound_speed_m_per_s),
            scan.samples,
        )
    }
}

/// Samples by which the arrival at a point comes later than at the reference, by geometry.
fn shift_samples(scan: &Scan, reference: usize, point: usize, speed: f64) -> i64 {
    let flight = match (&scan.grid, scan.grid.z_m(point), scan.grid.z_m(reference)) {
        (Grid::Line { axis: Axis::Z, .. }, Some(z), Some(z0)) => (z - z0) / speed,
        _ => 0.0,
    };
    ((flight - (scan.t0(point) - scan.t0(reference))) / scan.interval_s).round() as i64
}

/// Surveys all scans.
///
/// # Errors
/// When a file cannot be read.
pub fn survey(prepared: &Prepared) -> Result<Plan, Problems> {
    let scans = prepared.scans.iter().map(|part| of_scan(&prepared.record, part));
    let mut plans = Vec::new();
    let mut problems = Problems::new();
    for plan in scans {
        match plan {
            Ok(plan) => plans.push(plan),
            Err(problem) => problems.push(problem),
        }
    }
    if problems.is_empty() { Ok(Plan { scans: plans }) } else { Err(problems) }
}

/// Surveys one scan.
///
/// # Errors
/// When the file cannot be read.
pub fn of_scan(
    record: &Record,
    part: &PreparedScan,
) -> Result<ScanPlan, crate::base::error::Problem> {
    let scan = &part.scan;
    let speed = water::sound_speed_m_per_s(temperature_c(record).0);
    let mut findings = Vec::new();
    let sampled = loudest::sample(scan)?;
    let reference = sampled.loudest();
    let (frequency_hz, frequency_from) =
        match record.excitation.frequency_hz.or(record.device.nominal_frequency_hz) {
            Some(f) => (Some(f), "record"),
            None => (dominant_frequency(&reference.volts, scan.interval_s), "signal"),
        };
    if frequency_from == "signal" {
        findings.push(
            Finding::new(Severity::Note, "frequency-from-signal")
                .in_scan(&scan.id)
                .at("excitation.frequency_hz"),
        );
    }
    let period = period_samples(scan, frequency_hz);
    let bursts: Vec<(i64, burst::Burst)> = sampled
        .points
        .iter()
        .filter_map(|p| {
            let found = burst::find(&p.volts, period)?;
            Some((shift_samples(scan, reference.point, p.point, speed), found))
        })
        .collect();
    let at_reference = burst_of(&reference.volts, period);
    // Earliest arrival and latest end among the points that rise well out of the noise.
    let clear = || bursts.iter().filter(|(_, b)| b.loud_rms > 10.0 * b.quiet_rms);
    let earliest =
        clear().map(|(shift, b)| b.start as i64 - shift).min().unwrap_or(at_reference.start as i64);
    let latest =
        clear().map(|(shift, b)| b.stop as i64 - shift).max().unwrap_or(at_reference.stop as i64);
    let margin = (MARGIN_PERIODS * period).ceil() as i64;
    let in_record = |i: i64| usize::try_from(i.clamp(0, scan.samples as i64)).unwrap_or(0);
    let gate = in_record(earliest - margin);
    let stop = in_record(latest + margin);
    let quiet = burst::quiet_part(&reference.volts, gate, period);
    if let Some(feed) = &quiet.feed_through {
        findings.push(
            Finding::new(Severity::Note, "feed-through")
                .in_scan(&scan.id)
                .with(
                    "from",
                    Arg::measure(
                        scan.t0(reference.point) + feed.start as f64 * scan.interval_s,
                        "s",
                    ),
                )
                .with(
                    "to",
                    Arg::measure(
                        scan.t0(reference.point) + feed.stop as f64 * scan.interval_s,
                        "s",
                    ),
                )
                .with("level", Arg::measure(feed.rms_v, "V")),
        );
    }
    let baseline = quiet.range.filter(|(a, b)| b - a >= FEWEST_BASELINE);
    if baseline.is_none() {
        findings.push(Finding::new(Severity::Caution, "no-quiet-part").in_scan(&scan.id));
    }
    let holds_burst = at_reference.tail_ratio < 0.05 && latest < scan.samples as i64;
    if !holds_burst {
        findings.push(Finding::new(Severity::Caution, "burst-not-held").in_scan(&scan.id));
    }
    // The tapers are the same for all points: where the wave comes nearest, they must not touch it.
    let shifts =
        || (0..scan.points()).map(|point| shift_samples(scan, reference.point, point, speed));
    let (soonest, last) = (shifts().min().unwrap_or(0), shifts().max().unwrap_or(0));
    let head = in_record(gate as i64 + soonest).min(scan.samples / 50).max(1);
    let tail = if holds_burst {
        (scan.samples - in_record(stop as i64 + last)).min(scan.samples / 50).max(1)
    } else {
        (scan.samples / 100).max(1)
    };
    let chosen = low_pass::choose(&low_pass::Inputs {
        record,
        part,
        sampled: &sampled,
        frequency_hz,
        pulse: (gate, stop),
        noise: baseline,
        reference,
        speed,
    });
    findings.extend(chosen.findings().into_iter().map(|finding| finding.in_scan(&scan.id)));
    let low_pass::Chosen { shape: lowpass, from: lowpass_from, .. } = chosen;
    let bits = scan.volts.count_v.and_then(|count| few_bits(&reference.volts, count, &scan.id));
    findings.extend(bits);
    let narrowband_hz = match record.analysis.method {
        Method::Narrowband => frequency_hz,
        Method::Broadband => None,
    };
    let conditioning = Conditioning {
        taper: (head, tail),
        padded: padded_length(
            scan.samples,
            &part.response,
            &lowpass,
            narrowband_hz,
            scan.interval_s,
            scan.points() == 1,
        ),
        lowpass,
        narrowband_hz,
    };
    let noise = baseline.map(|(a, b)| (a + head.min((b - a) / 4), b));
    let mut windows = Windows { pulse: (gate, stop), steady: None, baseline, noise, holds_burst };
    let arrival_s = scan.t0(reference.point) + at_reference.start as f64 * scan.interval_s;
    let steady = steady_window(&SteadyInputs {
        record,
        part,
        conditioning: &conditioning,
        baseline,
        reference,
        frequency_hz,
        arrival: at_reference.start,
        stop: at_reference.stop,
        arrival_s,
        speed,
    });
    let (steady, no_steady) = match steady {
        Ok(window) => (Some(window), None),
        Err(reason) => (None, Some(reason.to_owned())),
    };
    windows.steady = steady;
    if let Some(typed) = typed::Typed::new(&record.analysis.window, scan, reference.point) {
        // The record's kind decides which window is stated; left to the rules, the burst does.
        let pulse = record.analysis.window.kind == WindowRule::WholePulse
            || matches!(no_steady.as_deref(), Some("short-pulse" | "no-frequency"));
        let at_s = |sample: f64| scan.t0(reference.point) + sample * scan.interval_s;
        let seen = typed::Seen {
            arrival: at_reference.start as f64,
            end: at_reference.stop as f64,
            period,
        };
        findings.extend(
            typed.remarks(&seen, !pulse, at_s).into_iter().map(|found| found.in_scan(&scan.id)),
        );
        if pulse {
            match typed.samples_between(windows.pulse) {
                Some(window) => windows.pulse = window,
                None => findings.push(
                    Finding::new(Severity::Caution, "window-empty")
                        .in_scan(&scan.id)
                        .at("analysis.window"),
                ),
            }
        }
    }
    if !scan.t0_known {
        findings.push(Finding::new(Severity::Note, "time-origin-unknown").in_scan(&scan.id));
    }
    Ok(ScanPlan {
        conditioning,
        windows,
        reference_point: reference.point,
        frequency_hz,
        frequency_from: frequency_from.to_owned(),
        arrival_s,
        no_steady,
        lowpass_from: lowpass_from.to_owned(),
        sound_speed_m_per_s: speed,
        findings,
    })
}

/// The plan at the record's temperature, from that at another one, where the speed of sound is of no
/// account but for the echo that ends the steady window; `None` where all has to be surveyed.
///
/// # Errors
/// When the file cannot be read.
pub fn at_temperature(
    record: &Record,
    part: &PreparedScan,
    before: &ScanPlan,
) -> Result<Option<ScanPlan>, crate::base::error::Problem> {
    let scan = &part.scan;
    let along_beam = matches!(scan.grid, Grid::Line { axis: Axis::Z, .. });
    let typed = typed::Typed::new(&record.analysis.window, scan, before.reference_point);
    if along_beam || typed.is_some() {
        return Ok(None);
    }
    let speed = water::sound_speed_m_per_s(temperature_c(record).0);
    let reference = loudest::read(scan, before.reference_point)?;
    let burst = burst_of(&reference.volts, period_samples(scan, before.frequency_hz));
    let steady = steady_window(&SteadyInputs {
        record,
        part,
        conditioning: &before.conditioning,
        baseline: before.windows.baseline,
        reference: &reference,
        frequency_hz: before.frequency_hz,
        arrival: burst.start,
        stop: burst.stop,
        arrival_s: before.arrival_s,
        speed,
    });
    let mut plan = ScanPlan { sound_speed_m_per_s: speed, ..before.clone() };
    plan.no_steady = steady.err().map(str::to_owned);
    plan.windows.steady = steady.ok();
    Ok(Some(plan))
}

/// A period of the drive in samples; without a frequency a part of the record.
fn period_samples(scan: &Scan, frequency_hz: Option<f64>) -> f64 {
    frequency_hz.map_or(scan.samples as f64 / 20.0, |f| 1.0 / (f * scan.interval_s)).max(2.0)
}

/// The burst in a waveform; all of it where none rises out of the noise.
fn burst_of(volts: &[f64], period: f64) -> burst::Burst {
    burst::find(volts, period).unwrap_or(burst::Burst {
        start: 0,
        stop: volts.len(),
        quiet_rms: 0.0,
        loud_rms: 0.0,
        tail_ratio: 0.0,
    })
}

struct SteadyInputs<'a> {
    record: &'a Record,
    part: &'a PreparedScan,
    conditioning: &'a Conditioning,
    baseline: Option<(usize, usize)>,
    reference: &'a loudest::SampledPoint,
    frequency_hz: Option<f64>,
    arrival: usize,
    stop: usize,
    arrival_s: f64,
    speed: f64,
}

fn steady_window(inputs: &SteadyInputs<'_>) -> Result<(f64, f64), &'static str> {
    let SteadyInputs { record, part, conditioning, reference, .. } = inputs;
    let scan = &part.scan;
    let frequency = inputs.frequency_hz.ok_or("no-frequency")?;
    let period = 1.0 / (frequency * scan.interval_s);
    let choice = &record.analysis.window;
    if choice.kind == WindowRule::WholePulse {
        return Err("whole-pulse-chosen");
    }
    let typed = typed::Typed::new(choice, scan, reference.point);
    let seen_cycles = (inputs.stop - inputs.arrival) as f64 / period;
    let cw = record.excitation.mode == Some(ExcitationMode::Cw);
    let cycles =
        if cw { f64::INFINITY } else { record.excitation.cycles.unwrap_or(seen_cycles - 2.0) };
    if cycles < LONG_BURST_CYCLES && choice.kind != WindowRule::SteadyState {
        return Err("short-pulse");
    }
    if let Some(typed) = typed.filter(|typed| typed.both().is_some()) {
        return typed.whole_cycles(None, period).ok_or("stated-window-short");
    }
    // Sound that went to the sensor, back to the head and to the sensor again.
    let delay = record.frame.trigger_delay_s.unwrap_or(0.0);
    let distance = part.entry.distance_m.or_else(|| {
        scan.t0_known.then_some((inputs.arrival_s - delay) * inputs.speed).filter(|d| *d > 0.0)
    });
    let echo = distance.map_or(f64::INFINITY, |d| {
        inputs.arrival as f64 + 2.0 * d / inputs.speed / scan.interval_s
    });
    let mut maker =
        PressureMaker::<f64>::new(conditioning, &part.response, scan.volts, scan.interval_s);
    let mut p = vec![0.0; scan.samples];
    let mut none = vec![0.0; scan.samples];
    let whole = RawWave { start: 0, baseline: inputs.baseline };
    maker.run(&reference.raw, whole, None, (&mut p, &mut none));
    let end = (inputs.arrival as f64 + cycles * period)
        .min(inputs.stop as f64)
        .min(echo)
        .min(scan.samples as f64 - 1.0);
    let found = steady::whole_cycles(&p, inputs.arrival, end, period);
    match typed {
        Some(typed) => typed.whole_cycles(found, period).ok_or("stated-window-short"),
        None => found.ok_or("no-whole-cycle"),
    }
}

/// Frequency at which the spectrum of a waveform is largest, Hz; `None` for a flat line.
pub(super) fn dominant_frequency(volts: &[f64], interval_s: f64) -> Option<f64> {
    let level = median(volts)?;
    let centred: Vec<f64> = volts.iter().map(|v| v - level).collect();
    let n = fast_length(centred.len() * 8);
    let amplitude: Vec<f64> = spectrum(&centred, n)[..n / 2].iter().map(|c| c.norm_sqr()).collect();
    let (bin, top) = amplitude.iter().enumerate().skip(8).max_by(|a, b| a.1.total_cmp(b.1))?;
    (*top > 0.0).then(|| bin as f64 / (n as f64 * interval_s))
}
