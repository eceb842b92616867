//! Uncertainties as typed: a number means nothing until its kind is stated.

use serde::{Deserialize, Serialize};

/// An uncertainty as typed. Refused without `kind`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct Uncertainty {
    /// The number: a fraction when `relative`, else in the unit of the value it belongs to.
    pub value: f64,
    /// What the number is.
    pub kind: UncertaintyKind,
    /// Coverage factor of an expanded uncertainty; 2 where blank.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub k: Option<f64>,
    /// Whether `value` is a fraction of the value it belongs to; false where blank.
    #[serde(default)]
    pub relative: bool,
}

/// What an uncertainty's number is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum UncertaintyKind {
    /// Expanded by the coverage factor `k`.
    Expanded,
    /// Standard uncertainty, one standard deviation.
    Standard,
    /// Half the width of limits within which the value is sure to lie.
    HalfWidth,
}

impl UncertaintyKind {
    /// The record's word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Expanded => "expanded",
            Self::Standard => "standard",
            Self::HalfWidth => "half-width",
        }
    }
}

impl Uncertainty {
    /// Fraction, word of its kind and coverage factor of a relative uncertainty.
    pub fn relative_parts(&self) -> Option<(f64, &'static str, f64)> {
        self.relative.then(|| (self.value, self.kind.word(), self.coverage_factor()))
    }

    /// Coverage factor of the typed number: `k` or 2 for an expanded uncertainty, else 1.
    pub fn coverage_factor(&self) -> f64 {
        match self.kind {
            UncertaintyKind::Expanded => self.k.unwrap_or(2.0),
            UncertaintyKind::Standard | UncertaintyKind::HalfWidth => 1.0,
        }
    }

    /// Standard uncertainty of a value: expanded U/k, standard u, half-width a/√3 (rectangular).
    ///
    /// # Units
    /// Those of `of_value`.
    ///
    /// # Examples
    /// 12 % expanded with k = 2 of 50 nV/Pa is 3 nV/Pa.
    ///
    /// # References
    /// JCGM 100:2008, 4.3.3 (expanded) and 4.3.7 (limits).
    pub fn standard(&self, of_value: f64) -> f64 {
        self.standard_with(of_value, Distribution::Rectangular)
    }

    /// As [`standard`](Self::standard), with another distribution between the limits of a
    /// half-width: normal a/3 (limits taken at three standard deviations), triangular a/√6,
    /// u-shaped a/√2.
    ///
    /// # References
    /// JCGM 100:2008, 4.3.7 (rectangular), 4.3.9 (triangular); JCGM 101:2008, 6.4.6 (arc sine);
    /// normal: common practice, no source.
    pub fn standard_with(&self, of_value: f64, distribution: Distribution) -> f64 {
        let number = if self.relative { self.value * of_value.abs() } else { self.value };
        match self.kind {
            UncertaintyKind::Standard => number,
            UncertaintyKind::Expanded => number / self.coverage_factor(),
            UncertaintyKind::HalfWidth => number / distribution.half_width_per_standard(),
        }
    }
}

/// A further uncertainty source that the record states.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub struct SourceEntry {
    /// Name of the source, as the budget prints it.
    pub source: String,
    /// Id of the quantity to which it applies, or a list of ids; a blank means all quantities.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub applies_to: Option<AppliesTo>,
    /// Its uncertainty.
    pub uncertainty: Uncertainty,
    /// Distribution; a blank means rectangular for a half-width, else normal.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub distribution: Option<Distribution>,
    /// Whether it is the same for all scans (systematic); a blank means that it is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub common: Option<bool>,
}

impl SourceEntry {
    /// Whether the source applies to a quantity.
    pub fn applies_to(&self, quantity: &str) -> bool {
        match &self.applies_to {
            None => true,
            Some(AppliesTo::One(id)) => id == quantity,
            Some(AppliesTo::Several(ids)) => ids.iter().any(|id| id == quantity),
        }
    }

    /// Distribution of the source, with the default filled in.
    pub fn distribution(&self) -> Distribution {
        self.distribution.unwrap_or(match self.uncertainty.kind {
            UncertaintyKind::HalfWidth => Distribution::Rectangular,
            UncertaintyKind::Expanded | UncertaintyKind::Standard => Distribution::Normal,
        })
    }

    /// Whether it is the same for all scans.
    pub fn is_common(&self) -> bool {
        self.common.unwrap_or(true)
    }

    /// Standard uncertainty of a value, by the distribution stated.
    pub fn standard(&self, of_value: f64) -> f64 {
        self.uncertainty.standard_with(of_value, self.distribution())
    }
}

/// Quantities to which an uncertainty source applies.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(untagged)]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum AppliesTo {
    /// One quantity id.
    One(String),
    /// Several quantity ids.
    Several(Vec<String>),
}

/// Distribution of an uncertainty source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(not(target_arch = "wasm32"), derive(schemars::JsonSchema))]
pub enum Distribution {
    /// Normal.
    Normal,
    /// Equally likely anywhere between its limits.
    Rectangular,
    /// Likeliest in the middle, falling linearly to the limits.
    Triangular,
    /// Likeliest at its limits, as a sinusoidal cycle is (arc sine).
    UShaped,
}

impl Distribution {
    /// Half the width of the limits over the standard deviation.
    fn half_width_per_standard(self) -> f64 {
        match self {
            Self::Normal => 3.0,
            Self::Rectangular => 3f64.sqrt(),
            Self::Triangular => 6f64.sqrt(),
            Self::UShaped => 2f64.sqrt(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(value: f64, kind: UncertaintyKind, k: Option<f64>, relative: bool) -> Uncertainty {
        Uncertainty { value, kind, k, relative }
    }

    /// JCGM 100:2008, 4.3.7, example 1: copper's expansion coefficient within ±0.40e-6 /°C has
    /// u² = 53.3e-15, u = 0.23e-6 /°C. Value from memory.
    #[test]
    fn half_width_is_the_guide_s_copper_example() {
        let u = typed(0.40e-6, UncertaintyKind::HalfWidth, None, false).standard(16.52e-6);
        assert!((u * u - 53.3e-15).abs() < 0.05e-15, "{u}");
        assert!((u - 0.23e-6).abs() < 0.005e-6, "{u}");
    }

    /// JCGM 100:2008, 4.3.3, example: a mass standard of 1000.000325 g whose certificate says
    /// 240 µg at the three standard deviation level has u = 80 µg. Value from memory.
    #[test]
    fn expanded_is_the_guide_s_mass_example() {
        let u = typed(240e-6, UncertaintyKind::Expanded, Some(3.0), false).standard(1000.000325);
        assert!((u - 80e-6).abs() < 1e-15, "{u}");
    }

    /// By hand: 12 % with k = 2 (also when blank) of 50 nV/Pa is 3 nV/Pa.
    #[test]
    fn relative_uncertainty_takes_the_magnitude() {
        for k in [None, Some(2.0)] {
            let u = typed(0.12, UncertaintyKind::Expanded, k, true);
            assert!((u.standard(50e-9) - 3e-9).abs() < 1e-20);
            assert!((u.standard(-50e-9) - 3e-9).abs() < 1e-20);
        }
        assert_eq!(typed(0.5, UncertaintyKind::Standard, None, false).standard(9.0), 0.5);
    }

    /// JCGM 100:2008, 4.3.9: a triangle of half-width a has the variance a²/6. JCGM 101:2008,
    /// 6.4.6: the arc sine on ±a has a²/2. Checked against sampled variances.
    #[test]
    fn distributions_have_their_variances() {
        let n = 200_000;
        let variance = |inverse: &dyn Fn(f64) -> f64| {
            (0..n).map(|i| inverse((i as f64 + 0.5) / n as f64).powi(2)).sum::<f64>() / n as f64
        };
        let triangle = |p: f64| {
            if p < 0.5 { (2.0 * p).sqrt() - 1.0 } else { 1.0 - (2.0 - 2.0 * p).sqrt() }
        };
        let arc_sine = |p: f64| (std::f64::consts::PI * (p - 0.5)).sin();
        let limits = typed(1.0, UncertaintyKind::HalfWidth, None, false);
        for (distribution, sampled) in [
            (Distribution::Rectangular, variance(&|p| 2.0 * p - 1.0)),
            (Distribution::Triangular, variance(&triangle)),
            (Distribution::UShaped, variance(&arc_sine)),
        ] {
            let u = limits.standard_with(1.0, distribution);
            assert!((u * u - sampled).abs() < 1e-4, "{distribution:?} {u} {sampled}");
        }
    }

    #[test]
    fn a_source_applies_to_what_it_names() {
        let mut entry = SourceEntry {
            source: "alignment".to_owned(),
            applies_to: None,
            uncertainty: typed(0.02, UncertaintyKind::HalfWidth, None, true),
            distribution: None,
            common: None,
        };
        assert!(entry.applies_to("pc") && entry.is_common());
        assert_eq!(entry.distribution(), Distribution::Rectangular);
        entry.applies_to = Some(AppliesTo::One("pr".to_owned()));
        assert!(entry.applies_to("pr") && !entry.applies_to("pc"));
        entry.applies_to = Some(AppliesTo::Several(vec!["pc".to_owned(), "td".to_owned()]));
        assert!(entry.applies_to("td") && !entry.applies_to("pr"));
        entry.distribution = Some(Distribution::Triangular);
        assert!((entry.standard(6f64.sqrt()) - 0.02).abs() < 1e-15);
    }
}
