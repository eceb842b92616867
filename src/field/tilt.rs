//! `tilt_x`, `tilt_y`: tilt of the beam's axis from the course of the phase, or of the arrival, over the
//! main lobe.

use rustfft::num_complex::Complex;

use crate::dsp::statistics::median;
use crate::dsp::unwrapped::unwrapped;
use crate::dsp::weighted_surface::{Weighted, WeightedSurface};

/// Points below this fraction of the largest amplitude are left out: −6 dB.
const FLOOR: f64 = 0.501_187_233_627_272;
/// Fewest points: twice the terms of the quadratic.
const FEWEST: usize = 12;
/// Arrivals further from the fit than this many robust deviations are left out, once.
const STRAY: f64 = 5.0;
/// Standard deviation of a normal distribution over the median of its magnitude.
const OF_MEDIAN: f64 = 1.482_602_218_505_602;

/// Direction of a beam at a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tilt {
    /// Angle of the axis in the xz plane, rad, positive toward +x.
    pub x_rad: f64,
    /// Angle in the yz plane, positive toward +y.
    pub y_rad: f64,
    /// Standard uncertainties of the angles from the scatter about the fit alone, rad.
    pub u_x_rad: f64,
    pub u_y_rad: f64,
    /// Where the wave fronts stand parallel to the plane, m, when the curvature puts it inside the scan:
    /// with a beam that converges or diverges, the foot of the perpendicular through its centre of
    /// curvature.
    pub level_at_m: Option<(f64, f64)>,
    /// Weighted standard deviation of the delays about the fit, s.
    pub residual_s: f64,
    /// Points in the fit.
    pub points: usize,
}

/// Tilt from the complex amplitudes of one frequency in a plane.
///
/// Time functions are A exp(+jωt), so the phase falls with the delay: a wave that travels toward +x has
/// a phase that falls with x. The phase is unwrapped from the largest point outward over the connected
/// points above −6 dB, falling amplitude first; divided by −ω it is a delay, and the rest is
/// `tilt_from_arrival`.
///
/// In a focus the phase runs a little slower along the axis than that of a plane wave (Gouy), and the
/// angles come out too small by about the fraction 2/(k w)² for a waist w: 3 % at w = 1.3 λ.
///
/// `None` with fewer than twelve such points, or when the fit's slope is steeper than a wave can run. A
/// beam that leans so far that its phase turns by half a turn or more from point to point, sin α ≥
/// λ/(2 step), shows another angle: `largest_angle_rad` tells from where.
///
/// # Shape
/// `phasors`: row-major (y.len(), x.len()); `at_m`: the beam's peak.
pub fn tilt_from_phase(
    x_m: &[f64],
    y_m: &[f64],
    phasors: &[Complex<f64>],
    frequency_hz: f64,
    speed_m_s: f64,
    at_m: (f64, f64),
) -> Option<Tilt> {
    let omega = 2.0 * std::f64::consts::PI * frequency_hz;
    let phases = unwrapped(x_m.len(), phasors, FLOOR)?;
    let points: Vec<Weighted> = phases
        .iter()
        .map(|(i, phase)| Weighted {
            x: x_m[i % x_m.len()] - at_m.0,
            y: y_m[i / x_m.len()] - at_m.1,
            value: -phase / omega,
            weight: phasors[*i].norm_sqr(),
        })
        .collect();
    from_delays(&points, speed_m_s, at_m, (x_m, y_m))
}

/// Tilt from the arrival times in a plane, likewise over the points above −6 dB of an amplitude (any that
/// follows the beam, such as the positive peak). Points without an arrival are not finite. Arrivals more
/// than five robust deviations from a first fit are left out.
///
/// The delays are fitted, weighted with the square of the amplitude, by a quadratic about the beam's peak:
/// its curvature takes up that of the wave fronts; its slope there is (sin α, sin β)/c with the direction
/// cosines of the axis. The angles are arctan of these over √(1 − sin²α − sin²β).
///
/// `None` with fewer than twelve points or a slope steeper than a wave can run.
///
/// # Shape
/// `arrival_s`, `amplitude`: row-major (y.len(), x.len()).
///
/// # References
/// Geometry of a plane wave; weights by the variance of a phase or arrival, which falls with the square
/// of the amplitude in white noise.
pub fn tilt_from_arrival(
    x_m: &[f64],
    y_m: &[f64],
    arrival_s: &[f64],
    amplitude: &[f64],
    speed_m_s: f64,
    at_m: (f64, f64),
) -> Option<Tilt> {
    let top = amplitude.iter().copied().fold(0.0, f64::max);
    let points: Vec<Weighted> = arrival_s
        .iter()
        .zip(amplitude)
        .enumerate()
        .filter(|(_, (arrival, a))| arrival.is_finite() && **a >= FLOOR * top && **a > 0.0)
        .map(|(i, (arrival, a))| Weighted {
            x: x_m[i % x_m.len()] - at_m.0,
            y: y_m[i / x_m.len()] - at_m.1,
            value: *arrival,
            weight: a * a,
        })
        .collect();
    if points.len() < FEWEST {
        return None;
    }
    let fit = WeightedSurface::fit(&points)?;
    let off: Vec<f64> = points.iter().map(|p| (p.value - fit.at(p.x, p.y)).abs()).collect();
    let limit = STRAY * OF_MEDIAN * median(&off)?;
    let kept: Vec<Weighted> =
        points.into_iter().zip(&off).filter(|(_, off)| **off <= limit).map(|(p, _)| p).collect();
    from_delays(&kept, speed_m_s, at_m, (x_m, y_m))
}

/// Tilt from delays in s about the beam's peak.
fn from_delays(
    points: &[Weighted],
    speed_m_s: f64,
    at_m: (f64, f64),
    (x_m, y_m): (&[f64], &[f64]),
) -> Option<Tilt> {
    if points.len() < FEWEST {
        return None;
    }
    let fit = WeightedSurface::fit(points)?;
    let (sx, sy) = (speed_m_s * fit.c[1], speed_m_s * fit.c[2]);
    let forward = 1.0 - sx * sx - sy * sy;
    if forward.is_nan() || forward <= 0.0 {
        return None;
    }
    let forward = forward.sqrt();
    let within = |axis: &[f64], at: f64| {
        axis.first().is_some_and(|v| *v <= at) && axis.last().is_some_and(|v| at <= *v)
    };
    Some(Tilt {
        x_rad: sx.atan2(forward),
        y_rad: sy.atan2(forward),
        // d arctan(s/√(1 − s²)) = ds/√(1 − s²); what the other slope adds is of the second order.
        u_x_rad: speed_m_s * fit.u[1] / forward,
        u_y_rad: speed_m_s * fit.u[2] / forward,
        level_at_m: fit
            .level_at()
            .map(|(x, y)| (x + at_m.0, y + at_m.1))
            .filter(|(x, y)| within(x_m, *x) && within(y_m, *y)),
        residual_s: fit.residual,
        points: points.len(),
    })
}

/// Largest angle that steps can show by phase: arcsin(λ/(2 step)); a right angle up to half a wavelength.
pub fn largest_angle_rad(step_m: f64, wavelength_m: f64) -> f64 {
    (wavelength_m / (2.0 * step_m)).min(1.0).asin()
}

/// Part of itself by which the tilt from the phase may come out too small in the waist of a beam of the
/// given −6 dB area of ppsi: 2/(k w)², w² = A/(0.3 π ln 10), of a Gaussian beam.
///
/// # Examples
/// An area of 1.85 mm² at a wavelength of 0.991 mm: 0.058.
///
/// # References
/// Phase of a Gaussian beam in its waist (Gouy), closed form.
pub fn gouy_share(area_m2: f64, wavelength_m: f64) -> f64 {
    let k = 2.0 * std::f64::consts::PI / wavelength_m;
    let w2 = area_m2 / (0.3 * std::f64::consts::PI * 10f64.ln());
    2.0 / (k * k * w2)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dsp::noise::Noise;
    use std::f64::consts::PI;

    const SPEED: f64 = 1482.0;
    const F: f64 = 1e6;

    fn axis(half: i32, step_m: f64) -> Vec<f64> {
        (-half..=half).map(|i| f64::from(i) * step_m).collect()
    }

    fn map<T>(x: &[f64], f: impl Fn(f64, f64) -> T) -> Vec<T> {
        x.iter().flat_map(|y| x.iter().map(move |x| (*x, *y))).map(|(x, y)| f(x, y)).collect()
    }

    /// Unit vector of an axis that leans by these angles in the xz and yz planes.
    fn direction(ax: f64, ay: f64) -> [f64; 3] {
        let (tx, ty) = (ax.tan(), ay.tan());
        let length = (1.0 + tx * tx + ty * ty).sqrt();
        [tx / length, ty / length, 1.0 / length]
    }

    /// Paraxial Gaussian beam exp(−j(kz + kr²/2R − arctan z/zR) − r²/w²)·w0/w along a leaning axis through
    /// the origin, `z` before or beyond its waist (closed form).
    fn beam(x: f64, y: f64, z: f64, w0: f64, axis: [f64; 3]) -> Complex<f64> {
        let k = 2.0 * PI * F / SPEED;
        let rayleigh = k * w0 * w0 / 2.0;
        let along = x * axis[0] + y * axis[1];
        let r2 = x * x + y * y - along * along;
        let z = z + along;
        let w2 = w0 * w0 * (1.0 + (z / rayleigh).powi(2));
        let bend = k * r2 * z / (2.0 * (z * z + rayleigh * rayleigh));
        Complex::from_polar(
            w0 / w2.sqrt() * (-r2 / w2).exp(),
            -(k * z + bend - (z / rayleigh).atan()) + 1.0,
        )
    }

    /// A leaning plane wave with a Gaussian amplitude: the angles to rounding, both signs, also where the
    /// phase turns by more than a whole cycle over the lobe.
    #[test]
    fn a_plane_wave() {
        let x = axis(20, 0.5e-3);
        let k = 2.0 * PI * F / SPEED;
        for (ax, ay) in [(0.0, 0.0), (0.02, -0.05), (-0.4, 0.3), (0.6, 0.0)] {
            let s = direction(ax, ay);
            let p = map(&x, |x, y| {
                Complex::from_polar(
                    (-(x * x + y * y) / 2.5e-5).exp(),
                    2.0 - k * (s[0] * x + s[1] * y),
                )
            });
            let tilt = tilt_from_phase(&x, &x, &p, F, SPEED, (0.0, 0.0)).expect("enough");
            assert!((tilt.x_rad - ax).abs() < 1e-9 && (tilt.y_rad - ay).abs() < 1e-9, "{tilt:?}");
            assert_eq!(tilt.level_at_m, None);
        }
    }

    /// A focused Gaussian beam leaning by a known angle, in its waist and 30 mm before and beyond it, to
    /// 2/(k w)² = 2.8 % in the waist; the same from arrival times, the wave fronts' delays.
    #[test]
    fn a_focused_beam() {
        let x = axis(30, 0.4e-3);
        for z in [0.0, -0.03, 0.03] {
            for (ax, ay) in [(0.05f64, -0.02f64), (-0.12, 0.2)] {
                let s = direction(ax, ay);
                let p = map(&x, |x, y| beam(x, y, z, 2e-3, s));
                let tilt = tilt_from_phase(&x, &x, &p, F, SPEED, (0.0, 0.0)).expect("enough");
                assert!((tilt.x_rad - ax).abs() < 0.028 * ax.abs() + 1e-4, "{z} {tilt:?}");
                assert!((tilt.y_rad - ay).abs() < 0.028 * ay.abs() + 1e-4, "{z} {tilt:?}");
                // Fronts about a centre: arrivals of the spherical wave, with two strays.
                if z != 0.0 {
                    let centre = s.map(|v| -v * z * 1.5);
                    let distance = |x: f64, y: f64| {
                        ((x - centre[0]).powi(2) + (y - centre[1]).powi(2) + centre[2].powi(2))
                            .sqrt()
                    };
                    let mut arrival = map(&x, |x, y| z.signum() * distance(x, y) / SPEED);
                    arrival[30 * 61 + 33] += 3e-6;
                    arrival[28 * 61 + 30] = f64::NAN;
                    let amplitude: Vec<f64> = p.iter().map(|p| p.norm()).collect();
                    let tilt = tilt_from_arrival(&x, &x, &arrival, &amplitude, SPEED, (0.0, 0.0))
                        .expect("enough");
                    assert!((tilt.x_rad - ax).abs() < 2e-3, "{z} {ax} {tilt:?}");
                    assert!((tilt.y_rad - ay).abs() < 2e-3, "{z} {ay} {tilt:?}");
                    let (cx, cy) = tilt.level_at_m.expect("curved");
                    assert!(
                        (cx - centre[0]).abs() < 1e-3 && (cy - centre[1]).abs() < 1e-3,
                        "{tilt:?}"
                    );
                }
            }
        }
    }

    /// The example by hand; a Gaussian waist of w = 2 mm at 1 MHz: what the fit of its phase lacks of the
    /// angle is no more than the share.
    #[test]
    fn gouy() {
        assert!((gouy_share(1.85e-6, 0.991e-3) - 0.0583).abs() < 3e-4);
        let share = gouy_share(0.3 * PI * 10f64.ln() * 4e-6, SPEED / F);
        assert!((share - 0.027_8).abs() < 1e-4, "{share}");
        let x = axis(30, 0.4e-3);
        let p = map(&x, |x, y| beam(x, y, 0.0, 2e-3, direction(0.05, 0.0)));
        let tilt = tilt_from_phase(&x, &x, &p, F, SPEED, (0.0, 0.0)).expect("enough");
        let lacks = 1.0 - tilt.x_rad / 0.05;
        assert!(lacks > 0.0 && lacks < share, "{lacks} {share}");
    }

    /// With noise the errors keep to their stated uncertainties: 95 % within twice.
    #[test]
    fn noise() {
        let x = axis(15, 0.4e-3);
        let s = direction(0.03, 0.01);
        let clean = map(&x, |x, y| beam(x, y, 0.0, 2e-3, s));
        let mut noise = Noise::new(12);
        let mut within = 0;
        for _ in 0..200 {
            let p: Vec<Complex<f64>> =
                clean.iter().map(|p| p + Complex::new(noise.next(), noise.next()) * 0.03).collect();
            let tilt = tilt_from_phase(&x, &x, &p, F, SPEED, (0.0, 0.0)).expect("enough");
            within += i32::from((tilt.x_rad - 0.03).abs() < 2.0 * tilt.u_x_rad);
            within += i32::from((tilt.y_rad - 0.01).abs() < 2.0 * tilt.u_y_rad);
        }
        assert!((364..=398).contains(&within), "{within}");
    }

    /// A step of 0.6 λ tells angles up to 56.442 69° (sampling theorem).
    #[test]
    fn too_few_and_too_coarse() {
        assert!((largest_angle_rad(0.6, 1.0).to_degrees() - 56.442_69).abs() < 1e-5);
        assert_eq!(largest_angle_rad(0.4, 1.0), PI / 2.0);
        let x = axis(2, 0.5e-3);
        let p = map(&x, |x, y| Complex::new((-(x * x + y * y) / 1e-7).exp(), 0.0));
        assert_eq!(tilt_from_phase(&x, &x, &p, F, SPEED, (0.0, 0.0)), None);
        assert_eq!(tilt_from_phase(&[], &[], &[], F, SPEED, (0.0, 0.0)), None);
        assert_eq!(tilt_from_arrival(&x, &x, &[f64::NAN; 25], &[1.0; 25], SPEED, (0.0, 0.0)), None);
    }
}
