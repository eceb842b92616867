//! Where a drive curve changes the gain range.

/// One level as measured at one range.
#[derive(Debug, Clone, PartialEq)]
pub struct RangedPoint<'a> {
    pub range: &'a str,
    pub level: f64,
    pub value: f64,
    /// Standard uncertainty, with that of the range's gain.
    pub u: f64,
}

/// A level measured at two ranges.
#[derive(Debug, Clone, PartialEq)]
pub struct Join {
    pub ranges: (String, String),
    /// The level; the highest of those that both share.
    pub level: f64,
    /// Value at the second range re the first, less one, with its standard uncertainty.
    pub step: f64,
    pub u: f64,
}

impl Join {
    /// Whether the step is more than two standard uncertainties.
    pub fn differs(&self) -> bool {
        self.step.abs() > 2.0 * self.u
    }
}

/// Every pair of neighbouring ranges in time order, with the highest level that both have: the step
/// there, or nothing where they share none.
pub fn joins(points: &[RangedPoint<'_>]) -> Vec<Result<Join, (String, String)>> {
    let mut pairs: Vec<(&str, &str)> = Vec::new();
    for pair in points.windows(2) {
        let (a, b) = (pair[0].range, pair[1].range);
        if a != b && !pairs.contains(&(a, b)) && !pairs.contains(&(b, a)) {
            pairs.push((a, b));
        }
    }
    let at = |range: &str, level: f64| {
        points.iter().find(|p| p.range == range && (p.level - level).abs() <= 1e-9 * level.abs())
    };
    pairs
        .into_iter()
        .map(|(a, b)| {
            let ranges = (a.to_owned(), b.to_owned());
            let shared = points.iter().filter(|p| p.range == a && at(b, p.level).is_some());
            let highest = shared.max_by(|p, q| p.level.total_cmp(&q.level));
            let both =
                highest.and_then(|p| Some((p, at(b, p.level)?))).filter(|(p, _)| p.value != 0.0);
            let (p, q) = both.ok_or_else(|| ranges.clone())?;
            let step = q.value / p.value;
            let u = (q.u / p.value).hypot(step * p.u / p.value);
            Ok(Join { ranges, level: p.level, step: step - 1.0, u })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_step_between_two_ranges() {
        let point = |range, level, value| RangedPoint { range, level, value, u: 0.01 };
        let points = [
            point("low", 1.0, 1.0),
            point("low", 2.0, 2.0),
            point("high", 2.0, 2.1),
            point("high", 3.0, 3.1),
        ];
        let found = joins(&points);
        let join = found[0].as_ref().expect("they share a level");
        assert_eq!(join.level, 2.0);
        assert!((join.step - 0.05).abs() < 1e-12 && join.differs());
        assert!((join.u - 0.01 * (1.0 + 1.05f64.powi(2)).sqrt() / 2.0).abs() < 1e-12);
        let apart = [point("low", 1.0, 1.0), point("high", 3.0, 3.0)];
        assert_eq!(joins(&apart), [Err(("low".to_owned(), "high".to_owned()))]);
        assert!(joins(&points[..2]).is_empty());
    }
}
