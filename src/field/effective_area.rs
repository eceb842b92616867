//! `era`, `bnr`: effective radiating area and beam non-uniformity of an unfocused head.

/// Fraction of the total mean-square pressure inside the beam's cross-section.
const ENCLOSED: f64 = 0.75;
/// Effective radiating area over the beam's cross-sectional area at 3 mm.
const AREA_FACTOR: f64 = 1.333;

/// Area and uniformity of a head's beam.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EffectiveArea {
    /// A_BCS: smallest area that holds 75 % of the total mean-square pressure, m².
    pub beam_m2: f64,
    /// A_ER = 1.333 A_BCS, m².
    pub era_m2: f64,
    /// R_BN: largest mean square times A_ER over the mean square integrated over the plane.
    pub bnr: f64,
    /// Points inside A_BCS; with few of them the area is coarse.
    pub points: usize,
    /// A point on the edge of the scan belongs to A_BCS: the total is then too small.
    pub at_edge: bool,
}

/// Effective radiating area and beam non-uniformity ratio from a plane 3 mm before the face.
///
/// The points are sorted by falling mean square, each with the area of its cell; A_BCS is the area after
/// which their sum reaches 75 % of the total, linear within the last point. R_BN = p_max² A_ER/(pms_t A₀).
///
/// `None` without a positive total.
///
/// # Units
/// `mean_square`: Pa², noise energy subtracted; any map in proportion to it does (ppsi of a burst).
/// `largest` is its largest value, of the peak's fit or of the map.
///
/// # Shape
/// `mean_square`: row-major (y.len(), x.len()).
///
/// # References
/// IEC 61689:2013 (beam cross-sectional area, effective radiating area, beam non-uniformity ratio; values
/// and definitions from memory).
pub fn effective_area(
    x_m: &[f64],
    y_m: &[f64],
    mean_square: &[f64],
    largest: f64,
) -> Option<EffectiveArea> {
    let (wide, high) = (cells(x_m), cells(y_m));
    let columns = x_m.len();
    let area = |i: usize| wide[i % columns] * high[i / columns];
    if mean_square.len() != wide.len() * high.len() {
        return None;
    }
    let total: f64 = mean_square.iter().enumerate().map(|(i, v)| v * area(i)).sum();
    if total.is_nan() || total <= 0.0 {
        return None;
    }
    let mut order: Vec<usize> = (0..mean_square.len()).collect();
    order.sort_by(|a, b| mean_square[*b].total_cmp(&mean_square[*a]).then(a.cmp(b)));
    let (mut sum, mut beam_m2, mut points, mut at_edge) = (0.0, 0.0, 0, false);
    for i in order {
        let here = mean_square[i] * area(i);
        let part = ((ENCLOSED * total - sum) / here).min(1.0);
        sum += here;
        beam_m2 += part * area(i);
        points += 1;
        let (row, column) = (i / columns, i % columns);
        at_edge |= row == 0 || column == 0 || row + 1 == high.len() || column + 1 == columns;
        if sum >= ENCLOSED * total {
            break;
        }
    }
    let era_m2 = AREA_FACTOR * beam_m2;
    Some(EffectiveArea { beam_m2, era_m2, bnr: largest * era_m2 / total, points, at_edge })
}

/// Width of each point's cell: between the middles to its neighbours, a full step at the ends.
fn cells(x: &[f64]) -> Vec<f64> {
    let steps: Vec<f64> = x.windows(2).map(|w| w[1] - w[0]).collect();
    let (Some(first), Some(last)) = (steps.first(), steps.last()) else { return Vec::new() };
    std::iter::once(first)
        .chain(&steps)
        .zip(steps.iter().chain(std::iter::once(last)))
        .map(|(left, right)| 0.5 * (left + right))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    fn map(x: &[f64], f: impl Fn(f64) -> f64) -> Vec<f64> {
        x.iter().flat_map(|y| x.iter().map(move |x| x.hypot(*y))).map(f).collect()
    }

    /// Gaussian exp(−2r²/w²): A_BCS = ½ ln 4 · πw² = ln 2 · πw², A_ER 0.924 196 2 πw² and R_BN
    /// 1.848 392 5 with a factor of 4/3, 0.025 % more than 1.333 (closed forms).
    #[test]
    fn a_gaussian() {
        let w = 10e-3;
        let x: Vec<f64> = (-30..=30).map(|i| (f64::from(i) + 0.21) * 1e-3).collect();
        let found = effective_area(&x, &x, &map(&x, |r| 9e8 * (-2.0 * r * r / (w * w)).exp()), 9e8)
            .expect("positive");
        let unit = PI * w * w;
        assert!((found.beam_m2 / unit / std::f64::consts::LN_2 - 1.0).abs() < 3e-3, "{found:?}");
        assert!((found.era_m2 / unit / 0.924_196_2 - 1.0).abs() < 3e-3, "{found:?}");
        assert!((found.bnr / 1.848_392_5 - 1.0).abs() < 3e-3 && !found.at_edge, "{found:?}");
    }

    /// A beam of the same pressure everywhere in a circle: 75 % of its area, R_BN = 1.333 · 0.75.
    #[test]
    fn a_flat_beam() {
        let x: Vec<f64> = (-30..=30).map(|i| f64::from(i) * 0.5e-3).collect();
        let found = effective_area(&x, &x, &map(&x, |r| f64::from(r < 12.1e-3)), 1.0).expect("ok");
        let exact = 0.75 * PI * 12.1e-3f64.powi(2);
        assert!((found.beam_m2 / exact - 1.0).abs() < 0.02, "{found:?}");
        assert!((found.bnr - 0.999_75).abs() < 1e-3, "{found:?}");
    }

    #[test]
    fn nothing_and_too_narrow() {
        let x = [0.0, 1e-3, 2e-3];
        assert_eq!(effective_area(&x, &x, &[0.0; 9], 0.0), None);
        assert_eq!(effective_area(&x[..1], &x, &[1.0; 3], 1.0), None);
        assert!(effective_area(&x, &x, &[1.0; 9], 1.0).expect("positive").at_edge);
    }
}
