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
}
