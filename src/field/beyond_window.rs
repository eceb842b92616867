//! What lies outside the scanned window, guessed from how the beam falls toward its edge.

use std::f64::consts::PI;

/// Fall of the energy with the distance from the axis that is taken: r⁻³, the side lobes of a source
/// with a sharp edge, the slowest there is.
const SLOWEST: f64 = 3.0;
/// From this fall on the fall itself is followed: lobes alone can feign less between two rings.
const FOLLOWED: f64 = 6.0;
/// Fastest fall that is followed.
const FASTEST: f64 = 12.0;
/// Rings about the axis, as fractions of the distance to the nearest edge.
const RINGS: [(f64, f64); 2] = [(0.5, 0.75), (0.75, 1.0)];
/// Directions in which the window's edge is met.
const DIRECTIONS: u32 = 720;

/// Energy outside a window.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BeyondWindow {
    /// ∫ of the map's values over all that lies outside, in its unit times m². Good to half of itself.
    pub integral: f64,
    /// Exponent q of the fall r^−q that was used.
    pub fall: f64,
}

/// Integral of an energy map over what lies outside its window.
///
/// Outside the energy is taken to go on as r^−q about the beam's axis, from the window's edge outward in
/// every direction. q is 3, with the mean of the energy times r³ over the ring from 0.5 to 1 of the
/// distance to the nearest edge; unless that mean falls so much between 0.5 to 0.75 and 0.75 to 1 that
/// q ≥ 6, then this q (at most 12) with the mean over the outer ring.
///
/// `None` when a ring holds fewer than eight points; zero when the outer ring shows no energy.
///
/// # Shape
/// `values`: row-major (y, x), noise energy subtracted; `axis_m`: the beam's axis, inside the window.
///
/// # References
/// The fall: asymptotic form of J₁ in 2 J₁(x)/x. The rule is our own, no source.
pub fn beyond_window(
    x_m: &[f64],
    y_m: &[f64],
    values: &[f64],
    axis_m: (f64, f64),
) -> Option<BeyondWindow> {
    let (left, right) = (axis_m.0 - x_m.first()?, x_m.last()? - axis_m.0);
    let (below, above) = (axis_m.1 - y_m.first()?, y_m.last()? - axis_m.1);
    let nearest = left.min(right).min(below).min(above);
    let mut sums = [(0.0, 0.0, 0usize); 2];
    for (row, y) in values.chunks_exact(x_m.len()).zip(y_m) {
        for (value, x) in row.iter().zip(x_m) {
            let r = (x - axis_m.0).hypot(y - axis_m.1);
            for ((from, to), sum) in RINGS.iter().zip(&mut sums) {
                if r >= from * nearest && r < to * nearest {
                    *sum = (sum.0 + value * r.powf(SLOWEST), sum.1 + r, sum.2 + 1);
                }
            }
        }
    }
    if nearest.is_nan() || nearest <= 0.0 || sums.iter().any(|s| s.2 < 8) {
        return None;
    }
    let [(inner, r_inner), (outer, r_outer)] = sums.map(|(a, r, n)| (a / n as f64, r / n as f64));
    let both = (sums[0].0 + sums[1].0) / (sums[0].2 + sums[1].2) as f64;
    if both <= 0.0 || outer <= 0.0 {
        return Some(BeyondWindow { integral: 0.0, fall: FASTEST });
    }
    let steeper = if inner > 0.0 { (inner / outer).ln() / (r_outer / r_inner).ln() } else { 0.0 };
    let (level, fall) = if SLOWEST + steeper < FOLLOWED {
        (both, SLOWEST)
    } else {
        (outer, (SLOWEST + steeper).min(FASTEST))
    };
    // Energy at the distance r: level r^(−q) r_outer^(q−3).
    let scale = level * r_outer.powf(fall - SLOWEST);
    let sum: f64 = (0..DIRECTIONS)
        .map(|i| {
            let (sin, cos) = (2.0 * PI * (f64::from(i) + 0.5) / f64::from(DIRECTIONS)).sin_cos();
            let to_x = if cos > 0.0 { right / cos } else { -left / cos };
            let to_y = if sin > 0.0 { above / sin } else { -below / sin };
            to_x.min(to_y).powf(2.0 - fall)
        })
        .sum();
    let integral = scale * sum * 2.0 * PI / f64::from(DIRECTIONS) / (fall - 2.0);
    Some(BeyondWindow { integral, fall })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn map(x: &[f64], y: &[f64], f: impl Fn(f64) -> f64) -> Vec<f64> {
        y.iter().flat_map(|b| x.iter().map(move |a| (*a, *b))).map(|(a, b)| f(a.hypot(b))).collect()
    }

    /// r^−q outside a square of half side L: 8/((q − 2) L^(q−2)) ∫₀^{π/4} cos^(q−2) φ dφ; for q = 3
    /// 8/(L √2), for q = 8 with ∫ cos⁶ = 5π/64 + 11/48 (closed forms).
    #[test]
    fn powers_of_the_distance() {
        let x: Vec<f64> = (-40..=40).map(|i| f64::from(i) * 0.1).collect();
        let half = 4.0f64;
        let third = 8.0 / (half * 2f64.sqrt());
        let eighth = 8.0 / (6.0 * half.powi(6)) * (5.0 * PI / 64.0 + 11.0 / 48.0);
        for (q, exact) in [(3, third), (8, eighth)] {
            let map = map(&x, &x, |r| r.max(0.3).powi(-q));
            let found = beyond_window(&x, &x, &map, (0.0, 0.0)).expect("wide enough");
            assert!((found.integral / exact - 1.0).abs() < 0.06, "{}", found.integral / exact);
            assert!((found.fall - f64::from(q)).abs() < 0.4, "{}", found.fall);
        }
    }

    /// A focused beam (2 J₁(x)/x)²: outside a circle of radius X lies J₀² + J₁² of its energy 4π, in the
    /// mean over a lobe 2/(πX); outside a square of half side X the mean of the same over the directions,
    /// 2/(πX) · (4/π) ∫₀^{π/4} cos φ dφ. Bessel functions by their integral.
    #[test]
    fn a_focused_beam() {
        let j1 = |x: f64| -> f64 {
            (0..400)
                .map(|i| (f64::from(i) + 0.5) * PI / 400.0)
                .map(|t| (t - x * t.sin()).cos())
                .sum::<f64>()
                / 400.0
        };
        for half in [14.0, 21.0, 33.0] {
            let x: Vec<f64> = (-40..=40).map(|i| f64::from(i) * half / 40.0).collect();
            let energy = map(&x, &x, |r| if r == 0.0 { 1.0 } else { (2.0 * j1(r) / r).powi(2) });
            let found = beyond_window(&x, &x, &energy, (0.0, 0.0)).expect("wide enough").integral;
            let exact = 4.0 * PI * 2.0 / (PI * half) * (4.0 / PI) * 0.5f64.sqrt();
            assert!((found / exact - 1.0).abs() < 0.3, "{half}: {}", found / exact);
        }
    }

    #[test]
    fn nothing_at_the_edge_and_too_narrow() {
        let x: Vec<f64> = (-20..=20).map(f64::from).collect();
        let found = beyond_window(&x, &x, &map(&x, &x, |r| (-r * r / 8.0).exp()), (0.0, 0.0));
        assert!(found.expect("wide enough").integral < 1e-10);
        let x = [0.0, 1.0, 2.0];
        assert_eq!(beyond_window(&x, &x, &[1.0; 9], (1.0, 1.0)), None);
        assert_eq!(beyond_window(&x, &x, &[1.0; 9], (0.0, 1.0)), None);
    }
}
