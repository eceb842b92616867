//! What the quantities of the sheet are, in words: for readers of the saved or printed sheet, who
//! cannot ask.

use super::model::Block;
use super::wording::Wording;
use crate::base::quantity::CATALOGUE;
use crate::base::sheet::Sheet;

/// The quantities that have a value on the sheet, each once, in the order of the catalogue; neighbours of
/// one explanation share a row.
pub fn blocks(sheet: &Sheet, words: &dyn Wording) -> Vec<Block> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let given =
        |id: &str| sheet.quantities.iter().any(|entry| entry.id == id && entry.value.is_some());
    let mut rows: Vec<Vec<String>> = Vec::new();
    for entry in CATALOGUE.iter().filter(|entry| given(entry.id)) {
        let Some(named) = words.quantity(entry.id) else { continue };
        match rows.last_mut() {
            // Widths at several levels, say: one line of words for all.
            Some(row) if row.len() == 3 && row[2] == named.explanation => {
                row[0].push_str(&format!(", {}", entry.symbol));
                row[1].push_str(&format!("; {}", named.name));
            }
            _ => {
                rows.push([entry.symbol, named.name, named.explanation].map(str::to_owned).to_vec())
            }
        }
    }
    if rows.is_empty() {
        return Vec::new();
    }
    let head = ["symbol", "quantity", "what-it-is"].map(label).to_vec();
    vec![Block::Table { caption: String::new(), head, rows }]
}
