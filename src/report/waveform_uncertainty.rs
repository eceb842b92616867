//! How sure the waveform at the peak is, source by source.

use super::model::Block;
use super::rounding::{self, Marks};
use super::wording::Wording;
use crate::analysis::Results;
use crate::base::quantity::entry_of;
use crate::base::waveform_uncertainty::{
    CALIBRATION_MAGNITUDE, CALIBRATION_PHASE, FeatureUncertainty, LOW_PASS, NOISE,
    WaveformUncertainty,
};

/// The table with its reading, where a scan has the numbers.
pub fn blocks(results: &Results, words: &dyn Wording) -> Vec<Block> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let of_scans: Vec<(&str, &WaveformUncertainty)> = results
        .scans
        .iter()
        .filter(|scan| !super::drive::is_level(results, &scan.id))
        .filter_map(|scan| {
            let own = scan.focal.as_ref()?.uncertainty.as_ref()?;
            Some((scan.id.as_str(), &own.summary))
        })
        .collect();
    let Some((_, first)) = of_scans.first() else { return Vec::new() };
    let rows = of_scans
        .iter()
        .flat_map(|(scan, summary)| {
            summary.features.iter().map(move |feature| row(scan, summary, feature, words))
        })
        .collect();
    let mut reading = vec![
        label("wave-u-reading"),
        label(&format!("frequency-correlation-{}", first.frequency_correlation)),
    ];
    if let Some(draws) = &first.monte_carlo {
        reading.push(words.draws(&draws.draws.to_string(), &draws.seed.to_string()));
    }
    vec![
        Block::Table {
            caption: label("wave-u-table"),
            head: [
                "scan",
                "quantity",
                "value-of-waveform",
                "u-noise",
                "u-magnitude",
                "u-phase",
                "u-low-pass",
                "together",
                "u-drawn",
                "other-method",
            ]
            .map(label)
            .to_vec(),
            rows,
        },
        Block::Paragraph { text: reading.join(" ") },
    ]
}

fn row(
    scan: &str,
    summary: &WaveformUncertainty,
    feature: &FeatureUncertainty,
    words: &dyn Wording,
) -> Vec<String> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let marks = words.marks();
    let share = |u: f64| percent(u / feature.value, marks);
    let source = |name: &str| match feature.u.get(name) {
        Some(u) => share(*u),
        None if summary.not_evaluated.contains_key(name) => label("not-evaluated"),
        None => "–".to_owned(),
    };
    let symbol = entry_of(&feature.id).map_or(feature.id.as_str(), |entry| entry.symbol);
    let (digits, unit) = super::entries::digits_and_unit(&feature.id, feature.value, words);
    vec![
        scan.to_owned(),
        symbol.to_owned(),
        format!("{digits}\u{a0}{unit}"),
        source(NOISE),
        source(CALIBRATION_MAGNITUDE),
        source(CALIBRATION_PHASE),
        source(LOW_PASS),
        share(feature.u_combined),
        feature
            .monte_carlo
            .as_ref()
            .map_or_else(|| "–".to_owned(), |drawn| share(drawn.standard_deviation)),
        feature
            .other_method
            .as_ref()
            .map_or_else(|| "–".to_owned(), |other| percent(other.relative_difference, marks)),
    ]
}

/// A fraction, two digits; below a ten-thousandth only that it is.
fn percent(fraction: f64, marks: Marks) -> String {
    if fraction.abs() < 1e-4 {
        return format!("<\u{a0}{}\u{a0}%", rounding::digits(0.01, 1, marks));
    }
    rounding::percent(fraction, marks)
}
