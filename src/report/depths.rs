//! Planes at several depths: table and figures.

use super::model::{AxisData, Block, Curve, CurveStyle, CurvesData, Figure, FigureBody};
use super::rounding;
use super::wording::{Wording, measure};
use crate::analysis::Results;
use crate::base::depths::{Depth, Stack};
use crate::base::units;

/// Cubic millimetres in a cubic metre.
const MM3_PER_M3: f64 = 1e9;

/// Blocks of all stacks.
pub fn blocks(results: &Results, words: &dyn Wording) -> Vec<Block> {
    results
        .depths
        .iter()
        .enumerate()
        .flat_map(|(index, stack)| {
            [table(stack, words), Block::Figures { figures: figures(index, stack, words) }]
        })
        .collect()
}

fn table(stack: &Stack, words: &dyn Wording) -> Block {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let marks = words.marks();
    let cell = |value: Option<f64>, unit: &str| {
        value.map_or_else(|| "–".to_owned(), |v| measure(v, unit, marks))
    };
    let volume = |value: Option<f64>| {
        value.map_or_else(
            || "–".to_owned(),
            |v| format!("{}\u{a0}mm³", rounding::digits(v * MM3_PER_M3, 3, marks)),
        )
    };
    let mut rows: Vec<Vec<String>> = stack
        .planes
        .iter()
        .map(|d| {
            vec![
                d.scan.clone(),
                measure(d.z_m, "m", marks),
                cell(d.pc_pa, "Pa"),
                cell(d.pr_pa, "Pa"),
                cell(d.width_x_6_m, "m"),
                cell(d.width_y_6_m, "m"),
            ]
        })
        .collect();
    let counted = match (stack.counted_m3, stack.open) {
        (Some(_), true) => format!("≥ {}", volume(stack.counted_m3)),
        _ => volume(stack.counted_m3),
    };
    rows.push(vec![
        label("stack-whole"),
        cell(stack.z_peak_m, "m"),
        format!("{} {}", label("stack-length"), cell(stack.length_6_m, "m")),
        format!("{} {}", label("stack-ellipsoid"), volume(stack.ellipsoid_m3)),
        format!("{} {counted}", label("stack-counted")),
        stack.focus_shift_m.map_or_else(String::new, |shift| {
            format!("{} {}", measure(shift, "m", marks), label("stack-shift"))
        }),
    ]);
    if let Some(axis) = &stack.axis {
        let part = |key: &str, value: Option<f64>, unit: &str| {
            value
                .map_or_else(String::new, |v| format!("{} {}", label(key), measure(v, unit, marks)))
        };
        rows.push(vec![
            label("stack-axis"),
            String::new(),
            part("stack-tilt-x", Some(axis.tilt_x_rad), "deg"),
            part("stack-tilt-y", Some(axis.tilt_y_rad), "deg"),
            part("stack-offset-x", axis.offset_x_m, "m"),
            part("stack-offset-y", axis.offset_y_m, "m"),
        ]);
    }
    Block::Table {
        caption: label("stack-table"),
        head: ["scan", "stack-z", "stack-pc", "stack-pr", "stack-width-x", "stack-width-y"]
            .map(label)
            .to_vec(),
        rows,
    }
}

fn figures(index: usize, stack: &Stack, words: &dyn Wording) -> Vec<Figure> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let along: Vec<f64> = stack.planes.iter().map(|d| d.z_m * 1e3).collect();
    let axis = |label: String, unit: &str| AxisData {
        label,
        unit: unit.to_owned(),
        ..AxisData::default()
    };
    let curve = |name: &str, of: fn(&Depth) -> Option<f64>, factor: f64, style: CurveStyle| Curve {
        label: name.to_owned(),
        x: along.clone(),
        y: stack.planes.iter().map(|d| of(d).map(|v| v * factor)).collect(),
        band: Vec::new(),
        style,
    };
    let figure = |what: &str, y: AxisData, curves: Vec<Curve>| Figure {
        id: format!("depths-{}-{what}", index + 1),
        caption: format!("{}.", label(&format!("caption-depths-{what}"))),
        alt: label(&format!("caption-depths-{what}")),
        body: FigureBody::Curves(CurvesData {
            x: axis("z".to_owned(), "mm"),
            y,
            curves,
            levels: Vec::new(),
            marks: Vec::new(),
            span: None,
            points: Vec::new(),
            width: None,
        }),
    };
    let mega = 1.0 / units::PA_PER_MPA;
    vec![
        figure(
            "pressures",
            axis(label("axis-pressure"), "MPa"),
            vec![
                curve("p_{c}", |d| d.pc_pa, mega, CurveStyle::Measured),
                curve("p_{r}", |d| d.pr_pa, mega, CurveStyle::Reference),
            ],
        ),
        figure(
            "widths",
            axis(label("axis-width"), "mm"),
            vec![
                curve("x", |d| d.width_x_6_m, 1e3, CurveStyle::Measured),
                curve("y", |d| d.width_y_6_m, 1e3, CurveStyle::Reference),
            ],
        ),
    ]
}
