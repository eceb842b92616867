//! Levels to which the drive came back.

/// A level that was measured again later.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Return {
    pub level: f64,
    /// Index of the first and of the later measurement, in time order.
    pub first: usize,
    pub later: usize,
    /// Change from the first to the later one, as a part of the first.
    pub change: f64,
    /// Its standard uncertainty.
    pub u: f64,
}

impl Return {
    /// Whether the change is more than two standard uncertainties.
    pub fn differs(&self) -> bool {
        self.change.abs() > 2.0 * self.u
    }
}

/// Every later measurement of a level against its first one; `rows` are level, value and its standard
/// uncertainty, in time order. Levels count as equal within one part in 10⁹.
///
/// # Examples
/// Levels 10, 20, 10: one return, of the third row to the first.
pub fn returns(rows: &[(f64, f64, f64)]) -> Vec<Return> {
    let same = |a: f64, b: f64| (a - b).abs() <= 1e-9 * b.abs();
    rows.iter()
        .enumerate()
        .filter_map(|(later, (level, value, u))| {
            let first = rows[..later].iter().position(|(other, ..)| same(*other, *level))?;
            let (_, before, u_before) = rows[first];
            (before != 0.0).then(|| Return {
                level: *level,
                first,
                later,
                change: value / before - 1.0,
                u: (u / before).hypot(value * u_before / (before * before)),
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 1.00 ± 0.01 and later 0.95 ± 0.01: −5 % ± 1.38 %.
    #[test]
    fn a_return_that_differs() {
        let rows = [(10.0, 1.0, 0.01), (20.0, 2.0, 0.02), (10.0, 0.95, 0.01), (20.0, 2.01, 0.02)];
        let found = returns(&rows);
        assert_eq!(found.len(), 2);
        assert_eq!((found[0].first, found[0].later), (0, 2));
        assert!((found[0].change + 0.05).abs() < 1e-12);
        assert!((found[0].u - 0.01 * (1.0 + 0.95f64.powi(2)).sqrt()).abs() < 1e-12);
        assert!(found[0].differs() && !found[1].differs());
    }
}
