//! Volume of a focus: the ellipsoid of its widths, and the volume counted over planes.

use std::f64::consts::PI;

/// Volume of an ellipsoid with three full axes, π/6 · w_x w_y l, m³.
///
/// # References
/// Geometry; common practice for a −6 dB focal volume.
pub fn ellipsoid_m3(width_x_m: f64, width_y_m: f64, length_m: f64) -> f64 {
    PI / 6.0 * width_x_m * width_y_m * length_m
}

/// A volume from the areas of planes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CountedVolume {
    pub volume_m3: f64,
    /// Planes with an area.
    pub planes: usize,
    /// The first or last plane has an area: the volume goes on beyond and is too small.
    pub open: bool,
}

/// Volume by the trapezoidal rule over planes (z, area), each area that inside the contour at one absolute
/// level, −6 dB of the largest value of all planes; 0 where a plane does not reach it.
///
/// `None` with fewer than three planes at different places, or none with an area.
///
/// # Units
/// z in m, in any order; areas in m².
///
/// # References
/// Common practice, no source.
pub fn counted_m3(planes: &[(f64, f64)]) -> Option<CountedVolume> {
    let mut planes = planes.to_vec();
    planes.sort_by(|a, b| a.0.total_cmp(&b.0));
    planes.dedup_by(|a, b| a.0 == b.0);
    let with_area = planes.iter().filter(|p| p.1 > 0.0).count();
    if planes.len() < 3 || with_area == 0 {
        return None;
    }
    let volume_m3 = planes.windows(2).map(|w| 0.5 * (w[0].1 + w[1].1) * (w[1].0 - w[0].0)).sum();
    let open = [planes.first(), planes.last()].into_iter().flatten().any(|p| p.1 > 0.0);
    Some(CountedVolume { volume_m3, planes: with_area, open })
}

#[cfg(test)]
mod tests {
    use super::super::{Scale, beam_area::beam_area, spatial_peak::of_plane};
    use super::*;

    /// A Gaussian ellipsoid exp(−2(x²/a² + y²/b² + z²/l²)): its −6 dB surface is an ellipsoid of full axes
    /// 1.662 258 1 (a, b, l) (closed form); counted over planes whose contours are at the level of the
    /// whole.
    #[test]
    fn a_gaussian_ellipsoid() {
        let (a, b, l) = (1e-3, 1.4e-3, 9e-3);
        let exact = PI / 6.0 * 1.662_258_1f64.powi(3) * a * b * l;
        assert!(
            (ellipsoid_m3(1.662_258_1 * a, 1.662_258_1 * b, 1.662_258_1 * l) / exact - 1.0).abs()
                < 1e-12
        );
        let x: Vec<f64> = (-16..=16).map(|i| f64::from(i) * 0.2e-3).collect();
        let mut planes = Vec::new();
        for k in -8..=8 {
            let z = f64::from(k) * 1.3e-3 + 0.2e-3;
            let values: Vec<f64> = (0..33 * 33)
                .map(|i| {
                    let (u, v, w) = (x[i % 33] / a, x[i / 33] / b, z / l);
                    (-2.0 * (u * u + v * v + w * w)).exp()
                })
                .collect();
            let mut peak = of_plane(&x, &x, &values, Scale::Energy).expect("positive");
            peak.value = 1.0;
            let area =
                beam_area(&x, &x, &values, &peak, Scale::Energy, 6.0).map_or(0.0, |r| r.area);
            planes.push((z, area));
        }
        planes.reverse();
        let found = counted_m3(&planes).expect("planes");
        assert!((found.volume_m3 / exact - 1.0).abs() < 0.01, "{}", found.volume_m3 / exact);
        assert!(!found.open && found.planes >= 11);
        assert!(counted_m3(&planes[4..]).expect("planes").open);
    }

    #[test]
    fn too_few() {
        assert_eq!(counted_m3(&[(0.0, 1.0), (1.0, 0.0)]), None);
        assert_eq!(counted_m3(&[(0.0, 0.0), (1.0, 0.0), (2.0, 0.0)]), None);
    }
}
