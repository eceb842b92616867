//! How a spectrum goes on beyond the last band in which signal can be seen.

/// Fewest bands on which a law rests.
const FEWEST: usize = 3;
/// How far beyond the last band with signal a law is followed at least: a decade of frequency.
const DECADE: usize = 10;
/// Remaining squares of the geometric law re those of the power law below which it is taken.
const MUCH_BETTER: f64 = 0.5;

/// A falling law of the bands' amplitudes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Law {
    /// A(n) = c rⁿ: spectra of waveforms whose fronts have a finite rise time end so.
    Geometric { log_c: f64, log_r: f64 },
    /// A(n) = c n⁻ˢ: that of a shock is s = 1.
    Power { log_c: f64, s: f64 },
    /// The amplitudes do not fall: the last one goes on.
    Level { log_c: f64 },
}

impl Law {
    /// The law of amplitudes at the bands `first`, `first + 1` …
    ///
    /// Both laws are fitted to the logarithms by least squares. The power law falls more slowly beyond
    /// the data and is taken unless the geometric one leaves less than half of its squares.
    ///
    /// # References
    /// A low-dimensional upper bound of the measurand's spectrum: S. Eichstädt and V. Wilkens, J.
    /// Acoust. Soc. Am. 141 (2017) 4155, 10.1121/1.4983827; the two laws and the choice are this
    /// project's. Fay 1931: amplitudes of a thick shock go from 1/n over to a geometric fall (from
    /// memory).
    pub fn fit(first: usize, amplitudes: &[f64]) -> Option<Self> {
        let points: Vec<(f64, f64)> = amplitudes
            .iter()
            .enumerate()
            .filter(|(_, a)| **a > 0.0)
            .map(|(i, a)| ((first + i) as f64, a.ln()))
            .collect();
        let (_, last) = *points.last()?;
        if points.len() < 2 {
            return Some(Self::Level { log_c: last });
        }
        let (a, b, left) = line(points.iter().map(|(n, y)| (*n, *y)));
        let (c, d, left_of_power) = line(points.iter().map(|(n, y)| (n.ln(), *y)));
        if b >= 0.0 || d >= 0.0 {
            return Some(Self::Level { log_c: last });
        }
        let geometric = points.len() >= FEWEST && left < MUCH_BETTER * left_of_power;
        Some(if geometric {
            Self::Geometric { log_c: a, log_r: b }
        } else {
            Self::Power { log_c: c, s: -d }
        })
    }

    /// Amplitude at band n.
    pub fn at(&self, n: usize) -> f64 {
        let n = n as f64;
        match *self {
            Self::Geometric { log_c, log_r } => (log_c + log_r * n).exp(),
            Self::Power { log_c, s } => (log_c - s * n.ln()).exp(),
            Self::Level { log_c } => log_c.exp(),
        }
    }

    /// As `sheet.json` calls it, with its parameter.
    pub fn described(&self) -> (&'static str, f64) {
        match *self {
            Self::Geometric { log_r, .. } => ("geometric", log_r.exp()),
            Self::Power { s, .. } => ("power", s),
            Self::Level { .. } => ("level", 1.0),
        }
    }
}

/// Bands on which the law rests: the upper half of those that carry signal, at least three; where
/// there are fewer, the next ones with as much as may hide in them.
pub fn fitted(signal: usize) -> std::ops::RangeInclusive<usize> {
    let first = (signal / 2).max(1).min(signal.saturating_sub(FEWEST - 1).max(1));
    first..=signal.max(first + FEWEST - 1)
}

/// The continued amplitudes beyond the last band with signal: those of the law, but never more than
/// may hide in a band (`most`, from band 1 on); up to the last band there is, and at least to ten
/// times the last with signal. A level that does not fall is not followed beyond the bands there are.
pub fn continued(law: &Law, signal: usize, most: &[f64]) -> Vec<f64> {
    let stop = match law {
        Law::Level { .. } => most.len(),
        _ => most.len().max(DECADE * signal),
    };
    let limit = |n: usize| most.get(n - 1).copied().unwrap_or(f64::INFINITY);
    (signal + 1..=stop).map(|n| law.at(n).min(limit(n))).collect()
}

/// Least-squares line a + b x, and the sum of the squares that it leaves.
fn line(points: impl Iterator<Item = (f64, f64)> + Clone) -> (f64, f64, f64) {
    let n = points.clone().count() as f64;
    let sums = points.clone().fold((0.0, 0.0), |s, (x, y)| (s.0 + x, s.1 + y));
    let (mx, my) = (sums.0 / n, sums.1 / n);
    let (xx, xy) = points
        .clone()
        .fold((0.0, 0.0), |s, (x, y)| (s.0 + (x - mx) * (x - mx), s.1 + (x - mx) * (y - my)));
    let b = if xx > 0.0 { xy / xx } else { 0.0 };
    let a = my - b * mx;
    (a, b, points.map(|(x, y)| (y - a - b * x).powi(2)).sum())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Exact laws are found again: their parameters, and the law itself.
    #[test]
    fn exact_laws() {
        let geometric: Vec<f64> = (4..=8).map(|n| 3.0 * 0.6f64.powi(n)).collect();
        let law = Law::fit(4, &geometric).expect("a law");
        let (name, r) = law.described();
        assert!(name == "geometric" && (r - 0.6).abs() < 1e-12);
        assert!((law.at(11) / (3.0 * 0.6f64.powi(11)) - 1.0).abs() < 1e-12);
        let power: Vec<f64> = (4..=8).map(|n| 2.0 / f64::from(n)).collect();
        let law = Law::fit(4, &power).expect("a law");
        let (name, s) = law.described();
        assert!(name == "power" && (s - 1.0).abs() < 1e-12);
        assert_eq!(Law::fit(1, &[1.0, 1.0, 2.0]).expect("a law").described().0, "level");
        assert_eq!(Law::fit(1, &[]), None);
        // Two points suit both: the more careful is taken.
        assert_eq!(Law::fit(1, &[1.0, 0.5]).expect("a law").described(), ("power", 1.0));
    }

    /// Fay's amplitudes 1/sinh(n a) lie between the two laws' continuations: the power law is careful.
    #[test]
    fn between_the_laws() {
        let fay = |n: usize| 1.0 / (n as f64 * 0.15).sinh();
        let amplitudes: Vec<f64> = (5..=10).map(fay).collect();
        let points = || amplitudes.iter().enumerate().map(|(i, a)| ((5 + i) as f64, a.ln()));
        let (a, b, _) = line(points());
        let (c, d, _) = line(points().map(|(n, y)| (n.ln(), y)));
        let sum = |of: &dyn Fn(f64) -> f64| (11..200).map(|n| of(f64::from(n)).exp()).sum::<f64>();
        let truth = (11..200).map(fay).sum::<f64>();
        assert!(sum(&|n| a + b * n) < 1.05 * truth && truth < sum(&|n| c + d * n.ln()));
    }

    #[test]
    fn bands_of_the_fit_and_limits() {
        assert_eq!((fitted(1), fitted(2), fitted(3)), (1..=3, 1..=3, 1..=3));
        assert_eq!((fitted(4), fitted(8), fitted(54)), (2..=4, 4..=8, 27..=54));
        let law = Law::Power { log_c: 0.0, s: 1.0 };
        let out = continued(&law, 2, &[9.0, 9.0, 0.1, 9.0]);
        assert_eq!(out.len(), 18);
        assert!(out[0] == 0.1 && (out[1] - 0.25).abs() < 1e-12 && (out[17] - 0.05).abs() < 1e-12);
        assert_eq!(continued(&Law::Level { log_c: 0.0 }, 2, &[9.0; 4]), [1.0, 1.0]);
    }
}
