//! The last step that both shells share: results into everything a person takes away.

use std::collections::BTreeMap;

use crate::analysis::Results;
use crate::base::error::Problems;
use crate::base::finding::Severity;
use crate::base::sheet::{InputFile, Sheet};
use crate::figures::{self, Look};
use crate::record::{self, Record};
use crate::render::{csv, html, json};
use crate::report::model::{Block, Figure, SheetModel};
use crate::report::{self, wording::Wording};

/// A finished sheet in all its forms.
#[derive(Debug, Clone)]
pub struct Outputs {
    pub sheet: Sheet,
    pub model: SheetModel,
    /// `sheet.json`.
    pub json: String,
    /// `quantities.csv`.
    pub csv: String,
    /// `sheet.html`: complete, without script.
    pub document: String,
    /// Finished figures by id.
    pub figures: BTreeMap<String, String>,
    /// Whether every scan is fit for use.
    pub fit: bool,
}

/// Figures that were drawn before, each with what it shows.
#[derive(Debug, Default)]
pub struct Drawings(BTreeMap<String, (Figure, Look, String)>);

impl Drawings {
    /// The finished SVG of a figure.
    pub fn finished(&self, id: &str) -> Option<&str> {
        self.0.get(id).map(|(_, _, svg)| svg.as_str())
    }

    /// A figure by its id, with the look it was drawn in.
    pub fn figure(&self, id: &str) -> Option<(&Figure, Look)> {
        self.0.get(id).map(|(figure, look, _)| (figure, *look))
    }

    /// The figure drawn, or as it was drawn before.
    fn svg(&mut self, figure: &Figure, look: Look) -> Option<String> {
        // A width that cannot hold the figure gives way to its own.
        let look = match figures::size_pt(figure, &look) {
            Ok(_) => look,
            Err(_) => Look::default(),
        };
        if let Some((of, at, svg)) = self.0.get(&figure.id)
            && of == figure
            && *at == look
        {
            return Some(svg.clone());
        }
        let svg = figures::svg_with(figure, &look).ok()?;
        self.0.insert(figure.id.clone(), (figure.clone(), look, svg.clone()));
        Some(svg)
    }
}

/// A sheet as it is shown, before anything is written to be kept.
#[derive(Debug, Clone)]
pub struct Shown {
    pub sheet: Sheet,
    pub model: SheetModel,
    /// Finished figures by id.
    pub figures: BTreeMap<String, String>,
    /// Whether every scan is fit for use.
    pub fit: bool,
}

impl Shown {
    /// The sheet's front and sections, each one element, for the page.
    pub fn parts(&self) -> Vec<String> {
        html::parts(&self.model, &self.figures)
    }

    /// Running head and foot for printing from the page.
    pub fn page_style(&self) -> String {
        html::page_style(&self.model)
    }

    /// All that is kept of it.
    ///
    /// # Errors
    /// When a result is not a finite number.
    pub fn complete(self) -> Result<Outputs, Problems> {
        let json = json::sheet_json(&self.sheet)?;
        Ok(Outputs {
            csv: csv::quantities_csv(&self.sheet),
            document: html::document(&self.model, &self.figures, &json),
            fit: self.fit,
            figures: self.figures,
            json,
            sheet: self.sheet,
            model: self.model,
        })
    }
}

/// Words, draws and renders results. `record` is the record as typed, `inputs` the files.
///
/// # Errors
/// When a result is not a finite number; a figure that cannot be drawn is left out and said so.
pub fn outputs(
    results: &Results,
    record: serde_json::Value,
    inputs: &[InputFile],
    words: &dyn Wording,
) -> Result<Outputs, Problems> {
    shown(results, record, inputs, words, &mut Drawings::default()).complete()
}

/// Words results, and draws the figures that are not as before.
pub fn shown(
    results: &Results,
    mut record: serde_json::Value,
    inputs: &[InputFile],
    words: &dyn Wording,
    drawings: &mut Drawings,
) -> Shown {
    record::with_layouts(&mut record, &results.layouts);
    let sheet = report::sheet(results, record, inputs, words);
    let model = report::model(results, &sheet, words);
    let widths = html::figure_widths_mm(&model);
    let mut drawn = BTreeMap::new();
    for figure in all_figures(&model) {
        let look =
            Look { width_mm: widths.get(&figure.id).copied(), decimal_mark: words.marks().decimal };
        if let Some(svg) = drawings.svg(figure, look) {
            drawn.insert(figure.id.clone(), svg);
        }
    }
    let fit = results.scans.iter().all(|scan| scan.fitness < Severity::Unfit);
    Shown { sheet, model, figures: drawn, fit }
}

fn all_figures(model: &SheetModel) -> Vec<&Figure> {
    let sections = model.sections.iter().flat_map(|section| &section.blocks);
    let in_sections = sections.filter_map(|block| match block {
        Block::Figures { figures } => Some(figures),
        _ => None,
    });
    model.front.figures.iter().chain(in_sections.flatten()).collect()
}

/// The role of a file in a record: a scan's, `response`, `stated`, `record`, or `unused`.
pub fn role_of(record: &Record, record_name: &str, file: &str) -> &'static str {
    let same = |name: &str| crate::analysis::same_file(name, file);
    if file == record_name {
        return "record";
    }
    if let Some(scan) = record.scans.iter().find(|scan| same(&scan.file)) {
        return scan.role.as_str();
    }
    if record.stated_file.as_deref().is_some_and(same) {
        return "stated";
    }
    if record.table_files().into_iter().any(same) { "response" } else { "unused" }
}
