//! Evaluates the check sources of a record: one factor a gain range.

mod recorded;
mod remarks;
mod sensor_check;

use std::collections::BTreeMap;

use super::prepare::{PreparedScan, open_scans};
use super::survey::dominant_frequency;
use crate::base::error::{Problem, Problems};
use crate::base::finding::{Arg, Finding, Severity};
use crate::base::transfer::{RangeFactor, Transfer};
use crate::calibration::check_source::{
    DeviceReadings, FEATURES, Reading, Stated, Together, comparisons, factor, joined,
};
use crate::calibration::{LowPassShape, Response, disc_average, noise_band_hz, response};
use crate::formats::source::FileSet;
use crate::record::{self, Feature, LowPassKind, Record, Role, ScanEntry, WITHOUT_RANGE};
use recorded::{Placed, Recorded, duration_s};
pub use sensor_check::{CheckReadings, read as sensor_check};

/// Highest fraction of the Nyquist frequency that the low-pass of a transfer reaches.
const OF_NYQUIST: f64 = 0.72;
/// Harmonics of the source that the low-pass lets through.
const HARMONICS: f64 = 10.5;

/// All transfers of a record, with what is to be said of them.
///
/// # Errors
/// All that keeps a factor from being found.
pub fn transfers(
    record: &Record,
    files: &FileSet,
    findings: &mut Vec<Finding>,
) -> Result<Vec<Transfer>, Problems> {
    let mut out = Vec::new();
    let mut problems = Problems::new();
    for (place, stated) in record.placed_responses() {
        if !matches!(stated, record::Response::CheckSource { .. }) {
            continue;
        }
        match one(record, files, &place, stated, findings) {
            Ok(transfer) => out.push(transfer),
            Err(found) => problems.extend(found),
        }
    }
    if problems.is_empty() { Ok(out) } else { Err(problems) }
}

/// Ids of the scans that transfers and the check of the sensor use.
pub fn used_scans(record: &Record) -> Vec<&str> {
    let mut out = Vec::new();
    for response in record.responses() {
        if let record::Response::CheckSource {
            reference_scan,
            reference_scan_after,
            device_scans,
            ..
        } = response
        {
            out.push(reference_scan.as_str());
            out.extend(reference_scan_after.as_deref());
            out.extend(device_scans.values().map(String::as_str));
        }
    }
    let checked = record.sensor.checked.as_ref();
    let named = checked.into_iter().flat_map(|checked| [&checked.before, &checked.after]);
    let is_source =
        |id: &&String| record.scan(id).is_some_and(|scan| scan.role == Role::CheckSource);
    out.extend(named.filter(is_source).map(String::as_str));
    out
}

fn one(
    record: &Record,
    files: &FileSet,
    place: &str,
    stated: &record::Response,
    findings: &mut Vec<Finding>,
) -> Result<Transfer, Problems> {
    let record::Response::CheckSource {
        reference_scan,
        reference_scan_after,
        device_scans,
        feature,
        frequency_hz,
        reference_radius_m,
        field_width_m,
        flatness,
        linearity,
        temperature,
        ..
    } = stated
    else {
        return Err(Problems::new());
    };
    let mut opener = Opener { record, files, findings: Vec::new(), problems: Problems::new() };
    let before = opener.open(reference_scan, None);
    let after = reference_scan_after.as_ref().map(|id| opener.open(id, None)).unwrap_or_default();
    // In the order of the sensor's ranges.
    let mut named: Vec<(&String, &String)> = device_scans.iter().collect();
    named.sort_by_key(|(range, _)| record.sensor.ranges.iter().position(|r| r.id == **range));
    let device: Vec<(Option<String>, String, Vec<Recorded>)> = named
        .into_iter()
        .map(|(range, id)| {
            let range =
                (range != WITHOUT_RANGE || !record.sensor.ranges.is_empty()).then(|| range.clone());
            let scans = opener.open(id, Some(range.as_deref()));
            (range, id.clone(), scans)
        })
        .collect();
    let Opener { findings: mut found, mut problems, .. } = opener;
    let all = || before.iter().chain(&after).chain(device.iter().flat_map(|(.., s)| s));
    if !problems.is_empty() {
        return Err(problems);
    }
    let f = frequency_hz.or_else(|| {
        let loudest = before.last()?;
        dominant_frequency(&loudest.mean_v, loudest.part.scan.interval_s)
    });
    let Some(f) = f else {
        return Err(vec![Problem::new("check-source-no-signal").in_scan(reference_scan)]);
    };
    let lowpass = low_pass(f, all());
    let mut placed: BTreeMap<String, Placed> = BTreeMap::new();
    for scan in all() {
        match scan.place(f) {
            Ok(place) => {
                placed.insert(scan.part.scan.id.clone(), place);
            }
            Err(problem) => problems.push(problem),
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let length_s = placed.values().map(|p| p.length_s).fold(0.0, f64::max);
    let mut reader = Reader { placed: &placed, length_s, f, lowpass, duration_s: None };
    let nyquist_hz = before.first().map_or(f64::INFINITY, |s| 0.5 / s.part.scan.interval_s);
    let before: Vec<Together> = reader.all(&before, &mut problems);
    let after: Vec<Together> = reader.all(&after, &mut problems);
    let mut readings = Vec::new();
    for (range, scan, levels) in &device {
        found.extend(levels.iter().filter_map(Recorded::clipping));
        readings.push(DeviceReadings {
            range: range.clone(),
            scan: scan.clone(),
            levels: reader.all(levels, &mut problems),
        });
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let chosen = feature_index(*feature);
    let reference = joined(&before, &after, chosen);
    let size = size_factor(record, *reference_radius_m, *field_width_m, f);
    let relative = |u: &Option<record::Uncertainty>| u.as_ref().map(|u| u.standard(1.0));
    let certificate = certificate(record, files, reference_scan, f)?;
    let sources = Stated {
        certificate,
        flatness: relative(flatness),
        linearity: relative(linearity),
        temperature: relative(temperature),
    };
    let mut ranges: Vec<RangeFactor> = Vec::new();
    for range in &readings {
        match factor(&reference, range, chosen, size, &sources) {
            Some(factor) => ranges.push(factor),
            None => problems.push(
                Problem::new("check-source-no-common-level")
                    .in_scan(&range.scan)
                    .with("reference", reference_scan.as_str()),
            ),
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let transfer = Transfer {
        place: place.to_owned(),
        reference_scan: reference_scan.clone(),
        reference_scan_after: reference_scan_after.clone(),
        frequency_hz: f,
        feature: FEATURES[chosen].to_owned(),
        lowpass_cutoff_hz: lowpass.cutoff_hz,
        noise_band_hz: noise_band_hz(&lowpass, nyquist_hz),
        reference_nep_pa: before.first().map(Together::noise_rms).filter(|nep| *nep > 0.0),
        element_size_factor: size,
        drift: reference.drift,
        comparisons: comparisons(&ranges, &readings, chosen),
        ranges,
    };
    found.extend(remarks::remarks(&transfer, &reference, &readings, &sources));
    findings.extend(found);
    Ok(transfer)
}

/// Place of a feature in [`FEATURES`].
fn feature_index(feature: Option<Feature>) -> usize {
    match feature.unwrap_or_default() {
        Feature::Fundamental => 0,
        Feature::Rms => 1,
        Feature::Peak => 2,
    }
}

/// What this sensor averages in the source's field re the calibrated one; 1 where sizes or field are
/// not stated.
fn size_factor(
    record: &Record,
    reference_radius_m: Option<f64>,
    field_width_m: Option<f64>,
    f: f64,
) -> f64 {
    let own = record.sensor.effective_radius_m.as_ref().and_then(|radius| radius.at(f));
    match (own, reference_radius_m, field_width_m) {
        (Some(own), Some(reference), Some(width)) => {
            let w = disc_average::gaussian_radius_m(width);
            disc_average::of_gaussian(own, w) / disc_average::of_gaussian(reference, w)
        }
        _ => 1.0,
    }
}

/// Relative standard uncertainty of the calibrated sensor at the source's frequency.
fn certificate(
    record: &Record,
    files: &FileSet,
    reference_scan: &str,
    f: f64,
) -> Result<Option<f64>, Problems> {
    let Some(entry) = record.scan(reference_scan) else { return Ok(None) };
    response(record, entry, files, None).map(|(response, _)| response.u_relative(f))
}

/// The low-pass for both sensors: ten harmonics of the source, if digitisers and tables reach so far.
fn low_pass<'a>(f: f64, scans: impl Iterator<Item = &'a Recorded>) -> LowPassShape {
    let ceiling = |scan: &Recorded| {
        let table = scan.part.response.as_table().map_or(f64::INFINITY, |t| t.band_hz().1);
        (OF_NYQUIST * 0.5 / scan.part.scan.interval_s).min(table)
    };
    let cutoff_hz = scans.map(ceiling).fold(HARMONICS * f, f64::min);
    LowPassShape { kind: LowPassKind::Cosine, order: 1, cutoff_hz }
}

struct Opener<'a> {
    record: &'a Record,
    files: &'a FileSet,
    findings: Vec<Finding>,
    problems: Problems,
}

impl Opener<'_> {
    /// The waveforms of a scan, one [`Recorded`] a level; the sensor's own are read in volts.
    fn open(&mut self, id: &str, device: Option<Option<&str>>) -> Vec<Recorded> {
        let Some(index) = self.record.scans.iter().position(|scan| scan.id == id) else {
            return Vec::new();
        };
        let entry = match (&self.record.scans[index], device) {
            (entry, Some(range)) => ScanEntry { range: range.map(str::to_owned), ..entry.clone() },
            (entry, None) => entry.clone(),
        };
        let opened = open_scans(self.record, index, &entry, self.files, &mut self.findings);
        let opened = match opened {
            Ok(opened) => opened,
            Err(found) => {
                self.problems.extend(found);
                return Vec::new();
            }
        };
        let mut out = Vec::new();
        for one in opened {
            let response = match device {
                Some(_) => Ok((Response::volts(), Vec::new())),
                None => response(self.record, &entry, self.files, None),
            };
            let recorded = response.and_then(|(response, remarks)| {
                self.findings.extend(remarks);
                let part = PreparedScan { scan: one.scan, response, entry: one.entry, index };
                Recorded::read(part).map_err(|problem| vec![problem])
            });
            match recorded {
                Ok(recorded) => out.push(recorded),
                Err(found) => self.problems.extend(found),
            }
        }
        out
    }
}

/// Readings, conditioned waveforms, and the window of both.
type Shots = (Vec<Reading>, Vec<Vec<f64>>, (usize, usize));

struct Reader<'a> {
    placed: &'a BTreeMap<String, Placed>,
    length_s: f64,
    f: f64,
    lowpass: LowPassShape,
    /// Of the first waveform that is read: the same for all.
    duration_s: Option<f64>,
}

impl Reader<'_> {
    fn all(&mut self, scans: &[Recorded], problems: &mut Problems) -> Vec<Together> {
        let mut out = Vec::new();
        for scan in scans {
            match self.one(scan) {
                Ok(together) => out.extend(together),
                Err(problem) => problems.push(problem),
            }
        }
        out
    }

    /// Readings of the shots with their conditioned waveforms.
    fn shots(&mut self, scan: &Recorded) -> Result<Option<Shots>, Problem> {
        let Some(placed) = self.placed.get(&scan.part.scan.id) else { return Ok(None) };
        let window = scan.window(placed, self.length_s)?;
        let waves = scan.waveforms(placed, &self.lowpass);
        let duration = match (self.duration_s, waves.first()) {
            (Some(duration), _) => duration,
            (None, Some(wave)) => {
                duration_s(wave, window, scan.part.scan.interval_s).ok_or_else(|| {
                    Problem::new("check-source-no-signal").in_scan(&scan.part.scan.id)
                })?
            }
            (None, None) => return Ok(None),
        };
        self.duration_s = Some(duration);
        let readings = scan.readings(&waves, window, placed, (self.f, duration), &self.lowpass)?;
        Ok(Some((readings, waves, window)))
    }

    fn one(&mut self, scan: &Recorded) -> Result<Option<Together>, Problem> {
        let Some((readings, waves, window)) = self.shots(scan)? else { return Ok(None) };
        let peak = scan.averaged_peak(&waves, window, self.f);
        let together = Together::new(scan.part.entry.level, &readings);
        Ok(together.map(|t| t.with_peak(peak.unwrap_or(t.mean[2]))))
    }
}

/// A source that is stated, or that could be: for the remarks.
fn missing(code: &str, place: &str) -> Finding {
    Finding::new(Severity::Note, code).at(place)
}

/// A fraction as an argument.
fn percent(fraction: f64) -> Arg {
    Arg::measure(fraction, "%")
}
