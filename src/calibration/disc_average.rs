//! What a flat disc sees of a beam: the pressure averaged over it, re that on the axis.

/// Full width of a Gaussian beam at −6 dB of pressure over its radius w, 2 √(0.3 ln 10).
const WIDTH_6_OVER_RADIUS: f64 = 1.662_258_136_269_11;

/// Mean over a disc of radius a of a Gaussian pressure exp(−r²/w²) about its centre, re its top:
/// (w²/a²)(1 − exp(−a²/w²)).
///
/// # Units
/// Both lengths in m.
///
/// # Examples
/// a = w/2 gives 0.8848.
///
/// # References
/// The integral itself; IEC 62127-1 asks for a correction of spatial averaging.
pub fn of_gaussian(disc_radius_m: f64, beam_radius_m: f64) -> f64 {
    let x = (disc_radius_m / beam_radius_m).powi(2);
    if x < 1e-12 { 1.0 } else { -(-x).exp_m1() / x }
}

/// Radius w of a Gaussian pressure exp(−r²/w²) whose −6 dB width is given, m.
pub fn gaussian_radius_m(width_6_m: f64) -> f64 {
    width_6_m / WIDTH_6_OVER_RADIUS
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The closed form against the mean over rings, and the values that mpmath gives.
    #[test]
    fn mean_over_rings() {
        for (a, expected) in [
            (0.1, 0.995_016_625_083_195),
            (0.25, 0.969_390_994_984_387),
            (0.5, 0.884_796_867_714_381),
            (1.0, 0.632_120_558_828_558),
        ] {
            assert!((of_gaussian(3.0 * a, 3.0) - expected).abs() < 1e-14, "{a}");
        }
        const RINGS: u32 = 4000;
        for a in [0.01, 0.3, 1.0, 2.5] {
            let sum: f64 = (0..RINGS)
                .map(|i| {
                    let r = a * (f64::from(i) + 0.5) / f64::from(RINGS);
                    (-r * r).exp() * 2.0 * r / (a * a) * a / f64::from(RINGS)
                })
                .sum();
            assert!((of_gaussian(a, 1.0) - sum).abs() < 1e-6, "{a}");
        }
        assert_eq!(of_gaussian(0.0, 1.0), 1.0);
    }

    /// Within a third of its correction, the stated uncertainty, a Gaussian of the same −6 dB width tells
    /// what a disc sees of a focused beam 2J₁(x)/x: at x = 1 0.939 209 3 (4(1 − J₀(X))/X², by mpmath), at
    /// −6 dB x = 2.211 787 (root by scipy, half the width).
    #[test]
    fn against_a_focused_beam() {
        let gaussian = of_gaussian(1.0, gaussian_radius_m(2.0 * 2.211_785));
        let (correction, exact) = (1.0 - gaussian, 1.0 - 0.939_209_3);
        assert!((correction - exact).abs() < exact / 3.0, "{correction} {exact}");
    }

    /// −6 dB is 10^(−6/20) of the pressure.
    #[test]
    fn width_and_radius() {
        let w = gaussian_radius_m(1.0);
        let at_edge = (-(0.5 / w).powi(2)).exp();
        assert!((at_edge - 10f64.powf(-0.3)).abs() < 1e-12);
    }
}
