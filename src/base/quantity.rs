//! A reported value with everything that travels with it: sensitivities, window, time base.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::budget::Budget;

/// Why a quantity could not be given. The code names the sentence in the wording files; `blank`
/// is the path in the record that would give it, if one would.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Reason {
    pub code: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub blank: Option<String>,
}

impl Reason {
    /// A reason without a blank that would cure it.
    pub fn new(code: &str) -> Self {
        Self { code: code.to_owned(), blank: None }
    }

    /// A reason that a filled blank of the record would cure.
    pub fn blank(path: &str) -> Self {
        Self { code: "blank".to_owned(), blank: Some(path.to_owned()) }
    }
}

/// The part of the waveform on which a quantity rests.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum WindowKind {
    WholePulse,
    SteadyState,
}

/// A time window, seconds on the scan's own time axis.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Window {
    pub kind: WindowKind,
    pub start_s: f64,
    pub stop_s: f64,
}

/// What a temporal average refers to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum TimeBase {
    /// While the burst is on.
    On,
    /// The excitation used in the tank; never a treatment value.
    Tank,
    /// The exposure that the record states.
    Exposure,
}

/// A correction that was applied to a value.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Correction {
    /// Code of the correction, for example `noise-energy`.
    pub name: String,
    /// Factor by which the uncorrected value was multiplied.
    pub factor: f64,
    /// Standard uncertainty of the factor; null where it was not evaluated.
    pub u: Option<f64>,
    pub source: String,
}

/// Sensitivity of a value to each named uncertainty source: ∂value/∂source, in the value's SI unit
/// per unit of the source. Relative sources (calibration factor, gain) have the unit one.
pub type Sensitivities = BTreeMap<String, f64>;

/// A value or the reason for which there is none, with what it depends on.
#[derive(Debug, Clone, PartialEq)]
pub struct Quantity {
    /// Id of the catalogue below, for example `pc`.
    pub id: &'static str,
    /// SI value, or the reason for which it could not be given.
    pub outcome: Result<f64, Reason>,
    /// The true value is at least this one (a clipped peak).
    pub lower_bound: bool,
    pub sensitivities: Sensitivities,
    /// Its uncertainty, or the reason for which there is none.
    pub uncertainty: Result<Box<Budget>, Reason>,
    pub uncorrected: Option<f64>,
    pub corrections: Vec<Correction>,
    pub window: Option<Window>,
    pub time_base: Option<TimeBase>,
    /// Code of the method, worded in the wording files; empty where the definition leaves no choice.
    pub method: &'static str,
}

impl Quantity {
    /// A value from a computation. A number that is not finite becomes the reason `not-finite`.
    pub fn value(id: &'static str, value: f64) -> Self {
        let outcome = if value.is_finite() { Ok(value) } else { Err(Reason::new("not-finite")) };
        Self {
            id,
            outcome,
            lower_bound: false,
            sensitivities: Sensitivities::new(),
            uncertainty: Err(Reason::new("uncertainty-not-evaluated")),
            uncorrected: None,
            corrections: Vec::new(),
            window: None,
            time_base: None,
            method: "",
        }
    }

    /// A quantity that could not be given.
    pub fn missing(id: &'static str, reason: Reason) -> Self {
        Self { outcome: Err(reason), ..Self::value(id, 0.0) }
    }

    /// From a computation that may have failed with a reason.
    pub fn from_outcome(id: &'static str, outcome: Result<f64, Reason>) -> Self {
        match outcome {
            Ok(value) => Self::value(id, value),
            Err(reason) => Self::missing(id, reason),
        }
    }

    /// Adds the sensitivity to a source that scales the value by a power: a relative change ε of the
    /// source changes the value by `power`·ε·value.
    #[must_use]
    pub fn scales_with(mut self, source: &str, power: f64) -> Self {
        if let Ok(value) = self.outcome {
            *self.sensitivities.entry(source.to_owned()).or_insert(0.0) += power * value;
        }
        self
    }

    /// Adds a sensitivity ∂value/∂source.
    #[must_use]
    pub fn sensitive_to(mut self, source: &str, derivative: f64) -> Self {
        if self.outcome.is_ok() {
            *self.sensitivities.entry(source.to_owned()).or_insert(0.0) += derivative;
        }
        self
    }

    /// Adds the sensitivities of another quantity of the same unit, one for one: where that moves, this
    /// one does.
    #[must_use]
    pub fn moves_with(mut self, others: &[Self], id: &str) -> Self {
        if self.outcome.is_ok()
            && let Some(other) = others.iter().find(|other| other.id == id)
        {
            for (source, derivative) in &other.sensitivities {
                *self.sensitivities.entry(source.clone()).or_insert(0.0) += derivative;
            }
        }
        self
    }

    #[must_use]
    pub fn in_window(mut self, window: Window) -> Self {
        self.window = Some(window);
        self
    }

    #[must_use]
    pub fn on_base(mut self, base: TimeBase) -> Self {
        self.time_base = Some(base);
        self
    }

    #[must_use]
    pub fn by(mut self, method: &'static str) -> Self {
        self.method = method;
        self
    }

    /// Notes a correction; `uncorrected` is the value before it.
    #[must_use]
    pub fn corrected_from(mut self, uncorrected: f64, name: &str, source: &str) -> Self {
        if let Ok(value) = self.outcome
            && uncorrected.is_finite()
            && uncorrected != 0.0
        {
            self.uncorrected = Some(uncorrected);
            self.corrections.push(Correction {
                name: name.to_owned(),
                factor: value / uncorrected,
                u: None,
                source: source.to_owned(),
            });
        }
        self
    }

    /// Multiplies the value by the factor of a further correction with its relative standard
    /// uncertainty; the value before all corrections stays beside. The factor's uncertainty becomes a
    /// source of the correction's name, in standard uncertainties.
    #[must_use]
    pub fn scaled(mut self, factor: f64, name: &str, source: &str, u: f64) -> Self {
        let Ok(before) = self.outcome else { return self };
        self.outcome = Ok(before * factor);
        self.uncorrected.get_or_insert(before);
        self.sensitivities.values_mut().for_each(|derivative| *derivative *= factor);
        self.sensitivities.insert(name.to_owned(), before * u);
        self.corrections.push(Correction {
            name: name.to_owned(),
            factor,
            u: Some(u),
            source: source.to_owned(),
        });
        self
    }

    /// Gives the last correction the relative standard uncertainty of its factor.
    #[must_use]
    pub fn correction_uncertain(mut self, u: f64) -> Self {
        if let Some(last) = self.corrections.last_mut() {
            last.u = Some(u);
        }
        self
    }
}

/// What is fixed about a quantity id, whatever the language.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Entry {
    pub id: &'static str,
    /// Symbol with `_{}` for upright subscripts, as ISO 80000 sets them: `p_{c}`.
    pub symbol: &'static str,
    /// SI unit of the value in `sheet.json`.
    pub unit: &'static str,
    /// Unit in which the trade prints it, a key of `units::print_unit`.
    pub print_unit: &'static str,
    /// Smallest magnitude that matters, SI: the floor of comparisons between page and command line.
    pub scale: f64,
}

const fn entry(
    id: &'static str,
    symbol: &'static str,
    unit: &'static str,
    print_unit: &'static str,
    scale: f64,
) -> Entry {
    Entry { id, symbol, unit, print_unit, scale }
}

/// The catalogue of quantity ids, in the order in which a sheet prints them. Ids are added, not renamed.
pub const CATALOGUE: &[Entry] = &[
    entry("pc", "p_{c}", "Pa", "MPa", 1e3),
    entry("pr", "p_{r}", "Pa", "MPa", 1e3),
    entry("pc_ss", "p_{c,ss}", "Pa", "MPa", 1e3),
    entry("pr_ss", "p_{r,ss}", "Pa", "MPa", 1e3),
    entry("ppsi", "p_{i}", "Pa2 s", "Pa2 s", 1e-3),
    entry("pii", "I_{pi}", "J/m2", "mJ/cm2", 1e-3),
    entry("td", "t_{d}", "s", "us", 1e-8),
    entry("i_on", "I_{on}", "W/m2", "W/cm2", 1.0),
    entry("isppa", "I_{sppa}", "W/m2", "W/cm2", 1.0),
    entry("ispta", "I_{spta}", "W/m2", "W/cm2", 1e-3),
    entry("f_awf_zero", "f_{awf}", "Hz", "MHz", 1e3),
    entry("f_awf_mean", "f_{awf}", "Hz", "MHz", 1e3),
    entry("bandwidth", "BW", "Hz", "MHz", 1e3),
    entry("p1", "p_{1}", "Pa", "MPa", 1e3),
    entry("h2", "h_{2}", "1", "%", 1e-3),
    entry("h3", "h_{3}", "1", "%", 1e-3),
    entry("h4", "h_{4}", "1", "%", 1e-3),
    entry("h5", "h_{5}", "1", "%", 1e-3),
    entry("h6", "h_{6}", "1", "%", 1e-3),
    entry("h7", "h_{7}", "1", "%", 1e-3),
    entry("h8", "h_{8}", "1", "%", 1e-3),
    entry("h9", "h_{9}", "1", "%", 1e-3),
    entry("h10", "h_{10}", "1", "%", 1e-3),
    entry("thd", "h_{t}", "1", "%", 1e-3),
    entry("arrival", "t_{a}", "s", "us", 1e-8),
    entry("snr_db", "SNR", "dB", "dB", 1.0),
    entry("nep", "p_{n}", "Pa", "kPa", 10.0),
    entry("nep_density", "p'_{n}", "Pa/Hz^0.5", "Pa/Hz^0.5", 1e-3),
    entry("dynamic_range_db", "DR", "dB", "dB", 1.0),
    entry("x_peak", "x_{s}", "m", "mm", 1e-4),
    entry("y_peak", "y_{s}", "m", "mm", 1e-4),
    entry("x_peak_pc", "x_{s,c}", "m", "mm", 1e-4),
    entry("y_peak_pc", "y_{s,c}", "m", "mm", 1e-4),
    entry("x_peak_pr", "x_{s,r}", "m", "mm", 1e-4),
    entry("y_peak_pr", "y_{s,r}", "m", "mm", 1e-4),
    entry("width_x_3", "w_{x,3}", "m", "mm", 1e-4),
    entry("width_x_6", "w_{x,6}", "m", "mm", 1e-4),
    entry("width_x_12", "w_{x,12}", "m", "mm", 1e-4),
    entry("width_y_3", "w_{y,3}", "m", "mm", 1e-4),
    entry("width_y_6", "w_{y,6}", "m", "mm", 1e-4),
    entry("width_y_12", "w_{y,12}", "m", "mm", 1e-4),
    entry("width_major_6", "w_{a,6}", "m", "mm", 1e-4),
    entry("width_minor_6", "w_{b,6}", "m", "mm", 1e-4),
    entry("axis_angle", "\u{3c6}_{a}", "rad", "deg", 1e-2),
    entry("area_6", "A_{b,6}", "m2", "mm2", 1e-8),
    entry("width_x_3_pc", "w_{x,3,c}", "m", "mm", 1e-4),
    entry("width_x_6_pc", "w_{x,6,c}", "m", "mm", 1e-4),
    entry("width_x_12_pc", "w_{x,12,c}", "m", "mm", 1e-4),
    entry("width_y_3_pc", "w_{y,3,c}", "m", "mm", 1e-4),
    entry("width_y_6_pc", "w_{y,6,c}", "m", "mm", 1e-4),
    entry("width_y_12_pc", "w_{y,12,c}", "m", "mm", 1e-4),
    entry("area_6_pc", "A_{b,6,c}", "m2", "mm2", 1e-8),
    entry("width_x_3_pr", "w_{x,3,r}", "m", "mm", 1e-4),
    entry("width_x_6_pr", "w_{x,6,r}", "m", "mm", 1e-4),
    entry("width_x_12_pr", "w_{x,12,r}", "m", "mm", 1e-4),
    entry("width_y_3_pr", "w_{y,3,r}", "m", "mm", 1e-4),
    entry("width_y_6_pr", "w_{y,6,r}", "m", "mm", 1e-4),
    entry("width_y_12_pr", "w_{y,12,r}", "m", "mm", 1e-4),
    entry("area_6_pr", "A_{b,6,r}", "m2", "mm2", 1e-8),
    entry("sidelobe_db", "L_{s}", "dB", "dB", 1.0),
    entry("tilt_x", "\u{3b8}_{x}", "rad", "deg", 1e-3),
    entry("tilt_y", "\u{3b8}_{y}", "rad", "deg", 1e-3),
    entry("axis_offset_x", "x_{0}", "m", "mm", 1e-4),
    entry("axis_offset_y", "y_{0}", "m", "mm", 1e-4),
    entry("isal", "I_{sal}", "W/m2", "W/cm2", 1.0),
    entry("isata", "I_{sata}", "W/m2", "W/cm2", 1e-3),
    entry("power_on_plane_wave", "P_{on}", "W", "W", 1e-3),
    entry("power_ta_plane_wave", "P_{ta}", "W", "W", 1e-6),
    entry("power_on_angular", "P_{on,a}", "W", "W", 1e-3),
    entry("power_ta_angular", "P_{ta,a}", "W", "W", 1e-6),
    entry("era", "A_{ER}", "m2", "mm2", 1e-7),
    entry("bnr", "R_{BN}", "1", "1", 1e-2),
    entry("z_peak", "z_{s}", "m", "mm", 1e-4),
    entry("z_peak_pc", "z_{s,c}", "m", "mm", 1e-4),
    entry("z_peak_pr", "z_{s,r}", "m", "mm", 1e-4),
    entry("focus_shift", "\u{394}z", "m", "mm", 1e-4),
    entry("length_3", "l_{3}", "m", "mm", 1e-4),
    entry("length_6", "l_{6}", "m", "mm", 1e-4),
    entry("length_6_pc", "l_{6,c}", "m", "mm", 1e-4),
    entry("length_6_pr", "l_{6,r}", "m", "mm", 1e-4),
    // In the operator's unit of the drive level: `level` stands for it.
    entry("pc_slope", "s_{c}", "Pa/level", "kPa/level", 1.0),
    entry("pr_slope", "s_{r}", "Pa/level", "kPa/level", 1.0),
    entry("level_linear_max", "L_{lin}", "level", "level", 1e-3),
    entry("level_no_bubble_signature_max", "L_{nb}", "level", "level", 1e-3),
    entry("sigma_q", "\u{3c3}_{q}", "1", "1", 1e-3),
    entry("sigma_m", "\u{3c3}_{m}", "1", "1", 1e-3),
    entry("i_on_lin", "I_{on,lin}", "W/m2", "W/cm2", 1.0),
    entry("isal_lin", "I_{sal,lin}", "W/m2", "W/cm2", 1.0),
    entry("p1_lin", "p_{1,lin}", "Pa", "MPa", 1e3),
    entry("sensitivity_change", "\u{394}M/M", "1", "%", 1e-4),
    entry("pr_derated", "p_{r,\u{3b1}}", "Pa", "MPa", 1e3),
    entry("isppa_derated", "I_{sppa,\u{3b1}}", "W/m2", "W/cm2", 1.0),
    entry("ispta_derated", "I_{spta,\u{3b1}}", "W/m2", "W/cm2", 1e-3),
    entry("mi", "MI", "1", "1", 1e-2),
    entry("tis", "TIS", "1", "1", 1e-2),
    entry("tib", "TIB", "1", "1", 1e-2),
    entry("tic", "TIC", "1", "1", 1e-2),
];

/// Values by the rules for diagnostic equipment: on request, in a part of their own, never judged.
pub const SAFETY: [&str; 7] =
    ["pr_derated", "isppa_derated", "ispta_derated", "mi", "tis", "tib", "tic"];

/// Whether an id is one of [`SAFETY`].
pub fn is_safety(id: &str) -> bool {
    SAFETY.contains(&id)
}

/// The catalogue's entry of an id.
pub fn entry_of(id: &str) -> Option<&'static Entry> {
    CATALOGUE.iter().find(|entry| entry.id == id)
}
