//! Results into words: the sheet as data (`sheet.json`) and as a model for renderers and figures.

mod budgets;
mod calibration;
mod calibration_figures;
mod changes;
mod conditions;
mod depths;
mod distance_items;
mod drawings;
mod drive;
mod drive_unit;
mod entries;
mod front;
mod further_maps;
mod glossary;
mod limits;
mod look;
pub mod model;
mod pick;
mod point_wave;
mod pointing;
mod pressure_profiles;
mod provenance;
mod quantity_rows;
mod remarks;
mod repeats;
mod revisits;
pub mod rounding;
mod safety;
mod saved;
mod sections;
mod sensor_items;
mod stated_uncertainty;
mod verdict_sentence;
mod verdicts;
mod waveform_uncertainty;
pub mod wording;

pub use crate::base::plain_symbols::plain_symbols;
pub use entries::sheet;
pub use look::look_lines;
pub use pick::{PickText, WrongText, pick_text, preview_text, wrong_texts};
pub use point_wave::{PointWave, point_wave};
pub use pointing::{WaveAt, point_text, wave_at};
pub use provenance::sheet_number;
pub use remarks::{ProblemText, problem_texts, rank};
pub use saved::compared;

use crate::analysis::Results;
use crate::base::finding::Severity;
use crate::base::sheet::Sheet;
use model::SheetModel;
use wording::Wording;

/// Software and version, as printed and as written into `sheet.json`.
pub fn software() -> String {
    format!("Focalsheet {}", env!("CARGO_PKG_VERSION"))
}

/// The sheet as a model: everything worded and rounded.
pub fn model(results: &Results, sheet: &Sheet, words: &dyn Wording) -> SheetModel {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let number = sheet.number.clone().unwrap_or_else(|| label("number-pending"));
    let device = [&results.record.device.description, &results.record.device.serial]
        .into_iter()
        .flatten()
        .cloned()
        .collect::<Vec<_>>()
        .join(", ");
    SheetModel {
        language: words.tag().to_owned(),
        front: front::front(results, sheet, words),
        sections: sections::sections(results, sheet, words),
        running_head: if device.is_empty() {
            number.clone()
        } else {
            format!("{number} · {device}")
        },
        running_foot: format!("{} · {}", software(), label("running-caution")),
    }
}

/// The findings of a sheet as rows, gravest first: the order of the sheet's own list.
pub fn finding_rows(sheet: &Sheet, words: &dyn Wording) -> Vec<model::FindingRow> {
    rank(&sheet.findings).into_iter().map(|finding| sections::finding_row(finding, words)).collect()
}

/// The word of a severity.
pub fn severity_word(severity: Severity, words: &dyn Wording) -> &'static str {
    words.label(remarks::severity_key(severity)).unwrap_or_default()
}

/// The progress line: points done, points a second, seconds left.
pub fn progress(done: f64, all: f64, seconds: f64, words: &dyn Wording) -> String {
    let marks = words.marks();
    let whole = |v: f64| format!("{:.0}", v.max(0.0));
    let per_second = if seconds > 0.0 { done / seconds } else { 0.0 };
    let left = if per_second > 0.0 { (all - done) / per_second } else { 0.0 };
    let rate = rounding::digits(per_second, 2, marks);
    words.progress(&whole(done), &whole(all), &rate, &whole(left.ceil()))
}

/// A file's name with its size.
pub fn file_and_size(name: &str, bytes: f64, words: &dyn Wording) -> String {
    let marks = words.marks();
    let (value, unit) = if bytes < 1e6 { (bytes / 1e3, "kB") } else { (bytes / 1e6, "MB") };
    format!("{name} ({}\u{a0}{unit})", rounding::digits(value, 3, marks))
}

/// How many bytes of a file were read so far.
pub fn reading(bytes: u64, words: &dyn Wording) -> String {
    words.reading(&(bytes >> 20).to_string())
}
