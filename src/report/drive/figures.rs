//! Figures of a sweep: pressures and harmonics against the level, waveforms and spectra.

use super::level_text;
use crate::analysis::{FocalWave, Results};
use crate::base::drive::{DriveCurve, DriveLine, DriveRow};
use crate::base::units::PA_PER_MPA;
use crate::report::model::{AxisData, Curve, CurveStyle, CurvesData, Figure, FigureBody};
use crate::report::wording::Wording;

/// Cycles of a small waveform.
const CYCLES: f64 = 2.0;
/// Lowest level of a spectrum, dB.
const FLOOR_DB: f64 = -80.0;

fn curves_data(x: AxisData, y: AxisData, curves: Vec<Curve>) -> CurvesData {
    CurvesData {
        x,
        y,
        curves,
        levels: Vec::new(),
        marks: Vec::new(),
        span: None,
        points: Vec::new(),
        width: None,
    }
}

fn axis(label: &str, unit: &str) -> AxisData {
    AxisData { label: label.to_owned(), unit: unit.to_owned(), ..AxisData::default() }
}

/// Place of a level on the abscissa.
pub(super) fn place(curve: &DriveCurve, level: f64) -> f64 {
    if is_root(curve) { level.max(0.0).sqrt() } else { level }
}

fn is_root(curve: &DriveCurve) -> bool {
    curve.against.as_deref() == Some("root-of-level")
}

fn level_axis(curve: &DriveCurve, words: &dyn Wording) -> AxisData {
    let label = words.label("drive-level").unwrap_or_default();
    if is_root(curve) {
        axis(&format!("√ {label}"), &format!("√{}", curve.unit))
    } else {
        axis(label, &curve.unit)
    }
}

/// Rows from the lowest level up; of a level measured several times the first.
fn rising(curve: &DriveCurve) -> Vec<&DriveRow> {
    let mut rows: Vec<&DriveRow> = curve.rows.iter().collect();
    rows.sort_by(|a, b| a.level.total_cmp(&b.level));
    rows.dedup_by(|later, first| later.level == first.level);
    rows
}

/// Pressures and harmonics against the level.
pub fn curves(index: usize, curve: &DriveCurve, words: &dyn Wording) -> Vec<Figure> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let figure = |what: &str, data: CurvesData| Figure {
        id: format!("levels-{}-{what}", index + 1),
        caption: format!("{} {}.", label(&format!("caption-levels-{what}")), curve.id),
        alt: label(&format!("caption-levels-{what}")),
        body: FigureBody::Curves(data),
    };
    vec![figure("pressures", pressures(curve, words)), figure("harmonics", harmonics(curve, words))]
}

pub(super) fn pressures(curve: &DriveCurve, words: &dyn Wording) -> CurvesData {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let rows = rising(curve);
    let mega = 1.0 / PA_PER_MPA;
    let measured = |name: &str, style, of: fn(&DriveRow) -> (Option<f64>, Option<f64>)| {
        let given: Vec<(f64, f64, f64)> = rows
            .iter()
            .filter_map(|row| {
                let (value, expanded) = of(row);
                Some((place(curve, row.level), value? * mega, expanded.unwrap_or(0.0) * mega))
            })
            .collect();
        Curve {
            label: name.to_owned(),
            x: given.iter().map(|(x, ..)| *x).collect(),
            y: given.iter().map(|(_, y, _)| Some(*y)).collect(),
            band: given.iter().map(|(_, y, u)| (y - u, y + u)).collect(),
            style,
        }
    };
    let mut all = vec![
        measured("p_{c}", CurveStyle::Measured, |row| (row.pc_pa, row.u_expanded_pc_pa)),
        measured("p_{r}", CurveStyle::Reference, |row| (row.pr_pa, row.u_expanded_pr_pa)),
    ];
    let top = rows.iter().map(|row| place(curve, row.level)).fold(0.0, f64::max);
    for line in [curve.pc_line, curve.pr_line].into_iter().flatten() {
        let DriveLine { slope, intercept_pa, .. } = line;
        let at = |x: f64| Some((intercept_pa + slope * x) * mega);
        all.push(Curve {
            label: String::new(),
            x: vec![0.0, top],
            y: vec![at(0.0), at(top)],
            band: Vec::new(),
            style: CurveStyle::Dashed,
        });
    }
    // Every measurement, returns and other ranges included; those with bubbles told apart.
    let dots = |name: String, wanted: &dyn Fn(&DriveRow) -> bool| {
        let given: Vec<(f64, f64)> = curve
            .rows
            .iter()
            .filter(|row| wanted(row))
            .flat_map(|row| {
                [row.pc_pa, row.pr_pa]
                    .into_iter()
                    .flatten()
                    .map(|p| (place(curve, row.level), p * mega))
                    .collect::<Vec<_>>()
            })
            .collect();
        Curve {
            label: name,
            x: given.iter().map(|(x, _)| *x).collect(),
            y: given.iter().map(|(_, y)| Some(*y)).collect(),
            band: Vec::new(),
            style: CurveStyle::Dots,
        }
    };
    let is_marked = |row: &DriveRow| row.bubble_fraction.is_some_and(|part| part > 0.0);
    all.push(dots(String::new(), &|row| !is_marked(row)));
    let mut data = curves_data(level_axis(curve, words), axis(&label("axis-pressure"), "MPa"), all);
    let ends = [curve.pc_line, curve.pr_line].into_iter().flatten().map(|line| line.level_max);
    if let Some(end) = ends.reduce(f64::min) {
        data.marks.push((place(curve, end), label("linear-to")));
    }
    let lowest = curve.rows.iter().filter(|row| is_marked(row)).map(|row| row.level);
    if let Some(level) = lowest.reduce(f64::min) {
        data.marks.push((place(curve, level), label("bubbles-from")));
    }
    data
}

pub(super) fn harmonics(curve: &DriveCurve, words: &dyn Wording) -> CurvesData {
    let rows = rising(curve);
    let of = |n: usize| Curve {
        label: format!("h_{{{n}}}"),
        x: rows.iter().map(|row| place(curve, row.level)).collect(),
        y: rows
            .iter()
            .map(|row| row.harmonics.get(n - 2).copied().flatten().map(|h| h * 100.0))
            .collect(),
        band: Vec::new(),
        style: if n == 2 { CurveStyle::Measured } else { CurveStyle::Reference },
    };
    curves_data(
        level_axis(curve, words),
        axis(words.label("axis-harmonics").unwrap_or_default(), "%"),
        (2..=5).map(of).collect(),
    )
}

/// Levels with their waveforms, from the lowest level up.
pub(super) fn with_waves<'a>(
    results: &'a Results,
    curve: &'a DriveCurve,
) -> Vec<(&'a DriveRow, &'a FocalWave)> {
    let wave_of = |row: &DriveRow| {
        let scan = results.scans.iter().find(|scan| scan.id == row.scan)?;
        scan.focal.as_ref().filter(|_| scan.calibrated)
    };
    rising(curve).into_iter().filter_map(|row| Some((row, wave_of(row)?))).collect()
}

/// Two cycles about the peak at each level on one scale of pressure; and the spectra of the lowest, the
/// last linear and the highest level.
pub fn waves(
    results: &Results,
    index: usize,
    curve: &DriveCurve,
    words: &dyn Wording,
) -> [Vec<Figure>; 2] {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let waves = with_waves(results, curve);
    let mega = 1.0 / PA_PER_MPA;
    let top = waves.iter().map(|(_, wave)| wave.pc.0).fold(0.0, f64::max) * mega * 1.05;
    let bottom = -waves.iter().map(|(_, wave)| wave.pr.0).fold(0.0, f64::max) * mega * 1.15;
    let small = |(number, (row, wave)): (usize, &(&DriveRow, &FocalWave))| {
        let cycles = CYCLES / wave.frequency_hz?;
        let (x, y) = about_peak(wave, cycles, mega);
        let text = level_text(row.level, &curve.unit, words);
        let mut data = curves_data(
            axis(&label("axis-time-from-peak"), "µs"),
            AxisData { limits: Some((bottom, top)), ..axis(&label("axis-pressure"), "MPa") },
            vec![Curve {
                label: String::new(),
                x,
                y,
                band: Vec::new(),
                style: CurveStyle::Measured,
            }],
        );
        data.x.limits = Some((-0.5e6 * cycles, 0.5e6 * cycles));
        Some(Figure {
            id: format!("levels-{}-wave-{}", index + 1, number + 1),
            caption: format!("{text}."),
            alt: format!("{} {text}", label("caption-levels-wave")),
            body: FigureBody::Curves(data),
        })
    };
    [
        waves.iter().enumerate().filter_map(small).collect(),
        spectra(index, curve, &waves, words).into_iter().collect(),
    ]
}

/// Time from the largest pressure in µs, and the pressure.
fn about_peak(wave: &FocalWave, length_s: f64, factor: f64) -> (Vec<f64>, Vec<Option<f64>>) {
    wave.p_pa
        .iter()
        .enumerate()
        .map(|(i, p)| (wave.t0_s + i as f64 * wave.interval_s - wave.pc.1, *p))
        .filter(|(t, _)| t.abs() <= 0.5 * length_s)
        .map(|(t, p)| (t * 1e6, Some(p * factor)))
        .unzip()
}

fn spectra(
    index: usize,
    curve: &DriveCurve,
    waves: &[(&DriveRow, &FocalWave)],
    words: &dyn Wording,
) -> Option<Figure> {
    let label = |key: &str| words.label(key).unwrap_or_default().to_owned();
    let first = waves.first()?;
    let last = waves.last()?;
    let linear = [curve.pc_line, curve.pr_line]
        .into_iter()
        .flatten()
        .map(|line| line.level_max)
        .reduce(f64::min);
    let middle = waves.iter().find(|(row, _)| Some(row.level) == linear);
    let mut shown = vec![(first, CurveStyle::Dashed)];
    if let Some(middle) = middle.filter(|m| m.0.level != first.0.level && m.0.level != last.0.level)
    {
        shown.push((middle, CurveStyle::Reference));
    }
    if last.0.level != first.0.level {
        shown.push((last, CurveStyle::Measured));
    }
    let top = last.1.pc.0.max(last.1.pr.0);
    let curves = shown.iter().map(|((row, wave), style)| {
        let highest = 1.1 * wave.lowpass_cutoff_hz;
        let count = ((highest / wave.spectrum_step_hz).ceil() as usize).min(wave.spectrum_db.len());
        // Levels re the largest line of the highest drive, near enough by the peaks.
        let shift = 20.0 * (wave.pc.0.max(wave.pr.0) / top).log10();
        Curve {
            label: level_text(row.level, &curve.unit, words),
            x: (0..count).map(|k| k as f64 * wave.spectrum_step_hz * 1e-6).collect(),
            y: wave.spectrum_db[..count].iter().map(|d| Some((d + shift).max(FLOOR_DB))).collect(),
            band: Vec::new(),
            style: *style,
        }
    });
    let data = curves_data(
        axis(&label("axis-frequency"), "MHz"),
        AxisData { limits: Some((FLOOR_DB, 5.0)), ..axis(&label("axis-level"), "dB") },
        curves.collect(),
    );
    Some(Figure {
        id: format!("levels-{}-spectra", index + 1),
        caption: format!("{} {}.", label("caption-levels-spectra"), curve.id),
        alt: label("caption-levels-spectra"),
        body: FigureBody::Curves(data),
    })
}
