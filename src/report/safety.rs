//! The part with the values by the rules for diagnostic equipment.

use super::model::{Block, Item, QuantityRow};
use super::quantity_rows::quantity_row;
use super::rounding;
use super::wording::{Filled, Wording, measure};
use crate::base::finding::{Arg, Args, Place};
use crate::base::quantity::is_safety;
use crate::base::safety::SafetyBasis;
use crate::base::sheet::Sheet;

/// Caution, rules, values with their depths, and on what they rest; nothing where the record does not ask
/// for them.
pub fn blocks(sheet: &Sheet, words: &dyn Wording) -> Vec<Block> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    if sheet.safety.is_empty() {
        return Vec::new();
    }
    let mut out: Vec<Block> = ["safety-caution", "safety-derating", "safety-thermal"]
        .map(|key| Block::Paragraph { text: label(key) })
        .to_vec();
    out.extend(sheet.safety.iter().map(|basis| Block::Quantities {
        heading: basis.scan.clone(),
        rows: rows(sheet, basis, words),
    }));
    out.extend(sheet.safety.iter().map(|basis| rests_on(sheet, basis, words)));
    out
}

fn rows(sheet: &Sheet, basis: &SafetyBasis, words: &dyn Wording) -> Vec<QuantityRow> {
    let own = sheet.quantities.iter().filter(|q| q.scan == basis.scan && is_safety(&q.id));
    own.map(|entry| {
        let mut row = quantity_row(entry, words);
        let at = match entry.id.as_str() {
            "tis" => basis.tis_depth_m,
            "tib" => basis.tib_depth_m,
            "tic" => None,
            _ => basis.depth_m,
        };
        if let (Some(_), Some(depth_m), Some(f)) = (entry.value, at, basis.frequency_hz) {
            let args = Args::from([
                ("depth".to_owned(), Arg::measure(depth_m, "m")),
                ("frequency".to_owned(), Arg::measure(f, "Hz")),
            ]);
            let place = Place::default();
            let filled = Filled::new(&args, &place, words.marks());
            row.basis = format!(
                "{}; {}",
                row.basis,
                filled.fill(words.label("safety-at").unwrap_or_default())
            );
        }
        row
    })
    .collect()
}

fn rests_on(sheet: &Sheet, basis: &SafetyBasis, words: &dyn Wording) -> Block {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let marks = words.marks();
    let text = |value: Option<f64>, unit: &str| value.map(|v| measure(v, unit, marks));
    let item = |key: &str, text: Option<String>| Item {
        label: label(key),
        text: text.unwrap_or_else(|| "–".to_owned()),
        blank: false,
        path: String::new(),
        typed: String::new(),
    };
    let power = basis.power.as_ref().zip(basis.power_scan.as_ref()).and_then(|(id, scan)| {
        let name = words.quantity(id)?.name;
        Some(format!("{}, {name} ({scan})", text(basis.power_w, "W")?))
    });
    let level = sheet.scans.iter().find(|scan| scan.id == basis.scan).and_then(|scan| {
        let unit = scan.level_unit.as_deref().unwrap_or_default();
        Some(
            format!("{}\u{a0}{unit}", rounding::digits(scan.level?, 3, marks))
                .trim_end()
                .to_owned(),
        )
    });
    Block::Definitions {
        heading: format!("{} ({})", label("safety-rests-on"), basis.scan),
        items: vec![
            item("drive-level", level),
            item("safety-depth", text(basis.depth_m, "m")),
            item("safety-frequency", text(basis.frequency_hz, "Hz")),
            item("safety-power", power),
            item("safety-aperture", text(basis.aperture_m2, "mm2")),
            item("safety-distortion", text(basis.sigma_q, "")),
        ],
    }
}
