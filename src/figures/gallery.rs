//! Figures for tests: a measured field as it should be, and data as ugly as they come.

use std::f64::consts::{PI, TAU};

use super::gallery_log;
use super::grid::tests::{axis, map};
use super::plot::tests::{curve, curves};
use crate::report::model::{
    ColourScale, Curve, CurveStyle, CurvesData, Figure, FigureBody, MapData,
};

/// Repeatable noise between -1 and 1.
pub(crate) fn noise(count: usize) -> Vec<f64> {
    let mut state = 7u64;
    let mut next = || {
        state =
            state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 11) as f64 / (1u64 << 52) as f64 - 1.0
    };
    (0..count).map(|_| next()).collect()
}

pub(crate) fn steps(count: usize, from: f64, to: f64) -> Vec<f64> {
    (0..count).map(|n| from + (to - from) * n as f64 / (count - 1).max(1) as f64).collect()
}

pub(crate) fn some(values: Vec<f64>) -> Vec<Option<f64>> {
    values.into_iter().map(Some).collect()
}

/// A Gaussian focus off the centre, with side lobe, noise, contours, peak and replaced points.
pub(crate) fn focal_plane(count: usize) -> MapData {
    let x = steps(count, -5.0, 5.0);
    let noise = noise(count * count);
    let values = x
        .iter()
        .flat_map(|y| x.iter().map(|x| (x - 0.45).hypot(y + 0.3)).collect::<Vec<_>>())
        .zip(noise)
        .map(|(r, n)| {
            Some((5.4 * (-r * r / 2.2).exp() + 0.4 * (r * 1.7).sin().abs() + 0.03 * n).abs())
        })
        .collect();
    let mut out = map(x.clone(), x, values);
    out.contours =
        vec![(3.8, "−3 dB".to_owned()), (2.7, "−6 dB".to_owned()), (1.35, "−12 dB".to_owned())];
    out.peak = Some((0.45, -0.3));
    out.replaced = vec![count + 3, 2 * count + 3];
    out
}

/// A profile with its −6 dB width.
pub(crate) fn profile() -> CurvesData {
    let x = steps(41, -5.0, 5.0);
    let y = x.iter().map(|x| 5.4 * (-x * x / 2.2).exp()).collect();
    let mut out = curves(vec![curve(x, some(y))]);
    (out.x, out.y) = (axis("x", "mm"), axis("p_{c}", "MPa"));
    out.levels = vec![(2.7, "−6 dB".to_owned())];
    out.width = Some((-1.23, 1.23, 2.7, "2.46 mm".to_owned()));
    out
}

/// A steepened burst of twenty cycles with noise, its peaks and window.
pub(crate) fn burst(count: usize) -> CurvesData {
    let t = steps(count, 0.0, 24.0);
    let p: Vec<f64> = t
        .iter()
        .zip(noise(count))
        .map(|(t, n)| {
            let u = t - 4.0;
            let inside = (0.0..=20.0 / 1.5).contains(&u);
            let wave: f64 = (1..12)
                .map(|k| (TAU * 1.5 * f64::from(k) * u).sin() / f64::from(k).powf(1.4))
                .sum();
            if inside { 3.0 * wave + 0.02 * n } else { 0.02 * n }
        })
        .collect();
    let extreme = |sign: f64| {
        let best = p.iter().enumerate().max_by(|a, b| (sign * a.1).total_cmp(&(sign * b.1)));
        best.map_or((0.0, 0.0), |(index, value)| (t[index], *value))
    };
    let (high, low) = (extreme(1.0), extreme(-1.0));
    let mut out = curves(vec![curve(t.clone(), some(p.clone()))]);
    out.span = Some((3.5, 18.0, "window".to_owned()));
    out.points = vec![
        (high.0, high.1, "p_{c} = 5.1 MPa".to_owned()),
        (low.0, low.1, "p_{r} = 5.0 MPa".to_owned()),
    ];
    out
}

/// A spectrum in decibels with numbered harmonics.
fn spectrum() -> CurvesData {
    let f = steps(1200, 0.0, 30.0);
    let level = |f: &f64| {
        let sum: f64 = (1..18)
            .map(|n| (-((f - 1.5 * f64::from(n)) / 0.06).powi(2)).exp() / f64::from(n).powf(1.5))
            .sum();
        20.0 * (sum + 1e-4).log10()
    };
    let y = f.iter().map(level).collect();
    let mut out = curves(vec![curve(f, some(y))]);
    (out.x, out.y) = (axis("frequency", "MHz"), axis("amplitude", "dB"));
    out.marks = (1..=19).map(|n| (1.5 * f64::from(n), n.to_string())).collect();
    out
}

/// Pressures along the axis with band, model, level and labels that crowd at the end.
fn axial() -> CurvesData {
    let z = steps(121, 30.0, 90.0);
    let value = |z: &f64| 5.4 / (1.0 + ((z - 62.0) / 7.5).powi(2));
    let made = |label: &str, factor: f64, style: CurveStyle| Curve {
        label: label.to_owned(),
        x: z.clone(),
        y: z.iter().map(|z| Some(factor * value(z))).collect(),
        band: z.iter().map(|z| (factor * value(z) * 0.9, factor * value(z) * 1.1)).collect(),
        style,
    };
    let mut out = curves(vec![
        made("p_{c}", 1.0, CurveStyle::Measured),
        made("p_{r}", 0.7, CurveStyle::Measured),
        made("model", 0.95, CurveStyle::Dashed),
        made("earlier", 0.97, CurveStyle::Reference),
        made("points", 0.99, CurveStyle::Dots),
    ]);
    out.levels = vec![(2.7, "−6 dB".to_owned()), (2.75, "stated".to_owned())];
    out.points = vec![(62.0, 5.4, "p_{c}".to_owned()), (62.5, 5.4, "again".to_owned())];
    out.width = Some((54.5, 69.5, 2.7, "15.0 mm".to_owned()));
    out
}

fn maps() -> Vec<MapData> {
    let whole = focal_plane(41);
    let points = whole.values.len();
    let empty = MapData { x_values: vec![], y_values: vec![], values: vec![], ..whole.clone() };
    let one = MapData {
        x_values: vec![3.0],
        y_values: vec![-1.0],
        values: vec![Some(2.0)],
        ..whole.clone()
    };
    let row = MapData {
        x_values: steps(200, 40.0, 0.0),
        y_values: vec![1.0],
        values: some(steps(200, 0.0, 1.0)),
        ..whole.clone()
    };
    let column =
        MapData { x_values: vec![0.0, 1e-9], y_values: steps(100, 0.0, 1.0), ..row.clone() };
    let wild = [f64::MAX, -f64::MAX, f64::NAN, f64::INFINITY, 5e-324, 0.0];
    let mut uneven = whole.clone();
    uneven.x_values = uneven.x_values.iter().map(|x| -x - 0.05 * x * x.abs()).collect();
    let mut phase = whole.clone();
    phase.scale = ColourScale::Cyclic;
    phase.value = axis("phase", "rad");
    phase.values = noise(points).into_iter().map(|n| Some(n * PI)).collect();
    phase.contours.clear();
    let mut hostile = whole.clone();
    hostile.x.label = "</text><script>alert(1)</script>".to_owned();
    hostile.y.unit = "\u{0}\u{202e}\u{FFFF}µ<&".to_owned();
    hostile.value.label = "very long words & \"quotes\" ".repeat(20);
    hostile.contours[0].1 = "]]>_{<!--".to_owned();
    let mut cropped = whole.clone();
    cropped.x.limits = Some((2.0, -1.0));
    cropped.value.limits = Some((f64::NAN, 1.0));
    vec![
        MapData { values: vec![None; points], ..whole.clone() },
        MapData { values: vec![Some(1.5); points], scale: ColourScale::Diverging, ..whole.clone() },
        MapData { values: (0..points).map(|n| Some(wild[n % 6])).collect(), ..whole.clone() },
        MapData { x_values: steps(41, -1e300, 1e300), ..whole.clone() },
        MapData { x_values: steps(41, 1e-280, 2e-280), ..whole.clone() },
        MapData { peak: Some((f64::NAN, 1e308)), replaced: (0..points).collect(), ..whole.clone() },
        MapData { values: some(steps(200, 0.0, 2e9)), ..column },
        empty,
        one,
        row,
        uneven,
        phase,
        hostile,
        cropped,
        whole,
    ]
}

fn panels() -> Vec<CurvesData> {
    let wild = vec![f64::MAX, -1e300, f64::NAN, 5.0, f64::INFINITY, 5e-324];
    let mut huge = curves(vec![
        curve(steps(6, 0.0, 5.0), some(wild.clone())),
        curve(wild, some(steps(6, 0.0, 5.0))),
    ]);
    huge.points =
        vec![(1.0, f64::INFINITY, "beyond".to_owned()), (f64::NAN, 0.0, "nowhere".to_owned())];
    huge.width = Some((0.0, f64::NAN, 1.0, "no width".to_owned()));
    huge.levels = vec![(f64::NEG_INFINITY, "none".to_owned())];
    huge.span = Some((f64::NAN, 2.0, "no span".to_owned()));
    let mut crowded = axial();
    crowded.marks = (0..80).map(|n| (30.0 + 0.7 * f64::from(n), format!("mark {n}"))).collect();
    crowded.levels =
        (0..30).map(|n| (0.2 * f64::from(n), format!("level {n} of many, at length"))).collect();
    crowded.span = Some((80.0, 20.0, "a window with a long name".to_owned()));
    let mut falling = curves(vec![curve(vec![3.0, 2.0, 1.0], some(vec![1e-12, 2e-12, 1.5e-12]))]);
    falling.x.limits = Some((3.0, 1.0));
    falling.width = Some((2.0, 2.05, 1.6e-12, "0.05 mm".to_owned()));
    let mut out = vec![
        curves(vec![]),
        curves(vec![curve(vec![], vec![])]),
        curves(vec![curve(vec![5.0], vec![Some(1e6)])]),
        curves(vec![curve(vec![5.0, 6.0], vec![None, None])]),
        curves(vec![curve(steps(10, 0.0, 1.0), vec![Some(3.0); 10])]),
        huge,
        crowded,
        falling,
        profile(),
        spectrum(),
        axial(),
        burst(4000),
    ];
    out.extend(gallery_log::all());
    out
}

/// Every kind of figure, good and ugly, by name.
pub(crate) fn all() -> Vec<Figure> {
    let figure = |id: String, body| Figure {
        alt: format!("{id} <alt>"),
        caption: "\u{1}caption & more".to_owned(),
        id,
        body,
    };
    let mut out = Vec::new();
    for (index, data) in maps().into_iter().enumerate() {
        let turned = CurvesData { x: axis("y", "mm"), ..profile() };
        let glance = FigureBody::Glance {
            map: data.clone(),
            x_profile: profile(),
            y_profile: turned,
            waveform: burst(300),
        };
        out.push(figure(format!("map \"{index}\""), FigureBody::Map(data)));
        out.push(figure(format!("glance-{index}"), glance));
    }
    for (index, data) in panels().into_iter().enumerate() {
        let glance = FigureBody::Glance {
            map: focal_plane(11),
            x_profile: data.clone(),
            y_profile: data.clone(),
            waveform: data.clone(),
        };
        out.push(figure(format!("curves-{index}"), FigureBody::Curves(data)));
        out.push(figure(format!("glance-curves-{index}"), glance));
    }
    out
}
