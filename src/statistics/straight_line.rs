//! Straight line through points.

use super::moments::mean;

/// Line y = intercept + slope x with the uncertainties that the scatter of the points gives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StraightLine {
    pub intercept: f64,
    pub slope: f64,
    /// Standard error of the intercept.
    pub intercept_error: f64,
    /// Standard error of the slope.
    pub slope_error: f64,
    /// Residual standard deviation, with n − 2 degrees of freedom.
    pub residual_deviation: f64,
}

/// Ordinary least squares: errors in y alone, equal and independent.
///
/// slope = Sxy/Sxx about the means; s² = Σ residual²/(n − 2); errors s/√Sxx and s √(1/n + x̄²/Sxx).
///
/// # Shape
/// Points as (x, y).
///
/// # Errors
/// `None` of fewer than three points, or when all x are equal.
///
/// # References
/// JCGM 100:2008, H.3; NIST Statistical Reference Datasets, linear regression.
pub fn straight_line(points: &[(f64, f64)]) -> Option<StraightLine> {
    if points.len() < 3 {
        return None;
    }
    let n = points.len() as f64;
    let (x, y): (Vec<f64>, Vec<f64>) = points.iter().copied().unzip();
    let (x_mean, y_mean) = (mean(&x)?, mean(&y)?);
    let sum = |term: &dyn Fn(f64, f64) -> f64| -> f64 {
        points.iter().map(|(x, y)| term(x - x_mean, y - y_mean)).sum()
    };
    let squares = sum(&|x, _| x * x);
    if squares.is_nan() || squares <= 0.0 {
        return None;
    }
    let slope = sum(&|x, y| x * y) / squares;
    let residual_deviation = (sum(&|x, y| (y - slope * x).powi(2)) / (n - 2.0)).sqrt();
    Some(StraightLine {
        intercept: y_mean - slope * x_mean,
        slope,
        intercept_error: residual_deviation * (1.0 / n + x_mean * x_mean / squares).sqrt(),
        slope_error: residual_deviation / squares.sqrt(),
        residual_deviation,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST Statistical Reference Datasets, Norris: certified values.
    #[test]
    fn ozone_monitors() {
        let x = [
            0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6,
            775.5, 666.9, 338.0, 447.5, 11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8,
            339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5,
        ];
        let y = [
            0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1,
            778.1, 668.8, 339.3, 448.9, 10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6,
            339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2,
        ];
        let points: Vec<(f64, f64)> = x.into_iter().zip(y).collect();
        let line = straight_line(&points).expect("a line");
        for (found, expected) in [
            (line.intercept, -0.262_323_073_774_029),
            (line.slope, 1.002_116_818_020_45),
            (line.intercept_error, 0.232_818_234_301_152),
            (line.slope_error, 0.000_429_796_848_199_937),
            (line.residual_deviation, 0.884_796_396_144_373),
        ] {
            assert!((found / expected - 1.0).abs() < 2e-12, "{found} {expected}");
        }
    }

    /// Closed form: three points of a hat, far from the origin. y = 0, 1, 0 at x − 10⁶ = −1, 0, 1: slope 0,
    /// residuals −⅓, ⅔, −⅓, s = √(2/3), error of the slope s/√2.
    #[test]
    fn far_from_the_origin() {
        let line =
            straight_line(&[(999_999.0, 0.0), (1e6, 1.0), (1_000_001.0, 0.0)]).expect("a line");
        assert_eq!(line.slope, 0.0);
        assert!((line.intercept - 1.0 / 3.0).abs() < 1e-15);
        assert!((line.residual_deviation - (2f64 / 3.0).sqrt()).abs() < 1e-15);
        assert!((line.slope_error - 1.0 / 3f64.sqrt()).abs() < 1e-15);
        let expected = (2f64 / 3.0).sqrt() * (1.0 / 3.0 + 0.5e12f64).sqrt();
        assert!((line.intercept_error / expected - 1.0).abs() < 1e-15);
    }

    #[test]
    fn no_line() {
        assert_eq!(straight_line(&[(0.0, 1.0), (1.0, 2.0)]), None);
        assert_eq!(straight_line(&[(2.0, 1.0), (2.0, 2.0), (2.0, 3.0)]), None);
        assert_eq!(straight_line(&[(f64::NAN, 1.0), (2.0, 2.0), (3.0, 3.0)]), None);
    }
}
