//! Lines of a budget that the record types itself.

use super::source::distribution_word;
use crate::base::budget::Line;
use crate::record::SourceEntry;

/// Lines of the sources that the record states for a quantity of a value, shares still zero. A relative
/// uncertainty has the sensitivity of the value, another one that of one.
pub fn typed_lines(entries: &[SourceEntry], id: &str, value: f64, unit: &str) -> Vec<Line> {
    let applying = entries.iter().enumerate().filter(|(_, entry)| entry.applies_to(id));
    applying
        .map(|(index, entry)| {
            let relative = entry.uncertainty.relative;
            let u = entry.standard(1.0);
            let sensitivity = if relative { value } else { 1.0 };
            Line {
                source: entry.source.clone(),
                u,
                unit: if relative { "1" } else { unit }.to_owned(),
                distribution: distribution_word(entry.distribution()).to_owned(),
                nu: None,
                sensitivity,
                contribution: sensitivity * u,
                share: 0.0,
                common: entry.is_common(),
                origin: "record".to_owned(),
                from: format!("uncertainties[{index}]"),
            }
        })
        .collect()
}
