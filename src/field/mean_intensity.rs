//! `isal`, `isata`: intensities averaged over the area inside a contour.

use super::Scale;
use super::spatial_peak::SpatialPeak;
use crate::dsp::region_moments::region_moments;

/// Level of half the peak pressure: a quarter of the intensity.
pub const HALF_PRESSURE: f64 = 0.25;

/// A mean inside a contour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeanInside {
    /// Mean of the averaged map, in its unit.
    pub mean: f64,
    /// Area inside the contour, m².
    pub area_m2: f64,
    /// Integral of the averaged map over that area: with an intensity the power inside, W.
    pub inside: f64,
}

/// I_SAL: mean of an intensity inside the contour through half the peak pressure (0.5 p, a quarter of
/// the intensity) of the same plane. To be taken at a level where propagation is linear.
///
/// `None` when the contour leaves the scan.
///
/// # Units
/// As the map's: W/m².
///
/// # References
/// C. R. Hill, I. Rivens, M. G. Vaughan, G. R. ter Haar, Ultrasound Med. Biol. 20 (1994) 259: intensity
/// spatially averaged over the area inside the half-pressure-maximum contour in the focal plane.
pub fn isal(x_m: &[f64], y_m: &[f64], i_on: &[f64], peak: &SpatialPeak) -> Option<MeanInside> {
    mean_inside(x_m, y_m, i_on, peak, HALF_PRESSURE, i_on)
}

/// I_SATA over the beam: mean of the temporal-average intensity inside the −6 dB contour of the
/// pulse-pressure-squared integral.
///
/// `None` when the contour leaves the scan.
///
/// # References
/// Beam area of IEC 62127-1 as the area averaged over; from memory.
pub fn isata(
    x_m: &[f64],
    y_m: &[f64],
    i_ta: &[f64],
    ppsi: &[f64],
    peak: &SpatialPeak,
) -> Option<MeanInside> {
    mean_inside(x_m, y_m, ppsi, peak, Scale::Energy.ratio(6.0), i_ta)
}

fn mean_inside(
    x_m: &[f64],
    y_m: &[f64],
    values: &[f64],
    peak: &SpatialPeak,
    ratio: f64,
    averaged: &[f64],
) -> Option<MeanInside> {
    let seed = (peak.cell / x_m.len(), peak.cell % x_m.len());
    let found = region_moments(x_m, y_m, values, peak.value * ratio, seed, averaged)?;
    (!found.at_edge && found.area > 0.0).then(|| MeanInside {
        mean: found.integral / found.area,
        area_m2: found.area,
        inside: found.integral,
    })
}

#[cfg(test)]
mod tests {
    use super::super::spatial_peak::of_plane;
    use super::*;
    use std::f64::consts::PI;

    fn j1(x: f64) -> f64 {
        (0..200)
            .map(|i| (f64::from(i) + 0.5) * PI / 200.0)
            .map(|t| (t - x * t.sin()).cos())
            .sum::<f64>()
            / 200.0
    }

    fn map(x: &[f64], f: impl Fn(f64) -> f64) -> Vec<f64> {
        x.iter()
            .flat_map(|b| x.iter().map(move |a| (*a, *b)))
            .map(|(a, b)| f((a - 0.21).hypot(b + 0.13)))
            .collect()
    }

    /// Focal plane of a bowl (2 J₁(x)/x)²: mean inside 0.5 p over the peak 0.556 745 1, inside −6 dB
    /// 0.557 660 5, power inside 0.682 934 3 and 0.682 018 0 of 4π (mpmath; H. T. O'Neil, J. Acoust. Soc.
    /// Am. 21 (1949) 516). Five and ten points across −6 dB. J₁ by its integral.
    #[test]
    fn a_focal_plane() {
        for (points, close) in [(5.0, 1.2e-2), (10.0, 1.5e-3)] {
            let step = 2.0 * 2.211_785 / points;
            let x: Vec<f64> = (-16..=16).map(|i| f64::from(i) * step).collect();
            let i_on = map(&x, |r| if r < 1e-9 { 1.0 } else { (2.0 * j1(r) / r).powi(2) });
            let mut peak = of_plane(&x, &x, &i_on, Scale::Energy).expect("positive");
            // The contour alone is tested here, not the fit of the peak.
            peak.value = 1.0;
            let half = isal(&x, &x, &i_on, &peak).expect("inside");
            assert!((half.mean / 0.556_745_13 - 1.0).abs() < close, "{half:?}");
            assert!((half.inside / (4.0 * PI * 0.682_934_3) - 1.0).abs() < close, "{half:?}");
            let six = isata(&x, &x, &i_on, &i_on, &peak).expect("inside");
            assert!((six.mean / 0.557_660_46 - 1.0).abs() < close, "{six:?}");
            assert!((six.inside / (4.0 * PI * 0.682_018_02) - 1.0).abs() < close, "{six:?}");
        }
    }

    /// Gaussian: mean inside −6 dB 0.542 007 7 of the peak, power inside 0.748 811 4 of π w²/2 (closed
    /// forms); the averaged map may have another scale than the contour's.
    #[test]
    fn a_gaussian() {
        let x: Vec<f64> = (-20..=20).map(|i| f64::from(i) * 0.2).collect();
        let ppsi = map(&x, |r| (-2.0 * r * r).exp());
        let i_ta: Vec<f64> = ppsi.iter().map(|v| 300.0 * v).collect();
        let peak = of_plane(&x, &x, &ppsi, Scale::Energy).expect("positive");
        let found = isata(&x, &x, &i_ta, &ppsi, &peak).expect("inside");
        assert!((found.mean / (300.0 * 0.542_007_7) - 1.0).abs() < 2e-3, "{found:?}");
        assert!((found.inside / (150.0 * PI * 0.748_811_4) - 1.0).abs() < 2e-3, "{found:?}");
        // Less than the contour is scanned.
        let x = &x[19..24];
        let cut = map(x, |r| (-2.0 * r * r).exp());
        let peak = of_plane(x, x, &cut, Scale::Energy).expect("positive");
        assert_eq!(isal(x, x, &cut, &peak), None);
    }
}
