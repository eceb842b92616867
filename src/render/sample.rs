//! A small invented sheet for the tests of the writers.

use std::collections::BTreeMap;

use crate::base::finding::Severity;
use crate::base::quantity::{TimeBase, Window, WindowKind};
use crate::base::sheet::{Conditions, QuantityEntry, SCHEMA, ScanSummary, Sheet};
use crate::base::verdict::Outcome;
use crate::report::model::{
    AxisData, Block, Curve, CurveStyle, CurvesData, Figure, FigureBody, FindingRow, Front, Item,
    QuantityRow, Section, SheetModel, VerdictRow, VerdictTable,
};

/// A quantity as `sheet.json` carries it.
pub fn quantity(id: &str, value: Option<f64>) -> QuantityEntry {
    QuantityEntry {
        id: id.to_owned(),
        scan: "focal".to_owned(),
        level: Some(120.0),
        range: None,
        symbol: "p_{c}".to_owned(),
        name: "peak compressional pressure".to_owned(),
        value,
        unit: "Pa".to_owned(),
        lower_bound: false,
        u_standard: Some(0.1e6),
        u_expanded: Some(0.2e6),
        k: Some(2.0),
        nu_eff: None,
        u_common: None,
        u_repeatability: None,
        u_reason: None,
        value_uncorrected: None,
        corrections: Vec::new(),
        window: Some(Window { kind: WindowKind::SteadyState, start_s: 1.0e-5, stop_s: 2.5e-5 }),
        time_base: Some(TimeBase::On),
        method: String::new(),
        reference: "IEC 62127-1".to_owned(),
        text: "6.24 ± 0.20 MPa".to_owned(),
        reason: None,
        sensitivities: BTreeMap::new(),
        budget: None,
    }
}

/// A sheet as data, with text that is hostile to HTML.
pub fn sheet() -> Sheet {
    Sheet {
        schema: SCHEMA.to_owned(),
        software: "focalsheet 0.1.0".to_owned(),
        number: Some("7K2M-94QX".to_owned()),
        record: serde_json::json!({"schema": "focalsheet-record/1", "title": "</script><!-- \u{2028}"}),
        conditions: Conditions {
            water_temperature_c: 22.4,
            water_temperature_from: "record".to_owned(),
            sound_speed_m_per_s: 1489.4,
            density_kg_per_m3: 997.7,
            frequency_hz: Some(1.1e6),
            frequency_from: "record".to_owned(),
        },
        scans: vec![ScanSummary {
            id: "focal".to_owned(),
            role: "plane".to_owned(),
            file: "focal.h5".to_owned(),
            points: 1681,
            samples: 1500,
            sample_interval_s: 2e-8,
            fitness: Severity::Caution,
            level: Some(120.0),
            level_unit: Some("mV".to_owned()),
            calibration: BTreeMap::new(),
            excluded_points: vec![],
            waveform_uncertainty: None,
        }],
        quantities: vec![quantity("pc", Some(6.24e6)), quantity("pr", None)],
        findings: vec![],
        transfers: vec![],
        depths: vec![],
        revisits: vec![],
        bubbles: vec![],
        drives: vec![],
        level_fields: vec![],
        verdicts: vec![],
        repeats: vec![],
        ranges: vec![],
        safety: vec![],
        provenance: vec![],
    }
}

/// A printed quantity with every column filled.
pub fn quantity_row(id: &str) -> QuantityRow {
    QuantityRow {
        id: id.to_owned(),
        symbol: "p_{c}".to_owned(),
        name: "peak compressional pressure".to_owned(),
        value: "6.24".to_owned(),
        unit: "MPa".to_owned(),
        uncertainty: "± 0.38".to_owned(),
        uncorrected: "6.01 (spatial averaging)".to_owned(),
        basis: "steady state".to_owned(),
        reference: "IEC 62127-1".to_owned(),
        reason: String::new(),
        explanation: "largest positive pressure in time".to_owned(),
        scan: "focal".to_owned(),
    }
}

/// A printed finding.
pub fn finding_row() -> FindingRow {
    FindingRow {
        severity: Severity::Caution,
        word: "Caution".to_owned(),
        code: "window-truncation".to_owned(),
        place: "focal plane, left edge".to_owned(),
        text: "The scan stops before p_{c} has fallen to a tenth.".to_owned(),
        hint: "Scan 3 mm further.".to_owned(),
    }
}

/// A figure of one short curve.
pub fn figure(id: &str) -> Figure {
    let axis = |label: &str, unit: &str| AxisData {
        label: label.to_owned(),
        unit: unit.to_owned(),
        limits: None,
        log: false,
    };
    Figure {
        id: id.to_owned(),
        caption: "Pressure along x at the focus.".to_owned(),
        alt: "a curve".to_owned(),
        body: FigureBody::Curves(CurvesData {
            x: axis("x", "mm"),
            y: axis("p_{c}", "MPa"),
            curves: vec![Curve {
                label: String::new(),
                x: vec![-1.0, 0.0, 1.0],
                y: vec![Some(1.0), None, Some(1.0)],
                band: vec![],
                style: CurveStyle::Measured,
            }],
            levels: vec![],
            marks: vec![],
            span: None,
            points: vec![],
            width: None,
        }),
    }
}

/// A sheet with every kind of block.
pub fn model() -> SheetModel {
    let item = |label: &str, text: &str, blank: bool| Item {
        typed: String::new(),
        label: label.to_owned(),
        text: text.to_owned(),
        blank,
        path: "device.serial".to_owned(),
    };
    let words = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect::<Vec<_>>();
    let part = |id: &str, blocks: Vec<Block>| Section {
        id: id.to_owned(),
        heading: format!("On {id}"),
        blocks,
    };
    SheetModel {
        language: "en".to_owned(),
        front: Front {
            title: "Transducer 12".to_owned(),
            kind: "Field sheet".to_owned(),
            identity: vec![item("Serial", "12", false), item("Site", "not stated", true)],
            sentence: words(&["The head delivered 12 W.", "This is output in water."]),
            verdicts: Some(verdict_table()),
            headline: vec![quantity_row("pc"), quantity_row("pr")],
            figures: vec![figure("glance")],
            gravest: vec![finding_row()],
            not_measured: words(&["axial extent"]),
            cautions: words(&["one", "two", "three"]),
            changes: words(&["stated value: 3 became 4"]),
            signatures: words(&["measured by", "checked by"]),
        },
        sections: vec![
            part(
                "conditions",
                vec![Block::Definitions {
                    heading: "Water".to_owned(),
                    items: vec![item("Temperature", "22.4 °C", false)],
                }],
            ),
            part(
                "field",
                vec![
                    Block::Figures { figures: vec![figure("map"), figure("profile")] },
                    Block::Findings { rows: vec![finding_row()] },
                    Block::Figures { figures: vec![figure("wave")] },
                ],
            ),
            part(
                "quantities",
                vec![
                    Block::Quantities {
                        heading: "focal plane".to_owned(),
                        rows: vec![quantity_row("pc")],
                    },
                    Block::Quantities {
                        heading: "axis".to_owned(),
                        rows: vec![QuantityRow {
                            reason: "not measurable".to_owned(),
                            ..quantity_row("z_peak")
                        }],
                    },
                ],
            ),
            part("fitness", vec![Block::Findings { rows: vec![finding_row(); 2] }]),
            part(
                "provenance",
                vec![
                    Block::Paragraph { text: "Made from these files.".to_owned() },
                    Block::Table {
                        caption: "Inputs".to_owned(),
                        head: words(&["file", "bytes", "SHA-256"]),
                        rows: vec![words(&["focal.h5", "1200", &"0a".repeat(32)])],
                    },
                    Block::List { items: words(&["p_{c}: pressure"]) },
                ],
            ),
        ],
        running_head: "7K2M-94QX · Transducer 12".to_owned(),
        running_foot: "Output in water".to_owned(),
    }
}

/// A table of one verdict of each kind.
pub fn verdict_table() -> VerdictTable {
    let row = |outcome: Outcome| VerdictRow {
        path: "stated[0]".to_owned(),
        quantity: "pc".to_owned(),
        scan: "focal".to_owned(),
        symbol: "p_{c}".to_owned(),
        name: "peak compressional pressure".to_owned(),
        explanation: "largest positive pressure in time".to_owned(),
        stated: "7.8 MPa ± 20 %".to_owned(),
        origin: "data sheet".to_owned(),
        measured: "8.30 ± 0.72 MPa".to_owned(),
        probability: "0.973".to_owned(),
        e_n: "0.4".to_owned(),
        outcome,
        word: outcome.as_str().to_owned(),
        remarks: match outcome {
            Outcome::Undecided => vec!["The probability is 0.5.".to_owned()],
            _ => Vec::new(),
        },
    };
    let head = ["Quantity", "Stated", "Measured", "Probability", "E_{n}", "Verdict"];
    VerdictTable {
        head: head.map(str::to_owned).to_vec(),
        rows: vec![row(Outcome::Conforms), row(Outcome::Undecided), row(Outcome::DoesNotConform)],
        notes: vec!["Decided by probability.".to_owned()],
    }
}

/// A finished drawing for every figure of a model.
pub fn drawn(model: &SheetModel) -> BTreeMap<String, String> {
    let in_sections =
        model.sections.iter().flat_map(|section| &section.blocks).flat_map(|block| match block {
            Block::Figures { figures } => figures.as_slice(),
            _ => &[],
        });
    in_sections
        .chain(&model.front.figures)
        .map(|figure| {
            (figure.id.clone(), "<svg viewBox=\"0 0 10 10\"><path d=\"M0 0h1\"/></svg>".to_owned())
        })
        .collect()
}

/// Replaces every text of a serialised model, except the words that choose a variant.
pub fn replace_texts(value: &mut serde_json::Value, with: &str) {
    match value {
        serde_json::Value::String(text) => *text = with.to_owned(),
        serde_json::Value::Array(items) => {
            items.iter_mut().for_each(|item| replace_texts(item, with))
        }
        serde_json::Value::Object(members) => {
            for (key, member) in members {
                let chooses = ["block", "figure", "severity", "scale", "style", "outcome"]
                    .contains(&key.as_str());
                if !(chooses && member.is_string()) {
                    replace_texts(member, with);
                }
            }
        }
        _ => {}
    }
}
