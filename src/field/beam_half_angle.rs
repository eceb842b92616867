//! Half-angle of a beam, and whether a step carries one of its harmonics.

use crate::dsp::plane_spectrum::PlaneSpectrum;

/// Fraction of the energy inside the circle that is looked for.
const ENCLOSED: f64 = 0.9;

/// Sine of the half-angle of the beam of a bowl: a/R.
///
/// `None` unless 0 < a < R.
pub fn sine_of_bowl(aperture_radius_m: f64, curvature_radius_m: f64) -> Option<f64> {
    let sine = aperture_radius_m / curvature_radius_m;
    (sine > 0.0 && sine < 1.0).then_some(sine)
}

/// Sine of the half-angle from the spectrum of a plane: the radius, about the centre of gravity of the
/// propagating energy, of the circle that holds 90 % of it, over √0.9 (a spectrum that is flat up to the
/// half-angle, as that of a uniform bowl, holds 90 % inside that fraction); with the tilt of the
/// spectrum's centre added, since a step has to carry the steepest component.
///
/// `None` without propagating energy. At most 1.
///
/// # Shape
/// `noise_energy`: mean noise energy of one component of the spectrum.
///
/// # References
/// Our own rule, no source. The spectrum in the focal plane is the aperture's image.
pub fn sine_from_spectrum(spectrum: &PlaneSpectrum, k: f64, noise_energy: f64) -> Option<f64> {
    let columns = spectrum.kx.len();
    let inside: Vec<(f64, f64, f64)> = spectrum
        .values
        .iter()
        .enumerate()
        .map(|(i, v)| (spectrum.kx[i % columns] / k, spectrum.ky[i / columns] / k, v.norm_sqr()))
        .filter(|(a, b, _)| a * a + b * b < 1.0)
        .map(|(a, b, energy)| (a, b, energy - noise_energy))
        .collect();
    let total: f64 = inside.iter().map(|p| p.2).sum();
    if total.is_nan() || total <= 0.0 {
        return None;
    }
    let cx = inside.iter().map(|p| p.0 * p.2).sum::<f64>() / total;
    let cy = inside.iter().map(|p| p.1 * p.2).sum::<f64>() / total;
    let mut by_radius: Vec<(f64, f64)> =
        inside.iter().map(|(a, b, energy)| ((a - cx).hypot(b - cy), *energy)).collect();
    by_radius.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut sum = 0.0;
    let radius = by_radius.iter().find_map(|(r, energy)| {
        sum += energy;
        (sum >= ENCLOSED * total).then_some(*r)
    })?;
    Some((radius / ENCLOSED.sqrt() + cx.hypot(cy)).min(1.0))
}

/// Largest step that carries harmonic n of a beam: λ₁/(2 n sin γ), m.
///
/// # Examples
/// 1 MHz in 1500 m/s, half-angle 30°: 1.5 mm for the fundamental, 0.5 mm for the third harmonic.
///
/// # References
/// Sampling theorem for the largest transverse wave number n k₁ sin γ.
pub fn largest_step_m(wavelength_m: f64, harmonic: u32, sine: f64) -> f64 {
    wavelength_m / (2.0 * f64::from(harmonic) * sine)
}

/// Highest harmonic that a step carries; 0 when not even the fundamental.
pub fn highest_harmonic(wavelength_m: f64, step_m: f64, sine: f64) -> u32 {
    // A step that is typed as a decimal may lie a rounding above the limit.
    (largest_step_m(wavelength_m, 1, sine) / step_m * (1.0 + 1e-9)).floor().clamp(0.0, 1e6) as u32
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dsp::plane_spectrum::plane_spectrum;
    use rustfft::num_complex::Complex;

    /// Focal plane 2 J₁(x)/x, x = k r sin γ: its spectrum is a disc up to k sin γ (the Fourier transform
    /// of the jinc function). J₁ by its integral.
    #[test]
    fn the_disc_of_a_focal_plane() {
        use std::f64::consts::PI;
        let j1 = |x: f64| -> f64 {
            (0..300)
                .map(|i| (f64::from(i) + 0.5) * PI / 300.0)
                .map(|t| (t - x * t.sin()).cos())
                .sum::<f64>()
                / 300.0
        };
        let k = 2.0 * PI;
        for (sine, tilt) in [(0.3, 0.0), (0.5, 0.0), (0.3, 0.2)] {
            let x: Vec<f64> = (-40..=40).map(|i| f64::from(i) * 0.4).collect();
            let map: Vec<Complex<f64>> = (0..81 * 81)
                .map(|i| {
                    let r = x[i % 81].hypot(x[i / 81]) * k * sine;
                    let p = if r == 0.0 { 1.0 } else { 2.0 * j1(r) / r };
                    Complex::from_polar(p, k * tilt * x[i % 81])
                })
                .collect();
            let spectrum = plane_spectrum(&x, &x, &map).expect("a map");
            let found = sine_from_spectrum(&spectrum, k, 0.0).expect("energy");
            assert!((found / (sine + tilt) - 1.0).abs() < 0.03, "{sine} {tilt} {found}");
        }
    }

    /// λ/2 carries all directions; 1 MHz in 1482 m/s: 0.741 mm (sampling theorem).
    #[test]
    fn steps() {
        assert!((largest_step_m(1.482e-3, 1, 1.0) - 0.741e-3).abs() < 1e-12);
        assert_eq!(highest_harmonic(1.5e-3, 0.5e-3, 0.5), 3);
        assert_eq!(highest_harmonic(1.5e-3, 0.501e-3, 0.5), 2);
        assert_eq!(highest_harmonic(1.5e-3, 2e-3, 0.5), 0);
        assert_eq!(sine_of_bowl(0.03, 0.1), Some(0.3));
        assert_eq!(sine_of_bowl(0.1, 0.03), None);
    }
}
