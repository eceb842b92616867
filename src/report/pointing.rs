//! The words of a point of a figure, and which waveform it stands for.

use super::drawings::safe;
use super::drive;
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

/// The waveform that a point of a figure stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WaveAt {
    /// Index of the scan.
    pub scan: usize,
    /// Cell of its grid; none for the waveform that the scan itself shows: at its peak, or of its
    /// middle shot.
    pub cell: Option<usize>,
}

/// The waveform that a point (panel, curve, index) of a figure stands for; none where it stands for no
/// single one.
pub fn wave_at(
    results: &Results,
    figure: &Figure,
    (panel, curve, index): (usize, usize, usize),
) -> Option<WaveAt> {
    let Some((scan, what)) = scan_of(results, &figure.id) else {
        return other_wave(results, figure, curve, index);
    };
    let cell = match (&results.scans.get(scan)?.picture, *figure.body.panels().get(panel)?) {
        (Picture::Plane(plane), Panel::Map(map)) => {
            (map.values.len() == plane.x_m.len() * plane.y_m.len()).then_some(index)
        }
        (Picture::Plane(plane), _) => match (what, panel) {
            ("profile-x", _) | ("glance", 1) => along(plane, 'x', plane.peak_m, index),
            ("profile-y", _) | ("glance", 2) => along(plane, 'y', plane.peak_m, index),
            ("pressures-x", _) => along(plane, 'x', pressure_peak(plane, curve)?, index),
            ("pressures-y", _) => along(plane, 'y', pressure_peak(plane, curve)?, index),
            _ => None,
        },
        (Picture::Line(_), _) => matches!(what, "pressures" | "level").then_some(index),
        _ => None,
    };
    Some(WaveAt { scan, cell: Some(cell?) })
}

/// Of figures that show several scans: a level of a sweep, planes and lines at several levels, planes
/// at several depths.
fn other_wave(results: &Results, figure: &Figure, curve: usize, index: usize) -> Option<WaveAt> {
    let scan_named = |id: &str| results.scans.iter().position(|scan| scan.id == id);
    if let Some(scan) = drive::scan_of_level(results, figure, curve, index) {
        let scan = scan_named(scan)?;
        return results.scans[scan].focal.as_ref().map(|_| WaveAt { scan, cell: None });
    }
    let (kind, number, what) = numbered(&figure.id)?;
    if kind == "depths" {
        let plane = results.depths.get(number)?.planes.get(index)?;
        let scan = scan_named(&plane.scan).filter(|_| what == "pressures")?;
        return results.scans[scan].focal.as_ref().map(|_| WaveAt { scan, cell: None });
    }
    let fields = results.level_fields.get(number).filter(|_| kind == "level-fields")?;
    let scan = scan_named(&fields.fields.get(curve)?.scan)?;
    let cell = match &results.scans[scan].picture {
        Picture::Plane(plane) => {
            along(plane, 'x', pressure_peak(plane, usize::from(what == "pr"))?, index)?
        }
        Picture::Line(_) => index,
        _ => return None,
    };
    Some(WaveAt { scan, cell: Some(cell) })
}

/// `level-fields-2-pc` as `("level-fields", 1, "pc")`.
pub(super) fn numbered(id: &str) -> Option<(&str, usize, &str)> {
    let at = id.find(|c: char| c.is_ascii_digit())?;
    let (number, what) = id[at..].split_once('-')?;
    Some((id[..at].strip_suffix('-')?, number.parse::<usize>().ok()?.checked_sub(1)?, what))
}

/// The peak through which the profile of a curve runs: p_c before p_r, as the figure has them.
fn pressure_peak(plane: &PlanePicture, curve: usize) -> Option<(f64, f64)> {
    let both = [&plane.profiles_pc, &plane.profiles_pr];
    both.into_iter().flatten().nth(curve).map(|profiles| profiles.peak_m)
}

/// Cell of a point of the profile along an axis, in the row or column nearest to a peak.
fn along(plane: &PlanePicture, axis: char, peak_m: (f64, f64), index: usize) -> Option<usize> {
    let closest = |values: &[f64], wanted: f64| {
        let far = |index: &usize| (values[*index] - wanted).abs();
        (0..values.len()).min_by(|a, b| far(a).total_cmp(&far(b)))
    };
    let (columns, rows) = (plane.x_m.len(), plane.y_m.len());
    match axis {
        'x' if index < columns => Some(closest(&plane.y_m, peak_m.1)? * columns + index),
        'y' if index < rows => Some(index * columns + closest(&plane.x_m, peak_m.0)?),
        _ => None,
    }
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
    use std::sync::Arc;

    use super::super::drawings::Draughtsman;
    use super::*;
    use crate::analysis::run;
    use crate::formats::source::{FileSet, Memory};
    use crate::record;
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

    fn example() -> Results {
        let mut files = FileSet::default();
        let all: [(&str, &[u8]); 3] = [
            ("focal-plane.h5", include_bytes!("../../demo-data/example/focal-plane.h5")),
            ("axial-line.csv", include_bytes!("../../demo-data/example/axial-line.csv")),
            ("sensitivity.csv", include_bytes!("../../demo-data/example/sensitivity.csv")),
        ];
        for (name, bytes) in all {
            files.insert(name, Arc::new(Memory(Arc::from(bytes))));
        }
        let record = include_str!("../../demo-data/example/record.json");
        run(record::read(record, "").unwrap(), &files, &mut |_, _| {}).unwrap()
    }

    // By definition of a profile: the map has its values, in the row or column nearest to the peak. It
    // runs between two of them, so that they differ a little.
    #[test]
    fn profiles_stand_for_the_points_beside_them() {
        let results = example();
        let mut compared = 0;
        for (number, scan) in results.scans.iter().enumerate() {
            let hand = Draughtsman { results: &results, scan, words: wording::of("en") };
            let Picture::Plane(plane) = &scan.picture else { continue };
            for figure in hand.profiles(plane).iter().chain(&hand.pressure_profiles(plane)) {
                let FigureBody::Curves(data) = &figure.body else { continue };
                for (curve, drawn) in data.curves.iter().enumerate() {
                    let (map, of): (_, fn(f64) -> f64) = match (data.y.unit.as_str(), curve) {
                        ("dB", _) => (&plane.ppsi_pa2_s, |db| 10f64.powf(db / 10.0)),
                        (_, 0) => (&plane.pc_pa, |mpa| mpa * 1e6),
                        _ => (&plane.pr_pa, |mpa| mpa * 1e6),
                    };
                    let whole = if data.y.unit == "dB" { plane.peak_ppsi } else { 1.0 };
                    let top = map.iter().copied().fold(0.0, f64::max);
                    for (index, value) in drawn.y.iter().enumerate() {
                        let at = wave_at(&results, figure, (0, curve, index)).unwrap();
                        assert_eq!(at.scan, number);
                        let there = map[at.cell.unwrap()];
                        if let Some(value) = value.filter(|_| there > 0.1 * top) {
                            let value = of(value) * whole;
                            assert!((value - there).abs() < 0.06 * top, "{}: {index}", figure.id);
                            compared += 1;
                        }
                    }
                    assert_eq!(wave_at(&results, figure, (0, curve, drawn.x.len())), None);
                }
            }
            let own = hand.wave(scan.focal.as_ref().unwrap());
            assert_eq!(wave_at(&results, &own[0], (0, 0, 3)), None, "it is a waveform itself");
        }
        assert!(compared > 40, "{compared}");
    }

    #[test]
    fn figures_of_several_scans_are_known_by_their_number() {
        assert_eq!(numbered("level-fields-2-pc"), Some(("level-fields", 1, "pc")));
        assert_eq!(numbered("levels-1-wave-10"), Some(("levels", 0, "wave-10")));
        assert_eq!(numbered("levels-0-wave-1"), None);
        assert_eq!(numbered("focal-plane-pc"), None);
    }
}
