//! The pressure sensor: calibration, ranges, limits.

use serde::{Deserialize, Serialize};

use super::{Feature, Response, Uncertainty};

/// The pressure sensor and its calibration.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct Sensor {
    /// What it is, in words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub description: Option<String>,
    /// Kind of the pressure-sensitive part: published relations hold for one kind.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kind: Option<SensorKind>,
    /// Serial number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub serial: Option<String>,
    /// Certificate of its calibration.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub certificate: Option<String>,
    /// Day of its calibration, YYYY-MM-DD.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub calibrated: Option<String>,
    /// Day until which the calibration holds, YYYY-MM-DD.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub due: Option<String>,
    /// Water temperature of its calibration, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub calibration_temperature_c: Option<f64>,
    /// Effective radius, m: one number, or a list of pairs [frequency in Hz, radius in m] with
    /// rising frequency.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub effective_radius_m: Option<EffectiveRadius>,
    /// Gain ranges at which it was read; each may override the keys below.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ranges: Vec<GainRange>,
    /// Response, for all ranges that have none of their own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub response: Option<Response>,
    /// Largest voltage of either sign that the digitiser resolves, V: counts span ± this.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub full_scale_v: Option<f64>,
    /// Bits of the digitiser.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bits: Option<u32>,
    /// Pressure of either sign up to which it is linear, Pa.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub linear_limit_pa: Option<f64>,
    /// Relative uncertainty of the gain from sensor to counts: amplifier and digitiser.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub u_gain: Option<Uncertainty>,
    /// Records of one check source with this sensor before and after the scans.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub checked: Option<SensorCheck>,
}

/// Two records of one check source, to see whether the sensor is still what it was.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct SensorCheck {
    /// Id of the check-source scan before the scans.
    pub before: String,
    /// Id of the check-source scan after them, at the same gain range.
    pub after: String,
    /// What is compared; the fundamental where blank.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub feature: Option<Feature>,
    /// Relative uncertainty of the source and of the placing, from one record to the other.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub uncertainty: Option<Uncertainty>,
}

/// Kind of a pressure sensor.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum SensorKind {
    /// A membrane with a small electrode.
    Membrane,
    /// A needle.
    Needle,
    /// The end of an optical fibre.
    Fibre,
    /// Another kind.
    Other,
}

/// A gain range of the sensor's chain.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct GainRange {
    /// Id by which scans name it.
    pub id: String,
    /// Setting of the instrument, in words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub setting: Option<String>,
    /// Largest voltage of either sign that the digitiser resolves, V: counts span ± this.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub full_scale_v: Option<f64>,
    /// Bits of the digitiser.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bits: Option<u32>,
    /// Input resistance of the digitiser, Ω.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub coupling_ohm: Option<f64>,
    /// Pressure of either sign up to which this range is linear, Pa.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub linear_limit_pa: Option<f64>,
    /// Response at this range.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub response: Option<Response>,
    /// Relative uncertainty of this range's gain.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub u_gain: Option<Uncertainty>,
}

/// Effective radius of the sensor.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(untagged)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum EffectiveRadius {
    /// The same at all frequencies, m.
    Constant(f64),
    /// Pairs [frequency in Hz, radius in m], frequency rising.
    Table(Vec<[f64; 2]>),
}

impl EffectiveRadius {
    /// Radius at a frequency, m: linear between the table's rows, constant beyond its ends.
    /// `None` for an empty table.
    ///
    /// # Examples
    /// Between [1 MHz, 0.3 mm] and [3 MHz, 0.2 mm], 2 MHz gives 0.25 mm.
    pub fn at(&self, frequency_hz: f64) -> Option<f64> {
        let table = match self {
            Self::Constant(radius_m) => return Some(*radius_m),
            Self::Table(table) => table,
        };
        let (first, last) = (table.first()?, table.last()?);
        if frequency_hz <= first[0] {
            return Some(first[1]);
        }
        if frequency_hz >= last[0] {
            return Some(last[1]);
        }
        table.windows(2).find(|rows| frequency_hz <= rows[1][0]).map(|rows| {
            let fraction = (frequency_hz - rows[0][0]) / (rows[1][0] - rows[0][0]);
            rows[0][1] + fraction * (rows[1][1] - rows[0][1])
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn radius_between_and_beyond_the_rows() {
        let table = EffectiveRadius::Table(vec![[1e6, 3e-4], [3e6, 2e-4], [9e6, 2e-4]]);
        for (f, r) in [(0.5e6, 3e-4), (1e6, 3e-4), (2e6, 2.5e-4), (3e6, 2e-4), (2e7, 2e-4)] {
            assert!((table.at(f).unwrap() - r).abs() < 1e-18, "{f}");
        }
        assert_eq!(EffectiveRadius::Table(Vec::new()).at(1e6), None);
        assert_eq!(EffectiveRadius::Constant(1e-4).at(7e6), Some(1e-4));
    }
}
