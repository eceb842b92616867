//! Values from elsewhere (readings, what the maker states), the rule by which they are judged,
//! and what the record keeps about itself.

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::Uncertainty;
use crate::base::quantity::{TimeBase, WindowKind};

/// A value read from another instrument.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct Reading {
    /// Quantity id, for example `power_rfb`.
    pub quantity: String,
    /// The value, in `unit`.
    pub value: f64,
    /// Unit; the quantity's SI unit where blank.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
    /// Its uncertainty.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub uncertainty: Option<Uncertainty>,
    /// Drive level at which it was read, in `excitation.level_unit`; `excitation.level` where blank.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub level: Option<f64>,
    /// How it was measured, in words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub method: Option<String>,
}

/// A value that the maker states. Conditions left blank are those of the measured quantity.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct Stated {
    /// Quantity id, for example `pc`.
    pub quantity: String,
    /// Id of the scan with which it is compared; where blank, the first scan that gives the quantity.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub scan: Option<String>,
    /// Drive level for which it is stated, in `excitation.level_unit`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub level: Option<f64>,
    /// Window for which it is stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(not(target_arch = "wasm32"), schemars(schema_with = "words::window"))]
    pub window: Option<WindowKind>,
    /// What a temporal average refers to: while the burst is on, the tank excitation, the exposure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(not(target_arch = "wasm32"), schemars(schema_with = "words::time_base"))]
    pub time_base: Option<TimeBase>,
    /// Medium for which it is stated; water where blank.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub medium: Option<Medium>,
    /// The value, in `unit`.
    pub value: f64,
    /// Unit; the quantity's SI unit where blank.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
    /// Uncertainty that the maker states.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub uncertainty: Option<Uncertainty>,
    /// Limits about the value within which the measured one shall lie.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tolerance: Option<Tolerance>,
    /// Where it is stated, in words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub origin: Option<String>,
}

/// Medium for which a value is stated.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum Medium {
    /// Water.
    Water,
    /// Water, with an attenuation for tissue allowed for.
    Derated,
}

/// Limits about a stated value. A blank side is not limited.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct Tolerance {
    /// Lower limit minus the stated value, normally negative.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lower: Option<f64>,
    /// Upper limit minus the stated value, normally positive.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub upper: Option<f64>,
    /// Whether the limits are fractions of the stated value; false where blank.
    #[serde(default)]
    pub relative: bool,
}

impl Tolerance {
    /// Lower and upper limit of a measured value, in the unit of the stated one; `None` where that
    /// side is not limited.
    ///
    /// # Examples
    /// 5 with −15 % and +15 % gives 4.25 and 5.75.
    pub fn limits(&self, stated: f64) -> (Option<f64>, Option<f64>) {
        let scale = if self.relative { stated.abs() } else { 1.0 };
        let limit = |side: Option<f64>| side.map(|offset| stated + offset * scale);
        (limit(self.lower), limit(self.upper))
    }
}

/// Rule by which stated values are judged.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct Decision {
    /// The rule.
    pub rule: DecisionRule,
    /// Least probability of lying inside the tolerance at which a value conforms.
    pub min_probability: f64,
    /// Coverage probability of the expanded uncertainties of the sheet.
    pub coverage: f64,
}

impl Default for Decision {
    fn default() -> Self {
        Self { rule: DecisionRule::default(), min_probability: 0.95, coverage: 0.95 }
    }
}

/// Decision rules.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum DecisionRule {
    /// Conforms if the probability of lying inside the tolerance reaches `min_probability`, does
    /// not conform if it is at most 1 − `min_probability`, else undecided.
    #[default]
    GuardedBothSides,
    /// Conforms if the measured value lies inside the tolerance, whatever its uncertainty.
    Simple,
    /// Conforms if the measured value with its expanded uncertainty lies inside the tolerance.
    GuardExpanded,
}

impl DecisionRule {
    /// The record's word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::GuardedBothSides => "guarded-both-sides",
            Self::Simple => "simple",
            Self::GuardExpanded => "guard-expanded",
        }
    }
}

/// An instrument used.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct Equipment {
    /// What it is, in words.
    pub kind: String,
    /// Serial number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub serial: Option<String>,
    /// Number of its calibration certificate.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub certificate: Option<String>,
    /// Day of its calibration, YYYY-MM-DD.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub calibrated: Option<String>,
    /// Day on which the next calibration is due, YYYY-MM-DD.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub due: Option<String>,
}

/// A change of the record after the first computation.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct Change {
    /// When, YYYY-MM-DDThh:mm:ss.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time: Option<String>,
    /// Path of the changed field, for example `stated[0].value`.
    pub field: String,
    /// What stood there before; null for a blank.
    #[serde(default)]
    pub old: Value,
    /// What stands there now; null for a blank.
    #[serde(default)]
    pub new: Value,
}

/// Schemas of the words that `base` defines, for which it derives none.
#[cfg(not(target_arch = "wasm32"))]
mod words {
    use schemars::{Schema, SchemaGenerator, json_schema};

    pub fn window(_: &mut SchemaGenerator) -> Schema {
        json_schema!({"type": ["string", "null"], "enum": ["whole-pulse", "steady-state", null]})
    }

    pub fn time_base(_: &mut SchemaGenerator) -> Schema {
        json_schema!({"type": ["string", "null"], "enum": ["on", "tank", "exposure", null]})
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand.
    #[test]
    fn limits_of_a_stated_value() {
        let mut tolerance = Tolerance { lower: Some(-0.15), upper: Some(0.15), relative: true };
        let (lower, upper) = tolerance.limits(5.0);
        assert!((lower.unwrap() - 4.25).abs() < 1e-12 && (upper.unwrap() - 5.75).abs() < 1e-12);
        tolerance.upper = None;
        tolerance.relative = false;
        assert_eq!(tolerance.limits(5.0), (Some(4.85), None));
    }
}
