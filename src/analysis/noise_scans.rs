//! Scans of role noise, and the noise of each gain range.

use super::assemble::{calibration_words, largest_pressure};
use super::prepare::{Prepared, PreparedScan};
use super::results::{Picture, ScanResult};
use super::survey::{Plan, ScanPlan, burst};
use crate::base::budget::source::CALIBRATION;
use crate::base::error::Problem;
use crate::base::finding::{Arg, Finding, Severity};
use crate::base::quantity::{Quantity, Reason};
use crate::base::range_noise::{NoiseFrom, NoiseOf, RangeNoise};
use crate::calibration::{Conditioning, PressureMaker, RawWave, noise_band_hz, padded_length};
use crate::dsp::energy::square_integral;
use crate::pulse::noise_equivalent;
use crate::record::{Record, Response};

/// Most waveforms of a noise scan that are read.
const MOST_WAVEFORMS: usize = 64;
/// Rms of the loudest period re the quietest from which a noise record is not of noise alone.
const UNEVEN: f64 = 6.0;

/// Evaluates the scans of noise.
///
/// # Errors
/// When a file cannot be read.
pub fn evaluate(
    prepared: &Prepared,
    plan: &Plan,
    findings: &mut Vec<Finding>,
) -> Result<Vec<ScanResult>, Problem> {
    prepared.quiet.iter().map(|part| one(prepared, plan, part, findings)).collect()
}

/// The plan of the first scan at the same range, else of the first.
fn plan_for<'a>(prepared: &Prepared, plan: &'a Plan, part: &PreparedScan) -> Option<&'a ScanPlan> {
    let same = prepared.scans.iter().position(|scan| scan.entry.range == part.entry.range);
    plan.scans.get(same.unwrap_or(0))
}

fn one(
    prepared: &Prepared,
    plan: &Plan,
    part: &PreparedScan,
    findings: &mut Vec<Finding>,
) -> Result<ScanResult, Problem> {
    let scan = &part.scan;
    let frozen = plan_for(prepared, plan, part)
        .ok_or_else(|| Problem::new("band-missing").in_scan(&scan.id))?;
    let lowpass = frozen.conditioning.lowpass;
    let narrowband_hz = frozen.conditioning.narrowband_hz;
    let taper = (scan.samples / 50).max(1);
    let padded =
        padded_length(scan.samples, &part.response, &lowpass, narrowband_hz, scan.interval_s, true);
    let conditioning = Conditioning { taper: (taper, taper), padded, lowpass, narrowband_hz };
    let count = scan.points().min(MOST_WAVEFORMS);
    let raw = scan.read(0, count)?;
    let mut maker =
        PressureMaker::<f64>::new(&conditioning, &part.response, scan.volts, scan.interval_s);
    let (mut p, mut none) = (vec![0.0; scan.samples], vec![0.0; scan.samples]);
    let (first, last) = (taper, scan.samples - taper.min(scan.samples / 2));
    let mut square = 0.0;
    let mut unevenness = 0.0f64;
    let period = frozen.frequency_hz.map_or(16.0, |f| 1.0 / (f * scan.interval_s));
    for i in 0..count {
        let at = RawWave { start: i * scan.samples, baseline: Some((0, scan.samples)) };
        maker.run(&raw, at, None, (&mut p, &mut none));
        square += square_integral(&p, first, last, 1.0) / (last - first).max(1) as f64;
        let even = burst::find(&p[first..last], period);
        unevenness = unevenness
            .max(even.filter(|b| b.quiet_rms > 0.0).map_or(0.0, |b| b.loud_rms / b.quiet_rms));
    }
    let calibrated = part.response.is_calibrated();
    if !calibrated {
        findings.push(
            Finding::new(Severity::Caution, "no-response").in_scan(&scan.id).at("sensor.response"),
        );
    }
    if unevenness > UNEVEN {
        findings.push(
            Finding::new(Severity::Caution, "noise-not-quiet")
                .in_scan(&scan.id)
                .with("found", unevenness)
                .with("limit", Arg::Number(UNEVEN)),
        );
    }
    let nep = if calibrated {
        Ok(noise_equivalent::nep_pa(square / count as f64))
    } else {
        Err(Reason::blank("sensor.response"))
    };
    let band_hz = noise_band_hz(&lowpass, 0.5 / scan.interval_s);
    let limit = largest_pressure(&prepared.record, part, frozen.frequency_hz);
    let range = match (&nep, limit) {
        (Ok(nep), Some(limit)) => Ok(noise_equivalent::dynamic_range_db(limit, *nep)),
        (Ok(_), None) => Err(Reason::blank("sensor.full_scale_v")),
        (Err(reason), _) => Err(reason.clone()),
    };
    let density = nep.clone().map(|nep| noise_equivalent::nep_density(nep, band_hz));
    let quantities = vec![
        Quantity::from_outcome("nep", nep).scales_with(CALIBRATION, -1.0).by("noise-record"),
        Quantity::from_outcome("nep_density", density)
            .scales_with(CALIBRATION, -1.0)
            .by("noise-record"),
        Quantity::from_outcome("dynamic_range_db", range).by("noise-record"),
    ];
    let own = ScanPlan { conditioning, lowpass_from: "range".to_owned(), ..frozen.clone() };
    Ok(ScanResult {
        id: scan.id.clone(),
        role: scan.role,
        file: scan.file.clone(),
        range: part.entry.range.clone(),
        level: None,
        points: scan.points(),
        samples: scan.samples,
        interval_s: scan.interval_s,
        calibrated,
        calibration: calibration_words(part, &own),
        fitness: Severity::Note,
        quantities,
        excluded: Vec::new(),
        picture: Picture::None,
        focal: None,
        along: None,
        response: None,
    })
}

/// Noise and largest pressure of every range that has been measured with, in the order of the record,
/// and of the calibrated sensors of check sources: from a noise record where there is one, else from
/// the part before the arrival of the first scan at that range.
pub fn by_range(prepared: &Prepared, plan: &Plan, results: &[ScanResult]) -> Vec<RangeNoise> {
    let record = &prepared.record;
    let ids: Vec<Option<&str>> = if record.sensor.ranges.is_empty() {
        vec![None]
    } else {
        record.sensor.ranges.iter().map(|range| Some(range.id.as_str())).collect()
    };
    let mut out: Vec<RangeNoise> =
        ids.into_iter().filter_map(|range| of_range(prepared, plan, results, range)).collect();
    out.extend(references(prepared));
    out
}

fn of_range(
    prepared: &Prepared,
    plan: &Plan,
    results: &[ScanResult],
    range: Option<&str>,
) -> Option<RangeNoise> {
    let record = &prepared.record;
    let at_range =
        |part: &&PreparedScan| record.chain_of(&part.entry).range.map(|r| r.id.as_str()) == range;
    let quiet = prepared.quiet.iter().map(|part| (part, NoiseFrom::NoiseRecord));
    let scans = prepared.scans.iter().map(|part| (part, NoiseFrom::PreArrival));
    let found = quiet.chain(scans).filter(|(part, _)| at_range(part)).find_map(|(part, from)| {
        let result = results.iter().find(|result| result.id == part.scan.id)?;
        let value = |id: &str| {
            let quantity = result.quantities.iter().find(|q| q.id == id)?;
            quantity.outcome.clone().ok()
        };
        Some((part, from, value("nep")?, value("nep_density")?))
    });
    let (part, from, nep_pa, nep_density) = found?;
    Some(RangeNoise {
        of: range.map_or(NoiseOf::Sensor, |id| NoiseOf::Range(id.to_owned())),
        scan: part.scan.id.clone(),
        from,
        nep_pa,
        band_hz: (nep_pa / nep_density).powi(2),
        nep_density,
        limit_pa: largest_pressure(record, part, frequency(prepared, plan, part)),
    })
}

fn frequency(prepared: &Prepared, plan: &Plan, part: &PreparedScan) -> Option<f64> {
    plan_for(prepared, plan, part).and_then(|frozen| frozen.frequency_hz)
}

fn references(prepared: &Prepared) -> Vec<RangeNoise> {
    let record: &Record = &prepared.record;
    prepared
        .transfers
        .iter()
        .filter_map(|transfer| {
            let nep_pa = transfer.reference_nep_pa?;
            let stated = record.placed_responses();
            let (_, response) = stated.iter().find(|(place, _)| *place == transfer.place)?;
            let limit_pa = match response {
                Response::CheckSource { reference_limit_pa, .. } => *reference_limit_pa,
                _ => None,
            };
            Some(RangeNoise {
                of: NoiseOf::ReferenceSensor,
                scan: transfer.reference_scan.clone(),
                from: NoiseFrom::PreArrival,
                nep_pa,
                band_hz: transfer.noise_band_hz,
                nep_density: noise_equivalent::nep_density(nep_pa, transfer.noise_band_hz),
                limit_pa,
            })
        })
        .collect()
}
