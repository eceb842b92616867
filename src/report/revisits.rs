//! The figure of the revisits of one point.

use super::model::{AxisData, Curve, CurveStyle, CurvesData, Figure, FigureBody};
use super::wording::Wording;
use crate::analysis::Results;

/// Peak pressures re their means against the number of the visit, one figure a scan.
pub fn figures(results: &Results, words: &dyn Wording) -> Vec<Figure> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let axis = |key: &str, unit: &str| AxisData {
        label: label(key),
        unit: unit.to_owned(),
        ..AxisData::default()
    };
    let figure = |(index, visits): (usize, &crate::base::revisits::Revisits)| {
        let curve = |name: &str, values: &[f64], style: CurveStyle| {
            let mean = values.iter().sum::<f64>() / values.len().max(1) as f64;
            Curve {
                label: name.to_owned(),
                x: (1..=values.len()).map(|n| n as f64).collect(),
                y: values.iter().map(|v| (mean > 0.0).then(|| (v / mean - 1.0) * 100.0)).collect(),
                band: Vec::new(),
                style,
            }
        };
        Figure {
            id: format!("revisits-{}", index + 1),
            caption: format!("{}. {} {}.", label("caption-revisits"), label("scan"), visits.scan),
            alt: label("caption-revisits"),
            body: FigureBody::Curves(CurvesData {
                x: axis("axis-visit", ""),
                y: axis("axis-departure", "%"),
                curves: vec![
                    curve("p_{c}", &visits.pc_pa, CurveStyle::Measured),
                    curve("p_{r}", &visits.pr_pa, CurveStyle::Reference),
                ],
                levels: Vec::new(),
                marks: Vec::new(),
                span: None,
                points: Vec::new(),
                width: None,
            }),
        }
    };
    results.revisits.iter().enumerate().filter(|(_, v)| v.pc_pa.len() > 1).map(figure).collect()
}
