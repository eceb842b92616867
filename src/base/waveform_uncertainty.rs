//! What is uncertain about the waveform at the spatial peak, as `sheet.json` carries it.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

/// Source: noise of the digitiser.
pub const NOISE: &str = "noise";
/// Source: magnitudes of the response.
pub const CALIBRATION_MAGNITUDE: &str = "calibration-magnitude";
/// Source: phases of the response.
pub const CALIBRATION_PHASE: &str = "calibration-phase";
/// Source: what the low-pass takes away.
pub const LOW_PASS: &str = "low-pass";

/// Uncertainty of the waveform at the spatial peak, by feature and source.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WaveformUncertainty {
    /// `pc`, `pr` and `ppsi` of this waveform.
    pub features: Vec<FeatureUncertainty>,
    /// Correlation coefficients of the features by source: pc with pr, pc with ppsi, pr with ppsi.
    pub correlations: BTreeMap<String, [f64; 3]>,
    /// Sources that were not evaluated, with the code of the reason.
    pub not_evaluated: BTreeMap<String, String>,
    pub noise: Option<NoiseLevel>,
    /// How the errors of the rows of the response hang together: `common`, `independent`, `length`.
    pub frequency_correlation: String,
    pub correlation_length_hz: Option<f64>,
    pub low_pass: Option<SignalReach>,
    pub monte_carlo: Option<DrawsMade>,
    pub other_method: Option<OtherMethod>,
}

/// Noise of the digitiser, taken white before the filter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct NoiseLevel {
    /// Standard deviation of a sample, V.
    pub rms_v: f64,
    /// `pre-arrival`, or `spectrum`: from the highest quarter of the frequencies, where there is no
    /// quiet part.
    pub from: String,
}

/// Up to where signal stands above noise, and how its spectrum was continued beyond.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SignalReach {
    /// Number of the last band, one fundamental wide, that carries signal.
    pub last_band: u64,
    /// Upper end of that band, Hz.
    pub reach_hz: f64,
    /// `geometric`, `power` or `level`.
    pub law: String,
    /// Amplitude of a band over that of the band before (`geometric`), or the falling power of the
    /// band's number (`power`); 1 for `level`.
    pub parameter: f64,
}

/// The Monte Carlo run.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DrawsMade {
    pub draws: u64,
    pub seed: u64,
}

/// The method of scaling that was not used.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct OtherMethod {
    /// `broadband` or `narrowband`.
    pub method: String,
    /// Frequency of the narrowband magnitude, Hz.
    pub frequency_hz: f64,
}

/// One feature of the waveform.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FeatureUncertainty {
    /// Id of the quantity: `pc`, `pr`, `ppsi`.
    pub id: String,
    /// SI, of this single waveform, without any correction: noise is in it.
    pub value: f64,
    pub unit: String,
    /// Standard uncertainties by source.
    pub u: BTreeMap<String, f64>,
    /// The same with sign, for sources that are one common error: a positive error of the source
    /// changes the value by this.
    pub signed: BTreeMap<String, f64>,
    /// Root of the sum of squares over the sources.
    pub u_combined: f64,
    pub low_pass: Option<LowPassEffect>,
    pub monte_carlo: Option<Drawn>,
    pub other_method: Option<OtherValue>,
}

/// What the low-pass may have taken from a value; together the half-width of a rectangular
/// distribution.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LowPassEffect {
    /// Value with the low-pass undone as far as signal stands above noise, less the value.
    pub taken: f64,
    /// Largest effect of what lies beyond, at least zero.
    pub beyond: f64,
}

/// What drawing the response's errors gives.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Drawn {
    pub mean: f64,
    pub standard_deviation: f64,
    /// Mean less the value.
    pub shift: f64,
}

/// A value by the method that was not used.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct OtherValue {
    pub value: f64,
    /// Over the value of the method in use, less one.
    pub relative_difference: f64,
}

impl FeatureUncertainty {
    /// Uncertainty from the response alone, by linear propagation.
    pub fn u_calibration(&self) -> f64 {
        let of = |source| self.u.get(source).copied().unwrap_or(0.0);
        of(CALIBRATION_MAGNITUDE).hypot(of(CALIBRATION_PHASE))
    }
}
