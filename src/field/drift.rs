//! Drift of the output between revisits of one point, and the factor that undoes it.

/// Departures of an amplitude from its mean over the visits to one point.
#[derive(Debug, Clone, PartialEq)]
pub struct Drift {
    /// Instants of the visits, s, rising.
    times_s: Vec<f64>,
    /// Amplitudes re their mean.
    ratios: Vec<f64>,
    /// Relative standard uncertainty of a factor.
    pub u: f64,
}

impl Drift {
    /// From visits (instant, amplitude) in any order.
    ///
    /// The uncertainty is the scatter of single visits, from how far each but the first and last stands
    /// off the straight line between its two neighbours: with weights v, w of these, s² =
    /// mean of d²/(1 + v² + w²). With two visits alone there is none to see: what they differ by, over √12.
    ///
    /// `None` with fewer than two visits at different instants, or an amplitude that is not positive.
    ///
    /// # References
    /// Common practice, no source; for two visits a rectangular distribution over their difference.
    pub fn new(visits: &[(f64, f64)]) -> Option<Self> {
        let mut visits = visits.to_vec();
        visits.sort_by(|a, b| a.0.total_cmp(&b.0));
        visits.dedup_by(|a, b| a.0 == b.0);
        if visits.len() < 2 || visits.iter().any(|v| !v.0.is_finite() || v.1.is_nan() || v.1 <= 0.0)
        {
            return None;
        }
        let mean = visits.iter().map(|v| v.1).sum::<f64>() / visits.len() as f64;
        let times_s: Vec<f64> = visits.iter().map(|v| v.0).collect();
        let ratios: Vec<f64> = visits.iter().map(|v| v.1 / mean).collect();
        let squares: Vec<f64> = (1..times_s.len() - 1)
            .map(|i| {
                let w = (times_s[i] - times_s[i - 1]) / (times_s[i + 1] - times_s[i - 1]);
                let off = ratios[i] - (1.0 - w) * ratios[i - 1] - w * ratios[i + 1];
                off * off / (1.0 + (1.0 - w).powi(2) + w * w)
            })
            .collect();
        let u = if squares.is_empty() {
            (ratios[1] - ratios[0]).abs() / 12f64.sqrt()
        } else {
            (squares.iter().sum::<f64>() / squares.len() as f64).sqrt()
        };
        Some(Self { times_s, ratios, u })
    }

    /// Factor that brings an amplitude measured at an instant to the mean of the visits: one over their
    /// ratio, between visits on a straight line, before the first and after the last that visit's.
    pub fn factor_at(&self, t_s: f64) -> f64 {
        let after = self.times_s.partition_point(|t| *t < t_s);
        let ratio = match (after.checked_sub(1), self.times_s.get(after)) {
            (Some(i), Some(next)) => {
                let part = (t_s - self.times_s[i]) / (next - self.times_s[i]);
                self.ratios[i] + part * (self.ratios[after] - self.ratios[i])
            }
            (None, _) => self.ratios[0],
            (Some(i), None) => self.ratios[i],
        };
        1.0 / ratio
    }

    /// Number of visits.
    pub fn visits(&self) -> usize {
        self.times_s.len()
    }

    /// Seconds by which instants lie before the first or after the last visit, at most.
    pub fn beyond_s(&self, first_s: f64, last_s: f64) -> f64 {
        let (a, b) = (self.times_s[0], self.times_s[self.times_s.len() - 1]);
        (a - first_s).max(last_s - b).max(0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dsp::noise::Noise;

    /// By hand: 0.9, 1.0, 1.1 at 0, 10, 20 s; a straight rise has no scatter.
    #[test]
    fn by_hand() {
        let drift = Drift::new(&[(20.0, 2.2), (0.0, 1.8), (10.0, 2.0)]).expect("three");
        for (t, ratio) in
            [(-5.0, 0.9), (0.0, 0.9), (5.0, 0.95), (10.0, 1.0), (18.0, 1.08), (99.0, 1.1)]
        {
            assert!((drift.factor_at(t) * ratio - 1.0).abs() < 1e-12, "{t}");
        }
        assert!(drift.u < 1e-12);
        assert_eq!(drift.beyond_s(0.0, 20.0), 0.0);
        assert_eq!(drift.beyond_s(-3.0, 21.0), 3.0);
        let two = Drift::new(&[(0.0, 0.95), (10.0, 1.05)]).expect("two");
        assert!((two.u - 0.1 / 12f64.sqrt()).abs() < 1e-12);
        assert_eq!(Drift::new(&[(0.0, 1.0)]), None);
        assert_eq!(Drift::new(&[(0.0, 1.0), (0.0, 2.0)]), None);
        assert_eq!(Drift::new(&[(0.0, 1.0), (1.0, 0.0)]), None);
    }

    /// A linear drift with a scatter of 0.5 % from visit to visit at uneven instants: the scatter is found
    /// to a tenth, and corrected amplitudes keep to it.
    #[test]
    fn scatter() {
        let mut noise = Noise::new(3);
        let visits: Vec<(f64, f64)> = (0..400)
            .map(|i| {
                let t = f64::from(i) + 0.3 * f64::from(i % 3);
                (t, (1.0 - 2e-4 * t) * (1.0 + 0.005 * noise.next()))
            })
            .collect();
        let drift = Drift::new(&visits).expect("visits");
        assert!((drift.u / (0.005 / 0.96) - 1.0).abs() < 0.1, "{}", drift.u);
        let mean = visits.iter().map(|v| v.1).sum::<f64>() / 400.0;
        let off: f64 = (0..399)
            .map(|i| {
                let t = f64::from(i) + 0.5;
                ((1.0 - 2e-4 * t) * drift.factor_at(t) / mean - 1.0).powi(2)
            })
            .sum();
        assert!((off / 399.0).sqrt() < drift.u);
    }
}
