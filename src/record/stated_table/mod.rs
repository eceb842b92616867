//! Stated values as a table: CSV, TSV, or cells pasted from a spreadsheet, columns by heading.
//!
//! | column | holds |
//! |---|---|
//! | `quantity` | id, symbol, English name, or another name of the trade |
//! | `value` | number, with its unit if no column gives it; `≤ 9` sets a limit on one side |
//! | `unit` | unit of the value; may stand in the heading: `value (MPa)` |
//! | `tolerance` | `±15 %`, `+20 % / -10 %`, `±0.5 MPa`, `max`, `min` |
//! | `uncertainty` | with its kind, here or in `kind`: `12 % (k=2)`, `5 % standard` |
//! | `kind` `k` `level` `scan` `origin` `window` `time base` `medium` | as in the record |
//!
//! The delimiter is the tab, else the semicolon, else the comma, whichever the heading holds first.

mod heading;
mod names;
pub(super) mod number;
pub(super) mod tolerance;
pub(super) mod uncertainty;

use heading::{Column, Heading, headings};
pub(super) use names::known as known_names;
pub use names::other_names;
use number::Fault;
use tolerance::{Owner, Wrong};
use uncertainty::WrongUncertainty;

use super::check::of_stated;
use super::nearest::nearest;
use super::path::shortened;
use super::{Record, Stated};
use crate::base::error::{Problem, Problems};
use crate::base::finding::Arg;
use crate::base::quantity::entry_of;
use crate::base::typed_unit;

/// Largest table that is read, bytes, and rows.
pub const MAX_TABLE_BYTES: usize = 1 << 20;
const MAX_ROWS: usize = 1000;

/// Adds the stated values of a table to a record; `file` is its name as the user knows it.
///
/// # Errors
/// All problems of the table at once, each with its line.
pub fn with_stated_table(mut record: Record, bytes: &[u8], file: &str) -> Result<Record, Problems> {
    let place = |problems: Problems| -> Problems {
        problems.into_iter().map(|problem| problem.in_file(file)).collect()
    };
    let rows = read(bytes).map_err(place)?;
    let mut problems = Problems::new();
    for (line, stated) in &rows {
        for mut problem in of_stated(&record, stated, &format!("line {line}")) {
            problem.place.path = problem.place.path.map(|path| path.replacen('.', ", ", 1));
            problems.push(problem);
        }
    }
    if !problems.is_empty() {
        return Err(place(problems));
    }
    record.stated.extend(rows.into_iter().map(|(_, stated)| stated));
    Ok(record)
}

/// The rows of a table as they are written in a record.
///
/// # Errors
/// As [`with_stated_table`], without a file's name.
pub fn stated_rows(record: &Record, bytes: &[u8]) -> Result<Vec<Stated>, Problems> {
    let own = record.stated.len();
    let with = with_stated_table(record.clone(), bytes, "").map_err(|problems| {
        problems
            .into_iter()
            .map(|mut problem| {
                problem.place.file = None;
                problem
            })
            .collect::<Problems>()
    })?;
    Ok(with.stated.into_iter().skip(own).collect())
}

/// Stated values with their lines.
fn read(bytes: &[u8]) -> Result<Vec<(u64, Stated)>, Problems> {
    if bytes.len() > MAX_TABLE_BYTES {
        let problem = Problem::new("stated-table-too-long");
        return Err(vec![problem.with("limit", format!("{} KiB", MAX_TABLE_BYTES >> 10))]);
    }
    let text = match std::str::from_utf8(bytes) {
        Ok(text) => text.trim_start_matches('\u{feff}').to_owned(),
        // Latin-1, as spreadsheets save it.
        Err(_) => bytes.iter().map(|byte| char::from(*byte)).collect(),
    };
    if text.contains('\0') || text.starts_with("ÿþ") || text.starts_with("þÿ") {
        return Err(vec![Problem::new("stated-table-not-text")]);
    }
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(delimiter(&text))
        .has_headers(false)
        .flexible(true)
        .comment(Some(b'#'))
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let mut columns: Option<Vec<Heading>> = None;
    let mut out = Vec::new();
    let mut problems = Problems::new();
    for row in reader.records() {
        let Ok(row) = row else {
            problems.push(Problem::new("stated-table-not-text"));
            break;
        };
        let line = row.position().map_or(0, csv::Position::line);
        if row.iter().all(str::is_empty) {
            continue;
        }
        let at = |problem: Problem| problem.at(format!("line {line}"));
        let Some(columns) = &columns else {
            let found = headings(row.iter());
            columns = Some(found.map_err(|found| found.into_iter().map(at).collect::<Problems>())?);
            continue;
        };
        if row.iter().skip(columns.len()).any(|cell| !cell.is_empty()) {
            let problem = Problem::new("stated-table-too-many-cells");
            problems.push(at(problem.with("expected", columns.len()).with("found", row.len())));
            continue;
        }
        let cells = Cells { columns, row: &row };
        match cells.stated() {
            Ok(stated) => out.push((line, stated)),
            Err(found) => problems.extend(found.into_iter().map(at)),
        }
        if out.len() > MAX_ROWS {
            problems.push(
                Problem::new("stated-table-too-long").with("limit", format!("{MAX_ROWS} rows")),
            );
            break;
        }
    }
    if out.is_empty() && problems.is_empty() {
        problems.push(Problem::new("stated-table-empty"));
    }
    if problems.is_empty() { Ok(out) } else { Err(problems) }
}

fn delimiter(text: &str) -> u8 {
    let heading = text.lines().find(|line| !line.trim().is_empty() && !line.starts_with('#'));
    let heading = heading.unwrap_or_default();
    [b'\t', b';'].into_iter().find(|mark| heading.as_bytes().contains(mark)).unwrap_or(b',')
}

/// One row under its headings.
struct Cells<'a> {
    columns: &'a [Heading],
    row: &'a csv::StringRecord,
}

impl Cells<'_> {
    fn get(&self, column: Column) -> &str {
        self.columns
            .iter()
            .position(|heading| heading.column == column)
            .and_then(|at| self.row.get(at))
            .unwrap_or_default()
    }

    fn bracket(&self, column: Column) -> Option<&str> {
        let heading = self.columns.iter().find(|heading| heading.column == column)?;
        heading.bracket.as_deref()
    }

    fn text(&self, column: Column) -> Option<String> {
        Some(self.get(column).to_owned()).filter(|text| !text.is_empty())
    }

    /// The row as a stated value.
    fn stated(&self) -> Result<Stated, Problems> {
        let id = self.quantity().map_err(|problem| vec![problem])?;
        let si = entry_of(id).map_or("", |entry| entry.unit);
        let mut problems = Problems::new();
        let mut keep = |problem: Problem| problems.push(problem);
        let (limit, value) = split_limit(self.get(Column::Value));
        let (value, unit_beside) = number::number(value).unwrap_or_else(|fault| {
            keep(number_problem(fault, "value", value));
            (0.0, "")
        });
        let unit = [self.get(Column::Unit), unit_beside].into_iter().find(|unit| !unit.is_empty());
        let unit = unit.or(self.bracket(Column::Value));
        let owner = |column: Column| Owner {
            si,
            unit: unit.unwrap_or(si),
            heading: self
                .bracket(column)
                .filter(|bracket| *bracket == "%" || typed_unit::factor(si, bracket).is_some()),
        };
        // A unit that does not fit is told by the checks of the record.
        let fits = typed_unit::factor(si, unit.unwrap_or_default()).is_some();
        let typed = self.get(Column::Tolerance);
        let tolerance = match tolerance::tolerance(typed, owner(Column::Tolerance)) {
            Ok(found) => found.or(limit),
            Err(_) if !fits => None,
            Err(wrong) => {
                keep(limits_problem(wrong, "tolerance", typed, si));
                None
            }
        };
        let typed = self.get(Column::Uncertainty);
        let k = self.get(Column::CoverageFactor);
        let beside = [
            self.bracket(Column::Uncertainty).unwrap_or_default(),
            self.get(Column::Kind),
            &if k.is_empty() { String::new() } else { format!("k = {k}") },
        ]
        .join(" ");
        let uncertainty = match uncertainty::uncertainty(typed, &beside, owner(Column::Uncertainty))
        {
            Ok(found) => found,
            Err(_) if !fits => None,
            Err(WrongUncertainty::NoKind) => {
                keep(Problem::new("stated-table-no-kind").with("found", shortened(typed, 40)));
                None
            }
            Err(WrongUncertainty::CoverageFactor) => {
                keep(number_problem(Fault::NotANumber, "k", typed));
                None
            }
            Err(WrongUncertainty::Number(Wrong::Number(fault))) => {
                keep(number_problem(fault, "uncertainty", typed));
                None
            }
            Err(WrongUncertainty::Number(wrong)) => {
                keep(limits_problem(wrong, "uncertainty", typed, si));
                None
            }
        };
        let level = self.get(Column::Level);
        let level = (!level.is_empty()).then(|| number::bare(level)).and_then(|read| {
            read.map_err(|fault| keep(number_problem(fault, "level", level))).ok()
        });
        let stated = Stated {
            quantity: id.to_owned(),
            scan: self.text(Column::Scan),
            level,
            window: self.word(Column::Window, "window", &mut keep),
            time_base: self.word(Column::TimeBase, "time base", &mut keep),
            medium: self.word(Column::Medium, "medium", &mut keep),
            value,
            unit: unit.map(str::to_owned),
            uncertainty,
            tolerance,
            origin: self.text(Column::Origin),
        };
        if problems.is_empty() { Ok(stated) } else { Err(problems) }
    }

    /// The id of the quantity.
    fn quantity(&self) -> Result<&'static str, Problem> {
        let typed = self.get(Column::Quantity);
        match names::ids_of(typed).as_slice() {
            [id] => Ok(*id),
            [] => {
                let problem = Problem::new("stated-table-unknown-quantity")
                    .with("found", shortened(typed, 60));
                let near = nearest(typed, names::known().map(|(word, _)| word));
                let id = near.and_then(|(word, _)| names::known().find(|(w, _)| *w == word));
                Err(match id {
                    Some((_, id)) => problem.with("nearest", id),
                    None => problem,
                })
            }
            several => Err(Problem::new("stated-table-ambiguous-quantity")
                .with("found", shortened(typed, 60))
                .with("allowed", several.iter().map(|id| (*id).to_owned()).collect::<Vec<_>>())),
        }
    }

    /// A cell that holds one of the record's words.
    fn word<T: serde::de::DeserializeOwned>(
        &self,
        column: Column,
        name: &str,
        keep: &mut dyn FnMut(Problem),
    ) -> Option<T> {
        let typed = self.get(column);
        if typed.is_empty() {
            return None;
        }
        let word = typed.to_lowercase().replace(' ', "-");
        let read = serde_json::from_value(serde_json::Value::String(word)).ok();
        if read.is_none() {
            let allowed: &[&str] = match column {
                Column::Window => &["whole-pulse", "steady-state"],
                Column::TimeBase => &["on", "tank", "exposure"],
                _ => &["water", "derated"],
            };
            let allowed: Vec<String> = allowed.iter().map(|word| (*word).to_owned()).collect();
            keep(
                Problem::new("stated-table-not-one-of")
                    .with("column", name)
                    .with("found", shortened(typed, 40))
                    .with("allowed", allowed),
            );
        }
        read
    }
}

/// `≤ 9` is a limit on one side and 9.
pub(super) fn split_limit(cell: &str) -> (Option<super::Tolerance>, &str) {
    let end = cell.find(|c: char| c.is_ascii_digit() || matches!(c, '+' | '-' | '−' | '.' | ','));
    let (word, rest) = cell.split_at(end.unwrap_or(0));
    match tolerance::limit_word(word) {
        Some(limit) => (Some(limit), rest),
        None => (None, cell),
    }
}

fn number_problem(fault: Fault, column: &str, found: &str) -> Problem {
    let problem = match fault {
        Fault::Ambiguous => Problem::new("stated-table-ambiguous-number"),
        Fault::NotANumber => Problem::new("stated-table-not-a-number"),
    };
    problem.with("column", column).with("found", shortened(found, 40))
}

fn limits_problem(wrong: Wrong, column: &str, found: &str, si: &str) -> Problem {
    let problem = match wrong {
        Wrong::Number(Fault::Ambiguous) => return number_problem(Fault::Ambiguous, column, found),
        Wrong::Number(Fault::NotANumber) | Wrong::Form => {
            Problem::new("stated-table-not-understood")
        }
        Wrong::NoUnit => Problem::new("stated-table-no-unit"),
        Wrong::Unit => Problem::new("stated-table-wrong-unit"),
        Wrong::PercentOfPercent => Problem::new("stated-table-percent-of-percent"),
    };
    let units: Vec<String> = typed_unit::fitting(si).iter().map(|u| (*u).to_owned()).collect();
    problem
        .with("column", column)
        .with("found", shortened(found, 40))
        .with("allowed", Arg::List(units))
}

#[cfg(test)]
mod tests;
