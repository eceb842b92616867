//! Verdicts on stated values, as `sheet.json` carries them.

use serde::{Deserialize, Serialize};

use super::finding::{Arg, Args};

/// What is said of a stated value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Outcome {
    Conforms,
    Undecided,
    DoesNotConform,
}

impl Outcome {
    /// The word of `sheet.json`.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Conforms => "conforms",
            Self::Undecided => "undecided",
            Self::DoesNotConform => "does-not-conform",
        }
    }
}

/// One stated value, judged.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct VerdictEntry {
    pub quantity: String,
    /// Scan with which it is compared; null where none gives the quantity.
    pub scan: Option<String>,
    /// Stated value as typed, in `unit_typed`.
    pub stated_typed: f64,
    pub unit_typed: String,
    /// Stated value in `unit`, the quantity's SI unit; so are all values below.
    pub stated: f64,
    pub unit: String,
    /// Expanded uncertainty that the maker states, with k = 2.
    pub stated_u_expanded: Option<f64>,
    /// Limits of the tolerance; null on a side that is not limited.
    pub low: Option<f64>,
    pub high: Option<f64>,
    /// Where the value is stated.
    pub origin: Option<String>,
    pub measured: Option<f64>,
    /// The true value is at least `measured`.
    pub lower_bound: bool,
    pub u_standard: Option<f64>,
    pub u_expanded: Option<f64>,
    pub k: Option<f64>,
    /// Null where infinite.
    pub nu_eff: Option<f64>,
    /// `guarded-both-sides`, `simple`, `guard-expanded`.
    pub rule: String,
    pub min_probability: f64,
    /// Probability that the true value lies within the limits.
    pub probability: Option<f64>,
    pub outcome: Outcome,
    /// Why it is undecided, or what else is to be known.
    pub reasons: Vec<Remark>,
    /// Difference over the expanded uncertainties of both; null where the maker states none.
    pub e_n: Option<f64>,
    pub conditions: Vec<Condition>,
    /// What would settle it.
    pub settle: Option<Settle>,
}

/// A code with its arguments and its sentence.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Remark {
    pub code: String,
    #[serde(default)]
    pub args: Args,
    /// The sentence; the report fills it in.
    #[serde(default)]
    pub text: String,
}

impl Remark {
    /// A remark without arguments.
    pub fn new(code: &str) -> Self {
        Self { code: code.to_owned(), ..Self::default() }
    }

    /// Adds an argument of the sentence.
    #[must_use]
    pub fn with(mut self, name: &str, value: impl Into<Arg>) -> Self {
        self.args.insert(name.to_owned(), value.into());
        self
    }
}

/// A condition under which a value is stated, beside the measured one.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Condition {
    /// `level`, `window`, `time_base`, `medium`.
    pub condition: String,
    pub stated: String,
    /// Null where it is not known of the measurement.
    pub measured: Option<String>,
    pub agrees: bool,
}

/// Which uncertainty would have decided at the same measured value.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Settle {
    /// `settle-measurement`, `settle-calibration`, `settle-both`, `settle-out-of-reach`, `settle-none`.
    pub code: String,
    /// What the verdict would then be.
    pub would_be: Outcome,
    /// Expanded uncertainty of the measurement at which it is decided, SI.
    pub u_expanded: Option<f64>,
    /// Expanded (k = 2) relative uncertainty of the calibration, now where it has to be better, and where
    /// it is decided with all other sources as they are; null where the calibration alone would not do.
    pub calibration_now: Option<f64>,
    pub calibration: Option<f64>,
    #[serde(default)]
    pub text: String,
}

/// Repeats of a measurement: scans of one role at one level, range and place.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Repeats {
    pub scans: Vec<String>,
    pub role: String,
    pub level: Option<f64>,
    pub range: Option<String>,
    /// Proportion of all values that lies beyond the limits on the safe side, and confidence of it.
    pub proportion: f64,
    pub confidence: f64,
    pub quantities: Vec<Repeated>,
    /// Code of why there are no limits.
    pub reason: Option<String>,
}

/// One quantity over its repeats, SI.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Repeated {
    pub quantity: String,
    pub unit: String,
    pub values: Vec<f64>,
    pub n: u64,
    pub mean: f64,
    /// Standard deviation of one value.
    pub s: f64,
    /// Standard uncertainty of the mean (type A), s/√n.
    pub u_mean: f64,
    /// Factor of the one-sided tolerance limits; null below three values.
    pub factor: Option<f64>,
    /// The given proportion of all values lies above `low`, and (by itself) below `high`.
    pub low: Option<f64>,
    pub high: Option<f64>,
}
