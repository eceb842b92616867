//! Thermal indices, from the power of a plane under the stated exposure and the intensity along the beam.

use super::along::Along;
use super::goes_with::goes_with;
use crate::analysis::results::ScanResult;
use crate::base::quantity::{Quantity, Reason, TimeBase};
use crate::base::safety::SafetyBasis;
use crate::record::{Record, Role};
use crate::safety::thermal_indices::{self as index, Beam, Below, By};

/// Powers over time, the one that is preferred first.
const POWERS: [&str; 2] = ["power_ta_angular", "power_ta_plane_wave"];

/// The indices of a scan; what they rest on is noted.
pub fn indices(
    record: &Record,
    scans: &[ScanResult],
    scan: &ScanResult,
    basis: &mut SafetyBasis,
) -> Vec<Quantity> {
    let power = power(scans, scan.level);
    let coverage = record.decision.coverage;
    let along = scan.along.as_ref();
    let plane = power.as_ref().ok().map(|(plane, _)| *plane);
    basis.frequency_hz = along.map(|along| along.frequency_hz).or_else(|| own_frequency(plane?));
    if let Ok((plane, quantity)) = &power {
        basis.power_scan = Some(plane.id.clone());
        basis.power = Some(quantity.id.to_owned());
        basis.power_w = quantity.outcome.clone().ok();
    }
    let aperture_m2 = basis.aperture_m2.ok_or_else(|| Reason::blank("device.source_area_m2"));
    let given = power.and_then(|(_, quantity)| {
        let power_w = quantity.outcome.clone()?;
        Ok(Given { power: quantity, power_w, aperture_m2: aperture_m2? })
    });
    let intensity = scan.quantities.iter().find(|q| q.id == "ispta_derated");
    let found = || given.as_ref().map_err(Clone::clone);
    let surface = |id: &'static str, value: Result<f64, Reason>, by: &'static str| {
        let quantity = Quantity::from_outcome(id, value).on_base(TimeBase::Exposure).by(by);
        match &given {
            Ok(given) => goes_with(quantity, &[(given.power, 1.0)], coverage),
            Err(_) => quantity,
        }
    };
    let tis = match found() {
        Ok(given) if index::is_small(given.aperture_m2) => {
            let frequency = basis.frequency_hz.ok_or_else(|| Reason::new("too-few-crossings"));
            let value = frequency.map(|f| index::soft_tissue_at_surface(given.power_w, f));
            surface("tis", value, "tis-at-surface")
        }
        _ => {
            let below = found().and_then(|given| given.tis(scan));
            basis.tis_depth_m = below.as_ref().ok().map(|(_, depth_m)| *depth_m);
            below_surface("tis", "tis-below-surface", below, &given, intensity, coverage)
        }
    };
    let below = found().and_then(|given| given.tib(scan));
    basis.tib_depth_m = below.as_ref().ok().map(|(_, depth_m)| *depth_m);
    let tib = below_surface("tib", "tib-largest-product", below, &given, intensity, coverage);
    let tic = found().map(|given| index::cranial_bone(given.power_w, given.aperture_m2));
    vec![tis, tib, surface("tic", tic, "tic-at-surface")]
}

/// What an index needs besides the axis.
struct Given<'a> {
    power: &'a Quantity,
    power_w: f64,
    aperture_m2: f64,
}

impl Given<'_> {
    /// Soft tissue below the surface, with its depth.
    fn tis(&self, scan: &ScanResult) -> Result<(Below, f64), Reason> {
        let (along, intensities) = axis(scan)?;
        let from_m = index::break_point_m(self.aperture_m2);
        let beam = self.beam(along, &intensities);
        let found = index::soft_tissue_below(&beam, self.aperture_m2)
            .ok_or_else(|| Reason::new("axis-ends-before-break-point"))?;
        inside(along, found, Some(from_m))
    }

    /// Bone at a focus, with its depth.
    fn tib(&self, scan: &ScanResult) -> Result<(Below, f64), Reason> {
        let (along, intensities) = axis(scan)?;
        let beam = self.beam(along, &intensities);
        let found = index::bone(&beam).ok_or_else(|| Reason::new("no-pulse"))?;
        inside(along, found, None)
    }

    fn beam<'a>(&self, along: &'a Along, intensity_w_m2: &'a [f64]) -> Beam<'a> {
        Beam {
            power_w: self.power_w,
            frequency_hz: along.frequency_hz,
            depth_m: &along.depths_m,
            intensity_w_m2,
        }
    }
}

/// The axis of a scan with its intensities, corrected as `ispta_derated` was.
fn axis(scan: &ScanResult) -> Result<(&Along, Vec<f64>), Reason> {
    let Some(along) = &scan.along else {
        let given = scan.quantities.iter().find(|q| q.id == "ispta_derated");
        let reason = given.and_then(|q| q.outcome.clone().err());
        return Err(reason.unwrap_or_else(|| Reason::new("no-axial-scan")));
    };
    let values = along.intensity_w_m2.as_ref().map_err(Clone::clone)?;
    let before = along.ispta_derated.clone()?;
    let after = scan.quantities.iter().find(|q| q.id == "ispta_derated");
    let after = after.map_or_else(|| Err(Reason::new("no-pulse")), |q| q.outcome.clone())?;
    Ok((along, values.iter().map(|v| v * after / before).collect()))
}

/// An index with its depth, if its largest value does not stand at an end of the axis beyond which there
/// may be larger ones. At the far end, and where the samples begin only behind `from_m`, there may.
fn inside(along: &Along, found: Below, from_m: Option<f64>) -> Result<(Below, f64), Reason> {
    let depths = &along.depths_m;
    let depth_m = depths.get(found.at).copied().unwrap_or_default();
    let next = depths.get(1).zip(depths.first()).map_or(0.0, |(b, a)| b - a);
    let begins = depths.first().is_some_and(|first| from_m.is_none_or(|from| *first > from + next));
    if (found.at == 0 && begins) || found.at + 1 == depths.len() {
        return Err(Reason::new("derated-peak-at-edge"));
    }
    Ok((found, depth_m))
}

/// An index below the surface with what it goes with.
fn below_surface(
    id: &'static str,
    method: &'static str,
    found: Result<(Below, f64), Reason>,
    given: &Result<Given<'_>, Reason>,
    intensity: Option<&Quantity>,
    coverage: f64,
) -> Quantity {
    let by = found.as_ref().ok().map(|(below, _)| below.by);
    let quantity = Quantity::from_outcome(id, found.map(|(below, _)| below.value))
        .on_base(TimeBase::Exposure)
        .by(method);
    let (Some(by), Ok(given), Some(intensity)) = (by, given, intensity) else { return quantity };
    let others: &[(&Quantity, f64)] = match by {
        By::Power => &[(given.power, 1.0)],
        By::Intensity => &[(intensity, 1.0)],
        By::Both => &[(given.power, 0.5), (intensity, 0.5)],
    };
    goes_with(quantity, others, coverage)
}

/// The power under the stated exposure of a plane at a level: by angular spectrum where there is one, else
/// as of plane waves; of several planes the largest, which lost least beyond its window.
fn power(scans: &[ScanResult], level: Option<f64>) -> Result<(&ScanResult, &Quantity), Reason> {
    let planes = || scans.iter().filter(|s| s.role == Role::Plane && s.level == level);
    let of = |id: &'static str| {
        planes().filter_map(move |plane| {
            let own = |q: &&Quantity| q.id == id && q.time_base == Some(TimeBase::Exposure);
            Some((plane, plane.quantities.iter().find(own)?))
        })
    };
    let value = |q: &Quantity| q.outcome.clone().ok();
    for id in POWERS {
        let given = of(id).filter(|(_, q)| q.outcome.is_ok());
        let largest =
            given.max_by(|a, b| value(a.1).unwrap_or(0.0).total_cmp(&value(b.1).unwrap_or(0.0)));
        if let Some(found) = largest {
            return Ok(found);
        }
    }
    let why = of(POWERS[0]).find_map(|(_, q)| q.outcome.clone().err());
    Err(why.unwrap_or_else(|| Reason::new("no-plane-at-level")))
}

fn own_frequency(scan: &ScanResult) -> Option<f64> {
    scan.quantities.iter().find(|q| q.id == "f_awf_zero")?.outcome.clone().ok()
}
