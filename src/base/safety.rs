//! On what the values by the rules for diagnostic equipment rest. Part of `sheet.json`.

use serde::{Deserialize, Serialize};

/// What the safety values of one scan rest on, SI; null where it is not known.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct SafetyBasis {
    /// The scan that carries the values.
    pub scan: String,
    /// Attenuation by which values are derated, dB cm⁻¹ MHz⁻¹.
    pub derating_db_per_cm_mhz: f64,
    /// Working frequency (zero crossings) with which they are derated: that of the waveform nearest to
    /// `depth_m`; without an axial scan that of the plane.
    pub frequency_hz: Option<f64>,
    /// Where the derated pulse-intensity integral is largest: distance from the head, and z of the scan.
    pub depth_m: Option<f64>,
    pub z_m: Option<f64>,
    /// Scan and quantity of the power of the stated exposure, and that power, W.
    pub power_scan: Option<String>,
    pub power: Option<String>,
    pub power_w: Option<f64>,
    /// Radiating area, m².
    pub aperture_m2: Option<f64>,
    /// Depths at which the thermal indices for soft tissue and bone were found; null for a value at the
    /// surface.
    pub tis_depth_m: Option<f64>,
    pub tib_depth_m: Option<f64>,
    /// Local distortion parameter at the plane of the same level.
    pub sigma_q: Option<f64>,
}
