//! `sidelobe_db`: the highest level outside the main lobe.

use super::Scale;
use super::spatial_peak::SpatialPeak;
use crate::dsp::contour::region;
use crate::dsp::smooth_surface::smoothed;
use crate::dsp::surface::Surface;

/// What joins the peak above this level belongs to the main lobe, dB.
const MAIN_LOBE_DB: f64 = 6.0;
/// A top of its own stands at least this much above the highest way from it to a higher one, dB.
const PROMINENCE_DB: f64 = 1.0;
/// Radius over which noise is smoothed, as a fraction of the main lobe's −6 dB width.
const SMOOTHING: f64 = 0.2;
/// Places per step at which a top is looked for between the points.
const FINE: i32 = 8;

/// The highest side lobe.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SideLobe {
    /// Level re the main lobe's peak, dB, negative.
    pub level_db: f64,
    pub x_m: f64,
    pub y_m: f64,
    /// Level of the highest way from it to a higher hill, dB re the peak: how deep the gap is, down to the
    /// floor.
    pub gap_db: f64,
    /// The top lies on the edge of the scan: it may go on outside, and higher.
    pub at_edge: bool,
}

/// Highest top outside the main lobe.
///
/// The map, of an amplitude its square, is smoothed by local quadratics over a fifth of the main lobe's
/// −6 dB width (nothing with fewer than eight points across): the top of a ring is else the largest of
/// many noisy points. Noise of −40 dB of the peak's pressure still raises a ring at −17.6 dB by some
/// 0.3 dB.
///
/// Then the map is flooded from above: points join in falling order, each with its up to eight neighbours
/// that are higher; where two hills meet, the lower one ends. It is a side lobe when it ends below −6 dB
/// of the peak and its top stands at least 1 dB above that saddle; otherwise it is a part of the higher
/// hill. So the main lobe reaches down to the first valley about it, however it is shaped, and steps and
/// noise on its slope are no lobes. The top is looked for on the interpolated map within a step.
///
/// `None` where no such top reaches `floor`, the value (in the map's unit) that noise alone reaches
/// somewhere: of a map of ten thousand points four to five standard deviations.
///
/// # Shape
/// `values`: row-major (y.len(), x.len()).
///
/// # References
/// IEC TS 62556: maximum outside the main lobe re the main lobe, in dB (from memory). Flooding: the
/// watershed of image analysis; its two levels are our own.
pub fn side_lobe(
    x_m: &[f64],
    y_m: &[f64],
    values: &[f64],
    peak: &SpatialPeak,
    scale: Scale,
    floor: f64,
) -> Option<SideLobe> {
    let square = |v: f64| match scale {
        Scale::Energy => v,
        Scale::Amplitude => v * v.abs(),
    };
    let peak_energy = square(peak.value);
    let ratio = |db: f64| Scale::Energy.ratio(db);
    let energy: Vec<f64> = values.iter().map(|v| square(*v)).collect();
    let seed = (peak.cell / x_m.len(), peak.cell % x_m.len());
    let area = region(x_m, y_m, &energy, peak_energy * ratio(MAIN_LOBE_DB), seed)?.area;
    let width_m = 2.0 * (area / std::f64::consts::PI).sqrt();
    let energy = smoothed(x_m, y_m, &energy, SMOOTHING * width_m);
    let least = square(floor).max(peak_energy * 1e-12);
    let hill = hills(x_m.len(), &energy)
        .into_iter()
        .filter(|hill| energy[hill.top] >= least)
        .filter(|hill| hill.saddle < peak_energy * ratio(MAIN_LOBE_DB))
        .filter(|hill| hill.saddle <= energy[hill.top] * ratio(PROMINENCE_DB))
        .max_by(|a, b| energy[a.top].total_cmp(&energy[b.top]))?;
    let (row, column) = (hill.top / x_m.len(), hill.top % x_m.len());
    let (x, y, value) = refined(x_m, y_m, &energy, (row, column));
    let db = |v: f64| 10.0 * (v / peak_energy).log10();
    Some(SideLobe {
        level_db: db(value),
        x_m: x,
        y_m: y,
        gap_db: db(hill.saddle.max(least)),
        at_edge: row == 0 || column == 0 || row + 1 == y_m.len() || column + 1 == x_m.len(),
    })
}

/// A hill that ended where it met a higher one.
struct Hill {
    top: usize,
    /// Value where it ended.
    saddle: f64,
}

fn hills(columns: usize, values: &[f64]) -> Vec<Hill> {
    let rows = values.len() / columns.max(1);
    let mut order: Vec<usize> = (0..rows * columns).filter(|i| values[*i].is_finite()).collect();
    order.sort_by(|a, b| values[*b].total_cmp(&values[*a]).then(a.cmp(b)));
    // Each flooded point leads to the top of its hill.
    let mut leads: Vec<Option<usize>> = vec![None; values.len()];
    let mut out = Vec::new();
    for i in order {
        let (row, column) = (i / columns, i % columns);
        let mut mine: Option<usize> = None;
        for r in row.saturating_sub(1)..(row + 2).min(rows) {
            for c in column.saturating_sub(1)..(column + 2).min(columns) {
                let Some(other) = top_of(&mut leads, r * columns + c) else { continue };
                match mine {
                    None => mine = Some(other),
                    Some(top) if top != other => {
                        let higher =
                            if (values[top], other) >= (values[other], top) { top } else { other };
                        let lower = top + other - higher;
                        out.push(Hill { top: lower, saddle: values[i] });
                        leads[lower] = Some(higher);
                        mine = Some(higher);
                    }
                    Some(_) => {}
                }
            }
        }
        leads[i] = Some(mine.unwrap_or(i));
    }
    out
}

/// Top of the hill of a flooded point; shortens the way for the next time.
fn top_of(leads: &mut [Option<usize>], from: usize) -> Option<usize> {
    let mut top = leads[from]?;
    while let Some(next) = leads[top].filter(|next| *next != top) {
        top = next;
    }
    leads[from] = Some(top);
    Some(top)
}

/// Largest value of the interpolated map within a step of a point.
fn refined(
    x_m: &[f64],
    y_m: &[f64],
    values: &[f64],
    (row, column): (usize, usize),
) -> (f64, f64, f64) {
    let surface = Surface { x: x_m, y: y_m, values };
    let start = (x_m[column], y_m[row], values[row * x_m.len() + column]);
    let places = |axis: &[f64], i: usize| -> Vec<f64> {
        let down = if i > 0 { axis[i] - axis[i - 1] } else { 0.0 };
        let up = axis.get(i + 1).map_or(0.0, |next| next - axis[i]);
        (-FINE..=FINE)
            .map(|k| axis[i] + f64::from(k) / f64::from(FINE) * if k < 0 { down } else { up })
            .collect()
    };
    let xs = places(x_m, column);
    places(y_m, row)
        .iter()
        .flat_map(|y| xs.iter().map(move |x| (*x, *y)))
        .filter_map(|(x, y)| Some((x, y, surface.at((x, y))?)))
        .fold(start, |best, here| if here.2 > best.2 { here } else { best })
}

#[cfg(test)]
mod tests {
    use super::super::spatial_peak::of_plane;
    use super::*;
    use crate::dsp::noise::Noise;
    use std::f64::consts::PI;

    /// J₁ by its integral.
    fn j1(x: f64) -> f64 {
        (0..200)
            .map(|i| (f64::from(i) + 0.5) * PI / 200.0)
            .map(|t| (t - x * t.sin()).cos())
            .sum::<f64>()
            / 200.0
    }

    fn jinc(r: f64) -> f64 {
        if r < 1e-9 { 1.0 } else { 2.0 * j1(r) / r }
    }

    fn plane(x: &[f64], mut f: impl FnMut(f64, f64) -> f64) -> Vec<f64> {
        let mut out = Vec::new();
        for y in x {
            out.extend(x.iter().map(|x| f(*x, *y)));
        }
        out
    }

    fn axis(points_across: f64, reach: f64, off: f64) -> Vec<f64> {
        let step = 2.0 * 2.211_785 / points_across;
        let half = (reach / step).ceil() as i32;
        (-half..=half).map(|i| (f64::from(i) + off) * step).collect()
    }

    /// 2 J₁(x)/x: −17.570 15 dB at x = 5.135 6 (roots by mpmath), at several steps, in energy and in
    /// amplitude.
    #[test]
    fn first_side_lobe_of_a_focal_plane() {
        for (points, close) in [(5.0, 0.03), (8.0, 0.06), (13.0, 0.06), (30.0, 0.06)] {
            for off in [0.0, 0.37] {
                let x = axis(points, 12.0, off);
                for scale in [Scale::Energy, Scale::Amplitude] {
                    let values = plane(&x, |x, y| match scale {
                        Scale::Energy => jinc(x.hypot(y)).powi(2),
                        Scale::Amplitude => jinc(x.hypot(y)).abs(),
                    });
                    let mut peak = of_plane(&x, &x, &values, scale).expect("positive");
                    peak.value = 1.0;
                    let lobe = side_lobe(&x, &x, &values, &peak, scale, 0.0).expect("a ring");
                    assert!((lobe.level_db + 17.570_15).abs() < close, "{points} {lobe:?}");
                    assert!((lobe.x_m.hypot(lobe.y_m) - 5.135_6).abs() < 0.6, "{lobe:?}");
                    assert!(!lobe.at_edge && lobe.gap_db < -19.0);
                }
            }
        }
    }

    /// The same with noise of −40 dB of the peak in the pressure, 0.8 dB a deviation on the ring: the
    /// largest of many smoothed points still comes out 0.2 to 0.8 dB too high.
    #[test]
    fn with_noise() {
        let mut noise = Noise::new(6);
        for points in [6.0, 12.0, 25.0] {
            let x = axis(points, 12.0, 0.2);
            let sigma: f64 = 0.01;
            let values = plane(&x, |x, y| {
                // Energy of a complex amplitude, its mean noise taken off.
                let (a, b) = (
                    jinc(x.hypot(y)) + sigma * noise.next() / 2f64.sqrt(),
                    sigma * noise.next() / 2f64.sqrt(),
                );
                a * a + b * b - sigma * sigma
            });
            let peak = of_plane(&x, &x, &values, Scale::Energy).expect("positive");
            let lobe = side_lobe(&x, &x, &values, &peak, Scale::Energy, 20.0 * sigma * sigma)
                .expect("a ring");
            assert!((-17.6..-16.8).contains(&lobe.level_db), "{points} {lobe:?}");
            assert!((4.0..6.3).contains(&lobe.x_m.hypot(lobe.y_m)), "{lobe:?}");
        }
    }

    /// A lobe beside a Gaussian beam, its level and place known; a second top within −6 dB is none.
    #[test]
    fn a_lobe_beside() {
        let x: Vec<f64> = (-40..=40).map(|i| f64::from(i) * 0.2).collect();
        let hill =
            |x: f64, y: f64, cx: f64, cy: f64| (-2.0 * ((x - cx).powi(2) + (y - cy).powi(2))).exp();
        let values = plane(&x, |x, y| {
            hill(x, y, 0.0, 0.0) + 0.7 * hill(x, y, 1.3, 0.0) + 0.02 * hill(x, y, -3.07, 2.01)
        });
        let peak = of_plane(&x, &x, &values, Scale::Energy).expect("positive");
        let lobe = side_lobe(&x, &x, &values, &peak, Scale::Energy, 1e-6).expect("a lobe");
        assert!((lobe.level_db - 10.0 * (0.02 / peak.value).log10()).abs() < 0.12, "{lobe:?}");
        assert!((lobe.x_m + 3.07).abs() < 0.03 && (lobe.y_m - 2.01).abs() < 0.03, "{lobe:?}");
        assert_eq!(side_lobe(&x, &x, &values, &peak, Scale::Energy, 0.03), None);
        // One that the edge of the scan cuts.
        let values = plane(&x, |x, y| hill(x, y, 0.0, 0.0) + 0.1 * hill(x, y, 8.2, 0.0));
        let lobe = side_lobe(&x, &x, &values, &peak, Scale::Energy, 1e-6).expect("a lobe");
        assert!(lobe.at_edge);
    }
}
