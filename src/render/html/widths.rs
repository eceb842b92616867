//! How wide each figure stands on paper, so that it can be drawn at that size and its text and
//! lines come out as they were drawn.

use std::collections::BTreeMap;

use super::figure::across;
use super::front::has_notes_at_figure;
use super::section::stands_beside;
use crate::report::model::{Block, Figure, SheetModel};

/// Millimetres in a point of 1/72 inch.
const MM_PER_PT: f64 = 25.4 / 72.0;
/// Text width of an A4 page: 210 mm less two margins of 18 mm.
const TEXT_MM: f64 = 174.0;
/// The column for notes.
const MARGIN_MM: f64 = 43.0;
/// Space between columns, 16 pt.
const GAP_MM: f64 = 16.0 * MM_PER_PT;
/// The column beside the notes.
const MAIN_MM: f64 = TEXT_MM - MARGIN_MM - GAP_MM;

/// Width of every figure of a sheet by its id, as `sheet.css` sets it on A4.
///
/// # Units
/// Millimetres.
pub fn figure_widths_mm(model: &SheetModel) -> BTreeMap<String, f64> {
    let mut widths = BTreeMap::new();
    let front = if has_notes_at_figure(&model.front) { MAIN_MM } else { TEXT_MM };
    note(&mut widths, &model.front.figures, front);
    for section in &model.sections {
        for (index, block) in section.blocks.iter().enumerate() {
            let Block::Figures { figures } = block else { continue };
            let beside = match section.blocks.get(index + 1) {
                Some(Block::Findings { rows }) => stands_beside(figures, rows),
                _ => false,
            };
            let room = if beside { MAIN_MM } else { TEXT_MM };
            note(&mut widths, figures, room);
        }
    }
    widths
}

fn note(widths: &mut BTreeMap<String, f64>, figures: &[Figure], room_mm: f64) {
    let across = across(figures.len()) as f64;
    for figure in figures {
        widths.insert(figure.id.clone(), (room_mm - (across - 1.0) * GAP_MM) / across);
    }
}

#[cfg(test)]
mod tests {
    use super::super::document::SHEET_CSS;
    use super::*;
    use crate::render::sample;

    /// ISO 216: A4 is 210 mm wide. The other lengths are those of the style sheet.
    #[test]
    fn the_lengths_are_those_of_the_style_sheet() {
        assert!(SHEET_CSS.contains("  margin: 16mm 18mm 18mm;"));
        assert!((TEXT_MM - (210.0 - 2.0 * 18.0)).abs() < 1e-12);
        assert!(SHEET_CSS.contains("--u: 1pt; --margin: 43mm;"));
        assert!(SHEET_CSS.contains("--gap: calc(16 * var(--u));"));
        assert!((GAP_MM - 16.0 / 72.0 * 25.4).abs() < 1e-12);
    }

    #[test]
    fn widths_follow_from_the_place() {
        let mut model = sample::model();
        let row = |ids: &[&str]| Block::Figures {
            figures: ids.iter().map(|id| sample::figure(id)).collect(),
        };
        model.sections[1].blocks.push(row(&["a", "b"]));
        model.sections[1].blocks.push(row(&["c", "d", "e"]));
        let widths = figure_widths_mm(&model);
        let near = |id: &str, expected: f64| {
            assert!((widths[id] - expected).abs() < 0.01, "{id} {}", widths[id])
        };
        near("glance", 174.0);
        near("map", 59.86);
        near("wave", 174.0);
        near("a", 84.18);
        near("e", 54.24);
        model.front.gravest = vec![sample::finding_row(); 2];
        assert!((figure_widths_mm(&model)["glance"] - 125.36).abs() < 0.01);
    }
}
