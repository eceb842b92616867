//! What is in a file, and how it would be read.

use std::sync::Arc;

use crate::base::error::{Problem, Problems};
use crate::base::finding::Finding;
use crate::formats::container::{Attribute, Container, NumberKind};
use crate::formats::{self, source::Source};
use crate::scan::{layout, locate};

/// Values of an array that are shown.
const FIRST: u64 = 4;

/// One array of a file.
#[derive(Debug, Clone, PartialEq)]
pub struct ArrayLook {
    pub path: String,
    /// As the program that wrote the file shows it.
    pub shape: Vec<u64>,
    /// `int16`, `float32`, …; empty for what is no number.
    pub kind: String,
    /// Name and value as text.
    pub attributes: Vec<(String, String)>,
    pub first: Vec<f64>,
    pub more: bool,
}

/// A way to read the file as a scan.
#[derive(Debug, Clone, PartialEq)]
pub struct ProposedLook {
    pub array: String,
    /// `t 1500 × y 41 × x 61`.
    pub axes: String,
    pub role: String,
    /// The layout as it is written in a record.
    pub snippet: String,
    pub reasons: Vec<Finding>,
    pub lacking: Problems,
}

/// What is in a file.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Look {
    pub arrays: Vec<ArrayLook>,
    /// Attributes of the root.
    pub attributes: Vec<(String, String)>,
    /// What the reader passed over.
    pub notes: Problems,
    /// Paths of waveforms that describe themselves; nothing has to be proposed then.
    pub described: Vec<String>,
    pub proposals: Vec<ProposedLook>,
}

/// Lists a file and proposes layouts.
///
/// # Errors
/// All that is wrong with the file.
pub fn look(name: &str, source: Arc<dyn Source>) -> Result<Look, Problems> {
    let container = formats::open(name, source)?;
    let described: Vec<String> =
        locate(container.as_ref()).iter().map(|array| array.path.clone()).collect();
    let proposals = if described.is_empty() {
        layout::propose(container.as_ref())
            .into_iter()
            .map(|p| ProposedLook {
                axes: p.axes(),
                snippet: p.snippet(),
                array: p.array,
                role: p.role.as_str().to_owned(),
                reasons: p.reasons,
                lacking: p.lacking,
            })
            .collect()
    } else {
        Vec::new()
    };
    Ok(Look {
        arrays: arrays(container.as_ref()),
        attributes: texts(&container.group_attributes("")),
        notes: container.notes(),
        described,
        proposals,
    })
}

/// All values of one array, row-major as the program that wrote the file shows it… that is, in storage
/// order where it is not `reversed`.
///
/// # Errors
/// When there is no such array or it cannot be read.
pub fn values(name: &str, source: Arc<dyn Source>, path: &str) -> Result<Vec<f64>, Problems> {
    let container = formats::open(name, source)?;
    let one = |problem: Problem| vec![problem.in_file(name)];
    let array =
        container.array(path).ok_or_else(|| one(Problem::new("array-missing").at(path)))?.clone();
    container.read_numbers(&array.path, 1 << 24).map_err(one)
}

fn arrays(container: &dyn Container) -> Vec<ArrayLook> {
    container
        .arrays()
        .iter()
        .map(|array| {
            let first = if array.kind == NumberKind::Other || array.elements() == 0 {
                Vec::new()
            } else {
                let start = vec![0; array.shape.len()];
                let mut count = vec![1; array.shape.len()];
                if let (Some(c), Some(n)) = (count.last_mut(), array.shape.last()) {
                    *c = (*n).min(FIRST);
                }
                container.read(&array.path, &start, &count).map(|s| s.to_f64()).unwrap_or_default()
            };
            let kind = match array.kind {
                NumberKind::Integer { bits, signed } => {
                    format!("{}int{bits}", if signed { "" } else { "u" })
                }
                NumberKind::Float { bits } => format!("float{bits}"),
                NumberKind::Other => String::new(),
            };
            ArrayLook {
                path: array.path.clone(),
                shape: layout::shown(array),
                kind,
                attributes: texts(&array.attributes),
                more: array.elements() > first.len() as u64,
                first,
            }
        })
        .collect()
}

fn texts(attributes: &std::collections::BTreeMap<String, Attribute>) -> Vec<(String, String)> {
    attributes
        .iter()
        .map(|(name, value)| {
            let text = match value {
                Attribute::Text(text) => text.clone(),
                Attribute::Numbers(numbers) => {
                    let few: Vec<String> = numbers.iter().take(6).map(f64::to_string).collect();
                    let more = if numbers.len() > few.len() { ", …" } else { "" };
                    format!("{}{more}", few.join(", "))
                }
            };
            (name.clone(), text)
        })
        .collect()
}
