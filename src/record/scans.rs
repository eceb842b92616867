//! The scans: which file plays which role.

use serde::{Deserialize, Serialize};

use super::Layout;
use super::types::is_default;

/// A scan: waveforms at positions, in a file, with the role it plays.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct ScanEntry {
    /// Id by which the record and the sheet name it; used once.
    pub id: String,
    /// What it is for.
    pub role: Role,
    /// Name of its file.
    pub file: String,
    /// Group inside the file, where one file holds several scans.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub group: Option<String>,
    /// Where its arrays lie in a file that does not say so itself.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub layout: Option<Layout>,
    /// Id of the sensor range at which it was read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub range: Option<String>,
    /// Drive level of this scan, in `excitation.level_unit`; `excitation.level` where blank.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub level: Option<f64>,
    /// Distance of a plane or a point from the head, m: from the point of it that `frame.z_zero` names,
    /// from the apex where z is counted from the focus.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub distance_m: Option<f64>,
    /// Of a monitor: id of the scan beside whose shots it was recorded, in the same order; the only sweep
    /// where blank.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub beside: Option<String>,
    /// How it was recorded.
    #[serde(default, skip_serializing_if = "is_default")]
    pub acquisition: Acquisition,
}

impl ScanEntry {
    /// A scan of which only id, role and file are stated.
    pub fn new(id: &str, role: Role, file: &str) -> Self {
        Self {
            id: id.to_owned(),
            role,
            file: file.to_owned(),
            group: None,
            layout: None,
            range: None,
            level: None,
            distance_m: None,
            beside: None,
            acquisition: Acquisition::default(),
        }
    }
}

/// What a scan is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum Role {
    /// Positions on a plane across the beam.
    Plane,
    /// Positions on a line across the beam.
    Line,
    /// Positions along the beam.
    Axial,
    /// One position.
    Point,
    /// One position at drive levels: several shots of one level are repeats of it.
    Sweep,
    /// No drive: the noise of sensor and digitiser.
    Noise,
    /// A source of known stability, to calibrate or to check the sensor.
    CheckSource,
    /// Signals of a fixed passive detector, recorded beside the shots of another scan.
    Monitor,
    /// Revisits of one position, for drift.
    Reference,
    /// A computed field to compare with.
    Model,
}

impl Role {
    /// The word of the record.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Plane => "plane",
            Self::Line => "line",
            Self::Axial => "axial",
            Self::Point => "point",
            Self::Sweep => "sweep",
            Self::Noise => "noise",
            Self::CheckSource => "check-source",
            Self::Monitor => "monitor",
            Self::Reference => "reference",
            Self::Model => "model",
        }
    }
}

/// How a scan was recorded.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct Acquisition {
    /// Shots that were averaged into each waveform; 1 where blank.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub averages: Option<u32>,
    /// Single shots kept for each position.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shots_kept: Option<u32>,
    /// Whether the scanner stopped at each position.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub motion: Option<Motion>,
    /// Positions a second, 1/s.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub points_per_s: Option<f64>,
    /// Start, YYYY-MM-DDThh:mm:ss.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub started: Option<String>,
    /// End, YYYY-MM-DDThh:mm:ss.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ended: Option<String>,
    /// Standard deviation of the trigger's instant from shot to shot, s.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub trigger_jitter_s: Option<f64>,
}

/// How the scanner moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum Motion {
    /// It stopped at each position.
    Stop,
    /// It recorded while moving.
    OnTheFly,
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The word that a sheet prints is the word that a record takes.
    #[test]
    fn role_words_are_those_of_the_record() {
        for role in [
            Role::Plane,
            Role::Line,
            Role::Axial,
            Role::Point,
            Role::Sweep,
            Role::Noise,
            Role::CheckSource,
            Role::Monitor,
            Role::Reference,
            Role::Model,
        ] {
            assert_eq!(serde_json::to_value(role).unwrap(), role.as_str());
        }
    }
}
