//! Figures of the calibration: volts against pressure of a check source, noise against the largest
//! pressure of each range.

use super::calibration::noise_name;
use super::model::{AxisData, Curve, CurveStyle, CurvesData, Figure, FigureBody};
use super::wording::Wording;
use crate::analysis::Results;
use crate::base::range_noise::NoiseOf;
use crate::base::transfer::Transfer;
use crate::base::units;

fn axis(label: &str, unit: &str) -> AxisData {
    AxisData { label: label.to_owned(), unit: unit.to_owned(), limits: None, log: true }
}

fn panel(x: AxisData, y: AxisData) -> CurvesData {
    CurvesData {
        x,
        y,
        curves: Vec::new(),
        levels: Vec::new(),
        marks: Vec::new(),
        span: None,
        points: Vec::new(),
        width: None,
    }
}

/// The readings of a check source at every range, and the line of each factor from the noise of the
/// range to the largest pressure that it holds.
pub fn transfer(
    results: &Results,
    index: usize,
    transfer: &Transfer,
    words: &dyn Wording,
) -> Option<Figure> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let mut data = panel(axis(&label("axis-pressure"), "MPa"), axis(&label("axis-voltage"), "mV"));
    let (mega, milli) = (1.0 / units::PA_PER_MPA, 1e3);
    for range in &transfer.ranges {
        let name = range.range.clone().unwrap_or_else(|| label("range-only"));
        let noise = results.ranges.iter().find(|noise| match (&noise.of, &range.range) {
            (NoiseOf::Range(id), Some(own)) => id == own,
            (NoiseOf::Sensor, None) => true,
            _ => false,
        });
        let pressures = || range.levels.iter().map(|level| level.pressure_pa);
        let low = noise.map_or_else(|| pressures().fold(f64::INFINITY, f64::min), |n| n.nep_pa);
        let high =
            noise.and_then(|n| n.limit_pa).unwrap_or_else(|| pressures().fold(0.0, f64::max));
        let ends = [low, high.max(low)];
        data.curves.push(Curve {
            label: name,
            x: ends.iter().map(|p| p * mega).collect(),
            y: ends.iter().map(|p| Some(p * range.v_per_pa * milli)).collect(),
            band: Vec::new(),
            style: CurveStyle::Dashed,
        });
        data.curves.push(Curve {
            label: String::new(),
            x: range.levels.iter().map(|level| level.pressure_pa * mega).collect(),
            y: range.levels.iter().map(|level| Some(level.volts * milli)).collect(),
            band: Vec::new(),
            style: CurveStyle::Dots,
        });
    }
    (!data.curves.is_empty()).then(|| Figure {
        id: format!("check-source-{}", index + 1),
        caption: format!("{}.", label("caption-check-source")),
        alt: label("caption-check-source"),
        body: FigureBody::Curves(data),
    })
}

/// Noise-equivalent pressure against the largest pressure, one dot a range; with fewer than two
/// that have both there is none.
pub fn noise(results: &Results, words: &dyn Wording) -> Option<Figure> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let mega = 1.0 / units::PA_PER_MPA;
    let points: Vec<(f64, f64, String)> = results
        .ranges
        .iter()
        .filter_map(|range| {
            Some((range.limit_pa? * mega, range.nep_pa * 1e-3, noise_name(range, words)))
        })
        .collect();
    // A single dot tells no more than the table.
    if points.len() < 2 {
        return None;
    }
    let mut data = panel(axis(&label("axis-limit"), "MPa"), axis(&label("axis-nep"), "kPa"));
    data.curves.push(Curve {
        label: String::new(),
        x: points.iter().map(|p| p.0).collect(),
        y: points.iter().map(|p| Some(p.1)).collect(),
        band: Vec::new(),
        style: CurveStyle::Dots,
    });
    data.points = points;
    Some(Figure {
        id: "noise-by-range".to_owned(),
        caption: format!("{}.", label("caption-noise-by-range")),
        alt: label("caption-noise-by-range"),
        body: FigureBody::Curves(data),
    })
}
