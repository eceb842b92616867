//! Planes and lines at several levels: widths as a table, normalised profiles laid over each other.

use super::level_text;
use crate::analysis::Results;
use crate::base::drive::{LevelField, LevelFields};
use crate::base::quantity::entry_of;
use crate::report::entries::digits_and_unit;
use crate::report::model::{AxisData, Block, Curve, CurveStyle, CurvesData, Figure, FigureBody};
use crate::report::wording::Wording;

fn unit(results: &Results) -> &str {
    results.record.excitation.level_unit.as_deref().unwrap_or("")
}

/// Extents by level.
pub fn table(results: &Results, fields: &LevelFields, words: &dyn Wording) -> Block {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let mut ids: Vec<&str> = Vec::new();
    for id in fields.fields.iter().flat_map(|field| field.extents.keys()) {
        if !ids.contains(&id.as_str()) {
            ids.push(id);
        }
    }
    let heads = ids.iter().map(|id| {
        let (_, unit) = digits_and_unit(id, 1.0, words);
        format!("{} / {unit}", entry_of(id).map_or("", |entry| entry.symbol))
    });
    let mut head = vec![label("scan"), label("drive-level")];
    head.extend(heads);
    let row = |field: &LevelField| {
        let mut row = vec![field.scan.clone(), level_text(field.level, unit(results), words)];
        row.extend(ids.iter().map(|id| {
            let value = field.extents.get(*id);
            value.map_or_else(|| "–".to_owned(), |v| digits_and_unit(id, *v, words).0)
        }));
        row
    };
    Block::Table {
        caption: label("level-fields-table"),
        head,
        rows: fields.fields.iter().map(row).collect(),
    }
}

/// Profiles of pc and of pr, each re its own peak.
pub fn figures(
    results: &Results,
    index: usize,
    fields: &LevelFields,
    words: &dyn Wording,
) -> Vec<Figure> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let last = fields.fields.len().saturating_sub(1);
    let figure = |what: &str, of: fn(&LevelField) -> &Vec<f64>| {
        let curves = fields.fields.iter().enumerate().map(|(i, field)| Curve {
            label: level_text(field.level, unit(results), words),
            x: field.along_m.iter().map(|x| x * 1e3).collect(),
            y: of(field).iter().map(|v| v.is_finite().then_some(*v)).collect(),
            band: Vec::new(),
            style: match i {
                0 => CurveStyle::Dashed,
                i if i == last => CurveStyle::Measured,
                _ => CurveStyle::Reference,
            },
        });
        Figure {
            id: format!("level-fields-{}-{what}", index + 1),
            caption: format!("{}.", label(&format!("caption-level-fields-{what}"))),
            alt: label(&format!("caption-level-fields-{what}")),
            body: FigureBody::Curves(CurvesData {
                x: AxisData {
                    label: fields.axis.clone(),
                    unit: "mm".to_owned(),
                    ..AxisData::default()
                },
                y: AxisData {
                    label: label("axis-re-peak"),
                    limits: Some((0.0, 1.05)),
                    ..AxisData::default()
                },
                curves: curves.collect(),
                levels: vec![(10f64.powf(-0.3), "−6 dB".to_owned())],
                marks: Vec::new(),
                span: None,
                points: Vec::new(),
                width: None,
            }),
        }
    };
    vec![figure("pc", |field| &field.pc), figure("pr", |field| &field.pr)]
}
