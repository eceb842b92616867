//! The head under test, the scanner's axes on it, and the water around it.

use serde::{Deserialize, Serialize};

use super::Uncertainty;

/// The ultrasound head and the device that drives it.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct Device {
    /// What it is, in words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub description: Option<String>,
    /// Serial number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub serial: Option<String>,
    /// Version of the software that drives it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub software_version: Option<String>,
    /// Hours in operation, h.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub operating_hours: Option<f64>,
    /// Frequency that the maker states, Hz.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nominal_frequency_hz: Option<f64>,
    /// Radius of the radiating aperture, m.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub aperture_radius_m: Option<f64>,
    /// Radius of a central hole in the aperture, m; 0 without one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub aperture_inner_radius_m: Option<f64>,
    /// Radius of curvature of a focusing head, m; a blank means a flat head or an unknown curvature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub radius_of_curvature_m: Option<f64>,
    /// Radiating area, m².
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source_area_m2: Option<f64>,
    /// Elements of an array that were switched off: how many, or the list of their numbers.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub elements_off: Option<ElementsOff>,
    /// Electronic steering of the focus from its home position, x, y and z in m.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub steering_m: Option<[f64; 3]>,
    /// Temperature of the head, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub head_temperature_c: Option<f64>,
}

/// Elements of an array that were switched off.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(untagged)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum ElementsOff {
    /// How many.
    Count(u32),
    /// Which ones, numbered as the maker does.
    Numbers(Vec<u32>),
}

impl ElementsOff {
    /// How many elements were off.
    pub fn count(&self) -> usize {
        match self {
            Self::Count(count) => *count as usize,
            Self::Numbers(numbers) => numbers.len(),
        }
    }
}

/// How the scanner's axes lie on the head.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct Frame {
    /// Point of the head at which z is zero.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub z_zero: Option<ZZero>,
    /// Add this to the scanner's z to have the distance from the point named in `z_zero`, m.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub z_offset_m: Option<f64>,
    /// How the zero of z was found.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub method: Option<FrameMethod>,
    /// Time from the trigger to the start of the drive at the head, s; subtract it from an arrival
    /// to have a time of flight.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub trigger_delay_s: Option<f64>,
    /// Mark on the head toward which x is positive, in words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub x_mark: Option<String>,
    /// Whether x, y, z form a right-handed or a left-handed system, z away from the head.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub handedness: Option<Handedness>,
    /// Relative uncertainty of the lengths along the axes: the scale of the stage.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub u_scale: Option<Uncertainty>,
    /// Uncertainty of the position of a single point, m: what differs from one point to the next.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub u_position: Option<Uncertainty>,
}

/// Point of the head at which z is zero.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum ZZero {
    /// Deepest point of the radiating surface, on the axis.
    Apex,
    /// Plane of the rim, or the surface of a flat head.
    Face,
    /// Tip or end of a coupling cone.
    Cone,
    /// The focus.
    Focus,
    /// Not known; distances from the head are then not reported.
    Unknown,
}

/// How the zero of z was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum FrameMethod {
    /// From the time of flight and the speed of sound.
    TimeOfFlight,
    /// By touching the head.
    Touch,
    /// Typed in from another source.
    Typed,
}

/// Sense of the axes x, y, z.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum Handedness {
    /// Thumb x, forefinger y, middle finger z of the right hand.
    Right,
    /// The same of the left hand.
    Left,
}

/// The water in the tank.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct Water {
    /// Temperature during the scans, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature_c: Option<f64>,
    /// Temperature before the first scan, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature_start_c: Option<f64>,
    /// Temperature after the last scan, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature_end_c: Option<f64>,
    /// Standard uncertainty of the temperature, K.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub u_temperature_c: Option<f64>,
    /// How the water was treated: degassed, deionised, filtered.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub treatment: Option<String>,
    /// Dissolved oxygen, mg/l.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub oxygen_mg_per_l: Option<f64>,
    /// Electrical conductivity, S/m.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub conductivity_s_per_m: Option<f64>,
    /// Time that the sensor lay in the water before the first scan, min.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sensor_soak_min: Option<f64>,
}

impl Water {
    /// Temperature on which the values rest, °C: the one stated for the scans, else the mean of
    /// start and end, else whichever of the two is stated.
    pub fn temperature(&self) -> Option<f64> {
        self.temperature_c.or(match (self.temperature_start_c, self.temperature_end_c) {
            (Some(start), Some(end)) => Some(0.5 * (start + end)),
            (start, end) => start.or(end),
        })
    }
}
