//! What a pressure is proportional to at low drive.

use crate::base::quantity::Reason;
use crate::record::LevelKind;

/// The abscissa of a slope.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Abscissa {
    /// The level itself: an amplitude.
    Level,
    /// Its square root: the level is a power.
    RootOfLevel,
}

impl Abscissa {
    /// The abscissa that goes with a kind of level.
    ///
    /// # Errors
    /// When the record leaves the kind blank or says that it is not known.
    pub fn of(kind: Option<LevelKind>) -> Result<Self, Reason> {
        match kind.map(LevelKind::is_power) {
            None => Err(Reason::blank("excitation.level_kind")),
            Some(None) => Err(Reason::new("level-kind-unknown")),
            Some(Some(false)) => Ok(Self::Level),
            Some(Some(true)) => Ok(Self::RootOfLevel),
        }
    }

    /// Its value at a level; `None` for the root of a negative power.
    pub fn at(self, level: f64) -> Option<f64> {
        match self {
            Self::Level => Some(level),
            Self::RootOfLevel => (level >= 0.0).then(|| level.sqrt()),
        }
    }

    /// Ratio of two levels as a ratio of powers; `None` where one is not positive.
    ///
    /// # Examples
    /// From 20 V to 60 V: 9. From 20 W to 60 W: 3.
    pub fn power_ratio(self, low: f64, high: f64) -> Option<f64> {
        (low > 0.0 && high > 0.0).then(|| match self {
            Self::Level => (high / low).powi(2),
            Self::RootOfLevel => high / low,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The examples of the docs.
    #[test]
    fn amplitudes_and_powers() {
        let volts = Abscissa::of(Some(LevelKind::Amplitude)).expect("known");
        let watts = Abscissa::of(Some(LevelKind::PercentOfPower)).expect("known");
        assert_eq!((volts.at(9.0), watts.at(9.0), watts.at(-1.0)), (Some(9.0), Some(3.0), None));
        assert!((volts.power_ratio(20.0, 60.0).expect("a ratio") - 9.0).abs() < 1e-14);
        assert!((watts.power_ratio(20.0, 60.0).expect("a ratio") - 3.0).abs() < 1e-14);
        assert_eq!(volts.power_ratio(0.0, 60.0), None);
        assert_eq!(Abscissa::of(Some(LevelKind::Unknown)), Err(Reason::new("level-kind-unknown")));
        assert_eq!(Abscissa::of(None), Err(Reason::blank("excitation.level_kind")));
    }
}
