//! `width_major_6`, `width_minor_6`, `axis_angle`: widths along the beam's own axes.

use super::Scale;
use super::spatial_peak::SpatialPeak;
use crate::dsp::region_moments::region_moments;
use crate::dsp::surface::Surface;

/// Below this ratio of the widths the beam is round: its axes have no stated angle.
const ROUND: f64 = 1.02;

/// A beam along its own axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PrincipalAxes {
    /// Angle of the major axis from +x toward +y, rad, in (−π/2, π/2]; `None` for a round beam: the
    /// width along that axis is not at least 2 % larger than the other.
    pub angle_rad: Option<f64>,
    /// Width along the major axis through the peak, m.
    pub major_m: f64,
    /// Width along the minor axis, m.
    pub minor_m: f64,
    /// Root of the ratio of the second moments along the axes, at least 1.
    pub elongation: f64,
    /// Centre of gravity of the energy inside the region, m.
    pub centroid_m: (f64, f64),
}

/// Widths at `db` below the peak along the principal axes of the energy inside the connected region
/// above that level.
///
/// The axes are those of the second moments ∫E (r − r̄)(r − r̄)ᵀ dA about the centre of gravity, E the
/// energy (the square of an amplitude); the widths lie between the points on the lines through the peak
/// where the interpolated map falls to the level.
///
/// `None` when the region touches the edge of the scan.
///
/// # Shape
/// `values`: row-major (y.len(), x.len()).
///
/// # References
/// Widths as in IEC 62127-3 (beamwidth), along lines of our own choice; moments: ISO 11146-1 forms, from
/// memory, over the region alone.
pub fn principal_axes(
    x_m: &[f64],
    y_m: &[f64],
    values: &[f64],
    peak: &SpatialPeak,
    scale: Scale,
    db: f64,
) -> Option<PrincipalAxes> {
    let level = peak.value * scale.ratio(db);
    let energy: Vec<f64> = match scale {
        Scale::Energy => values.to_vec(),
        Scale::Amplitude => values.iter().map(|v| v * v).collect(),
    };
    let seed = (peak.cell / x_m.len(), peak.cell % x_m.len());
    let moments = region_moments(x_m, y_m, values, level, seed, &energy)?;
    if moments.at_edge {
        return None;
    }
    // The sum turns −0 into 0, and with it −π/2 into π/2.
    let angle = 0.5 * (2.0 * moments.xy + 0.0).atan2(moments.xx - moments.yy);
    let mean = 0.5 * (moments.xx + moments.yy);
    let apart = (0.5 * (moments.xx - moments.yy)).hypot(moments.xy);
    let surface = Surface { x: x_m, y: y_m, values };
    let width = |angle: f64| {
        let (sin, cos) = angle.sin_cos();
        let from = (peak.x_m, peak.y_m);
        Some(surface.fall(from, (cos, sin), level)? + surface.fall(from, (-cos, -sin), level)?)
    };
    let (along, across) = (width(angle)?, width(angle + std::f64::consts::FRAC_PI_2)?);
    let (major_m, minor_m) = (along.max(across), along.min(across));
    Some(PrincipalAxes {
        angle_rad: (along >= ROUND * across).then_some(angle),
        major_m,
        minor_m,
        elongation: ((mean + apart) / (mean - apart)).sqrt(),
        centroid_m: (moments.x, moments.y),
    })
}

#[cfg(test)]
mod tests {
    use super::super::spatial_peak::of_plane;
    use super::*;
    use std::f64::consts::{FRAC_PI_2, PI};

    /// −6 dB width of exp(−2u²/a²) over a (closed form).
    const WIDTH: f64 = 1.662_258_136_269_11;

    fn ellipse(x: &[f64], a: f64, b: f64, angle: f64) -> Vec<f64> {
        let (sin, cos) = angle.sin_cos();
        let (cx, cy) = (0.043, -0.027);
        x.iter()
            .flat_map(|y| x.iter().map(move |x| (x - cx, y - cy)))
            .map(|(x, y)| {
                let (u, v) = (x * cos + y * sin, y * cos - x * sin);
                (-2.0 * (u * u / (a * a) + v * v / (b * b))).exp()
            })
            .collect()
    }

    /// Gaussian ellipses at several angles, eight points across the minor width.
    #[test]
    fn ellipses() {
        let x: Vec<f64> = (-25..=25).map(|i| f64::from(i) * WIDTH / 8.0).collect();
        for degrees in [-89.0f64, -60.0, -45.0, -10.0, 0.0, 0.5, 30.0, 45.0, 77.0, 90.0] {
            let energy = ellipse(&x, 1.5, 1.0, degrees.to_radians());
            for scale in [Scale::Energy, Scale::Amplitude] {
                let values: Vec<f64> = match scale {
                    Scale::Energy => energy.clone(),
                    Scale::Amplitude => energy.iter().map(|v| v.sqrt()).collect(),
                };
                let peak = of_plane(&x, &x, &values, scale).expect("positive");
                let found = principal_axes(&x, &x, &values, &peak, scale, 6.0).expect("inside");
                let angle = found.angle_rad.expect("not round");
                assert!(angle > -FRAC_PI_2 && angle <= FRAC_PI_2);
                // An axis has no sense: angles are equal modulo π.
                let off = (angle - degrees.to_radians() + FRAC_PI_2).rem_euclid(PI) - FRAC_PI_2;
                assert!(off.abs() < 2e-3, "{degrees} {off}");
                assert!((found.major_m / (1.5 * WIDTH) - 1.0).abs() < 1e-3, "{found:?}");
                assert!((found.minor_m / WIDTH - 1.0).abs() < 1e-3, "{found:?}");
                assert!((found.elongation - 1.5).abs() < 0.01, "{found:?}");
            }
        }
    }

    /// A round beam has no angle; one that leaves the scan has no widths.
    #[test]
    fn round_and_cut() {
        let x: Vec<f64> = (-20..=20).map(|i| f64::from(i) * WIDTH / 6.0).collect();
        let values = ellipse(&x, 1.0, 1.0, 0.4);
        let peak = of_plane(&x, &x, &values, Scale::Energy).expect("positive");
        let found = principal_axes(&x, &x, &values, &peak, Scale::Energy, 6.0).expect("inside");
        assert_eq!(found.angle_rad, None);
        assert!((found.major_m / found.minor_m - 1.0).abs() < 2e-3, "{found:?}");
        let wide = ellipse(&x, 30.0, 1.0, 0.0);
        let peak = of_plane(&x, &x, &wide, Scale::Energy).expect("positive");
        assert_eq!(principal_axes(&x, &x, &wide, &peak, Scale::Energy, 6.0), None);
    }
}
