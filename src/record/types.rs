//! The record as a whole.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::{
    Analysis, Change, Decision, Device, Equipment, Excitation, Exposure, Frame, Reading, ScanEntry,
    Sensor, SourceEntry, Stated, Water,
};

/// Schema name that every record carries in its key `schema`.
pub const SCHEMA: &str = "focalsheet-record/1";

/// All that a person states about a measurement. SI units throughout, named in each key.
///
/// Everything but `schema` and one scan may be missing; what then cannot be computed is null in
/// the sheet, with the reason. A blank is a missing key or null.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct Record {
    /// Name and version of this format: `focalsheet-record/1`.
    pub schema: String,
    /// Title of the sheet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub title: Option<String>,
    /// Day of the measurement, YYYY-MM-DD.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<String>,
    /// Where it was measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub site: Option<String>,
    /// Who measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_by: Option<String>,
    /// For whom it was measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub customer: Option<String>,
    /// Day on which the sheet is issued, YYYY-MM-DD.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub issued: Option<String>,
    /// The ultrasound head and the device that drives it.
    #[serde(default, skip_serializing_if = "is_default")]
    pub device: Device,
    /// How the scanner's axes lie on the head.
    #[serde(default, skip_serializing_if = "is_default")]
    pub frame: Frame,
    /// The water in the tank.
    #[serde(default, skip_serializing_if = "is_default")]
    pub water: Water,
    /// How the head was driven in the tank.
    #[serde(default, skip_serializing_if = "is_default")]
    pub excitation: Excitation,
    /// The exposure in use to which temporal averages shall also refer; null when none is stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub exposure: Option<Exposure>,
    /// The pressure sensor and its calibration.
    #[serde(default, skip_serializing_if = "is_default")]
    pub sensor: Sensor,
    /// Choices of the analysis.
    #[serde(default, skip_serializing_if = "is_default")]
    pub analysis: Analysis,
    /// The scans, and which file plays which role.
    pub scans: Vec<ScanEntry>,
    /// Values read from other instruments.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub readings: Vec<Reading>,
    /// Values that the maker states, with their tolerances.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub stated: Vec<Stated>,
    /// Name of a table (CSV or TSV) of further stated values.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stated_file: Option<String>,
    /// Rule by which stated values are judged.
    #[serde(default, skip_serializing_if = "is_default")]
    pub decision: Decision,
    /// Further uncertainty sources.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub uncertainties: Vec<SourceEntry>,
    /// Instruments used.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub equipment: Vec<Equipment>,
    /// Names of earlier sheets of the same head.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub history: Vec<String>,
    /// Changes made after the first computation, kept by the tool.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub changes: Vec<Change>,
    /// Texts as they were typed into the sheet, by the path of their value, kept by the tool where
    /// they say it otherwise than the value.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub typed: BTreeMap<String, String>,
}

impl Default for Record {
    /// A record of which only the schema is stated; it still lacks its one scan.
    fn default() -> Self {
        Self {
            schema: SCHEMA.to_owned(),
            title: None,
            date: None,
            site: None,
            measured_by: None,
            customer: None,
            issued: None,
            device: Device::default(),
            frame: Frame::default(),
            water: Water::default(),
            excitation: Excitation::default(),
            exposure: None,
            sensor: Sensor::default(),
            analysis: Analysis::default(),
            scans: Vec::new(),
            readings: Vec::new(),
            stated: Vec::new(),
            stated_file: None,
            decision: Decision::default(),
            uncertainties: Vec::new(),
            equipment: Vec::new(),
            history: Vec::new(),
            changes: Vec::new(),
            typed: BTreeMap::new(),
        }
    }
}

/// Whether a section says nothing beyond its defaults, so that it need not be written.
pub(super) fn is_default<T: Default + PartialEq>(section: &T) -> bool {
    *section == T::default()
}
