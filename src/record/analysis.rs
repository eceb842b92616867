//! Choices of the analysis. Blanks are filled with the defaults here, so a checked record always
//! says what will be done.

use serde::{Deserialize, Serialize};

/// Choices of the analysis.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct Analysis {
    /// Low-pass that accompanies the division by the response: the text `auto`, or a filter.
    pub lowpass: LowPass,
    /// How volts become pascals.
    pub method: Method,
    /// Part of the waveform on which the quantities rest.
    pub window: WindowChoice,
    /// Which corrections are made.
    pub corrections: Corrections,
    /// When a shot counts as one with bubbles.
    pub bubbles: BubbleRule,
    /// Whether indices and derated values of diagnostic ultrasound are given; false where blank.
    pub safety_values: bool,
}

/// When a shot counts as one with bubbles.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct BubbleRule {
    /// Level of the noise between the harmonics, or of the lines at odd halves of the drive frequency,
    /// over their baseline, from which a shot is marked, dB; 6 where blank.
    pub threshold_db: f64,
}

impl Default for BubbleRule {
    fn default() -> Self {
        Self { threshold_db: 6.0 }
    }
}

/// Low-pass that accompanies the division by the response.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(untagged)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum LowPass {
    /// Chosen from the noise of the scan.
    Auto(AutoWord),
    /// As stated.
    Filter(LowPassFilter),
}

impl LowPass {
    /// The low-pass that is chosen from the noise of the scan.
    pub const AUTO: Self = Self::Auto(AutoWord::Auto);

    /// The stated filter; `None` for `auto`.
    pub fn filter(&self) -> Option<&LowPassFilter> {
        match self {
            Self::Auto(_) => None,
            Self::Filter(filter) => Some(filter),
        }
    }
}

impl Default for LowPass {
    fn default() -> Self {
        Self::AUTO
    }
}

/// The text `auto`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum AutoWord {
    /// Chosen from the noise of the scan.
    Auto,
}

/// A stated low-pass.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct LowPassFilter {
    /// Form of the filter.
    pub kind: LowPassKind,
    /// Number of equal poles of a `one-pole`; 1 where blank. Not used by `cosine`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub order: Option<u32>,
    /// Corner frequency f_c, Hz.
    pub cutoff_hz: f64,
}

impl LowPassFilter {
    /// Number of equal poles, with the default filled in.
    pub fn poles(&self) -> u32 {
        self.order.unwrap_or(1)
    }
}

/// Form of a low-pass.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum LowPassKind {
    /// 1/(1 + jf/f_c)^n with the order n.
    OnePole,
    /// Raised-cosine roll-off about f_c, without phase.
    Cosine,
}

/// How volts become pascals.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum Method {
    /// The spectrum is divided by the response.
    #[default]
    Broadband,
    /// The voltage is divided by the magnitude of the response at the working frequency.
    Narrowband,
}

/// Part of the waveform on which the quantities rest.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct WindowChoice {
    /// Rule by which the window is laid.
    pub kind: WindowRule,
    /// Start on the scan's own time axis, s; found from the signal where blank.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub start_s: Option<f64>,
    /// End on the scan's own time axis, s; found from the signal where blank.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stop_s: Option<f64>,
}

/// Rule by which a window is laid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum WindowRule {
    /// Whole pulse for short pulses, steady state for long bursts.
    #[default]
    Auto,
    /// From before the arrival to after the last of the pulse.
    WholePulse,
    /// Whole cycles between ring-up and the first echo.
    SteadyState,
}

/// Which corrections are made.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct Corrections {
    /// Noise energy subtracted, noise bias of peaks removed; true where blank.
    pub noise: bool,
    /// Averaging over the sensor's face corrected; true where blank.
    pub spatial_averaging: bool,
    /// Drift between revisits of one point corrected; false where blank.
    pub drift: bool,
    /// Offset between rows recorded forward and backward on the fly corrected; false where blank.
    pub motion: bool,
}

impl Default for Corrections {
    fn default() -> Self {
        Self { noise: true, spatial_averaging: true, drift: false, motion: false }
    }
}
