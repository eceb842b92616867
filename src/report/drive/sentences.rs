//! What a sweep says, in sentences.

use super::level_text;
use crate::analysis::Results;
use crate::base::drive::{DriveCurve, DriveLine};
use crate::base::finding::{Arg, Args, Place};
use crate::base::units::PA_PER_MPA;
use crate::report::rounding;
use crate::report::wording::{Filled, Wording, measure};

/// Lines, scaling and bubbles of a sweep.
pub fn of(results: &Results, curve: &DriveCurve, words: &dyn Wording) -> Vec<String> {
    let mut out = Vec::new();
    let lines: Vec<String> = [("p_{c}", curve.pc_line), ("p_{r}", curve.pr_line)]
        .into_iter()
        .filter_map(|(symbol, line)| Some(line_text(symbol, &line?, curve, words)))
        .collect();
    if !lines.is_empty() {
        let label = |key: &str| words.label(key).unwrap_or_default();
        out.push(format!("{} {}", lines.join(" "), label("linear-rule")));
    }
    out.extend(scaling(curve, words));
    out.extend(bubbles(results, curve, words));
    out
}

fn line_text(symbol: &str, line: &DriveLine, curve: &DriveCurve, words: &dyn Wording) -> String {
    let marks = words.marks();
    let intercept = rounding::with_uncertainty(
        line.intercept_pa / PA_PER_MPA,
        2.0 * line.u_intercept_pa / PA_PER_MPA,
        marks,
    );
    let departure =
        rounding::with_uncertainty(line.departure_top * 100.0, 200.0 * line.u_departure_top, marks);
    let pair = |pair: rounding::Pair| match pair.expanded.as_str() {
        "" => pair.value,
        u => format!("({} ± {u}){}", pair.value, pair.power),
    };
    filled(
        words,
        "drive-line",
        &[
            ("symbol", symbol.to_owned()),
            ("level", level_text(line.level_max, &curve.unit, words)),
            ("points", line.points.to_string()),
            ("intercept", pair(intercept)),
            ("departure", pair(departure)),
        ],
    )
}

fn scaling(curve: &DriveCurve, words: &dyn Wording) -> Option<String> {
    let scaling = curve.scaling.as_ref()?;
    let marks = words.marks();
    let from = words.label(&format!("scaling-{}", scaling.from)).unwrap_or_default();
    Some(filled(
        words,
        "drive-scaling",
        &[
            ("low", level_text(scaling.level, &curve.unit, words)),
            ("target", level_text(scaling.target, &curve.unit, words)),
            ("ratio", rounding::digits(scaling.ratio, 4, marks)),
            ("u", measure(2.0 * scaling.u_relative, "%", marks)),
            ("from", from.to_owned()),
        ],
    ))
}

/// Where signs of bubbles begin: with the number of shots, band, threshold and oxygen.
fn bubbles(results: &Results, curve: &DriveCurve, words: &dyn Wording) -> Option<String> {
    let marks = words.marks();
    let watched = |scan: &str| {
        results.bubbles.iter().find(|signs| signs.scan == scan && signs.monitor.is_some())
    };
    let signs = curve.rows.iter().find_map(|row| watched(&row.scan))?;
    let lowest = curve
        .rows
        .iter()
        .filter(|row| row.bubble_fraction.is_some_and(|part| part > 0.0))
        .map(|row| row.level)
        .reduce(f64::min);
    let calm = curve
        .rows
        .iter()
        .filter(|row| row.bubble_fraction.is_some())
        .filter(|row| lowest.is_none_or(|level| row.level < level))
        .max_by(|a, b| a.level.total_cmp(&b.level));
    let oxygen = results.record.water.oxygen_mg_per_l.map_or_else(
        || words.label("not-stated").unwrap_or_default().to_owned(),
        |v| format!("{}\u{a0}mg/l", rounding::digits(v, 3, marks)),
    );
    let band = format!(
        "{} … {}\u{a0}MHz",
        rounding::digits(signs.band_hz.0 * 1e-6, 3, marks),
        rounding::digits(signs.band_hz.1 * 1e-6, 3, marks)
    );
    let threshold = format!("{}\u{a0}dB", rounding::shortest(signs.threshold_db, marks));
    let at = |level: f64| level_text(level, &curve.unit, words);
    let mut parts = Vec::new();
    if let Some(row) = calm {
        let args = [("level", at(row.level)), ("shots", row.shots.to_string())];
        parts.push(filled(words, "drive-no-bubbles", &args));
    }
    if let Some(level) = lowest {
        parts.push(filled(words, "drive-bubbles-from", &[("level", at(level))]));
    }
    let args = [("band", band), ("threshold", threshold), ("oxygen", oxygen)];
    parts.push(filled(words, "drive-bubbles-by", &args));
    Some(parts.join(" "))
}

/// A sentence of the labels with its texts.
fn filled(words: &dyn Wording, key: &str, texts: &[(&str, String)]) -> String {
    let args: Args =
        texts.iter().map(|(name, text)| ((*name).to_owned(), Arg::Text(text.clone()))).collect();
    Filled::new(&args, &Place::default(), words.marks()).fill(words.label(key).unwrap_or_default())
}
