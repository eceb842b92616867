//! The propagation of distributions, beside the law of propagation of uncertainty.

use crate::base::budget::{Budget, Drawn, Line};
use crate::dsp::noise::Noise;
use crate::statistics::coverage_interval::shortest_interval;
use crate::statistics::moments::{mean, standard_deviation};
use crate::statistics::numerical_tolerance::numerical_tolerance;

/// The same budget gives the same draws.
const SEED: u64 = 62127;
/// Draws. The Guide's supplement advises 10⁴/(1 − p), two hundred thousand for 95 %; its own test of
/// agreement, to one significant digit of u, needs fewer.
const DRAWS: usize = 50_000;
/// Significant digits of u that count in the comparison.
const DIGITS: u32 = 1;
/// Degrees of freedom from which Student's distribution is taken for the normal one.
const MANY: f64 = 50.0;
/// Lines of a smaller share are drawn together, as one normal error.
const SMALL: f64 = 1e-4;
/// Smallest factor that a drawn relative error leaves of a sensitivity.
const LEAST: f64 = 0.05;

/// Draws every line of a budget: relative sources as the factors (1 + ε)^m that they are, with m their
/// relative sensitivity; others added. Each from the distribution that the budget names.
///
/// Whether the law of propagation agrees: both ends of y ± U within the numerical tolerance of u of
/// those of the shortest interval.
///
/// # References
/// JCGM 101:2008, 6.4 (distributions), 7.7 (shortest interval), 7.9.2 (numerical tolerance), 8.1
/// (comparison).
pub fn draw(value: f64, budget: &Budget) -> Option<Drawn> {
    let mut noise = Noise::new(SEED);
    let large = budget.lines.iter().filter(|line| line.share >= SMALL);
    let mut lines: Vec<Drawer> = large.map(|line| Drawer::new(value, line)).collect();
    let small = budget.lines.iter().filter(|line| line.share < SMALL);
    let rest = small.map(|line| line.contribution.powi(2)).sum::<f64>().sqrt();
    if rest > 0.0 {
        lines.push(Drawer { shape: Shape::Normal, u: rest, power: None, contribution: rest });
    }
    let mut values = Vec::with_capacity(DRAWS);
    for _ in 0..DRAWS {
        let (mut factor, mut sum) = (1.0, 0.0);
        for line in &lines {
            line.apply(&mut noise, &mut factor, &mut sum);
        }
        values.push(value * factor + sum);
    }
    let mean = mean(&values)?;
    let standard_deviation = standard_deviation(&values)?;
    values.sort_unstable_by(f64::total_cmp);
    let (low, high) = shortest_interval(&values, budget.coverage)?;
    let tolerance = numerical_tolerance(budget.u_standard, DIGITS)?;
    let off = |a: f64, b: f64| (a - b).abs() <= tolerance;
    let agrees = off(value - budget.u_expanded, low) && off(value + budget.u_expanded, high);
    Some(Drawn {
        draws: DRAWS as u64,
        seed: SEED,
        mean,
        standard_deviation,
        low,
        high,
        agrees,
        tolerance,
    })
}

/// A line ready to be drawn.
struct Drawer {
    shape: Shape,
    u: f64,
    /// Power of the factor, for a relative source.
    power: Option<f64>,
    contribution: f64,
}

enum Shape {
    Normal,
    Rectangular,
    Triangular,
    UShaped,
    /// Of so many degrees of freedom.
    Student(u32),
}

impl Drawer {
    fn new(value: f64, line: &Line) -> Self {
        let shape = match (line.distribution.as_str(), line.nu) {
            ("t", Some(nu)) if nu < MANY => Shape::Student(nu.round().max(1.0) as u32),
            ("rectangular", _) => Shape::Rectangular,
            ("triangular", _) => Shape::Triangular,
            ("u-shaped", _) => Shape::UShaped,
            _ => Shape::Normal,
        };
        let power = (line.unit == "1" && value != 0.0).then(|| line.sensitivity / value);
        Self { shape, u: line.u, power, contribution: line.contribution }
    }

    fn apply(&self, noise: &mut Noise, factor: &mut f64, sum: &mut f64) {
        let unit = self.shape.draw(noise);
        match self.power {
            Some(power) => *factor *= (1.0 + self.u * unit).max(LEAST).powf(power),
            None => *sum += self.contribution * unit,
        }
    }
}

impl Shape {
    /// A number of the shape with a standard deviation of one; of Student's distribution, with its
    /// scale of one.
    fn draw(&self, noise: &mut Noise) -> f64 {
        match self {
            Self::Normal => noise.next(),
            Self::Rectangular => 3f64.sqrt() * (2.0 * noise.uniform() - 1.0),
            // The sum of two equal rectangles.
            Self::Triangular => 6f64.sqrt() * (noise.uniform() + noise.uniform() - 1.0),
            Self::UShaped => 2f64.sqrt() * (2.0 * std::f64::consts::PI * noise.uniform()).cos(),
            Self::Student(nu) => {
                let square: f64 = (0..*nu).map(|_| noise.next().powi(2)).sum();
                noise.next() / (square / f64::from(*nu)).sqrt()
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn budget(value: f64, parts: &[(f64, &str, &str)]) -> Budget {
        let lines: Vec<Line> = parts
            .iter()
            .map(|(u, unit, distribution)| Line {
                source: "a".to_owned(),
                u: *u,
                unit: (*unit).to_owned(),
                distribution: (*distribution).to_owned(),
                nu: None,
                sensitivity: if *unit == "1" { -2.0 * value } else { 1.0 },
                contribution: if *unit == "1" { -2.0 * value * u } else { *u },
                share: 1.0 / parts.len() as f64,
                common: true,
                origin: "record".to_owned(),
                from: String::new(),
            })
            .collect();
        let u = lines.iter().map(|line| line.contribution.powi(2)).sum::<f64>().sqrt();
        Budget {
            lines,
            u_standard: u,
            u_common: u,
            u_repeatability: 0.0,
            nu_eff: None,
            coverage: 0.95,
            k: 1.959_963_985,
            u_expanded: 1.959_963_985 * u,
            monte_carlo: None,
            left_out: Vec::new(),
        }
    }

    /// JCGM 101:2008, 9.2 (additive model): four normal inputs of u = 1 give u = 2 and ±3.92; four
    /// rectangular ones ±3.88 (values from memory). The normal ones agree with the law of propagation.
    #[test]
    fn the_additive_model_of_the_supplement() {
        let normal = draw(0.0, &budget(0.0, &[(1.0, "", "normal"); 4])).expect("drawn");
        assert!((normal.standard_deviation - 2.0).abs() < 0.02, "{normal:?}");
        assert!((normal.high - 3.92).abs() < 0.1 && (normal.low + 3.92).abs() < 0.1);
        assert!(normal.agrees);
        let flat = draw(0.0, &budget(0.0, &[(1.0, "", "rectangular"); 4])).expect("drawn");
        assert!((0.5 * (flat.high - flat.low) - 3.88).abs() < 0.05, "{flat:?}");
    }

    /// y = 1/(1 + ε)² with u(ε) = 10 %: by the normal density, mean 1 + 3u² + 15u⁴ + … (closed form),
    /// which the law of propagation does not see.
    #[test]
    fn a_square_is_not_symmetric() {
        let drawn = draw(1.0, &budget(1.0, &[(0.1, "1", "normal")])).expect("drawn");
        assert!((drawn.mean - 1.032).abs() < 0.005, "{drawn:?}");
        assert!(!drawn.agrees && drawn.high - 1.0 > 1.0 - drawn.low);
    }

    /// Variances of the distributions drawn: 1 each (JCGM 100:2008, 4.3; JCGM 101:2008, 6.4); of Student's
    /// with 10 degrees of freedom 10/8.
    #[test]
    fn shapes_have_their_variances() {
        let mut noise = Noise::new(3);
        for (shape, variance) in [
            (Shape::Normal, 1.0),
            (Shape::Rectangular, 1.0),
            (Shape::Triangular, 1.0),
            (Shape::UShaped, 1.0),
            (Shape::Student(10), 1.25),
        ] {
            let drawn: Vec<f64> = (0..100_000).map(|_| shape.draw(&mut noise)).collect();
            let found = standard_deviation(&drawn).expect("some").powi(2);
            assert!((found / variance - 1.0).abs() < 0.03, "{found} {variance}");
        }
    }
}
