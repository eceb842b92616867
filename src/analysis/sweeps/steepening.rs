//! How far the wave has steepened at each level: σ_q, σ_m, the distance to a shock.

use super::Level;
use super::curve::abscissa;
use super::rows::value;
use crate::analysis::conditions::temperature_c;
use crate::analysis::prepare::Prepared;
use crate::analysis::results::{Picture, ScanResult};
use crate::base::drive::DriveCurve;
use crate::base::water;
use crate::drive::nonlinear_propagation::{shock_distance_m, sigma_m};
use crate::field::local_distortion::{Propagation, sigma_q};
use crate::field::{head_distance, source_area};
use crate::record::{Device, Record, ZZero};

/// Planes nearer along the beam than this part of the distance from the head show the beam at the place.
const NEAR: f64 = 0.02;

/// Fills in σ_q, σ_m and shock distances as far as record and planes allow.
pub fn complete(
    prepared: &Prepared,
    scans: &[ScanResult],
    levels: &[Level<'_>],
    curve: &mut DriveCurve,
) {
    let record = &prepared.record;
    let Some(frequency_hz) = levels
        .iter()
        .find_map(|level| level.scan.focal.as_ref().and_then(|wave| wave.frequency_hz))
    else {
        return;
    };
    let temperature = temperature_c(record).0;
    let density = water::density_kg_per_m3(temperature);
    let speed = water::sound_speed_m_per_s(temperature);
    let Some(distance_m) = distance_m(record, levels) else { return };
    let beam_area_m2 = beam_area_m2(record, scans, distance_m);
    let source_area_m2 = source_area::source_area_m2(&record.device);
    let gain = focal_gain(&record.device, frequency_hz, speed);
    let against = abscissa(record);
    let slope = curve.pc_line.map(|line| line.slope);
    for row in &mut curve.rows {
        let Some((pc, pr)) = row.pc_pa.zip(row.pr_pa) else { continue };
        let mean_peak_pa = 0.5 * (pc + pr);
        row.sigma_q = source_area_m2.zip(beam_area_m2).map(|(source_area_m2, beam_area_m2)| {
            sigma_q(&Propagation {
                distance_m,
                mean_peak_pa,
                frequency_hz,
                source_area_m2,
                beam_area_m2,
                density_kg_m3: density,
                speed_m_s: speed,
            })
        });
        let Some(gain) = gain else { continue };
        row.sigma_m = sigma_m(distance_m, mean_peak_pa, frequency_hz, gain, (density, speed));
        // The source's amplitude without steepening: what the line gives, over the gain.
        let linear = slope.zip(against.and_then(|against| against.at(row.level)));
        row.shock_distance_m = linear
            .map(|(slope, x)| slope * x / gain)
            .filter(|p| *p > 0.0)
            .map(|p| shock_distance_m(p, frequency_hz, density, speed));
    }
}

/// Distance of the place from the head, m.
pub fn distance_m(record: &Record, levels: &[Level<'_>]) -> Option<f64> {
    let stated = levels
        .iter()
        .find_map(|level| record.scans.get(level.entry).and_then(|entry| entry.distance_m));
    let measured = || {
        // From the end of a coupling cone the distance of the source is not known.
        let cone = record.frame.z_zero == Some(ZZero::Cone);
        let z_m = levels.iter().find_map(|level| level.scan.focal.as_ref()?.position_m[2])?;
        let head_m = head_distance::head_m(&record.frame, &record.device).ok()?;
        (!cone).then(|| head_distance::from_datum_m(&record.frame, z_m) - head_m)
    };
    stated.or_else(measured).filter(|z| *z > 0.0)
}

/// −6 dB area of the beam at that distance, m²: of the plane there at the lowest level.
fn beam_area_m2(record: &Record, scans: &[ScanResult], distance_m: f64) -> Option<f64> {
    let head_m = head_distance::head_m(&record.frame, &record.device).ok()?;
    let planes = scans.iter().filter_map(|scan| {
        let Picture::Plane(plane) = &scan.picture else { return None };
        let z_m = head_distance::from_datum_m(&record.frame, plane.z_m?) - head_m;
        let near = (z_m - distance_m).abs() <= NEAR * distance_m;
        Some((scan.level.unwrap_or(f64::INFINITY), value(scan, "area_6").filter(|_| near)?))
    });
    planes.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, area)| area)
}

/// Gain of the pressure at the centre of a bowl, k h, h the depth of the bowl.
///
/// # References
/// O'Neil, J. Acoust. Soc. Am. 21 (1949) 516.
fn focal_gain(device: &Device, frequency_hz: f64, speed_m_s: f64) -> Option<f64> {
    let (radius, rim) = (device.radius_of_curvature_m?, device.aperture_radius_m?);
    let square = radius * radius - rim * rim;
    let k = 2.0 * std::f64::consts::PI * frequency_hz / speed_m_s;
    (square > 0.0).then(|| k * (radius - square.sqrt()))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// O'Neil, bowl A: R = 100 mm, a = 30 mm, 1 MHz, 1500 m/s: kh = 19.293 902 2.
    #[test]
    fn gain_of_a_bowl() {
        let device = Device {
            radius_of_curvature_m: Some(0.1),
            aperture_radius_m: Some(0.03),
            ..Device::default()
        };
        let gain = focal_gain(&device, 1e6, 1500.0).expect("a bowl");
        assert!((gain - 19.293_902_2).abs() < 1e-6, "{gain}");
    }
}
