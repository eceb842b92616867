//! Figures for tests with logarithmic axes: as they should be, and over data that do not suit them.

use super::gallery::{noise, some, steps};
use super::grid::tests::axis;
use super::plot::tests::{curve, curves};
use crate::report::model::{CurveStyle, CurvesData};

/// Good ones first.
pub(crate) fn all() -> Vec<CurvesData> {
    let mut out = vec![drive(), response()];
    out.extend(ugly());
    out
}

/// Both axes logarithmic.
fn decades(mut data: CurvesData) -> CurvesData {
    (data.x.log, data.y.log) = (true, true);
    data
}

/// Intensity against drive over two decades, each point with its name, a fitted line and a limit.
fn drive() -> CurvesData {
    let level = [1.0, 2.0, 3.0, 5.0, 7.0, 10.0, 14.0, 20.0, 40.0, 60.0, 90.0];
    let value = |v: f64| 0.021 * v * v / (1.0 + (v / 80.0).powi(2));
    let measured: Vec<f64> =
        level.iter().zip(noise(11)).map(|(v, n)| value(*v) * (1.0 + 0.1 * n)).collect();
    let mut dots = curve(level.to_vec(), some(measured.clone()));
    dots.style = CurveStyle::Dots;
    let line = steps(100, 0.0, 2.0).iter().map(|p| 10f64.powf(*p)).collect::<Vec<_>>();
    let mut fit = curve(line.clone(), some(line.iter().map(|v| 0.021 * v * v).collect()));
    fit.band = line.iter().map(|v| (0.018 * v * v, 0.024 * v * v)).collect();
    (fit.label, fit.style) = ("quadratic".to_owned(), CurveStyle::Dashed);
    let mut out = curves(vec![fit, dots]);
    (out.x, out.y) = (axis("drive", "V"), axis("I_{sppa}", "W/cm²"));
    out.levels = vec![(50.0, "limit".to_owned())];
    out.marks = vec![(30.0, "in use".to_owned())];
    out.points = level.iter().zip(&measured).map(|(v, i)| (*v, *i, format!("{v} V"))).collect();
    decades(out)
}

/// A sensor's response over three decades with a resonance and its band.
fn response() -> CurvesData {
    let f: Vec<f64> = steps(400, -1.0, 2.0).iter().map(|p| 10f64.powf(*p)).collect();
    let value = |f: &f64| {
        let r = f / 30.0;
        50.0 / ((1.0 - r * r).powi(2) + (0.3 * r).powi(2)).sqrt()
    };
    let mut made = curve(f.clone(), some(f.iter().map(value).collect()));
    made.band = f.iter().map(|f| (0.8 * value(f), 1.2 * value(f))).collect();
    let mut out = curves(vec![made]);
    (out.x, out.y) = (axis("frequency", "MHz"), axis("sensitivity", "mV/MPa"));
    out.span = Some((0.5, 20.0, "calibrated".to_owned()));
    out.marks = vec![(30.0, "resonance".to_owned())];
    out.x.log = true;
    out
}

/// Logarithmic axes over data that do not suit them.
fn ugly() -> Vec<CurvesData> {
    let ugly = vec![-1.0, 0.0, 1e-3, f64::NAN, 5.0, f64::INFINITY, 700.0, -5.0];
    let mut mixed = curves(vec![
        curve(steps(8, -1.0, 6.0), some(ugly.clone())),
        curve(ugly.clone(), some(steps(8, 0.01, 30.0))),
    ]);
    mixed.curves[0].band = (0..8).map(|n| (f64::from(n) - 4.0, f64::from(n) * 10.0)).collect();
    mixed.levels = vec![(0.0, "zero".to_owned()), (-3.0, "below".to_owned())];
    mixed.span = Some((-5.0, 2.0, "from below zero".to_owned()));
    mixed.points = vec![(0.0, 1.0, "nowhere".to_owned()), (3.0, 5.0, "somewhere".to_owned())];
    mixed.width = Some((-1.0, 3.0, 5.0, "no width".to_owned()));
    let mut dot = curve(vec![5.0], vec![Some(0.02)]);
    dot.style = CurveStyle::Dots;
    let mut one = curves(vec![dot]);
    one.points = vec![(5.0, 0.02, "only".to_owned())];
    let mut narrow = curves(vec![curve(vec![3.1, 3.2, 3.3], some(vec![7.5e-7, 7.7e-7, 8e-7]))]);
    narrow.x.limits = Some((3.1, 3.3));
    narrow.curves[0].style = CurveStyle::Dots;
    let wide: Vec<f64> = steps(61, -300.0, 300.0).iter().map(|p| 10f64.powf(*p)).collect();
    let mut wide = curves(vec![curve(wide.clone(), some(wide))]);
    wide.marks = vec![(1.0, "one".to_owned())];
    let few = curves(vec![curve(vec![2.0, 4.0, 7.0], some(vec![20.0, 300.0, 50.0]))]);
    let negative = curves(vec![curve(vec![-2.0, -1.0], some(vec![-1.0, 0.0]))]);
    let mut wrong = few.clone();
    (wrong.x.limits, wrong.y.limits) = (Some((0.0, 10.0)), Some((-40.0, f64::NAN)));
    [mixed, one, narrow, wide, few, negative, wrong, curves(vec![])].map(decades).to_vec()
}
