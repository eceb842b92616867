//! Noise and largest pressure of a gain range. Part of `sheet.json`.

use serde::{Deserialize, Serialize};

/// Where a noise-equivalent pressure comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum NoiseFrom {
    /// A scan of role noise.
    NoiseRecord,
    /// The part of a scan's waveforms before the arrival.
    PreArrival,
}

impl NoiseFrom {
    /// The word of `sheet.json`.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::NoiseRecord => "noise-record",
            Self::PreArrival => "pre-arrival",
        }
    }
}

/// Whose noise it is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum NoiseOf {
    /// The sensor of the record, at its only setting.
    Sensor,
    /// One of its ranges.
    Range(String),
    /// The calibrated sensor of a check source.
    ReferenceSensor,
}

/// Noise-equivalent pressure of a range, and the largest pressure that it holds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RangeNoise {
    pub of: NoiseOf,
    pub scan: String,
    pub from: NoiseFrom,
    /// Root mean square over the band, Pa.
    pub nep_pa: f64,
    /// Bandwidth for white noise, Hz.
    pub band_hz: f64,
    /// Pa/√Hz.
    pub nep_density: f64,
    /// Where the chain stops being linear, or its full scale at the drive frequency, Pa; null where
    /// neither is known.
    pub limit_pa: Option<f64>,
}
