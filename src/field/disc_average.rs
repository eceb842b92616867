//! What a flat disc sees of a measured map, and the factors that undo it.

use rustfft::num_complex::Complex;

use super::Scale;
use super::beam_width::{profile_along_x, profile_along_y, width_m};
use super::spatial_peak::of_plane;
use crate::dsp::disc_mean::disc_mean;
use crate::dsp::surface::Surface;

/// Above this ratio the sharpening and the widths are left alone.
const NOTHING: f64 = 0.999;

/// Mean of a pressure over a disc about a place, re its value there. The map is interpolated.
///
/// `None` where the disc leaves the scan or the value at the place is not positive.
///
/// # Units
/// `radius_m`: effective radius of the sensor, m.
///
/// # Shape
/// `pressure`: row-major (y.len(), x.len()), an amplitude: the phase is taken as the same over the disc.
///
/// # References
/// The mean over a flat disc of uniform sensitivity; IEC 62127-1 asks for a correction of spatial
/// averaging.
pub fn disc_ratio(
    x_m: &[f64],
    y_m: &[f64],
    pressure: &[f64],
    at_m: (f64, f64),
    radius_m: f64,
) -> Option<f64> {
    let surface = Surface { x: x_m, y: y_m, values: pressure };
    let value = surface.at(at_m)?;
    (value > 0.0).then_some(disc_mean(&surface, at_m, radius_m)? / value)
}

/// The same of complex amplitudes: magnitude of their mean re that at the place.
pub fn disc_ratio_complex(
    x_m: &[f64],
    y_m: &[f64],
    phasors: &[Complex<f64>],
    at_m: (f64, f64),
    radius_m: f64,
) -> Option<f64> {
    let part = |f: fn(&Complex<f64>) -> f64| phasors.iter().map(f).collect::<Vec<f64>>();
    let (re, im) = (part(|c| c.re), part(|c| c.im));
    let re = Surface { x: x_m, y: y_m, values: &re };
    let im = Surface { x: x_m, y: y_m, values: &im };
    let value = re.at(at_m)?.hypot(im.at(at_m)?);
    let mean = disc_mean(&re, at_m, radius_m)?.hypot(disc_mean(&im, at_m, radius_m)?);
    (value > 0.0).then_some(mean / value)
}

/// Factors that undo the averaging over the sensor's disc.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DiscFactors {
    /// For the peak of the map, 1 or more: of a pressure p/p′, of an energy its square.
    pub peak: f64,
    /// For the −6 dB widths along x and y, 1 or less.
    pub width_x: Option<f64>,
    pub width_y: Option<f64>,
}

impl DiscFactors {
    /// Standard uncertainty of a factor: a third of the correction.
    pub fn uncertainty(factor: f64) -> f64 {
        (factor - 1.0).abs() / 3.0
    }
}

/// Factors for a map measured with a disc, from the map itself.
///
/// The map p′ is averaged over the disc once more, p″. As p″ is to p′, so nearly is p′ to the true p; the
/// map is first sharpened by what it lacks, p₁ = p′ + (p′ − p″), and the factors are those between p₁ and
/// its own average. Of an energy map the root is averaged: pressures add up on the sensor, with the same
/// phase over the disc.
///
/// Only points above a tenth of the peak are averaged, as far as the widths need it; of a beam so wide that
/// the disc takes less than 1e-3 at its peak the widths stay as they are. `None` when the peak does
/// not stand inside the scan, or the sharpened map has no peak.
///
/// # Shape
/// `values`: row-major (y.len(), x.len()).
///
/// # References
/// Sharpening: the first step of van Cittert's iteration. The rule is our own, no source.
pub fn disc_factors(
    x_m: &[f64],
    y_m: &[f64],
    values: &[f64],
    scale: Scale,
    radius_m: f64,
) -> Option<DiscFactors> {
    let pressure: Vec<f64> = match scale {
        Scale::Energy => values.iter().map(|v| v.max(0.0).sqrt()).collect(),
        Scale::Amplitude => values.to_vec(),
    };
    let top = of_plane(x_m, y_m, &pressure, Scale::Amplitude).filter(|top| !top.at_edge)?;
    let ratio = disc_ratio(x_m, y_m, &pressure, (top.x_m, top.y_m), radius_m)?;
    if ratio > NOTHING {
        let peak = match scale {
            Scale::Energy => ratio.powi(-2),
            Scale::Amplitude => ratio.recip(),
        };
        return Some(DiscFactors { peak, width_x: Some(1.0), width_y: Some(1.0) });
    }
    let seen = averaged(x_m, y_m, &pressure, radius_m);
    let sharp: Vec<f64> = pressure.iter().zip(&seen).map(|(p, s)| 2.0 * p - s).collect();
    let blunt = averaged(x_m, y_m, &sharp, radius_m);
    let (before, after) = (Beam::of(x_m, y_m, &sharp)?, Beam::of(x_m, y_m, &blunt)?);
    let ratio = before.peak / after.peak;
    let widths = |a: Option<f64>, b: Option<f64>| Some(a? / b?);
    Some(DiscFactors {
        peak: match scale {
            Scale::Energy => ratio * ratio,
            Scale::Amplitude => ratio,
        },
        width_x: widths(before.width_x, after.width_x),
        width_y: widths(before.width_y, after.width_y),
    })
}

/// A pressure map as the disc sees it; where the disc leaves the scan the values stay.
fn averaged(x_m: &[f64], y_m: &[f64], pressure: &[f64], radius_m: f64) -> Vec<f64> {
    let surface = Surface { x: x_m, y: y_m, values: pressure };
    let level = 0.1 * pressure.iter().copied().fold(0.0, f64::max);
    pressure
        .iter()
        .enumerate()
        .map(|(i, p)| {
            // Far below −6 dB nothing is asked of the map.
            if *p < level {
                return *p;
            }
            disc_mean(&surface, (x_m[i % x_m.len()], y_m[i / x_m.len()]), radius_m).unwrap_or(*p)
        })
        .collect()
}

struct Beam {
    peak: f64,
    width_x: Option<f64>,
    width_y: Option<f64>,
}

impl Beam {
    fn of(x_m: &[f64], y_m: &[f64], pressure: &[f64]) -> Option<Self> {
        let peak = of_plane(x_m, y_m, pressure, Scale::Amplitude).filter(|peak| !peak.at_edge)?;
        let width = |axis: &[f64], profile: &[f64], at: f64| {
            width_m(axis, profile, at, peak.value, Scale::Amplitude, 6.0).map(|(a, b)| b - a)
        };
        Some(Self {
            peak: peak.value,
            width_x: width(x_m, &profile_along_x(x_m, y_m, pressure, peak.y_m)?, peak.x_m),
            width_y: width(y_m, &profile_along_y(x_m, y_m, pressure, peak.x_m)?, peak.y_m),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    /// J₀ and J₁ by their integrals.
    fn bessel(order: f64, x: f64) -> f64 {
        (0..200)
            .map(|i| (f64::from(i) + 0.5) * PI / 200.0)
            .map(|t| (order * t - x * t.sin()).cos())
            .sum::<f64>()
            / 200.0
    }

    fn axis(step: f64) -> Vec<f64> {
        (-16..=16).map(|i| (f64::from(i) + 0.3) * step).collect()
    }

    fn map(x: &[f64], f: impl Fn(f64) -> f64) -> Vec<f64> {
        x.iter().flat_map(|y| x.iter().map(move |x| x.hypot(*y))).map(f).collect()
    }

    /// Gaussian pressure exp(−r²/w²): (w²/a²)(1 − exp(−a²/w²)), 0.884 796 87 at a/w = 0.5 (closed form);
    /// five and ten points across −6 dB.
    #[test]
    fn a_gaussian() {
        for points in [5.0, 10.0] {
            let x = axis(1.662_258 / points);
            let p = map(&x, |r| (-r * r).exp());
            for (a, exact, close) in [
                (0.25, 0.969_390_995, 1e-4),
                (0.5, 0.884_796_868, 1e-4),
                (1.0, 0.632_120_559, 1e-3),
            ] {
                let found = disc_ratio(&x, &x, &p, (0.0, 0.0), a).expect("inside");
                assert!((found - exact).abs() < close, "{points} {a} {found}");
            }
            assert_eq!(disc_ratio(&x, &x, &p, (x[32], 0.0), 0.5), None);
        }
    }

    /// Focal plane 2 J₁(x)/x: 4 (1 − J₀(X))/X², 0.939 209 25 at X = 1 (closed form; mpmath).
    #[test]
    fn a_focal_plane() {
        let x = axis(2.0 * 2.211_785 / 6.0);
        let jinc = |r: f64| if r < 1e-9 { 1.0 } else { 2.0 * bessel(1.0, r) / r };
        let p = map(&x, jinc);
        let turned: Vec<Complex<f64>> = p.iter().map(|p| Complex::from_polar(*p, 0.7)).collect();
        for (disc, exact) in [(0.5, 0.984_483_084), (1.0, 0.939_209_254), (2.0, 0.776_109_221)] {
            assert!((4.0 * (1.0 - bessel(0.0, disc)) / (disc * disc) - exact).abs() < 1e-8);
            let found = disc_ratio(&x, &x, &p, (0.0, 0.0), disc).expect("inside");
            assert!((found - exact).abs() < 0.012 * (1.0 - exact), "{disc} {found}");
            let found = disc_ratio_complex(&x, &x, &turned, (0.0, 0.0), disc).expect("inside");
            assert!((found - exact).abs() < 0.02 * (1.0 - exact), "{disc} {found}");
        }
    }

    /// A focal plane measured through a disc: the factors from that map against the true ones, within a
    /// tenth of the correction of the peak and a fifth of that of the widths. The averaged map is ∫ J₁ profile: made here by a fine quadrature.
    #[test]
    fn factors_from_what_was_measured() {
        let jinc = |r: f64| if r < 1e-9 { 1.0 } else { 2.0 * bessel(1.0, r) / r };
        let disc = 1.0;
        // Radial profiles on a fine grid, true and averaged.
        let step = 0.05;
        let fine: Vec<f64> = (0..240).map(|i| jinc(f64::from(i) * step)).collect();
        let at = |r: f64| {
            let i = (r / step) as usize;
            let t = r / step - i as f64;
            fine[i] * (1.0 - t) + fine[i + 1] * t
        };
        let seen = |r: f64| {
            let mut sum = 0.0;
            for i in 0..20 {
                let ring = disc * ((f64::from(i) + 0.5) / 20.0).sqrt();
                for j in 0..24 {
                    let (sin, cos) = (2.0 * PI * f64::from(j) / 24.0).sin_cos();
                    sum += at((r + ring * cos).hypot(ring * sin)) / 480.0;
                }
            }
            sum
        };
        let half = |f: &dyn Fn(f64) -> f64| {
            let (mut a, mut b, level) = (0.0, 3.8, f(0.0) * 10f64.powf(-0.3));
            for _ in 0..50 {
                let m = 0.5 * (a + b);
                if f(m) > level { a = m } else { b = m }
            }
            a
        };
        let width = half(&at) / half(&seen);
        let x = axis(2.0 * 2.211_785 / 7.0);
        let x = &x[9..24];
        let measured = map(x, |r| seen(r).max(1e-3));
        for scale in [Scale::Amplitude, Scale::Energy] {
            let values: Vec<f64> = match scale {
                Scale::Amplitude => measured.clone(),
                Scale::Energy => measured.iter().map(|p| p * p).collect(),
            };
            let found = disc_factors(x, x, &values, scale, disc).expect("a peak");
            let exact = match scale {
                Scale::Amplitude => 1.0 / 0.939_209_254,
                Scale::Energy => 1.0 / 0.939_209_254f64.powi(2),
            };
            assert!((found.peak - exact).abs() < 0.1 * (exact - 1.0), "{found:?} {exact}");
            for found in [found.width_x, found.width_y] {
                let found = found.expect("falls");
                assert!((found - width).abs() < 0.2 * (1.0 - width), "{found} {width}");
            }
        }
        assert!((DiscFactors::uncertainty(1.12) - 0.04).abs() < 1e-12);
    }
    /// A wide Gaussian energy exp(−r²): its pressure falls to 1 − a²/4 on the disc (first order), a = 0.02;
    /// its widths stay. At the edge: none.
    #[test]
    fn a_wide_beam_and_an_edge() {
        let x = axis(0.2);
        let found = disc_factors(&x, &x, &map(&x, |r| (-r * r).exp()), Scale::Energy, 0.02);
        let found = found.expect("a peak");
        assert!((found.peak - 1.0 - 2e-4).abs() < 1e-6 && found.width_x == Some(1.0), "{found:?}");
        let cut = &x[17..];
        let values = map(cut, |r| (-r * r).exp());
        assert_eq!(disc_factors(cut, cut, &values, Scale::Amplitude, 0.3), None);
    }
}
