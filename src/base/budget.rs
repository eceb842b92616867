//! What an uncertainty is made of: the budget of one quantity, as `sheet.json` carries it.

use serde::{Deserialize, Serialize};

/// Ids of the sources that this project evaluates itself; a record may name others.
pub mod source {
    /// Magnitude of the response: a relative error, as of the drive frequency.
    pub const CALIBRATION: &str = "calibration";
    /// Phase of the response, rad, as of the drive frequency.
    pub const CALIBRATION_PHASE: &str = "calibration-phase";
    /// What the low-pass takes away, in standard uncertainties.
    pub const LOW_PASS: &str = "low-pass";
    /// Gain from the sensor to counts: a relative error.
    pub const GAIN: &str = "gain";
    /// Amplitude of the drive: a relative error.
    pub const DRIVE: &str = "drive";
    /// Repetition rate: a relative error.
    pub const REPETITION: &str = "repetition-rate";
    /// Temperature of the water, K.
    pub const TEMPERATURE: &str = "water-temperature";
    /// Scale of the axes: a relative error of lengths.
    pub const AXES: &str = "axes-scale";
    /// Positions of single points, m.
    pub const POSITION: &str = "position";
    /// Noise of the digitiser, Pa.
    pub const NOISE: &str = "noise";
    /// Correction of the peaks for noise, in standard uncertainties of it.
    pub const NOISE_BIAS: &str = "noise-bias";
    /// Correction for the averaging over the sensor, in standard uncertainties of it.
    pub const SPATIAL_AVERAGING: &str = "spatial-averaging";
    /// Fit of the spatial peak: a relative error.
    pub const PEAK_FIT: &str = "peak-fit";
    /// Scatter of the shots at one place, in standard deviations of the mean.
    pub const SHOTS: &str = "shots";
    /// Scatter of the shots of a check source before the scans: a relative error.
    pub const SHOTS_BEFORE: &str = "shots-before";
    /// The same after them.
    pub const SHOTS_AFTER: &str = "shots-after";
    /// Repetition of a check source and of the sensor's place in its field: a relative error.
    pub const CHECK_PLACING: &str = "check-placing";
    /// Fit of a straight line, in standard uncertainties.
    pub const LINE_FIT: &str = "line-fit";
    /// Ratio of powers by which linear values are scaled: a relative error.
    pub const POWER_RATIO: &str = "power-ratio";
    /// What the scan's window misses, in standard uncertainties.
    pub const WINDOW: &str = "scan-window";
}

/// Uncertainty budget of one quantity.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Budget {
    pub lines: Vec<Line>,
    /// Combined standard uncertainty, in the quantity's SI unit.
    pub u_standard: f64,
    /// Part of it that is the same in every measurement with these means.
    pub u_common: f64,
    /// Part of it that differs from one measurement to the next.
    pub u_repeatability: f64,
    /// Effective degrees of freedom; null where they are infinite.
    pub nu_eff: Option<f64>,
    /// Coverage probability of the expanded uncertainty.
    pub coverage: f64,
    pub k: f64,
    pub u_expanded: f64,
    pub monte_carlo: Option<Drawn>,
    /// Sources that are not in it.
    pub left_out: Vec<LeftOut>,
}

/// One source's part of a budget.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Line {
    /// Id of the source, or the name that the record gives it.
    pub source: String,
    /// Standard uncertainty of the source, in `unit`.
    pub u: f64,
    /// Unit of `u`: `1` for a fraction.
    pub unit: String,
    /// `normal`, `rectangular`, `triangular`, `u-shaped`, `t`.
    pub distribution: String,
    /// Degrees of freedom; null where they are infinite.
    pub nu: Option<f64>,
    /// Change of the value with the source, SI unit of the value per `unit`.
    pub sensitivity: f64,
    /// Sensitivity × u, with its sign.
    pub contribution: f64,
    /// Part of the variance, 0 to 1.
    pub share: f64,
    /// Whether it is the same in every measurement with these means.
    pub common: bool,
    /// Where the value is from: `record`, `default`, `data`.
    pub origin: String,
    /// Path in the record, or the code of the default or estimate.
    pub from: String,
}

/// A source that a budget leaves out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LeftOut {
    pub source: String,
    /// Code of the reason.
    pub reason: String,
    /// Path in the record that would give it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub blank: Option<String>,
}

/// Result of the Monte Carlo method.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Drawn {
    pub draws: u64,
    pub seed: u64,
    pub mean: f64,
    pub standard_deviation: f64,
    /// Shortest interval that holds the coverage probability.
    pub low: f64,
    pub high: f64,
    /// Whether the law of propagation agrees with it within `tolerance`.
    pub agrees: bool,
    /// Numerical tolerance of the standard uncertainty, SI unit of the value.
    pub tolerance: f64,
}
