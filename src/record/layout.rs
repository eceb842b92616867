//! Where the arrays of a scan lie in a file that does not say so itself.

use serde::{Deserialize, Serialize};

/// Layout of a foreign file. An array is named by its path in the file, or by the heading of its
/// column.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct Layout {
    /// Array of the waveforms.
    pub waveforms: String,
    /// Meaning of the dimensions of that array, in the order in which the program that wrote the
    /// file shows them.
    pub axes: Vec<AxisName>,
    /// Positions x: one a step of the axis `x`, or one a point.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub x: Option<AxisSource>,
    /// Positions y: one a step of the axis `y`, or one a point.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub y: Option<AxisSource>,
    /// Positions z: one a step of the axis `z`, or one a point.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub z: Option<AxisSource>,
    /// Drive levels: one a step of the axis `level`, in `excitation.level_unit`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub level: Option<AxisSource>,
    /// Time axis of the samples.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time: Option<TimeSource>,
    /// How stored numbers become volts.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub volts: Option<Volts>,
    /// Whether every other row was recorded, and is stored, backwards.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub serpentine: bool,
}

/// Meaning of a dimension of the waveform array.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum AxisName {
    /// Samples.
    T,
    /// Position x.
    X,
    /// Position y.
    Y,
    /// Position z.
    Z,
    /// Points in any order.
    Point,
    /// Drive levels.
    Level,
    /// Gain ranges, in the order of `sensor.ranges`.
    Gain,
    /// Shots at one position.
    Repeat,
}

impl AxisName {
    /// The axis of a word of the record.
    pub fn from_word(word: &str) -> Option<Self> {
        let all = [
            Self::T,
            Self::X,
            Self::Y,
            Self::Z,
            Self::Point,
            Self::Level,
            Self::Gain,
            Self::Repeat,
        ];
        all.into_iter().find(|axis| axis.as_str() == word)
    }

    /// The word of the record.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::T => "t",
            Self::X => "x",
            Self::Y => "y",
            Self::Z => "z",
            Self::Point => "point",
            Self::Level => "level",
            Self::Gain => "gain",
            Self::Repeat => "repeat",
        }
    }
}

/// Values along an axis: an array, or equal steps.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(untagged)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum AxisSource {
    /// An array of the file.
    Array(ArrayRef),
    /// Equal steps.
    Steps(AxisSteps),
}

/// An array of the file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct ArrayRef {
    /// Its path, or the heading of its column.
    pub array: String,
    /// Unit of its numbers; where blank, the unit that the file states, else SI.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
    /// How many units one of its numbers is, where they count steps; 1 where blank.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub step: Option<f64>,
}

/// Equal steps along an axis.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct AxisSteps {
    /// First value, in `unit`.
    pub start: f64,
    /// Step, in `unit`; not 0.
    pub step: f64,
    /// Number of values; the length of the axis where blank.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<u32>,
    /// Unit; SI where blank.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
}

/// Time axis: an array, or an interval with a start.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(untagged)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum TimeSource {
    /// An array of the file.
    Array(ArrayRef),
    /// An interval with a start.
    Steps(TimeSteps),
}

/// Sample interval and start.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct TimeSteps {
    /// Sample interval, in `unit`.
    pub dt: f64,
    /// Time of the first sample after the trigger, in `unit`; 0 where blank.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub t0: Option<f64>,
    /// Unit; s where blank.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
}

/// How stored numbers become volts: number × scale + offset, in `unit`.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct Volts {
    /// Factor, in `unit` per stored number; 1 where blank.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub scale: Option<f64>,
    /// Offset added after the factor, in `unit`; 0 where blank.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub offset: Option<f64>,
    /// Unit of the result; V where blank.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
}
