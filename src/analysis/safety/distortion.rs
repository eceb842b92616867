//! Whether a linear rule may derate: the local distortion parameter.

use crate::analysis::conditions::temperature_c;
use crate::analysis::results::{Picture, ScanResult};
use crate::base::finding::{Finding, Severity};
use crate::base::safety::SafetyBasis;
use crate::base::water;
use crate::field::head_distance;
use crate::field::local_distortion::{Propagation, QUASI_LINEAR, STRONG, sigma_q};
use crate::field::source_area::source_area_m2;
use crate::record::{Record, Role, ZZero};

/// What is to be said against linear derating of the values of a scan; the parameter is noted.
pub fn finding(
    record: &Record,
    scans: &[ScanResult],
    scan: &ScanResult,
    basis: &mut SafetyBasis,
) -> Option<Finding> {
    // Only where something was derated.
    scan.along.as_ref()?;
    let planes = scans.iter().filter(|s| s.role == Role::Plane && s.level == scan.level);
    let found = planes.filter_map(|plane| of_plane(record, plane)).reduce(f64::max);
    basis.sigma_q = found;
    let tell = |severity, code: &str| {
        Some(Finding::new(severity, code).on("pr_derated").with("scan", scan.id.as_str()))
    };
    match found {
        None => tell(Severity::Note, "derating-distortion-unknown"),
        Some(sigma) if sigma > STRONG => tell(Severity::Caution, "derating-strong-distortion")
            .map(|finding| finding.with("found", sigma).with("limit", STRONG)),
        Some(sigma) if sigma > QUASI_LINEAR => tell(Severity::Note, "derating-distortion")
            .map(|finding| finding.with("found", sigma).with("limit", QUASI_LINEAR)),
        Some(_) => None,
    }
}

/// σ_q at a plane, where everything that it needs is known. From the end of a coupling cone the distance of
/// the source is not.
fn of_plane(record: &Record, plane: &ScanResult) -> Option<f64> {
    let Picture::Plane(picture) = &plane.picture else { return None };
    let value = |id: &str| plane.quantities.iter().find(|q| q.id == id)?.outcome.clone().ok();
    let from_head = || {
        let cone = record.frame.z_zero == Some(ZZero::Cone);
        let head_m = head_distance::head_m(&record.frame, &record.device).ok().filter(|_| !cone)?;
        Some(head_distance::from_datum_m(&record.frame, picture.z_m?) - head_m)
    };
    let stated = record.scan(&plane.id).and_then(|entry| entry.distance_m);
    let (temperature_c, _) = temperature_c(record);
    Some(sigma_q(&Propagation {
        distance_m: stated.or_else(from_head).filter(|z| *z > 0.0)?,
        mean_peak_pa: 0.5 * (value("pc")? + value("pr")?),
        frequency_hz: plane.focal.as_ref()?.frequency_hz?,
        source_area_m2: source_area_m2(&record.device)?,
        beam_area_m2: value("area_6")?,
        density_kg_m3: water::density_kg_per_m3(temperature_c),
        speed_m_s: water::sound_speed_m_per_s(temperature_c),
    }))
}
