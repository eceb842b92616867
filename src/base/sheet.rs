//! `sheet.json`: the serde types of the finished sheet (schema `focalsheet-sheet/1`).
//!
//! SI and unrounded. A number that is not finite never reaches the file: a quantity without a
//! value has `value: null` and a `reason`.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::bubbles::BubbleSigns;
use super::budget::Budget;
use super::depths::Stack;
use super::drive::{DriveCurve, LevelFields};
use super::finding::{Args, Place, Severity};
use super::quantity::{Correction, TimeBase, Window};
use super::range_noise::RangeNoise;
use super::revisits::Revisits;
use super::safety::SafetyBasis;
use super::transfer::Transfer;
use super::verdict::{Repeats, VerdictEntry};
use super::waveform_uncertainty::WaveformUncertainty;

/// Schema name written into every sheet.
pub const SCHEMA: &str = "focalsheet-sheet/1";

/// The finished sheet as data.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Sheet {
    pub schema: String,
    pub software: String,
    /// Short number from the inputs' hashes: same inputs, same number. Null until they are hashed.
    pub number: Option<String>,
    /// The record as typed.
    pub record: serde_json::Value,
    pub conditions: Conditions,
    pub scans: Vec<ScanSummary>,
    pub quantities: Vec<QuantityEntry>,
    pub findings: Vec<FindingEntry>,
    /// Factors that check sources gave.
    #[serde(default)]
    pub transfers: Vec<Transfer>,
    /// Planes at several depths.
    #[serde(default)]
    pub depths: Vec<Stack>,
    /// Revisits of one point.
    #[serde(default)]
    pub revisits: Vec<Revisits>,
    /// Verdicts on the stated values.
    #[serde(default)]
    pub verdicts: Vec<VerdictEntry>,
    /// Repeats of a measurement.
    #[serde(default)]
    pub repeats: Vec<Repeats>,
    /// Signs of bubbles.
    #[serde(default)]
    pub bubbles: Vec<BubbleSigns>,
    /// Sweeps of the drive level.
    #[serde(default)]
    pub drives: Vec<DriveCurve>,
    /// Planes and lines at several levels.
    #[serde(default)]
    pub level_fields: Vec<LevelFields>,
    /// Noise and largest pressure of each gain range.
    #[serde(default)]
    pub ranges: Vec<RangeNoise>,
    /// On what the safety values rest, where the record asks for them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub safety: Vec<SafetyBasis>,
    pub provenance: Vec<InputFile>,
}

/// Water properties and instants on which every value rests.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Conditions {
    pub water_temperature_c: f64,
    /// `record`, or `assumed` where the record states no temperature.
    pub water_temperature_from: String,
    pub sound_speed_m_per_s: f64,
    pub density_kg_per_m3: f64,
    /// Acoustic frequency on which windows and harmonics rest; null when none could be found.
    pub frequency_hz: Option<f64>,
    /// `record` or `signal`.
    pub frequency_from: String,
}

/// One scan of the sheet.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ScanSummary {
    pub id: String,
    pub role: String,
    pub file: String,
    pub points: u64,
    pub samples: u64,
    pub sample_interval_s: f64,
    pub fitness: Severity,
    pub level: Option<f64>,
    pub level_unit: Option<String>,
    /// How volts became pascals: kind of response, low-pass, padding.
    pub calibration: BTreeMap<String, String>,
    pub excluded_points: Vec<u64>,
    /// Uncertainty of the waveform at the peak; null where it is not in pascals.
    #[serde(default)]
    pub waveform_uncertainty: Option<WaveformUncertainty>,
}

/// A quantity as `sheet.json` carries it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct QuantityEntry {
    pub id: String,
    pub scan: String,
    pub level: Option<f64>,
    pub range: Option<String>,
    pub symbol: String,
    pub name: String,
    pub value: Option<f64>,
    pub unit: String,
    /// The true value is at least `value`.
    #[serde(default)]
    pub lower_bound: bool,
    pub u_standard: Option<f64>,
    pub u_expanded: Option<f64>,
    pub k: Option<f64>,
    pub nu_eff: Option<f64>,
    pub u_common: Option<f64>,
    pub u_repeatability: Option<f64>,
    /// Why the uncertainty is null.
    pub u_reason: Option<String>,
    pub value_uncorrected: Option<f64>,
    pub corrections: Vec<Correction>,
    pub window: Option<Window>,
    pub time_base: Option<TimeBase>,
    pub method: String,
    pub reference: String,
    /// Rounded, with its unit, as the sheet prints it.
    pub text: String,
    pub reason: Option<String>,
    pub sensitivities: BTreeMap<String, f64>,
    /// Budget, of the main quantities.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub budget: Option<Budget>,
}

/// A finding with its sentence.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FindingEntry {
    pub severity: Severity,
    pub code: String,
    pub place: Place,
    pub args: Args,
    pub text: String,
    pub hint: String,
}

/// An input file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct InputFile {
    pub name: String,
    pub role: String,
    pub bytes: u64,
    /// Hexadecimal; null while it is still being computed.
    pub sha256: Option<String>,
}
