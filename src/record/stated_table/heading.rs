//! The columns of a table of stated values, by their headings.

use crate::base::error::{Problem, Problems};
use crate::record::nearest::nearest;
use crate::record::path::shortened;

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Column {
    Quantity,
    Value,
    Unit,
    Tolerance,
    Uncertainty,
    Kind,
    CoverageFactor,
    Level,
    Scan,
    Origin,
    Window,
    TimeBase,
    Medium,
    /// A remark, passed over.
    Note,
}

/// Headings, in the order in which a message names them.
const WORDS: &[(&str, Column)] = &[
    ("quantity", Column::Quantity),
    ("value", Column::Value),
    ("unit", Column::Unit),
    ("tolerance", Column::Tolerance),
    ("uncertainty", Column::Uncertainty),
    ("kind", Column::Kind),
    ("k", Column::CoverageFactor),
    ("level", Column::Level),
    ("scan", Column::Scan),
    ("origin", Column::Origin),
    ("window", Column::Window),
    ("time base", Column::TimeBase),
    ("medium", Column::Medium),
    ("note", Column::Note),
    ("stated", Column::Value),
    ("stated value", Column::Value),
    ("units", Column::Unit),
    ("uncertainty kind", Column::Kind),
    ("coverage factor", Column::CoverageFactor),
    ("source", Column::Origin),
    ("comment", Column::Note),
    ("remark", Column::Note),
];
/// So many of them are named.
const NAMED: usize = 14;

/// A heading: what its column holds, and what stands in brackets after it.
#[derive(Debug, Clone, PartialEq)]
pub struct Heading {
    pub column: Column,
    /// Unit or remark in brackets, as typed.
    pub bracket: Option<String>,
}

/// The headings of a table.
///
/// # Errors
/// Headings that are not known, that stand twice, or that lack.
pub fn headings<'a>(cells: impl Iterator<Item = &'a str>) -> Result<Vec<Heading>, Problems> {
    let mut out: Vec<Heading> = Vec::new();
    let mut problems = Problems::new();
    for cell in cells {
        let (word, bracket) = split(cell);
        if word.is_empty() {
            out.push(Heading { column: Column::Note, bracket: None });
            continue;
        }
        let plain = word.replace('_', " ").to_lowercase();
        match WORDS.iter().find(|(known, _)| *known == plain) {
            Some((_, column)) => {
                let twice = out.iter().any(|h| h.column == *column && *column != Column::Note);
                if twice {
                    problems.push(
                        Problem::new("stated-table-column-twice")
                            .with("found", shortened(cell, 40)),
                    );
                }
                out.push(Heading { column: *column, bracket });
            }
            None => {
                let mut problem =
                    Problem::new("stated-table-unknown-column").with("found", shortened(cell, 40));
                if let Some((near, _)) = nearest(&plain, WORDS.iter().map(|(word, _)| *word)) {
                    problem = problem.with("nearest", near);
                }
                problems.push(problem.with("allowed", named()));
            }
        }
    }
    for (needed, column) in &WORDS[..2] {
        if !out.iter().any(|heading| heading.column == *column) {
            problems.push(Problem::new("stated-table-no-column").with("expected", *needed));
        }
    }
    if problems.is_empty() { Ok(out) } else { Err(problems) }
}

fn named() -> Vec<String> {
    WORDS.iter().take(NAMED).map(|(word, _)| (*word).to_owned()).collect()
}

/// `value (MPa)` is `value` and `MPa`.
fn split(cell: &str) -> (&str, Option<String>) {
    let cell = cell.trim();
    let Some(open) = cell.find(['(', '[']) else { return (cell, None) };
    let inside = cell[open + 1..].trim_end_matches([')', ']']).trim();
    let bracket = (!inside.is_empty()).then(|| inside.to_owned());
    (cell[..open].trim(), bracket)
}
