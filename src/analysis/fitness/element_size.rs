//! Whether the sensor is small enough for the field.

use crate::analysis::assemble::ScanInput;
use crate::base::finding::{Arg, Finding, Severity};
use crate::record::Role;

/// Largest effective radius that the criterion allows: λ/(8 a₁) √(l² + a₁²), for a source of radius a₁
/// at the distance l.
///
/// # Units
/// All in m.
///
/// # Examples
/// At l = 4 a₁: 0.515 λ.
///
/// # References
/// IEC 62127-1 (criterion from memory). It was derived for plane sources and linear signals (K. A. Wear,
/// IEEE Trans. UFFC 69 (2022) 1243): for focused, steepened fields it is a lower hurdle.
pub fn largest_radius_m(wavelength_m: f64, source_radius_m: f64, distance_m: f64) -> f64 {
    wavelength_m / (8.0 * source_radius_m) * distance_m.hypot(source_radius_m)
}

/// Tells when the stated radius exceeds the criterion at the drive frequency.
pub fn too_large(input: &ScanInput<'_>) -> Option<Finding> {
    let record = input.setting.record;
    let f = input.plan.frequency_hz?;
    let radius = record.sensor.effective_radius_m.as_ref()?.at(f)?;
    let source = record.device.aperture_radius_m?;
    let in_beam = matches!(input.part.entry.role, Role::Plane | Role::Point | Role::Line);
    let distance = input
        .part
        .entry
        .distance_m
        .or_else(|| input.part.scan.grid.z_m(0).filter(|_| in_beam))
        .or(record.device.radius_of_curvature_m)
        .filter(|distance| *distance > 0.0)?;
    let limit = largest_radius_m(input.plan.sound_speed_m_per_s / f, source, distance);
    (radius > limit).then(|| {
        input
            .finding(Severity::Caution, "element-large")
            .at("sensor.effective_radius_m")
            .with("found", Arg::measure(radius, "m"))
            .with("limit", Arg::measure(limit, "m"))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// l = 4 a₁: 0.515 388 2 λ; F/1, l = 2 a₁: 0.279 508 5 λ (√17/8, √5/8).
    #[test]
    fn worked_cases() {
        assert!((largest_radius_m(1.0, 0.01, 0.04) - 17f64.sqrt() / 8.0).abs() < 1e-12);
        assert!((largest_radius_m(1.0, 0.02, 0.04) - 0.279_508_5).abs() < 1e-7);
    }
}
