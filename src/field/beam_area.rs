//! `area_6`: area inside the −6 dB contour through the peak.

use super::Scale;
use super::spatial_peak::SpatialPeak;
use crate::dsp::contour::{Region, region};

/// Region around the peak above `db` below its value; its area in m².
///
/// # References
/// IEC 62127-1 (beam area; definition from memory): area inside the contour at a stated level of the
/// pulse-pressure-squared integral.
pub fn beam_area(
    x_m: &[f64],
    y_m: &[f64],
    values: &[f64],
    peak: &SpatialPeak,
    scale: Scale,
    db: f64,
) -> Option<Region> {
    let seed = (peak.cell / x_m.len(), peak.cell % x_m.len());
    region(x_m, y_m, values, peak.value * scale.ratio(db), seed)
}

#[cfg(test)]
mod tests {
    use super::super::spatial_peak::of_plane;
    use super::*;

    /// Gaussian: 0.690775528 π w² (closed form).
    #[test]
    fn gaussian() {
        let w = 1e-3;
        let x: Vec<f64> = (-20..=20).map(|i| f64::from(i) * 0.2e-3 + 3e-5).collect();
        let values: Vec<f64> = (0..41 * 41)
            .map(|i| (-2.0 * (x[i % 41].powi(2) + x[i / 41].powi(2)) / (w * w)).exp())
            .collect();
        let peak = of_plane(&x, &x, &values, Scale::Energy).expect("positive");
        let area = beam_area(&x, &x, &values, &peak, Scale::Energy, 6.0).expect("above").area;
        assert!((area / (0.690_775_528 * std::f64::consts::PI * w * w) - 1.0).abs() < 2e-3);
    }
}
