//! Planes at several depths taken together. Part of `sheet.json`.

use serde::{Deserialize, Serialize};

/// One plane of a stack.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Depth {
    pub scan: String,
    pub z_m: f64,
    /// Values of the plane at its own peak; null where it has none.
    pub pc_pa: Option<f64>,
    pub pr_pa: Option<f64>,
    pub ppsi_pa2_s: Option<f64>,
    pub width_x_6_m: Option<f64>,
    pub width_y_6_m: Option<f64>,
    /// Area in which ppsi is above −6 dB of the largest of the whole stack, m²; 0 where it is nowhere.
    pub area_m2: f64,
}

/// Planes at one level and range, from the shallowest to the deepest.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Stack {
    pub level: Option<f64>,
    pub range: Option<String>,
    pub planes: Vec<Depth>,
    /// Place of the largest ppsi along the beam, between the planes, m.
    pub z_peak_m: Option<f64>,
    /// −6 dB length of ppsi along the beam, m; null where the stack ends before.
    pub length_6_m: Option<f64>,
    /// π/6 times that length and the −6 dB widths of the plane nearest the peak, m³.
    pub ellipsoid_m3: Option<f64>,
    /// Volume above −6 dB of the largest ppsi, by the trapezoidal rule over the planes, m³.
    pub counted_m3: Option<f64>,
    /// The first or the last plane reaches that level: the volume goes on beyond.
    pub open: bool,
    /// Place of the peak less that of the geometric focus, m, negative toward the head; null where the
    /// record does not say where that lies.
    #[serde(default)]
    pub focus_shift_m: Option<f64>,
    /// The beam's axis through the centres of the planes; null with fewer than three centres.
    #[serde(default)]
    pub axis: Option<BeamAxis>,
}

/// A straight line through the centres of a beam in planes at several depths; uncertainties from the
/// scatter of the centres about it alone.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct BeamAxis {
    /// Planes whose centre took part.
    pub planes: usize,
    /// Angles to z, rad, positive toward +x and +y.
    pub tilt_x_rad: f64,
    pub tilt_y_rad: f64,
    pub u_tilt_x_rad: f64,
    pub u_tilt_y_rad: f64,
    /// Where it meets the plane of the head at which z begins, m; null where the record names none.
    pub offset_x_m: Option<f64>,
    pub offset_y_m: Option<f64>,
    pub u_offset_x_m: Option<f64>,
    pub u_offset_y_m: Option<f64>,
}
