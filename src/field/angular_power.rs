//! `power_on_angular`: power through the scanned plane from its plane waves.

use rustfft::num_complex::Complex;

use super::beam_half_angle::sine_from_spectrum;
use super::beyond_window::{BeyondWindow, beyond_window};
use super::disc_directivity::energy_factor;
use crate::dsp::plane_spectrum::plane_spectrum;

/// Transverse wave numbers above this fraction of the step's reach count as its outermost.
const OUTERMOST: f64 = 0.9;
/// Waves along the plane count as if they left it at this cosine in `by_wave_number`: they are noise.
const GRAZING: f64 = 0.1;

/// Power of one harmonic through a plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AngularPower {
    /// Power inside the window, noise subtracted, W.
    pub power_w: f64,
    /// The same with the noise, W.
    pub power_with_noise_w: f64,
    /// The same energy taken for one plane wave straight through the plane, ∫p²/(2ρc) dA, W.
    pub plane_wave_w: f64,
    /// Fraction of the energy ∫|p|² dA in components that do not propagate.
    pub evanescent: f64,
    /// Fraction of the energy at transverse wave numbers in the outermost tenth of what the step can tell
    /// apart, along x or y; much of it there means that more lies beyond and was folded back.
    pub outermost: f64,
    /// Sine of the beam's half-angle, from the spectrum.
    pub sine_half_angle: Option<f64>,
    /// Power outside the window, W, guessed from the fall of the energy toward its edge; good to half of
    /// itself. `None` where the window holds too few points about the axis.
    pub beyond_w: Option<f64>,
    /// Factors that undo the averaging over the sensor's disc: on `power_w`, and on a power of the same
    /// energy taken for plane waves along z.
    pub disc: (f64, f64),
    /// ∂ln P/∂ln k, without the factor before the sum: by how much the obliqueness of the waves makes the
    /// power go with the scale of the axes and, the other way round, with the sound speed.
    pub by_wave_number: f64,
    /// Steps that were used, m.
    pub step_m: (f64, f64),
    /// Whether the map was interpolated onto equal steps.
    pub resampled: bool,
}

/// What the sensor adds to a map and takes from it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sensor {
    /// Root mean square of the noise in one point's complex amplitude, Pa.
    pub noise_pa: f64,
    /// Effective radius, m; 0 for a point.
    pub radius_m: f64,
}

/// Power of one harmonic through the plane z = constant.
///
/// P = 1/(2ρc) Σ |A(kx, ky)|² kz/k over the propagating components, kz = √(k² − kx² − ky²), Σ|A|² =
/// ∫|p|² dA over the window; components with kx² + ky² ≥ k² carry no power on the mean. A plane wave of
/// amplitude p at the angle θ to the plane's normal gives p² cos θ/(2ρc) times the area. White noise of
/// the mean square `sensor.noise_pa`² of one point's complex amplitude lies evenly over the spectrum and is
/// subtracted. A flat disc shows each plane wave by its directivity, which is divided out.
///
/// # Units
/// Pressure amplitudes (peak, not rms) in Pa; `impedance` ρc in Pa·s/m; `frequency_hz` of this harmonic.
///
/// # Shape
/// `pressure_pa`: row-major (y.len(), x.len()); coordinates rising, their steps may differ a little.
///
/// # Errors
/// `None` with fewer than two points along an axis or without propagating energy above the noise.
///
/// # References
/// Angular spectrum of plane waves; IEC TS 62556 and IEC 62127-1 for the plane-wave intensity
/// p²/(2ρc). O. A. Sapozhnikov et al., J. Acoust. Soc. Am. 138 (2015) 1515.
pub fn angular_power(
    x_m: &[f64],
    y_m: &[f64],
    pressure_pa: &[Complex<f64>],
    frequency_hz: f64,
    speed_m_s: f64,
    impedance: f64,
    sensor: Sensor,
) -> Option<AngularPower> {
    let noise_pa = sensor.noise_pa;
    let spectrum = plane_spectrum(x_m, y_m, pressure_pa)?;
    let k = 2.0 * std::f64::consts::PI * frequency_hz / speed_m_s;
    let (dx, dy) = spectrum.step;
    let noise =
        noise_pa * noise_pa * dx * dy * spectrum.points as f64 / spectrum.values.len() as f64;
    let reach = (std::f64::consts::PI / dx * OUTERMOST, std::f64::consts::PI / dy * OUTERMOST);
    let (mut total, mut propagating, mut outermost) = (0.0, 0.0, 0.0);
    let (mut weighted, mut noise_weighted, mut oblique) = (0.0, 0.0, 0.0);
    let (mut undone, mut undone_weighted) = (0.0, 0.0);
    for (row, ky) in spectrum.values.chunks_exact(spectrum.kx.len()).zip(&spectrum.ky) {
        for (value, kx) in row.iter().zip(&spectrum.kx) {
            let energy = value.norm_sqr();
            total += energy - noise;
            if kx.abs() > reach.0 || ky.abs() > reach.1 {
                outermost += energy - noise;
            }
            let square = kx * kx + ky * ky;
            let cosine = 1.0 - square / (k * k);
            if cosine > 0.0 {
                let cosine = cosine.sqrt();
                propagating += energy - noise;
                weighted += energy * cosine;
                noise_weighted += noise * cosine;
                oblique += (energy - noise) * (1.0 - cosine * cosine) / cosine.max(GRAZING);
                if sensor.radius_m > 0.0 {
                    let factor = energy_factor(square.sqrt() * sensor.radius_m);
                    undone += factor * (energy - noise);
                    undone_weighted += factor * (energy - noise) * cosine;
                }
            }
        }
    }
    if !(total > 0.0 && propagating > 0.0 && weighted > noise_weighted) {
        return None;
    }
    let disc = if undone > 0.0 && undone_weighted > 0.0 {
        (undone_weighted / (weighted - noise_weighted), undone / propagating)
    } else {
        (1.0, 1.0)
    };
    let scale = 1.0 / (2.0 * impedance);
    let power_w = scale * (weighted - noise_weighted);
    let outside = beyond(x_m, y_m, pressure_pa, noise_pa);
    Some(AngularPower {
        power_w,
        power_with_noise_w: scale * weighted,
        plane_wave_w: scale * total,
        evanescent: ((total - propagating) / total).max(0.0),
        outermost: (outermost / total).max(0.0),
        sine_half_angle: sine_from_spectrum(&spectrum, k, noise),
        beyond_w: outside.map(|b| b.integral * power_w / total),
        disc,
        by_wave_number: oblique / (weighted - noise_weighted),
        step_m: spectrum.step,
        resampled: spectrum.resampled,
    })
}

/// Energy outside the window about the centre of gravity of |p|⁴, which side lobes hardly move.
fn beyond(
    x_m: &[f64],
    y_m: &[f64],
    pressure_pa: &[Complex<f64>],
    noise_pa: f64,
) -> Option<BeyondWindow> {
    let energy: Vec<f64> = pressure_pa.iter().map(|p| p.norm_sqr() - noise_pa * noise_pa).collect();
    let mut sums = (0.0, 0.0, 0.0);
    for (i, e) in energy.iter().enumerate() {
        let weight = e * e;
        sums.0 += weight;
        sums.1 += weight * x_m[i % x_m.len()];
        sums.2 += weight * y_m[i / x_m.len()];
    }
    (sums.0 > 0.0).then(|| beyond_window(x_m, y_m, &energy, (sums.1 / sums.0, sums.2 / sums.0)))?
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;
    use crate::dsp::interpolate::lagrange_weights;
    use crate::dsp::noise::Noise;

    const SPEED: f64 = 1500.0;
    const IMPEDANCE: f64 = 1.5e6;
    const POINT: Sensor = Sensor { noise_pa: 0.0, radius_m: 0.0 };

    fn axis(half: i32, step_m: f64) -> Vec<f64> {
        (-half..=half).map(|i| f64::from(i) * step_m).collect()
    }

    fn map(x_m: &[f64], f: impl Fn(f64, f64) -> Complex<f64>) -> Vec<Complex<f64>> {
        x_m.iter().flat_map(|y| x_m.iter().map(move |x| (*x, *y))).map(|(x, y)| f(x, y)).collect()
    }

    /// A patch of a plane wave: p² cos θ/(2ρc) times the area (closed form); its sharp edges bend some.
    #[test]
    fn tilted_patches() {
        let x = axis(80, 0.7e-3);
        let area = (161.0f64 * 0.7e-3).powi(2);
        let k = 2.0 * PI * 1e6 / SPEED;
        for degrees in [0.0f64, 20.0, 40.0] {
            let sine = degrees.to_radians().sin();
            let p = map(&x, |x, _| Complex::from_polar(2e5, -k * sine * x));
            let found = angular_power(&x, &x, &p, 1e6, SPEED, IMPEDANCE, POINT).expect("power");
            let exact = 4e10 / (2.0 * IMPEDANCE) * area * degrees.to_radians().cos();
            assert!(
                (found.power_w / exact - 1.0).abs() < 5e-3,
                "{degrees} {}",
                found.power_w / exact
            );
            assert!((found.plane_wave_w / (4e10 / (2.0 * IMPEDANCE) * area) - 1.0).abs() < 1e-9);
        }
    }

    /// A Gaussian beam many wavelengths wide: P = I₀ π w²/2 (closed form); a white noise of 2 % of the peak
    /// in every point, four times the beam's own energy, is taken off.
    #[test]
    fn wide_gaussian_and_noise() {
        let x = axis(100, 0.6e-3);
        let w = 9e-3;
        let exact = 1e12 / (2.0 * IMPEDANCE) * PI * w * w / 2.0;
        let p = map(&x, |x, y| Complex::new(1e6 * (-(x * x + y * y) / (w * w)).exp(), 0.0));
        let found = angular_power(&x, &x, &p, 1e6, SPEED, IMPEDANCE, POINT).expect("power");
        // The mean of kz/k over the spectrum: 1 − 1/(k w)², 7e-4.
        assert!((found.power_w / exact - 1.0).abs() < 1e-3, "{}", found.power_w / exact);
        // So the derivative by ln k is 2/(k w)².
        let expected = 2.0 / (2.0 * PI * 1e6 / SPEED * w).powi(2);
        assert!((found.by_wave_number / expected - 1.0).abs() < 0.02, "{}", found.by_wave_number);
        assert!(found.evanescent < 1e-9 && found.outermost < 1e-9);
        assert!(found.beyond_w.expect("rings") < 1e-6 * exact);

        let mut noise = Noise::new(8);
        let noisy: Vec<Complex<f64>> = p
            .iter()
            .map(|p| p + Complex::new(noise.next(), noise.next()) * (2e4 / 2f64.sqrt()))
            .collect();
        let noisy_point = Sensor { noise_pa: 2e4, radius_m: 0.0 };
        let found =
            angular_power(&x, &x, &noisy, 1e6, SPEED, IMPEDANCE, noisy_point).expect("power");
        assert!((found.power_w / exact - 1.0).abs() < 3e-3, "{}", found.power_w / exact);
        assert!(found.power_with_noise_w / exact > 1.01);
    }

    /// Complex pressure of a bowl by direct quadrature of the Rayleigh integral over its cap: Simpson's rule
    /// over the polar angle, the trapezoidal rule over the half circle.
    fn rayleigh(a: f64, radius: f64, k: f64, velocity: f64, r: f64, z: f64) -> Complex<f64> {
        let (rings, arcs) = (100u32, 128u32);
        let step = (a / radius).asin() / f64::from(rings);
        let mut sum = Complex::new(0.0, 0.0);
        for i in 0..=rings {
            let (sin, cos) = (step * f64::from(i)).sin_cos();
            let (across, depth) = (radius * sin, radius * (1.0 - cos));
            let simpson = if i == 0 || i == rings { 1.0 } else { f64::from(2 + 2 * (i % 2)) };
            for j in 0..=arcs {
                let trapezoid = if j == 0 || j == arcs { 0.5 } else { 1.0 };
                let cos = (PI * f64::from(j) / f64::from(arcs)).cos();
                let d =
                    ((z - depth).powi(2) + r * r + across * across - 2.0 * r * across * cos).sqrt();
                sum += Complex::from_polar(simpson * trapezoid * sin / d, -k * d);
            }
        }
        // dS = R² sin θ dθ dφ; both halves of the circle.
        let element = radius * radius * (step / 3.0) * (2.0 * PI / f64::from(arcs));
        sum * Complex::new(0.0, IMPEDANCE * k * velocity / (2.0 * PI)) * element
    }

    struct Bowl {
        a: f64,
        radius: f64,
        frequency: f64,
        on_axis: (f64, f64),
        source_w: f64,
        planar_w: f64,
    }

    /// Bowls A and B (c = 1500 m/s, ρ = 1000 kg/m³, 0.1 m/s): pressure on the axis and power of the source
    /// ½ρc u₀² 2πRh (H. T. O'Neil, J. Acoust. Soc. Am. 21 (1949) 516; figures by mpmath).
    fn bowls() -> [Bowl; 2] {
        [
            Bowl {
                a: 0.03,
                radius: 0.1,
                frequency: 1e6,
                on_axis: (0.095, 2_913_802.946),
                source_w: 21.705_64,
                planar_w: 22.217_31,
            },
            Bowl {
                a: 0.032,
                radius: 0.0632,
                frequency: 1.1e6,
                on_axis: (0.060_04, 5_207_321.079),
                source_w: 25.910_87,
                planar_w: 27.826_14,
            },
        ]
    }

    #[test]
    fn a_bowl_gives_its_own_power() {
        for bowl in bowls() {
            let k = 2.0 * PI * bowl.frequency / SPEED;
            let on_axis = rayleigh(bowl.a, bowl.radius, k, 0.1, 0.0, bowl.on_axis.0).norm();
            assert!((on_axis / bowl.on_axis.1 - 1.0).abs() < 1e-5, "{on_axis}");
            for (z, half, step) in [(bowl.radius, 45, 0.8e-3), (0.7 * bowl.radius, 45, 0.8e-3)] {
                let x = axis(half, step);
                let fine = step / 6.0;
                let count = (f64::from(half) * step * 2f64.sqrt() / fine).ceil() as usize + 3;
                let r: Vec<f64> = (0..count).map(|i| i as f64 * fine).collect();
                let radial: Vec<Complex<f64>> =
                    r.iter().map(|r| rayleigh(bowl.a, bowl.radius, k, 0.1, *r, z)).collect();
                let p = map(&x, |x, y| {
                    let (first, weights) = lagrange_weights(&r, x.hypot(y)).expect("inside");
                    radial[first..].iter().zip(&weights).map(|(v, w)| v * w).sum()
                });
                let found = angular_power(&x, &x, &p, bowl.frequency, SPEED, IMPEDANCE, POINT)
                    .expect("power");
                // The window of ±36 mm misses 0.5 to 1.3 %; what is guessed to lie outside makes it up.
                let beyond = found.beyond_w.expect("rings");
                let (inside, all) =
                    (found.power_w / bowl.source_w, (found.power_w + beyond) / bowl.source_w);
                assert!(inside < 0.997 && (inside - 1.0).abs() < 0.014, "{z} {inside}");
                assert!((all - 1.0).abs() < 0.008, "{z} {all}");
                let sine = found.sine_half_angle.expect("energy");
                assert!((sine / (bowl.a / bowl.radius) - 1.0).abs() < 0.04, "{z} {sine}");
                assert!(found.evanescent < 1e-5 && found.outermost < 2e-3);
                // p²/(2ρc) alone is 2.4 and 7.4 % too high.
                let planar = (found.plane_wave_w + beyond) / bowl.planar_w;
                assert!((planar - 1.0).abs() < 0.012, "{z} {planar}");
            }
        }
    }
}
