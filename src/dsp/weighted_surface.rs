//! Weighted least-squares quadratic over a plane, with the uncertainties of its coefficients.

/// Terms: 1, x, y, x², xy, y².
const TERMS: usize = 6;

/// A point of the fit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weighted {
    pub x: f64,
    pub y: f64,
    pub value: f64,
    /// Proportional to the inverse of the value's variance.
    pub weight: f64,
}

/// v = c0 + c1 x + c2 y + c3 x² + c4 xy + c5 y².
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WeightedSurface {
    pub c: [f64; TERMS],
    /// Standard uncertainties of the coefficients from the scatter about the fit.
    pub u: [f64; TERMS],
    /// Root of the weighted mean square about the fit, scaled to the degrees of freedom.
    pub residual: f64,
}

impl WeightedSurface {
    /// The fit; `None` with no more points than terms or when they do not fix all of them.
    pub fn fit(points: &[Weighted]) -> Option<Self> {
        let reach = |f: fn(&Weighted) -> f64| points.iter().map(f).fold(0.0, |m, v| v.abs().max(m));
        let (hx, hy) = (reach(|p| p.x), reach(|p| p.y));
        let total: f64 = points.iter().map(|p| p.weight).sum();
        if points.len() <= TERMS || hx <= 0.0 || hy <= 0.0 || total <= 0.0 || !total.is_finite() {
            return None;
        }
        let mut normal = [[0.0; TERMS]; TERMS];
        let mut right = [0.0; TERMS];
        for p in points {
            let row = terms(p.x / hx, p.y / hy);
            for (i, a) in row.iter().enumerate() {
                for (j, b) in row.iter().enumerate() {
                    normal[i][j] += p.weight / total * a * b;
                }
                right[i] += p.weight / total * a * p.value;
            }
        }
        let inverse = inverted(normal)?;
        let scaled: [f64; TERMS] =
            std::array::from_fn(|i| inverse[i].iter().zip(&right).map(|(a, b)| a * b).sum());
        let squares: f64 = points
            .iter()
            .map(|p| {
                let fit: f64 =
                    terms(p.x / hx, p.y / hy).iter().zip(&scaled).map(|(a, b)| a * b).sum();
                p.weight / total * (p.value - fit) * (p.value - fit)
            })
            .sum();
        // Σ w r²/(n − 6) with weights of mean 1 is the variance at weight 1; n of it lie in `normal`.
        let n = points.len() as f64;
        let variance = squares * n / (n - TERMS as f64);
        let units = terms(1.0 / hx, 1.0 / hy);
        Some(Self {
            c: std::array::from_fn(|i| scaled[i] * units[i]),
            u: std::array::from_fn(|i| (variance / n * inverse[i][i]).max(0.0).sqrt() * units[i]),
            residual: variance.sqrt(),
        })
    }

    /// Value of the fit.
    pub fn at(&self, x: f64, y: f64) -> f64 {
        terms(x, y).iter().zip(&self.c).map(|(a, b)| a * b).sum()
    }

    /// Where the fit is level, if both its curvatures exceed three times their uncertainties.
    pub fn level_at(&self) -> Option<(f64, f64)> {
        let [_, x, y, xx, xy, yy] = self.c;
        let determinant = 4.0 * xx * yy - xy * xy;
        let curved = xx.abs() > 3.0 * self.u[3] && yy.abs() > 3.0 * self.u[5];
        (curved && determinant != 0.0)
            .then(|| ((xy * y - 2.0 * yy * x) / determinant, (xy * x - 2.0 * xx * y) / determinant))
    }
}

fn terms(x: f64, y: f64) -> [f64; TERMS] {
    [1.0, x, y, x * x, x * y, y * y]
}

/// Inverse by elimination with pivoting.
fn inverted(mut m: [[f64; TERMS]; TERMS]) -> Option<[[f64; TERMS]; TERMS]> {
    let mut out: [[f64; TERMS]; TERMS] =
        std::array::from_fn(|i| std::array::from_fn(|j| if i == j { 1.0 } else { 0.0 }));
    for i in 0..TERMS {
        let pivot = (i..TERMS).max_by(|a, b| m[*a][i].abs().total_cmp(&m[*b][i].abs()))?;
        m.swap(i, pivot);
        out.swap(i, pivot);
        let top = m[i][i];
        if top.abs() < 1e-12 {
            return None;
        }
        for j in 0..TERMS {
            m[i][j] /= top;
            out[i][j] /= top;
        }
        for r in (0..TERMS).filter(|r| *r != i) {
            let factor = m[r][i];
            for j in 0..TERMS {
                m[r][j] -= factor * m[i][j];
                out[r][j] -= factor * out[i][j];
            }
        }
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dsp::noise::Noise;

    fn points(f: impl Fn(f64, f64) -> (f64, f64)) -> Vec<Weighted> {
        (0..9)
            .flat_map(|i| (0..7).map(move |j| (f64::from(i) * 0.3 - 1.0, f64::from(j) * 0.4 - 1.3)))
            .map(|(x, y)| {
                let (value, weight) = f(x, y);
                Weighted { x, y, value, weight }
            })
            .collect()
    }

    #[test]
    fn an_exact_surface() {
        let c = [3.0, -0.4, 0.7, 1.1, 0.2, -0.9];
        let value = |x: f64, y: f64| terms(x, y).iter().zip(c).map(|(a, b)| a * b).sum::<f64>();
        let fit = WeightedSurface::fit(&points(|x, y| (value(x, y), 1.0 + x * x))).expect("fixed");
        assert!(fit.c.iter().zip(c).all(|(a, b)| (a - b).abs() < 1e-12) && fit.residual < 1e-12);
        let (x, y) = fit.level_at().expect("curved");
        assert!((c[1] + 2.0 * c[3] * x + c[4] * y).abs() < 1e-9);
        assert!((c[2] + c[4] * x + 2.0 * c[5] * y).abs() < 1e-9);
        assert_eq!(WeightedSurface::fit(&points(|x, _| (x, 1.0))[..6]), None);
    }

    /// The scatter of the slope over many draws is the stated uncertainty (linear least squares, Gauss and
    /// Markov), with weights that are the inverse variances.
    #[test]
    fn the_uncertainty_of_a_slope() {
        let mut noise = Noise::new(4);
        const DRAWS: usize = 600;
        let (mut squares, mut stated) = (0.0, 0.0);
        for _ in 0..DRAWS {
            let mut drawn = points(|x, y| (0.5 * x - 0.2 * y, 1.0 / (0.3 + x * x)));
            drawn.iter_mut().for_each(|p| p.value += noise.next() * 0.01 / p.weight.sqrt());
            let fit = WeightedSurface::fit(&drawn).expect("fixed");
            squares += (fit.c[1] - 0.5f64).powi(2) / DRAWS as f64;
            stated += fit.u[1].powi(2) / DRAWS as f64;
        }
        // 600 draws: the variance to 6 %.
        assert!((squares / stated - 1.0).abs() < 0.2, "{}", squares / stated);
    }
}
