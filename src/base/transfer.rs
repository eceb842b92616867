//! A sensor's factor for each gain range, transferred from a calibrated sensor by a check source.
//! Part of `sheet.json`.

use serde::{Deserialize, Serialize};

/// Sources of uncertainty of a transferred factor, in the order of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum TransferSource {
    /// Certificate of the calibrated sensor.
    ReferenceCertificate,
    /// Scatter of the calibrated sensor's readings.
    ReferenceRepeatability,
    /// Change of the source between the two measurements with the calibrated sensor.
    SourceDrift,
    /// Unequal sizes of the two sensors in the source's field.
    ElementSize,
    /// Scatter of this sensor's readings, the noise left out.
    TransferRepeatability,
    /// Noise of this sensor's readings.
    TransferNoise,
    /// One factor for a response that is not flat.
    Flatness,
    /// One factor for all levels.
    Linearity,
    /// Water of another temperature.
    Temperature,
}

impl TransferSource {
    /// All of them.
    pub const ALL: [Self; 9] = [
        Self::ReferenceCertificate,
        Self::ReferenceRepeatability,
        Self::SourceDrift,
        Self::ElementSize,
        Self::TransferRepeatability,
        Self::TransferNoise,
        Self::Flatness,
        Self::Linearity,
        Self::Temperature,
    ];

    /// The word of `sheet.json`.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::ReferenceCertificate => "reference-certificate",
            Self::ReferenceRepeatability => "reference-repeatability",
            Self::SourceDrift => "source-drift",
            Self::ElementSize => "element-size",
            Self::TransferRepeatability => "transfer-repeatability",
            Self::TransferNoise => "transfer-noise",
            Self::Flatness => "flatness",
            Self::Linearity => "linearity",
            Self::Temperature => "temperature",
        }
    }

    /// Whether all ranges share it.
    pub fn is_common(self) -> bool {
        !matches!(self, Self::TransferRepeatability | Self::TransferNoise | Self::Linearity)
    }
}

/// One source with its relative standard uncertainty of the factor.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SourceShare {
    pub source: TransferSource,
    pub u_relative: f64,
    /// The same for all ranges.
    pub common: bool,
    /// Degrees of freedom; null for those that are taken as certain.
    pub nu: Option<f64>,
}

/// What was compared: fundamental, rms, positive peak.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct ByFeature<T> {
    pub fundamental: T,
    pub rms: T,
    pub peak: T,
}

impl<T: Copy> ByFeature<T> {
    /// In the order fundamental, rms, peak.
    pub fn from_array([fundamental, rms, peak]: [T; 3]) -> Self {
        Self { fundamental, rms, peak }
    }

    /// In the order fundamental, rms, peak.
    pub fn to_array(self) -> [T; 3] {
        [self.fundamental, self.rms, self.peak]
    }
}

/// Readings of both sensors at one level of the source, by the feature chosen.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct LevelReading {
    pub level: Option<f64>,
    /// By the calibrated sensor.
    pub pressure_pa: f64,
    /// By this sensor.
    pub volts: f64,
    /// volts/pressure of this level re the factor of the range, less one.
    pub departure: f64,
}

/// The factor of one range.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RangeFactor {
    /// Null for a sensor without ranges.
    pub range: Option<String>,
    pub scan: String,
    pub repeats: usize,
    /// By the feature chosen, corrected for unequal sizes.
    pub v_per_pa: f64,
    /// Combined relative standard uncertainty.
    pub u_relative: f64,
    pub sources: Vec<SourceShare>,
    /// By each feature, V/Pa.
    pub by_feature: ByFeature<f64>,
    pub levels: Vec<LevelReading>,
}

/// Pressure of the source as two ranges give it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RangeComparison {
    pub range_a: String,
    pub range_b: String,
    pub level: Option<f64>,
    /// `fundamental`, `rms` or `peak`.
    pub feature: String,
    /// First over second, less one.
    pub difference: f64,
    /// Standard uncertainty of that: repeatability and noise of both.
    pub u: f64,
}

/// A whole transfer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Transfer {
    /// Path of the response in the record.
    pub place: String,
    pub reference_scan: String,
    pub reference_scan_after: Option<String>,
    pub frequency_hz: f64,
    /// `fundamental`, `rms` or `peak`.
    pub feature: String,
    /// Corner of the low-pass that both sensors' waveforms went through, Hz.
    pub lowpass_cutoff_hz: f64,
    /// Its bandwidth for white noise in the calibrated sensor's waveforms, Hz.
    pub noise_band_hz: f64,
    /// Noise-equivalent pressure of the calibrated sensor over that band, Pa.
    pub reference_nep_pa: Option<f64>,
    /// Factor for unequal sizes that is worked into the factors; 1 where sizes or field are not stated.
    pub element_size_factor: f64,
    /// Change of the source from the first to the second measurement with the calibrated sensor.
    pub drift: Option<f64>,
    pub ranges: Vec<RangeFactor>,
    pub comparisons: Vec<RangeComparison>,
}

impl Transfer {
    /// The factor of a range.
    pub fn of_range(&self, range: Option<&str>) -> Option<&RangeFactor> {
        self.ranges.iter().find(|factor| factor.range.as_deref() == range)
    }
}
