//! A source of uncertainty with its value.

use crate::base::budget::LeftOut;
use crate::record::Distribution;

/// Where a source's value is from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// The record states it.
    Record,
    /// Nothing is stated: a value that common practice would not exceed.
    Default,
    /// The data show it.
    Data,
}

impl Origin {
    /// The word of `sheet.json`.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Record => "record",
            Self::Default => "default",
            Self::Data => "data",
        }
    }
}

/// A source with its standard uncertainty.
#[derive(Debug, Clone, PartialEq)]
pub struct Source {
    pub id: String,
    /// Standard uncertainty, in `unit`.
    pub u: f64,
    /// `1` for a fraction.
    pub unit: &'static str,
    pub distribution: Distribution,
    /// Degrees of freedom; `None` where they are infinite.
    pub nu: Option<f64>,
    /// The same in every measurement with these means.
    pub common: bool,
    pub origin: Origin,
    /// Path in the record, or the code of the default or estimate.
    pub from: String,
}

/// The sources of a scan.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Sources {
    pub known: Vec<Source>,
    /// Those without a value.
    pub left_out: Vec<LeftOut>,
}

impl Sources {
    /// The source of an id.
    pub fn of(&self, id: &str) -> Option<&Source> {
        self.known.iter().find(|source| source.id == id)
    }

    /// Notes a source without a value.
    pub fn leave_out(&mut self, source: &str, reason: &str, blank: Option<&str>) {
        self.left_out.push(LeftOut {
            source: source.to_owned(),
            reason: reason.to_owned(),
            blank: blank.map(str::to_owned),
        });
    }
}

/// The word of `sheet.json` for a distribution.
pub fn distribution_word(distribution: Distribution) -> &'static str {
    match distribution {
        Distribution::Normal => "normal",
        Distribution::Rectangular => "rectangular",
        Distribution::Triangular => "triangular",
        Distribution::UShaped => "u-shaped",
    }
}
