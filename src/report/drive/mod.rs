//! Quantities against the drive level: tables, figures and sentences.

mod fields;
mod figures;
mod levels;
mod pointed;
mod sentences;

use super::model::Block;
use super::rounding;
use super::wording::Wording;
use crate::analysis::{Picture, Results};
use crate::base::drive::DriveCurve;

pub use pointed::scan_of_level;

/// Blocks of all sweeps, and of planes and lines at several levels.
pub fn blocks(results: &Results, words: &dyn Wording) -> Vec<Block> {
    let mut blocks = Vec::new();
    for (index, curve) in curves(results).enumerate() {
        blocks.push(Block::Figures { figures: figures::curves(index, curve, words) });
        blocks.extend(levels::tables(curve, words));
        blocks.extend(
            sentences::of(results, curve, words).into_iter().map(|text| Block::Paragraph { text }),
        );
        let rows = figures::waves(results, index, curve, words);
        blocks.extend(rows.into_iter().map(|figures| Block::Figures { figures }));
    }
    for (index, fields) in results.level_fields.iter().enumerate() {
        blocks.push(Block::Figures { figures: fields::figures(results, index, fields, words) });
        blocks.push(fields::table(results, fields, words));
    }
    blocks.retain(|block| !matches!(block, Block::Figures { figures } if figures.is_empty()));
    blocks
}

/// The sweeps.
fn curves(results: &Results) -> impl Iterator<Item = &DriveCurve> {
    results.scans.iter().filter_map(|scan| match &scan.picture {
        Picture::Drive(curve) => Some(&**curve),
        _ => None,
    })
}

/// Whether a scan is one level of a sweep: its values stand in the sweep's table.
pub fn is_level(results: &Results, scan: &str) -> bool {
    curves(results).any(|curve| curve.rows.iter().any(|row| row.scan == scan))
}

/// A level with its unit.
fn level_text(level: f64, unit: &str, words: &dyn Wording) -> String {
    format!("{}\u{a0}{unit}", rounding::shortest(level, words.marks())).trim_end().to_owned()
}
