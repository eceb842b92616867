//! `width_x_…`, `width_y_…`, `length_…`: extent of the beam at a level below its peak.

use super::Scale;
use crate::dsp::interpolate::{crossing, lagrange_weights};

/// Extent along a profile of the stretch around `peak_m` on which the values stay above `db` below
/// `peak_value`, m. `None` when the profile does not fall so far on either side.
///
/// # References
/// IEC 62127-3 (beamwidth) as quoted in open glossaries: greatest distance between points where the
/// pulse-pressure-squared integral is `db` below its maximum; the stretch through the peak is taken.
pub fn width_m(
    along_m: &[f64],
    values: &[f64],
    peak_m: f64,
    peak_value: f64,
    scale: Scale,
    db: f64,
) -> Option<(f64, f64)> {
    let level = peak_value * scale.ratio(db);
    let low = crossing(along_m, values, peak_m, level, false)?;
    let high = crossing(along_m, values, peak_m, level, true)?;
    Some((low, high))
}

/// Profile along x of a map at the height `y_at_m`, interpolated between the rows (four-point
/// Lagrange, in the logarithm where the values are positive and alike).
pub fn profile_along_x(x_m: &[f64], y_m: &[f64], values: &[f64], y_at_m: f64) -> Option<Vec<f64>> {
    let (first, weights) = lagrange_weights(y_m, y_at_m)?;
    let nx = x_m.len();
    Some(
        (0..nx)
            .map(|c| blend((0..weights.len()).map(|k| values[(first + k) * nx + c]), &weights))
            .collect(),
    )
}

/// Value of a map at a position, likewise interpolated along both axes.
pub fn value_at(x_m: &[f64], y_m: &[f64], values: &[f64], at_m: (f64, f64)) -> Option<f64> {
    let profile = profile_along_x(x_m, y_m, values, at_m.1)?;
    let (first, weights) = lagrange_weights(x_m, at_m.0)?;
    Some(blend(profile.get(first..first + weights.len())?.iter().copied(), &weights))
}

/// Profile along y of a map at `x_at_m`, likewise.
pub fn profile_along_y(x_m: &[f64], y_m: &[f64], values: &[f64], x_at_m: f64) -> Option<Vec<f64>> {
    let (first, weights) = lagrange_weights(x_m, x_at_m)?;
    let nx = x_m.len();
    Some(
        (0..y_m.len())
            .map(|r| blend((0..weights.len()).map(|k| values[r * nx + first + k]), &weights))
            .collect(),
    )
}

fn blend(values: impl Iterator<Item = f64> + Clone, weights: &[f64]) -> f64 {
    let top = values.clone().fold(0.0f64, f64::max);
    if values.clone().all(|v| v > 0.03 * top) {
        values.zip(weights).map(|(v, w)| v.ln() * w).sum::<f64>().exp()
    } else {
        values.zip(weights).map(|(v, w)| v * w).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Gaussian intensity exp(−2r²/w²): widths over w at −3, −6, −12 dB 1.1753940, 1.6622581,
    /// 2.3507880 (closed form), with eight points across −6 dB, peak off the grid.
    #[test]
    fn gaussian_widths() {
        let w = 1e-3;
        let step = 1.6622581 * w / 8.0;
        let x: Vec<f64> = (-20..=20).map(|i| f64::from(i) * step).collect();
        let (cx, cy) = (0.31 * step, -0.44 * step);
        let values: Vec<f64> = (0..41 * 41)
            .map(|i| {
                let (dx, dy) = (x[i % 41] - cx, x[i / 41] - cy);
                (-2.0 * (dx * dx + dy * dy) / (w * w)).exp()
            })
            .collect();
        let along = profile_along_x(&x, &x, &values, cy).expect("inside");
        for (db, expected) in [(3.0, 1.1753940), (6.0, 1.6622581), (12.0, 2.3507880)] {
            let (a, b) = width_m(&x, &along, cx, 1.0, Scale::Energy, db).expect("falls");
            assert!(((b - a) / w / expected - 1.0).abs() < 2e-4, "{db}");
        }
        let down = profile_along_y(&x, &x, &values, cx).expect("inside");
        let (a, b) = width_m(&x, &down, cy, 1.0, Scale::Energy, 6.0).expect("falls");
        assert!(((b - a) / w / 1.6622581 - 1.0).abs() < 1e-5);
    }

    /// Focal plane of a uniform bowl, 2 J1(x)/x: −6 dB width 1.40806634656 λF# (mpmath; H. T. O'Neil,
    /// J. Acoust. Soc. Am. 21 (1949) 516, focal-plane limit). J1 by its power series.
    #[test]
    fn airy_width() {
        let j1 = |x: f64| {
            let mut term = x / 2.0;
            let mut sum = term;
            for k in 1..60 {
                term *= -(x * x / 4.0) / (f64::from(k) * f64::from(k + 1));
                sum += term;
            }
            sum
        };
        // Lengths in λF#: the argument is x = π r/(λF#).
        let r: Vec<f64> = (-18..=18).map(|i| f64::from(i) * 1.408 / 8.0 + 0.05).collect();
        let energy: Vec<f64> = r
            .iter()
            .map(|r| {
                let x = std::f64::consts::PI * r.abs();
                if x < 1e-9 { 1.0 } else { (2.0 * j1(x) / x).powi(2) }
            })
            .collect();
        let (a, b) = width_m(&r, &energy, 0.0, 1.0, Scale::Energy, 6.0).expect("falls");
        assert!(((b - a) / 1.40806634656 - 1.0).abs() < 2e-4, "{}", b - a);
    }
}
