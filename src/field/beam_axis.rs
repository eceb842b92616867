//! The axis of a beam as a straight line: through the peak of one plane along its tilt, or through the
//! centres of several planes.

/// Fewest planes of a fit.
const FEWEST: usize = 3;

/// Where an axis through `at_m` at `z_m` that leans by `tilt_rad` in the plane of that coordinate meets
/// the plane at `head_m`, m: at + (head − z) tan(tilt).
///
/// # Examples
/// 0.8 mm at z = 45 mm with a tilt of 1° meets z = 0 at 0.8 mm − 45 mm · 0.017 455 = 0.0145 mm.
pub fn offset_m(at_m: f64, z_m: f64, tilt_rad: f64, head_m: f64) -> f64 {
    at_m + (head_m - z_m) * tilt_rad.tan()
}

/// A straight line c(z) = at + (z − head) tan(tilt) in one plane, xz or yz.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxisLine {
    /// Angle to z, rad, positive toward positive coordinates.
    pub tilt_rad: f64,
    /// Coordinate at the head's plane, m.
    pub at_m: f64,
    /// Standard uncertainties from the scatter about the line.
    pub u_tilt_rad: f64,
    pub u_at_m: f64,
    /// Standard deviation of the centres about the line, m.
    pub scatter_m: f64,
}

/// Least-squares line through the beam's centres (z, coordinate).
///
/// With n centres, S = Σ(z − z̄)² and the scatter s² = Σ r²/(n − 2): u(slope) = s/√S, u(at) =
/// s √(1/n + (head − z̄)²/S), u(tilt) = u(slope) cos²(tilt).
///
/// `None` with fewer than three, or all at one depth.
///
/// # References
/// Straight-line fit as in every textbook of statistics.
pub fn axis_line(centres: &[(f64, f64)], head_m: f64) -> Option<AxisLine> {
    if centres.len() < FEWEST {
        return None;
    }
    let n = centres.len() as f64;
    let mean_z = centres.iter().map(|c| c.0).sum::<f64>() / n;
    let mean_c = centres.iter().map(|c| c.1).sum::<f64>() / n;
    let spread: f64 = centres.iter().map(|c| (c.0 - mean_z).powi(2)).sum();
    if spread <= 0.0 {
        return None;
    }
    let slope = centres.iter().map(|c| (c.0 - mean_z) * (c.1 - mean_c)).sum::<f64>() / spread;
    let off = |c: &(f64, f64)| c.1 - mean_c - slope * (c.0 - mean_z);
    let scatter_m = (centres.iter().map(|c| off(c).powi(2)).sum::<f64>() / (n - 2.0)).sqrt();
    let reach = head_m - mean_z;
    Some(AxisLine {
        tilt_rad: slope.atan(),
        at_m: mean_c + slope * reach,
        u_tilt_rad: scatter_m / spread.sqrt() / (1.0 + slope * slope),
        u_at_m: scatter_m * (1.0 / n + reach * reach / spread).sqrt(),
        scatter_m,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dsp::noise::Noise;

    /// The example above, by hand.
    #[test]
    fn one_plane() {
        let found = offset_m(0.8e-3, 45e-3, 1f64.to_radians(), 0.0);
        assert!((found - 0.014_52e-3).abs() < 1e-8, "{found}");
        assert!((offset_m(0.8e-3, 45e-3, 0.0, -45e-3) - 0.8e-3).abs() < 1e-15);
    }

    /// By hand: y = 2x + 1 with residuals ±1 of the pattern + − − + at x = 0, 1, 2, 3, which leaves slope and intercept as
    /// they are: s² = 4/2, u(slope) = √(2/5), u(at 0) = √(2 (1/4 + 2.25/5)).
    #[test]
    fn a_line_by_hand() {
        let centres = [(0.0, 2.0), (1.0, 2.0), (2.0, 4.0), (3.0, 8.0)];
        let found = axis_line(&centres, 0.0).expect("line");
        assert!((found.tilt_rad.tan() - 2.0).abs() < 1e-12, "{found:?}");
        assert!((found.at_m - 1.0).abs() < 1e-12);
        assert!((found.scatter_m - 2f64.sqrt()).abs() < 1e-12);
        assert!((found.u_tilt_rad - 0.4f64.sqrt() / 5.0).abs() < 1e-12);
        assert!((found.u_at_m - 1.4f64.sqrt()).abs() < 1e-12);
        assert_eq!(axis_line(&centres[..2], 0.0), None);
        assert_eq!(axis_line(&[(1.0, 0.0), (1.0, 1.0), (1.0, 2.0)], 0.0), None);
    }

    /// Centres that scatter: of 400 draws with nine planes 95 % of the angles and of the offsets lie within
    /// twice their uncertainties (Student's t with seven degrees: 91.4 %).
    #[test]
    fn scatter() {
        let mut noise = Noise::new(5);
        let mut within = [0; 2];
        for _ in 0..400 {
            let centres: Vec<(f64, f64)> = (0..9)
                .map(|i| {
                    let z = 0.04 + 1e-3 * f64::from(i);
                    (z, 0.3e-3 + 0.02 * z + 1e-5 * noise.next())
                })
                .collect();
            let found = axis_line(&centres, 0.0).expect("line");
            let tilt = (found.tilt_rad - 0.02f64.atan()).abs() < 2.0 * found.u_tilt_rad;
            within[0] += i32::from(tilt);
            within[1] += i32::from((found.at_m - 0.3e-3).abs() < 2.0 * found.u_at_m);
        }
        assert!(within.iter().all(|n| (345..=388).contains(n)), "{within:?}");
    }
}
