//! How volts become pascals: the response of the sensor as stated.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::Uncertainty;

/// Response of a sensor, volts per pascal. The phase of V/P is under exp(+jωt): a delay is a
/// falling phase.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum Response {
    /// The same at all frequencies, without phase.
    Flat {
        /// Sensitivity at the end of the cable, as connected, V/Pa.
        v_per_pa: f64,
        /// Its uncertainty.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        uncertainty: Option<Uncertainty>,
    },
    /// A table over frequency in a file.
    Table {
        /// Name of the file with the table.
        file: String,
        /// Plane to which the table refers; end of the cable where blank.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        refers_to: Option<RefersTo>,
        /// Electrical load under calibration and in use, where the two differ.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        load: Option<Load>,
        /// Amplification after the plane to which the table refers, dB; positive means more volts.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        gain_db: Option<f64>,
        /// Uncertainty of the magnitude, where the table has none.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        uncertainty: Option<Uncertainty>,
    },
    /// From a source that was measured with a calibrated sensor and with this one.
    CheckSource {
        /// Id of the scan of the source with the calibrated sensor.
        reference_scan: String,
        /// Response of the calibrated sensor.
        reference_response: Box<Response>,
        /// For each range id of this sensor, the id of its scan of the source.
        #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
        device_scans: BTreeMap<String, String>,
        /// What is compared; the fundamental where blank.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        feature: Option<Feature>,
    },
}

impl Response {
    /// The value of `kind`.
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Flat { .. } => "flat",
            Self::Table { .. } => "table",
            Self::CheckSource { .. } => "check-source",
        }
    }

    /// Uncertainty stated with the response; for a check source that of the calibrated sensor.
    pub fn uncertainty(&self) -> Option<&Uncertainty> {
        match self {
            Self::Flat { uncertainty, .. } | Self::Table { uncertainty, .. } => {
                uncertainty.as_ref()
            }
            Self::CheckSource { reference_response, .. } => reference_response.uncertainty(),
        }
    }
}

/// Electrical plane to which a table refers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum RefersTo {
    /// End of the cable, under the calibrated load.
    EndOfCable,
    /// End of the cable without any load.
    OpenCircuit,
}

/// Electrical impedances, each a resistance and a capacitance in parallel: the sensor with its
/// cable, the load under calibration, the load in this measurement.
///
/// The response under a load Z_L is the open-circuit one times Z_L/(Z_L + Z), Z that of the sensor.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct Load {
    /// Parallel resistance of the sensor with its cable, Ω; a blank means none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sensor_resistance_ohm: Option<f64>,
    /// Capacitance of the sensor with its cable, F.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sensor_capacitance_f: Option<f64>,
    /// Resistance of the load under calibration, Ω; a blank means none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub calibrated_resistance_ohm: Option<f64>,
    /// Capacitance of the load under calibration, F.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub calibrated_capacitance_f: Option<f64>,
    /// Resistance of the load in this measurement, Ω; a blank means none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub used_resistance_ohm: Option<f64>,
    /// Capacitance of the load in this measurement, F.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub used_capacitance_f: Option<f64>,
}

/// What is compared between two measurements of a check source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum Feature {
    /// Amplitude at the fundamental.
    #[default]
    Fundamental,
    /// Root mean square.
    Rms,
    /// Positive peak.
    Peak,
}
