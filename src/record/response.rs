//! How volts become pascals: the response of the sensor as stated.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::{FrequencyCorrelation, Uncertainty};
use crate::base::units;

/// Response of a sensor, volts per pascal. The phase of V/P is under exp(+jωt): a delay is a
/// falling phase.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum Response {
    /// The same at all frequencies, without phase.
    Flat {
        /// Sensitivity at the end of the cable, as connected, V/Pa. This or one of the next two.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        v_per_pa: Option<f64>,
        /// The same in mV/MPa.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        mv_per_mpa: Option<f64>,
        /// The same as a level, dB re 1 V/µPa.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        db_re_1v_per_upa: Option<f64>,
        /// Its uncertainty; one that is not relative is in V/Pa.
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
        /// How the errors of the table's rows hang together; `common` where blank.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        frequency_correlation: Option<FrequencyCorrelation>,
    },
    /// From a source that was measured with a calibrated sensor and with this one.
    CheckSource {
        /// Id of the scan of the source with the calibrated sensor.
        reference_scan: String,
        /// Id of a second such scan, made after those of this sensor: shows how the source drifted.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        reference_scan_after: Option<String>,
        /// Response of the calibrated sensor.
        reference_response: Box<Response>,
        /// For each range id of this sensor, the id of its scan of the source. For a sensor without
        /// ranges, one entry under `sensor`.
        #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
        device_scans: BTreeMap<String, String>,
        /// What is compared; the fundamental where blank.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        feature: Option<Feature>,
        /// Frequency of the source, Hz; found in the signal where blank.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        frequency_hz: Option<f64>,
        /// Effective radius of the calibrated sensor, m.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        reference_radius_m: Option<f64>,
        /// Pressure of either sign up to which the calibrated sensor is linear, Pa.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        reference_limit_pa: Option<f64>,
        /// Width of the source's field at the sensors, between the points 6 dB below the top, m.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        field_width_m: Option<f64>,
        /// What this sensor's response may differ from one factor over the band in use.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        flatness: Option<Uncertainty>,
        /// What the factor may differ between the source's level and the levels in use.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        linearity: Option<Uncertainty>,
        /// What the factor may differ between the water of the transfer and that of the measurement.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        temperature: Option<Uncertainty>,
    },
}

/// Key of `device_scans` for a sensor without ranges.
pub const WITHOUT_RANGE: &str = "sensor";

impl Response {
    /// One factor for all frequencies, V/Pa.
    pub fn flat(v_per_pa: f64, uncertainty: Option<Uncertainty>) -> Self {
        Self::Flat {
            v_per_pa: Some(v_per_pa),
            mv_per_mpa: None,
            db_re_1v_per_upa: None,
            uncertainty,
        }
    }

    /// The factor of a flat response, V/Pa, in whichever unit it is stated.
    pub fn flat_v_per_pa(&self) -> Option<f64> {
        match self {
            Self::Flat { v_per_pa, mv_per_mpa, db_re_1v_per_upa, .. } => v_per_pa
                .or(mv_per_mpa.map(units::v_per_pa_from_mv_per_mpa))
                .or(db_re_1v_per_upa.map(units::v_per_pa_from_db_re_v_per_upa)),
            _ => None,
        }
    }

    /// Amplification after the plane of a table, dB, where it is stated.
    pub fn gain_db(&self) -> Option<f64> {
        match self {
            Self::Table { gain_db, .. } => *gain_db,
            _ => None,
        }
    }

    /// The uncertainty that is stated of a factor or a table as a whole.
    pub fn stated_uncertainty(&self) -> Option<&Uncertainty> {
        match self {
            Self::Flat { uncertainty, .. } | Self::Table { uncertainty, .. } => {
                uncertainty.as_ref()
            }
            Self::CheckSource { .. } => None,
        }
    }

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
