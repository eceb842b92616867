//! A map between its points.

use super::interpolate::weights_of;

/// Ratio of the smallest to the largest of the points about a place down to which their logarithm is
/// interpolated: near a null the logarithm is no smooth function.
const LOGARITHM_RANGE: f64 = 0.1;
/// Halvings of the step in which a fall to a level was found.
const HALVINGS: u32 = 50;

/// A map with its coordinates.
///
/// # Shape
/// `values`: row-major (y.len(), x.len()); coordinates rising.
#[derive(Debug, Clone, Copy)]
pub struct Surface<'a> {
    pub x: &'a [f64],
    pub y: &'a [f64],
    pub values: &'a [f64],
}

impl Surface<'_> {
    /// Whether a place lies on the grid.
    pub fn holds(&self, (x, y): (f64, f64)) -> bool {
        let within = |axis: &[f64], at: f64| {
            axis.first().is_some_and(|v| *v <= at) && axis.last().is_some_and(|v| at <= *v)
        };
        within(self.x, x) && within(self.y, y)
    }

    /// Value at a place: Lagrange polynomials along both axes, over four by four points of the logarithm
    /// where these are positive and within a factor of ten, else over six by six of the values.
    ///
    /// `None` off the grid, or with fewer than two points along an axis.
    pub fn at(&self, (x, y): (f64, f64)) -> Option<f64> {
        if !self.holds((x, y)) || self.values.len() != self.x.len() * self.y.len() {
            return None;
        }
        let (first, wx) = weights_of(self.x, x, 4)?;
        let (low, wy) = weights_of(self.y, y, 4)?;
        let row = |r: usize, first: usize, n: usize| {
            let start = r * self.x.len() + first;
            &self.values[start..start + n]
        };
        let near = (low..low + wy.len()).flat_map(|r| row(r, first, wx.len()));
        let top = near.clone().copied().fold(0.0, f64::max);
        if near.clone().all(|v| *v > LOGARITHM_RANGE * top) {
            let sum: f64 = wy
                .iter()
                .zip(low..)
                .map(|(w, r)| {
                    w * row(r, first, wx.len())
                        .iter()
                        .zip(&wx)
                        .map(|(v, w)| v.ln() * w)
                        .sum::<f64>()
                })
                .sum();
            return Some(sum.exp());
        }
        let (first, wx) = weights_of(self.x, x, 6)?;
        let (low, wy) = weights_of(self.y, y, 6)?;
        Some(
            wy.iter()
                .zip(low..)
                .map(|(w, r)| {
                    let across = row(r, first, wx.len()).iter().zip(&wx);
                    w * across.map(|(v, w)| v * w).sum::<f64>()
                })
                .sum(),
        )
    }

    /// Distance from a place, in a direction (cosine, sine), to where the map first falls to a level.
    ///
    /// `None` when it does not fall so far before the edge of the grid.
    pub fn fall(&self, from: (f64, f64), direction: (f64, f64), level: f64) -> Option<f64> {
        let step = 0.25 * smallest_step(self.x)?.min(smallest_step(self.y)?);
        let along = |d: f64| (from.0 + d * direction.0, from.1 + d * direction.1);
        let mut near = 0.0;
        loop {
            let far = near + step;
            if self.at(along(far))? < level {
                let (mut a, mut b) = (near, far);
                for _ in 0..HALVINGS {
                    let middle = 0.5 * (a + b);
                    if self.at(along(middle))? < level { b = middle } else { a = middle }
                }
                return Some(0.5 * (a + b));
            }
            near = far;
        }
    }
}

fn smallest_step(x: &[f64]) -> Option<f64> {
    let step = x.windows(2).map(|w| w[1] - w[0]).fold(f64::INFINITY, f64::min);
    (step > 0.0 && step.is_finite()).then_some(step)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn gaussian(x: &[f64]) -> Vec<f64> {
        x.iter().flat_map(|b| x.iter().map(move |a| (-2.0 * (a * a + b * b)).exp())).collect()
    }

    /// Gaussian exp(−2r²): exact in the logarithm; −6 dB at r = √(0.3 ln 10) in every direction.
    #[test]
    fn a_gaussian_between_points() {
        let x: Vec<f64> = (-12..=12).map(|i| f64::from(i) * 0.2).collect();
        let values = gaussian(&x);
        let surface = Surface { x: &x, y: &x, values: &values };
        for at in [(0.07f64, 0.11f64), (0.5, -0.33)] {
            let exact = (-2.0 * (at.0 * at.0 + at.1 * at.1)).exp();
            assert!((surface.at(at).expect("inside") / exact - 1.0).abs() < 1e-9);
        }
        let exact = (0.3 * std::f64::consts::LN_10).sqrt();
        for degrees in [0.0f64, 17.0, 45.0, 200.0] {
            let (sin, cos) = degrees.to_radians().sin_cos();
            let found = surface.fall((0.0, 0.0), (cos, sin), 10f64.powf(-0.6)).expect("falls");
            assert!((found / exact - 1.0).abs() < 2e-4, "{degrees} {found}");
        }
    }

    #[test]
    fn the_edge() {
        let x: Vec<f64> = (-3..=3).map(|i| f64::from(i) * 0.1).collect();
        let values = gaussian(&x);
        let surface = Surface { x: &x, y: &x, values: &values };
        assert_eq!(surface.fall((0.0, 0.0), (1.0, 0.0), 0.25), None);
        assert_eq!(surface.at((0.31, 0.0)), None);
    }
}
