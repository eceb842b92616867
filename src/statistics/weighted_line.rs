//! Straight line through points of known uncertainty.

/// Line y = intercept + slope x with the covariance that the uncertainties of the points give.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WeightedLine {
    pub intercept: f64,
    pub slope: f64,
    /// Standard uncertainty of the intercept.
    pub u_intercept: f64,
    /// Standard uncertainty of the slope.
    pub u_slope: f64,
    pub covariance: f64,
    /// Σ (residual/u)².
    pub chi_square: f64,
    pub points: usize,
}

impl WeightedLine {
    /// The line at `x`.
    pub fn at(&self, x: f64) -> f64 {
        self.intercept + self.slope * x
    }

    /// Standard uncertainty of the line at `x`.
    pub fn u_at(&self, x: f64) -> f64 {
        let square =
            self.u_intercept.powi(2) + 2.0 * x * self.covariance + (x * self.u_slope).powi(2);
        square.max(0.0).sqrt()
    }

    /// √(χ²/(n − 2)): how much larger the scatter about the line is than the points' uncertainties; `None`
    /// of two points.
    pub fn scatter_ratio(&self) -> Option<f64> {
        let freedom = self.points.checked_sub(2).filter(|n| *n > 0)?;
        Some((self.chi_square / freedom as f64).sqrt())
    }

    /// The line with uncertainties larger by a factor.
    #[must_use]
    pub fn widened(self, factor: f64) -> Self {
        Self {
            u_intercept: self.u_intercept * factor,
            u_slope: self.u_slope * factor,
            covariance: self.covariance * factor * factor,
            ..self
        }
    }
}

/// Weighted least squares: errors in y alone, independent, of known standard uncertainty u; weights 1/u².
///
/// # Shape
/// Points as (x, y, u).
///
/// # Errors
/// `None` of fewer than two points, when all x are equal, or when an uncertainty is not positive.
///
/// # References
/// W. H. Press et al., Numerical Recipes, fitting data to a straight line; JCGM 100:2008, H.3 where all u
/// are equal.
pub fn weighted_line(points: &[(f64, f64, f64)]) -> Option<WeightedLine> {
    if points.len() < 2 || points.iter().any(|(.., u)| !(*u > 0.0 && u.is_finite())) {
        return None;
    }
    // Weights re the largest: uncertainties may be far from one.
    let least = points.iter().map(|(.., u)| *u).fold(f64::INFINITY, f64::min);
    let weight = |u: f64| (least / u).powi(2);
    let sum = |term: &dyn Fn(f64, f64) -> f64| -> f64 {
        points.iter().map(|(x, y, u)| weight(*u) * term(*x, *y)).sum()
    };
    let total = sum(&|_, _| 1.0);
    let (x_mean, y_mean) = (sum(&|x, _| x) / total, sum(&|_, y| y) / total);
    let squares = sum(&|x, _| (x - x_mean).powi(2));
    if squares.is_nan() || squares <= 0.0 {
        return None;
    }
    let slope = sum(&|x, y| (x - x_mean) * (y - y_mean)) / squares;
    let residuals = sum(&|x, y| (y - y_mean - slope * (x - x_mean)).powi(2));
    let variance = least * least;
    Some(WeightedLine {
        intercept: y_mean - slope * x_mean,
        slope,
        u_intercept: (variance * (1.0 / total + x_mean * x_mean / squares)).sqrt(),
        u_slope: (variance / squares).sqrt(),
        covariance: -variance * x_mean / squares,
        chi_square: residuals / variance,
        points: points.len(),
    })
}

#[cfg(test)]
mod tests {
    use super::super::straight_line::straight_line;
    use super::*;

    /// With equal uncertainties of the size of the residuals' deviation the errors are those of ordinary
    /// least squares. Closed form of three points of a hat: see `straight_line`.
    #[test]
    fn equal_weights_are_ordinary_least_squares() {
        let plain = [(1.0, 2.1), (2.0, 3.9), (3.5, 7.2), (5.0, 9.8)];
        let line = straight_line(&plain).expect("a line");
        let s = line.residual_deviation;
        let found = weighted_line(&plain.map(|(x, y)| (x, y, s))).expect("a line");
        for (a, b) in [
            (found.slope, line.slope),
            (found.intercept, line.intercept),
            (found.u_slope, line.slope_error),
            (found.u_intercept, line.intercept_error),
            (found.scatter_ratio().expect("two degrees of freedom"), 1.0),
        ] {
            assert!((a - b).abs() < 1e-12, "{a} {b}");
        }
    }

    /// Closed form: the line through two points, (0, 1 ± 1) and (2, 5 ± 2): slope 2, u² of the slope
    /// (1 + 4)/4, of the intercept 1, at x = 2 the point's own 2.
    #[test]
    fn two_points() {
        let line = weighted_line(&[(0.0, 1.0, 1.0), (2.0, 5.0, 2.0)]).expect("a line");
        assert!((line.slope - 2.0).abs() < 1e-14 && (line.intercept - 1.0).abs() < 1e-14);
        assert!((line.u_slope - 1.25f64.sqrt()).abs() < 1e-14);
        assert!((line.u_intercept - 1.0).abs() < 1e-14);
        assert!((line.u_at(2.0) - 2.0).abs() < 1e-13);
        assert_eq!(line.scatter_ratio(), None);
    }

    #[test]
    fn no_line() {
        assert_eq!(weighted_line(&[(0.0, 1.0, 1.0)]), None);
        assert_eq!(weighted_line(&[(1.0, 1.0, 1.0), (1.0, 2.0, 1.0)]), None);
        assert_eq!(weighted_line(&[(0.0, 1.0, 0.0), (2.0, 5.0, 2.0)]), None);
        assert_eq!(weighted_line(&[(f64::NAN, 1.0, 1.0), (2.0, 5.0, 2.0)]), None);
    }
}
