//! Remarks on the fitness of the data. Errors stop; findings travel with the results.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

/// How grave a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// Worth knowing; the numbers stand.
    Note,
    /// The numbers stand with a reservation.
    Caution,
    /// Numbers that rest on this scan must not be relied on.
    Unfit,
}

/// Where a finding or a problem belongs.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Place {
    /// File as the user named it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub file: Option<String>,
    /// Path inside the file: JSON path, array path, or `row 12`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub path: Option<String>,
    /// Scan id of the record.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub scan: Option<String>,
    /// Quantity id.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub quantity: Option<String>,
    /// Index of a point in its scan, storage order.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub point: Option<usize>,
}

/// A typed blank of a sentence. Dimensioned numbers name their unit, so that the wording can
/// print them as the trade does.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(untagged)]
pub enum Arg {
    Count(u64),
    Number(f64),
    Text(String),
    List(Vec<String>),
    Measure { value: f64, unit: String },
}

/// Arguments of a sentence by name.
pub type Args = BTreeMap<String, Arg>;

impl Arg {
    /// A number in an SI unit, for example `Arg::measure(0.003, "m")`.
    pub fn measure(value: f64, unit: &str) -> Self {
        Self::Measure { value, unit: unit.to_owned() }
    }
}

impl From<f64> for Arg {
    fn from(value: f64) -> Self {
        Self::Number(value)
    }
}
impl From<usize> for Arg {
    fn from(value: usize) -> Self {
        Self::Count(value as u64)
    }
}
impl From<u64> for Arg {
    fn from(value: u64) -> Self {
        Self::Count(value)
    }
}
impl From<&str> for Arg {
    fn from(value: &str) -> Self {
        Self::Text(value.to_owned())
    }
}
impl From<String> for Arg {
    fn from(value: String) -> Self {
        Self::Text(value)
    }
}
impl From<Vec<String>> for Arg {
    fn from(value: Vec<String>) -> Self {
        Self::List(value)
    }
}

/// A remark on the fitness of the data, printed on the sheet.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Finding {
    pub severity: Severity,
    /// Names the sentence in the wording files.
    pub code: String,
    pub place: Place,
    #[serde(default)]
    pub args: Args,
}

impl Finding {
    /// A finding of the given gravity and kind, still without a place.
    pub fn new(severity: Severity, code: &str) -> Self {
        Self { severity, code: code.to_owned(), place: Place::default(), args: Args::new() }
    }

    /// Says which scan the finding concerns.
    #[must_use]
    pub fn in_scan(mut self, scan: &str) -> Self {
        self.place.scan = Some(scan.to_owned());
        self
    }

    /// Says which quantity the finding concerns.
    #[must_use]
    pub fn on(mut self, quantity: &str) -> Self {
        self.place.quantity = Some(quantity.to_owned());
        self
    }

    /// Says which file the finding concerns.
    #[must_use]
    pub fn in_file(mut self, file: &str) -> Self {
        self.place.file = Some(file.to_owned());
        self
    }

    /// Says which blank of the record would settle it.
    #[must_use]
    pub fn at(mut self, path: &str) -> Self {
        self.place.path = Some(path.to_owned());
        self
    }

    /// Adds an argument of the sentence.
    #[must_use]
    pub fn with(mut self, name: &str, value: impl Into<Arg>) -> Self {
        self.args.insert(name.to_owned(), value.into());
        self
    }
}
