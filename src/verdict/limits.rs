//! A stated value and its tolerance in SI.

use crate::base::quantity::entry_of;
use crate::base::typed_unit;
use crate::record::Stated;

/// Stated value with the limits of its tolerance, in the quantity's SI unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    pub stated: f64,
    /// `None` where that side is not limited.
    pub low: Option<f64>,
    pub high: Option<f64>,
}

impl Limits {
    /// Of a stated value whose unit was checked; one that does not fit counts as SI.
    ///
    /// # Examples
    /// 5 MPa with −15 % and no upper limit: 5 × 10⁶ Pa, low 4.25 × 10⁶ Pa.
    pub fn of(stated: &Stated) -> Self {
        let factor = factor(stated);
        let (low, high) =
            stated.tolerance.as_ref().map_or((None, None), |t| t.limits(stated.value));
        let si = |side: Option<f64>| side.map(|limit| limit * factor);
        Self { stated: stated.value * factor, low: si(low), high: si(high) }
    }

    /// Whether no tolerance is stated.
    pub fn is_open(&self) -> bool {
        self.low.is_none() && self.high.is_none()
    }

    /// Whether a value lies within the limits, these included.
    pub fn hold(&self, value: f64) -> bool {
        self.low.is_none_or(|low| value >= low) && self.high.is_none_or(|high| value <= high)
    }
}

/// Factor from the unit of a stated value to SI.
pub fn factor(stated: &Stated) -> f64 {
    let si = entry_of(&stated.quantity).map_or("", |entry| entry.unit);
    typed_unit::factor(si, stated.unit.as_deref().unwrap_or_default()).unwrap_or(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stated(json: serde_json::Value) -> Stated {
        serde_json::from_value(json).unwrap()
    }

    /// By hand.
    #[test]
    fn limits_in_si() {
        let both = Limits::of(&stated(serde_json::json!({"quantity": "i_on", "value": 300.0,
            "unit": "W/cm²", "tolerance": {"lower": -0.2, "upper": 0.3, "relative": true}})));
        assert_eq!(both.stated, 3e6);
        assert!(
            (both.low.unwrap() - 2.4e6).abs() < 1e-6 && (both.high.unwrap() - 3.9e6).abs() < 1e-6
        );
        let one_sided = Limits::of(&stated(serde_json::json!({"quantity": "pr", "value": 4.0,
            "unit": "MPa", "tolerance": {"upper": 0.0}})));
        assert_eq!((one_sided.low, one_sided.high), (None, Some(4e6)));
        assert!(one_sided.hold(4e6) && !one_sided.hold(4.000_001e6) && one_sided.hold(0.0));
        let decibels = Limits::of(&stated(serde_json::json!({"quantity": "sidelobe_db",
            "value": -12.0, "tolerance": {"lower": -0.1, "upper": 0.1, "relative": true}})));
        assert!((decibels.low.unwrap() + 13.2).abs() < 1e-12);
        let open = Limits::of(&stated(serde_json::json!({"quantity": "pr", "value": 4e6})));
        assert!(open.is_open() && open.hold(9e9));
    }
}
