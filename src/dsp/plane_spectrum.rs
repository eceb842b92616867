//! Spectrum over its plane of a complex map.

use rustfft::FftPlanner;
use rustfft::num_complex::Complex;

use super::filter::{bin_frequencies, fast_length};
use super::interpolate::weights_of;

/// Zero padding: the transform is at least this many times as long as the map along each axis, so that
/// no weight over the spectrum lets one edge of the map meet the other.
const PADDING: usize = 2;
/// Positions within this fraction of a step of equal ones are taken as equal.
const EQUAL: f64 = 1e-3;
/// Steps within this ratio of their mean are made equal without more points.
const ALIKE: f64 = 1.25;
/// Most points of the equal steps per point of the map, along each axis.
const MOST: usize = 4;
/// Points of the interpolation onto equal steps.
const INTERPOLATION: usize = 8;

/// Components exp(+j(kx x + ky y)) of a map, their phases relative to the map's first point.
#[derive(Debug, Clone, PartialEq)]
pub struct PlaneSpectrum {
    /// Wave numbers along x, rad per unit of length, in storage order.
    pub kx: Vec<f64>,
    /// Wave numbers along y, likewise.
    pub ky: Vec<f64>,
    /// Row-major (ky.len(), kx.len()), scaled so that Σ|value|² = Σ|map|² dx dy.
    pub values: Vec<Complex<f64>>,
    /// Equal steps along x and y.
    pub step: (f64, f64),
    /// Points of the equal steps, without the padding.
    pub points: usize,
    /// Whether the map was interpolated onto equal steps.
    pub resampled: bool,
}

/// Spectrum of a map by a discrete transform, padded with zeros to twice its size or more. Unequal steps
/// are made equal first by eight-point Lagrange interpolation of the complex values.
///
/// `None` with fewer than two points along an axis, coordinates that do not rise, or values that are not
/// as many as the points.
///
/// # Shape
/// `map`: row-major (y.len(), x.len()); coordinates rising.
pub fn plane_spectrum(x: &[f64], y: &[f64], map: &[Complex<f64>]) -> Option<PlaneSpectrum> {
    if map.len() != x.len() * y.len() {
        return None;
    }
    let (even_x, even_y) = (EqualSteps::of(x)?, EqualSteps::of(y)?);
    let resampled = even_x.differs || even_y.differs;
    let even = if resampled { resample(x, y, map, &even_x, &even_y)? } else { map.to_vec() };
    let (nx, ny) = (even_x.count, even_y.count);
    let (mx, my) = (fast_length(PADDING * nx), fast_length(PADDING * ny));
    let mut work = vec![Complex::new(0.0, 0.0); mx * my];
    for (padded, row) in work.chunks_exact_mut(mx).zip(even.chunks_exact(nx)) {
        padded[..nx].copy_from_slice(row);
    }
    let mut planner = FftPlanner::new();
    planner.plan_fft_forward(mx).process(&mut work[..mx * ny]);
    let mut turned = transposed(&work, mx);
    planner.plan_fft_forward(my).process(&mut turned);
    let mut values = transposed(&turned, my);
    let scale = (even_x.step * even_y.step / (mx * my) as f64).sqrt();
    values.iter_mut().for_each(|v| *v *= scale);
    let wave_numbers = |n: usize, step: f64| {
        bin_frequencies(n, step).map(|f| 2.0 * std::f64::consts::PI * f).collect()
    };
    Some(PlaneSpectrum {
        kx: wave_numbers(mx, even_x.step),
        ky: wave_numbers(my, even_y.step),
        values,
        step: (even_x.step, even_y.step),
        points: nx * ny,
        resampled,
    })
}

/// Equal steps over the same stretch as given coordinates.
struct EqualSteps {
    start: f64,
    step: f64,
    count: usize,
    differs: bool,
}

impl EqualSteps {
    fn of(x: &[f64]) -> Option<Self> {
        let (start, end) = (*x.first()?, *x.last()?);
        let n = x.len();
        let mean = (end - start) / n.checked_sub(1).filter(|n| *n > 0)? as f64;
        let steps = x.windows(2).map(|w| w[1] - w[0]);
        let smallest = steps.clone().fold(f64::INFINITY, f64::min);
        let largest = steps.fold(0.0, f64::max);
        if !(smallest > 0.0 && largest.is_finite()) {
            return None;
        }
        let off =
            x.iter().enumerate().any(|(i, v)| (v - start - mean * i as f64).abs() > EQUAL * mean);
        if !off || (largest <= ALIKE * mean && smallest * ALIKE >= mean) {
            return Some(Self { start, step: mean, count: n, differs: off });
        }
        let intervals = ((end - start) / smallest).ceil().min((MOST * n) as f64) as usize;
        let step = (end - start) / intervals as f64;
        Some(Self { start, step, count: intervals + 1, differs: true })
    }

    fn positions(&self) -> impl Iterator<Item = f64> {
        (0..self.count).map(|i| self.start + self.step * i as f64)
    }
}

fn resample(
    x: &[f64],
    y: &[f64],
    map: &[Complex<f64>],
    even_x: &EqualSteps,
    even_y: &EqualSteps,
) -> Option<Vec<Complex<f64>>> {
    let mut wide = Vec::with_capacity(y.len() * even_x.count);
    let across: Vec<_> =
        even_x.positions().map(|at| weights_of(x, at, INTERPOLATION)).collect::<Option<_>>()?;
    for row in map.chunks_exact(x.len()) {
        wide.extend(across.iter().map(|(first, weights)| {
            row[*first..].iter().zip(weights).map(|(v, w)| v * w).sum::<Complex<f64>>()
        }));
    }
    let mut out = Vec::with_capacity(even_x.count * even_y.count);
    for at in even_y.positions() {
        let (first, weights) = weights_of(y, at, INTERPOLATION)?;
        out.extend((0..even_x.count).map(|c| {
            let column = wide[first * even_x.count + c..].iter().step_by(even_x.count);
            column.zip(&weights).map(|(v, w)| v * w).sum::<Complex<f64>>()
        }));
    }
    Some(out)
}

/// Rows become columns.
fn transposed(values: &[Complex<f64>], columns: usize) -> Vec<Complex<f64>> {
    (0..columns).flat_map(|c| values[c..].iter().step_by(columns).copied()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    fn wave(x: &[f64], y: &[f64], kx: f64, ky: f64) -> Vec<Complex<f64>> {
        let envelope = |a: f64| (-a * a / 8.0).exp();
        y.iter()
            .flat_map(|b| x.iter().map(move |a| (*a, *b)))
            .map(|(a, b)| Complex::from_polar(envelope(a) * envelope(b), kx * a + ky * b))
            .collect()
    }

    /// Against the sum as it is written, and the sum of squares (Parseval).
    #[test]
    fn the_plain_sum() {
        let x: Vec<f64> = (0..7).map(|i| f64::from(i) * 0.5 + 3.0).collect();
        let y: Vec<f64> = (0..5).map(|i| f64::from(i) * 0.7 - 1.0).collect();
        let map = wave(&x, &y, 0.7, -1.1);
        let s = plane_spectrum(&x, &y, &map).expect("a map");
        let scale = (0.5 * 0.7 / s.values.len() as f64).sqrt();
        for (i, value) in s.values.iter().enumerate() {
            let (kx, ky) = (s.kx[i % s.kx.len()], s.ky[i / s.kx.len()]);
            let plain: Complex<f64> = map
                .iter()
                .enumerate()
                .map(|(j, v)| {
                    let turn = kx * (x[j % 7] - x[0]) + ky * (y[j / 7] - y[0]);
                    v * Complex::from_polar(scale, -turn)
                })
                .sum();
            assert!((plain - value).norm() < 1e-12);
        }
        let sum: f64 = s.values.iter().map(|v| v.norm_sqr()).sum();
        let direct: f64 = map.iter().map(|v| v.norm_sqr() * 0.5 * 0.7).sum();
        assert!((sum / direct - 1.0).abs() < 1e-12 && !s.resampled);
    }

    /// The strongest component of a wide packet has the packet's own wave numbers; steps that vary by
    /// 3 % change the spectrum by less than 1e-3 of its top.
    #[test]
    fn where_it_stands_and_unequal_steps() {
        let step = 0.5;
        let equal: Vec<f64> = (-32..=32).map(|i| f64::from(i) * step).collect();
        let (kx, ky) = (0.4 * PI / step, -0.2 * PI / step);
        let s = plane_spectrum(&equal, &equal, &wave(&equal, &equal, kx, ky)).expect("a map");
        let top = (0..s.values.len())
            .max_by(|a, b| s.values[*a].norm().total_cmp(&s.values[*b].norm()))
            .expect("some");
        let n = s.kx.len();
        assert!((s.kx[top % n] - kx).abs() < PI / 16.0 && (s.ky[top / n] - ky).abs() < PI / 16.0);
        let unequal: Vec<f64> = (-32..=32)
            .map(|i| f64::from(i) * step + 0.03 * step * (f64::from(i * i) * 0.9).sin())
            .map(|v| if v.abs() > 15.9 { v.round() } else { v })
            .collect();
        let t = plane_spectrum(&unequal, &unequal, &wave(&unequal, &unequal, kx, ky)).expect("ok");
        let largest = s.values[top].norm();
        let off = s.values.iter().zip(&t.values).map(|(a, b)| (a - b).norm()).fold(0.0, f64::max);
        assert!(t.resampled && off < 1e-3 * largest, "{}", off / largest);
    }

    /// A stretch of finer steps in the middle: the finer step is kept.
    #[test]
    fn a_finer_middle() {
        let x: Vec<f64> = (-20..=20)
            .map(|i: i32| {
                f64::from(i.signum() * (i.abs().min(10) + 3 * (i.abs() - 10).max(0))) * 0.25
            })
            .collect();
        let y: Vec<f64> = (-20..=20).map(|i| f64::from(i) * 0.5).collect();
        let s = plane_spectrum(&x, &y, &wave(&x, &y, 0.0, 0.0)).expect("a map");
        assert!((s.step.0 - 0.25).abs() < 1e-9 && (s.step.1 - 0.5).abs() < 1e-9 && s.resampled);
        // ∫∫ exp(−(x² + y²)/4) = 4π.
        let sum: f64 = s.values.iter().map(|v| v.norm_sqr()).sum();
        assert!((sum / (4.0 * PI) - 1.0).abs() < 1e-4, "{}", sum / (4.0 * PI));
    }

    #[test]
    fn no_map() {
        assert_eq!(plane_spectrum(&[0.0], &[0.0, 1.0], &wave(&[0.0], &[0.0, 1.0], 0.0, 0.0)), None);
        let down = [1.0, 0.0];
        assert_eq!(plane_spectrum(&down, &down, &wave(&down, &down, 0.0, 0.0)), None);
    }
}
