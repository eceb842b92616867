//! The section on calibration: how volts became pascals, by which factors, how sure.

use super::calibration_figures;
use super::drawings::Draughtsman;
use super::model::Block;
use super::rounding::{self, Marks, percent};
use super::waveform_uncertainty;
use super::wording::{Wording, measure};
use crate::analysis::Results;
use crate::base::range_noise::{NoiseOf, RangeNoise};
use crate::base::transfer::{RangeFactor, Transfer, TransferSource};
use crate::base::units;

/// Most rows of the comparison of ranges.
const MOST_COMPARISONS: usize = 18;

/// Blocks of the section.
pub fn blocks(results: &Results, words: &dyn Wording) -> Vec<Block> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let mut blocks = vec![scans(results, words)];
    let response =
        results.scans.iter().find_map(|scan| Draughtsman { results, scan, words }.response());
    if let Some(figure) = response {
        blocks.push(Block::Figures { figures: vec![figure] });
    }
    blocks.extend(waveform_uncertainty::blocks(results, words));
    blocks.extend(ranges(results, words));
    for transfer in &results.transfers {
        blocks.push(Block::Paragraph { text: story(transfer, words) });
        blocks.push(factors(transfer, words));
        blocks.push(sources(transfer, words));
        blocks.extend(comparisons(transfer, words));
    }
    if !results.ranges.is_empty() {
        blocks.push(noise(results, words));
    }
    let figures: Vec<_> = results
        .transfers
        .iter()
        .enumerate()
        .filter_map(|(i, transfer)| calibration_figures::transfer(results, i, transfer, words))
        .chain(calibration_figures::noise(results, words))
        .collect();
    if !figures.is_empty() {
        blocks.push(Block::Figures { figures });
    }
    let cell = |text: &Option<String>| text.clone().unwrap_or_else(|| label("not-stated"));
    let s = &results.record.sensor;
    let certified = s.certificate.is_some() || s.calibrated.is_some() || s.due.is_some();
    let of_sensor = certified.then(|| {
        let cells = [&s.serial, &s.certificate, &s.calibrated, &s.due].map(cell);
        [label("sensor-heading")].into_iter().chain(cells).collect()
    });
    if certified || !results.record.equipment.is_empty() {
        blocks.push(Block::Table {
            caption: label("equipment"),
            head: ["kind", "serial", "certificate", "calibrated", "due"].map(label).to_vec(),
            rows: of_sensor
                .into_iter()
                .chain(results.record.equipment.iter().map(|e| {
                    vec![
                        e.kind.clone(),
                        cell(&e.serial),
                        cell(&e.certificate),
                        cell(&e.calibrated),
                        cell(&e.due),
                    ]
                }))
                .collect(),
        });
    }
    blocks
}

fn scans(results: &Results, words: &dyn Wording) -> Block {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let marks = words.marks();
    let rows = results
        .scans
        .iter()
        // Results of several scans together have none.
        .filter(|scan| !scan.calibration.is_empty())
        .map(|scan| {
            let get = |key: &str| scan.calibration.get(key).cloned().unwrap_or_default();
            let cutoff = get("lowpass_cutoff_hz")
                .parse::<f64>()
                .map_or(String::new(), |hz| measure(hz, "Hz", marks));
            let name = match &scan.range {
                Some(range) => format!("{} ({} {range})", scan.id, label("range-in-text")),
                None => scan.id.clone(),
            };
            vec![
                name,
                label(&format!("response-{}", get("response"))),
                label(&format!("method-{}", get("method"))),
                low_pass(
                    &label(&format!("lowpass-{}", get("lowpass_kind"))),
                    &get("lowpass_kind"),
                    &get("lowpass_order"),
                    &cutoff,
                ),
                label(&format!("lowpass-from-{}", get("lowpass_from"))),
                get("padded_samples"),
            ]
        })
        .collect();
    Block::Table {
        caption: label("calibration-table"),
        head: ["scan", "response", "method", "low-pass", "low-pass-from", "padded"]
            .map(label)
            .to_vec(),
        rows,
    }
}

/// What the record states of the gain ranges.
fn ranges(results: &Results, words: &dyn Wording) -> Option<Block> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let marks = words.marks();
    let cell = |text: Option<String>| text.unwrap_or_else(|| label("not-stated"));
    let record = &results.record;
    let row = |range: &str| {
        let chain = record.sensor_chain(Some(range));
        vec![
            range.to_owned(),
            cell(chain.range.and_then(|range| range.setting.clone())),
            cell(chain.full_scale_v.map(|v| format!("±\u{a0}{}", millivolts(v, marks)))),
            cell(chain.bits.map(|bits| bits.to_string())),
            cell(chain.linear_limit_pa.map(|p| measure(p, "Pa", marks))),
        ]
    };
    let rows: Vec<Vec<String>> = record.sensor.ranges.iter().map(|range| row(&range.id)).collect();
    (!rows.is_empty()).then(|| Block::Table {
        caption: label("ranges-table"),
        head: ["range", "setting", "full-scale", "bits", "linear-limit"].map(label).to_vec(),
        rows,
    })
}

/// `cosine roll-off from 17.2 MHz`, `2 one-pole sections at 80 MHz`.
fn low_pass(name: &str, kind: &str, order: &str, cutoff: &str) -> String {
    if kind == "one-pole" { format!("{order} {name} {cutoff}") } else { format!("{name} {cutoff}") }
}

/// What was compared, where, and what was corrected, in sentences.
fn story(transfer: &Transfer, words: &dyn Wording) -> String {
    let marks = words.marks();
    let mut args = vec![
        (
            "feature",
            words.label(&format!("feature-{}", transfer.feature)).unwrap_or_default().to_owned(),
        ),
        ("frequency", measure(transfer.frequency_hz, "Hz", marks)),
        ("reference", transfer.reference_scan.clone()),
        ("cutoff", measure(transfer.lowpass_cutoff_hz, "Hz", marks)),
    ];
    if let (Some(after), Some(drift)) = (&transfer.reference_scan_after, transfer.drift) {
        args.push(("after", after.clone()));
        args.push(("drift", percent(drift, marks)));
    }
    if transfer.element_size_factor != 1.0 {
        args.push(("size", percent(transfer.element_size_factor - 1.0, marks)));
    }
    words.transfer_story(&args)
}

fn millivolts(volts: f64, marks: Marks) -> String {
    format!("{}\u{a0}mV", rounding::digits(volts * 1e3, 3, marks))
}

fn factors(transfer: &Transfer, words: &dyn Wording) -> Block {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let marks = words.marks();
    let nano = |v_per_pa: f64| rounding::plain(v_per_pa / units::V_PER_PA_PER_MV_PER_MPA, marks);
    let rows = transfer
        .ranges
        .iter()
        .map(|range| {
            let loudest =
                range.levels.iter().max_by(|a, b| a.pressure_pa.total_cmp(&b.pressure_pa));
            vec![
                range_name(range, words),
                range.repeats.to_string(),
                loudest.map_or(String::new(), |l| measure(l.pressure_pa, "Pa", marks)),
                loudest.map_or(String::new(), |l| millivolts(l.volts, marks)),
                nano(range.v_per_pa),
                percent(range.u_relative, marks),
                nano(range.by_feature.fundamental),
                nano(range.by_feature.rms),
                nano(range.by_feature.peak),
            ]
        })
        .collect();
    Block::Table {
        caption: label("factors-table"),
        head: [
            "range",
            "shots",
            "source-pressure",
            "voltage",
            "factor",
            "u-relative",
            "by-fundamental",
            "by-rms",
            "by-peak",
        ]
        .map(label)
        .to_vec(),
        rows,
    }
}

fn range_name(range: &RangeFactor, words: &dyn Wording) -> String {
    range.range.clone().unwrap_or_else(|| words.label("range-only").unwrap_or_default().to_owned())
}

/// The sources as rows, the ranges as columns.
fn sources(transfer: &Transfer, words: &dyn Wording) -> Block {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let marks = words.marks();
    let mut head = vec![label("uncertainty-source"), label("shared")];
    head.extend(transfer.ranges.iter().map(|range| range_name(range, words)));
    let mut rows = Vec::new();
    for source in TransferSource::ALL {
        let cells: Vec<Option<f64>> = transfer
            .ranges
            .iter()
            .map(|range| range.sources.iter().find(|s| s.source == source).map(|s| s.u_relative))
            .collect();
        let mut row = vec![
            label(&format!("source-{}", source.as_str())),
            label(if source.is_common() { "shared-all" } else { "shared-own" }),
        ];
        row.extend(
            cells
                .into_iter()
                .map(|u| u.map_or_else(|| label("not-evaluated"), |u| percent(u, marks))),
        );
        rows.push(row);
    }
    let mut together = vec![label("together"), String::new()];
    together.extend(transfer.ranges.iter().map(|range| percent(range.u_relative, marks)));
    rows.push(together);
    Block::Table { caption: label("sources-table"), head, rows }
}

fn comparisons(transfer: &Transfer, words: &dyn Wording) -> Option<Block> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let marks = words.marks();
    let levels = transfer.comparisons.iter().any(|c| c.level.is_some());
    let rows: Vec<Vec<String>> = transfer
        .comparisons
        .iter()
        .take(MOST_COMPARISONS)
        .map(|c| {
            let mut row = vec![format!("{} / {}", c.range_a, c.range_b)];
            if levels {
                row.push(
                    c.level.map_or_else(|| label("not-stated"), |l| rounding::digits(l, 3, marks)),
                );
            }
            row.extend([
                label(&format!("feature-{}", c.feature)),
                percent(c.difference, marks),
                percent(c.u, marks),
            ]);
            row
        })
        .collect();
    if rows.is_empty() {
        return None;
    }
    let mut head = vec![label("ranges")];
    if levels {
        head.push(label("source-level"));
    }
    head.extend(["by-feature", "difference", "u-difference"].map(label));
    Some(Block::Table { caption: label("comparison-table"), head, rows })
}

fn noise(results: &Results, words: &dyn Wording) -> Block {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let marks = words.marks();
    let kilo = |pa: f64| format!("{}\u{a0}kPa", rounding::digits(pa * 1e-3, 3, marks));
    let rows = results
        .ranges
        .iter()
        .map(|range| {
            vec![
                noise_name(range, words),
                kilo(range.nep_pa),
                measure(range.band_hz, "Hz", marks),
                rounding::digits(range.nep_density, 3, marks),
                range.limit_pa.map_or_else(|| label("not-stated"), |p| measure(p, "Pa", marks)),
                range.limit_pa.map_or_else(String::new, |p| {
                    format!(
                        "{}\u{a0}dB",
                        rounding::digits(20.0 * (p / range.nep_pa).log10(), 3, marks)
                    )
                }),
                format!(
                    "{}, {}",
                    label(&format!("noise-from-{}", range.from.as_str())),
                    range.scan
                ),
            ]
        })
        .collect();
    Block::Table {
        caption: label("noise-table"),
        head: ["range", "nep", "noise-band", "nep-density", "limit", "dynamic-range", "noise-from"]
            .map(label)
            .to_vec(),
        rows,
    }
}

/// The name of a range in the table of noise and at its point in the figure.
pub fn noise_name(range: &RangeNoise, words: &dyn Wording) -> String {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    match &range.of {
        NoiseOf::Sensor => label("range-only"),
        NoiseOf::Range(id) => id.clone(),
        NoiseOf::ReferenceSensor => label("reference-sensor"),
    }
}
