//! What a flat disc takes of a plane wave that meets it obliquely.

/// Least directivity by which a component is divided; beyond, noise would be blown up.
const FLOOR: f64 = 0.5;

/// Mean over a disc of a plane wave whose transverse wave number times the radius is `x`, re the wave's
/// amplitude: 2 J₁(x)/x, by its power series (x up to about 10).
///
/// # Examples
/// x = 1 gives 0.8801.
///
/// # References
/// The integral itself; the directivity of a circular piston.
pub fn disc_directivity(x: f64) -> f64 {
    let square = -0.25 * x * x;
    let (mut term, mut sum) = (1.0, 1.0);
    for m in 1..40 {
        term *= square / (f64::from(m) * f64::from(m + 1));
        sum += term;
        if term.abs() < 1e-17 {
            break;
        }
    }
    sum
}

/// Factor on the energy of a component that undoes the averaging: the directivity to the power of −2,
/// at most 4.
pub fn energy_factor(x: f64) -> f64 {
    // The first zero lies at 3.83; from 2.2 on the directivity is below the floor.
    let directivity = if x < 3.0 { disc_directivity(x) } else { 0.0 };
    directivity.max(FLOOR).powi(-2)
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use rustfft::num_complex::Complex;

    use super::super::angular_power::{Sensor, angular_power};
    use super::*;

    /// 2 J₁(x)/x by mpmath.
    #[test]
    fn values() {
        for (x, expected) in [
            (0.0, 1.0),
            (0.5, 0.969_073_830_699_497),
            (1.0, 0.880_101_171_489_867),
            (2.0, 0.576_724_807_756_873),
            (5.0, -0.131_031_655_036_613),
        ] {
            let found = disc_directivity(x);
            assert!((found - expected).abs() < 1e-12, "{x} {found}");
        }
        assert!((energy_factor(1.0) - 0.880_101_171_489_867f64.powi(-2)).abs() < 1e-12);
        assert_eq!((energy_factor(2.5), energy_factor(50.0)), (4.0, 4.0));
    }

    /// A focused Gaussian beam as a disc sees it, by the quadrature of the disc's mean at each point:
    /// the factors give back what a point would have given.
    #[test]
    fn through_a_disc() {
        let (w, curvature, radius) = (1.2e-3, 8e5, 0.3e-3);
        let x: Vec<f64> = (-24..=24).map(|i| f64::from(i) * 0.25e-3).collect();
        let map = |f: &dyn Fn(f64, f64) -> Complex<f64>| -> Vec<Complex<f64>> {
            x.iter().flat_map(|y| x.iter().map(move |x| f(*x, *y))).collect()
        };
        let field = |x: f64, y: f64| {
            let r2 = x * x + y * y;
            Complex::from_polar((-r2 / (w * w)).exp(), curvature * r2)
        };
        // Midpoints in the square of the radius and around.
        let seen = map(&|x, y| {
            let mut sum = Complex::new(0.0, 0.0);
            for ring in 0..20u32 {
                let r = radius * ((f64::from(ring) + 0.5) / 20.0).sqrt();
                for place in 0..16u32 {
                    let (sin, cos) = (2.0 * PI * f64::from(place) / 16.0).sin_cos();
                    sum += field(x + r * cos, y + r * sin);
                }
            }
            sum / 320.0
        });
        let run = |p: &[Complex<f64>], radius_m: f64| {
            let sensor = Sensor { noise_pa: 0.0, radius_m };
            angular_power(&x, &x, p, 1.5e6, 1500.0, 1.5e6, sensor).expect("power")
        };
        let (point, disc) = (run(&map(&field), 0.0), run(&seen, radius));
        assert_eq!(point.disc, (1.0, 1.0));
        assert!(disc.power_w < 0.95 * point.power_w);
        let left = (
            disc.power_w * disc.disc.0 / point.power_w - 1.0,
            disc.plane_wave_w * disc.disc.1 / point.plane_wave_w - 1.0,
        );
        assert!(left.0.abs() < 2e-3 && left.1.abs() < 2e-3, "{left:?}");
    }
}
