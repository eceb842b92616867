//! The words of a point of a figure, and which waveform it stands for.

use super::drawings::safe;
use super::front::main_scan;
use super::model::{AxisData, CurvesData, Figure, MapData, Panel};
use super::plain_symbols;
use super::rounding::{self, Marks};
use super::wording::Wording;
use crate::analysis::{Picture, PlanePicture, Results, ScanResult};

/// `x 0.40 mm, y −0.20 mm: p_c 5.21 MPa`, without subscripts; none where the figure has no such point.
pub fn point_text(
    figure: &Figure,
    (panel, curve, index): (usize, usize, usize),
    words: &dyn Wording,
) -> Option<String> {
    let text = match figure.body.panels().get(panel)? {
        Panel::Map(map) => of_map(map, index, words)?,
        Panel::Curves(data) => of_curve(data, curve, index, words)?,
    };
    Some(plain_symbols(&text))
}

fn of_map(map: &MapData, index: usize, words: &dyn Wording) -> Option<String> {
    let columns = map.x_values.len().max(1);
    let x = place(&map.x, &map.x_values, index % columns, words.marks())?;
    let y = place(&map.y, &map.y_values, index / columns, words.marks())?;
    let value = value(&map.value, &map.value.label, *map.values.get(index)?, words);
    let mut text = format!("{x}, {y}: {value}");
    if map.replaced.contains(&index) {
        text.push_str(words.label("point-replaced").unwrap_or_default());
    }
    Some(text)
}

fn of_curve(data: &CurvesData, curve: usize, index: usize, words: &dyn Wording) -> Option<String> {
    let curve = data.curves.get(curve)?;
    let x = place(&data.x, &curve.x, index, words.marks())?;
    let label = if curve.label.is_empty() { &data.y.label } else { &curve.label };
    Some(format!("{x}: {}", value(&data.y, label, *curve.y.get(index)?, words)))
}

/// A coordinate, in as many places as its steps need for two digits.
fn place(axis: &AxisData, values: &[f64], index: usize, marks: Marks) -> Option<String> {
    let at = *values.get(index)?;
    let beside = values.get(index + 1).or_else(|| values.get(index.checked_sub(1)?));
    let step = beside.map_or(0.0, |other| (other - at).abs());
    let text = if step > 0.0 {
        rounding::fixed(at, (1.0 - step.log10().floor()).clamp(0.0, 6.0) as i32, marks)
    } else {
        rounding::plain(at, marks)
    };
    Some(named(axis, &axis.label, &text))
}

fn value(axis: &AxisData, label: &str, value: Option<f64>, words: &dyn Wording) -> String {
    match value {
        Some(v) if axis.unit == "dB" => named(axis, label, &rounding::fixed(v, 1, words.marks())),
        Some(v) => named(axis, label, &rounding::plain(v, words.marks())),
        None => words.label("point-no-value").unwrap_or_default().to_owned(),
    }
}

fn named(axis: &AxisData, label: &str, number: &str) -> String {
    format!("{label} {number}\u{a0}{}", axis.unit).trim_end_matches('\u{a0}').trim().to_owned()
}

/// The scan (its index) and the cell whose waveform a point of a figure stands for; none where it
/// stands for no single one.
pub fn point_cell(
    results: &Results,
    figure: &Figure,
    (panel, index): (usize, usize),
) -> Option<(usize, usize)> {
    let (scan, what) = scan_of(results, &figure.id)?;
    let cell = match (&results.scans[scan].picture, figure.body.panels().get(panel)?) {
        (Picture::Plane(plane), Panel::Map(map)) => {
            (map.values.len() == plane.x_m.len() * plane.y_m.len()).then_some(index)
        }
        (Picture::Plane(plane), _) => match (what, panel) {
            ("profile-x", _) | ("glance", 1) => Some(peak(plane).1 * plane.x_m.len() + index),
            ("profile-y", _) | ("glance", 2) => Some(index * plane.x_m.len() + peak(plane).0),
            _ => None,
        },
        (Picture::Line(_), _) => matches!(what, "pressures" | "level").then_some(index),
        _ => None,
    };
    Some((scan, cell?))
}

/// Column and row nearest to the peak, through which the profiles run.
fn peak(plane: &PlanePicture) -> (usize, usize) {
    let closest = |values: &[f64], wanted: f64| {
        let far = |index: &usize| (values[*index] - wanted).abs();
        (0..values.len()).min_by(|a, b| far(a).total_cmp(&far(b))).unwrap_or(0)
    };
    (closest(&plane.x_m, plane.peak_m.0), closest(&plane.y_m, plane.peak_m.1))
}

/// Scan and kind of a figure, from its id.
fn scan_of<'a>(results: &Results, id: &'a str) -> Option<(usize, &'a str)> {
    if id == "glance" {
        let main = main_scan(results)?;
        return Some((results.scans.iter().position(|scan| scan.id == main.id)?, id));
    }
    let id = id.strip_prefix("front-").unwrap_or(id);
    let what = |scan: &ScanResult| id.strip_prefix(&safe(&scan.id))?.strip_prefix('-');
    let all = results.scans.iter().enumerate();
    // Of scans whose names begin alike, the longest name is meant.
    all.filter_map(|(index, scan)| Some((index, what(scan)?))).min_by_key(|(_, what)| what.len())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::model::{ColourScale, FigureBody};
    use crate::report::wording;

    fn axis(label: &str, unit: &str) -> AxisData {
        AxisData { label: label.into(), unit: unit.into(), limits: None, log: false }
    }

    fn map() -> Figure {
        let body = FigureBody::Map(MapData {
            x: axis("x", "mm"),
            y: axis("y", "mm"),
            x_values: vec![-0.2, 0.0, 0.2],
            y_values: vec![-0.5, 0.0],
            values: vec![Some(1.0), Some(5.213_49), None, Some(0.0), Some(2.0), Some(3.0)],
            value: axis("p_{c}", "MPa"),
            scale: ColourScale::Sequential,
            contours: vec![],
            peak: None,
            replaced: vec![3],
        });
        Figure { id: "m".into(), caption: String::new(), alt: String::new(), body }
    }

    #[test]
    fn a_point_is_said_with_its_places_and_value() {
        let said = |index, tag| point_text(&map(), (0, 0, index), wording::of(tag));
        let en = said(1, "en").unwrap().replace('\u{a0}', " ");
        assert_eq!(en, "x 0.00 mm, y −0.50 mm: pc 5.213 MPa");
        let de = said(1, "de").unwrap().replace('\u{a0}', " ");
        assert_eq!(de, "x 0,00 mm, y −0,50 mm: pc 5,213 MPa");
        assert!(said(2, "en").unwrap().ends_with(": no value"));
        assert!(said(3, "en").unwrap().ends_with("pc 0\u{a0}MPa, replaced from its neighbours"));
        assert_eq!(said(6, "en"), None);
    }
}
