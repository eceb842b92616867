//! Mean of a map over a disc.

use super::surface::Surface;

/// Rings of the quadrature over the disc, Gauss and Legendre in the square of the radius: places and
/// weights on 0 … 1.
const RINGS: [(f64, f64); 4] = [
    (0.069_431_844_202_973_71, 0.173_927_422_568_726_93),
    (0.330_009_478_207_571_87, 0.326_072_577_431_273_07),
    (0.669_990_521_792_428_1, 0.326_072_577_431_273_07),
    (0.930_568_155_797_026_3, 0.173_927_422_568_726_93),
];
/// Places on each ring.
const PLACES: u32 = 12;

/// Mean of a map over a disc about a place, by a quadrature that is exact for polynomials up to the
/// seventh degree. `None` where the disc leaves the grid.
pub fn disc_mean(surface: &Surface<'_>, at: (f64, f64), radius: f64) -> Option<f64> {
    let mut sum = 0.0;
    for (ring, (square, weight)) in RINGS.iter().enumerate() {
        let ring_radius = radius * square.sqrt();
        for place in 0..PLACES {
            // Every other ring is turned by half a place.
            let turn = f64::from(place) + 0.5 * (ring % 2) as f64;
            let (sin, cos) = (2.0 * std::f64::consts::PI * turn / f64::from(PLACES)).sin_cos();
            let value = surface.at((at.0 + ring_radius * cos, at.1 + ring_radius * sin))?;
            sum += weight / f64::from(PLACES) * value;
        }
    }
    Some(sum)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// x² + y² over a disc of radius a about (p, q): p² + q² + a²/2; x⁴: p⁴ + 3p²a²/2 + a⁴/8 (closed
    /// forms).
    #[test]
    fn polynomials() {
        let x: Vec<f64> = (-10..=10).map(|i| f64::from(i) * 0.3).collect();
        let map = |f: fn(f64, f64) -> f64| -> Vec<f64> {
            x.iter().flat_map(|b| x.iter().map(move |a| f(*a, *b))).collect()
        };
        let (p, q, a) = (0.37f64, -0.81f64, 1.1f64);
        // Six points a side carry the fourth degree; the offset keeps off the logarithm.
        let square = map(|x, y| x * x + y * y - 5.0);
        let surface = Surface { x: &x, y: &x, values: &square };
        let found = disc_mean(&surface, (p, q), a).expect("inside") + 5.0;
        assert!((found - (p * p + q * q + a * a / 2.0)).abs() < 1e-9, "{found}");
        let fourth = map(|x, _| x.powi(4) - 100.0);
        let surface = Surface { x: &x, y: &x, values: &fourth };
        let found = disc_mean(&surface, (p, q), a).expect("inside") + 100.0;
        let exact = p.powi(4) + 1.5 * p * p * a * a + a.powi(4) / 8.0;
        assert!((found - exact).abs() < 1e-9, "{found} {exact}");
        assert_eq!(disc_mean(&surface, (2.5, 0.0), a), None);
    }
}
