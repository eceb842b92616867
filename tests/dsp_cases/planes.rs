//! Cases of `plane_spectrum`, `weighted_surface` and `unwrapped`.

use focalsheet::dsp::plane_spectrum::plane_spectrum;
use focalsheet::dsp::unwrapped::unwrapped;
use focalsheet::dsp::weighted_surface::{Weighted, WeightedSurface};
use rustfft::num_complex::Complex;
use serde_json::{Value, json};

use super::cases::{Cases, complex};
use super::signals::{noise, uneven};

pub fn add(cases: &mut Cases) {
    spectra(cases);
    fits(cases);
    phases(cases);
}

fn even(count: u32, from: f64, step: f64) -> Vec<f64> {
    (0..count).map(|i| from + f64::from(i) * step).collect()
}

/// Wave numbers and width of the packets: exp(−r²/(2 width²)) exp(+j k·r) about the middle of the map.
const PACKET: (f64, f64, f64) = (1.1, -0.7, 1.3);

fn spectra(cases: &mut Cases) {
    // Steps off by a sixth at most, as a stage makes them, and a middle twice as fine.
    let wavy = |count: u32, from: f64, step: f64, share: f64| -> Vec<f64> {
        even(count, from, step)
            .iter()
            .zip(0..)
            .map(|(v, i)| v + share * step * (0.9 * f64::from(i * i)).sin())
            .collect()
    };
    let finer: Vec<f64> =
        (-30..=30i32).map(|i| 0.25 * f64::from(i + i.signum() * (i.abs() - 15).max(0))).collect();
    let sparse = vec![0.0, 0.01, 0.3, 0.9, 2.0, 2.1];
    let (kx, ky, width) = PACKET;
    for (name, x, y, packet) in [
        ("even steps", even(61, -12.0, 0.4), even(50, -12.25, 0.5), true),
        ("far from zero", even(60, 988.2, 0.4), even(51, 487.5, 0.5), true),
        (
            "steps equal but for a thousandth",
            wavy(61, -12.0, 0.4, 4e-4),
            even(50, -12.25, 0.5),
            true,
        ),
        ("uneven steps", wavy(61, -12.0, 0.4, 0.06), wavy(55, -10.8, 0.4, 0.05), true),
        ("a finer middle", finer, even(61, -12.0, 0.4), true),
        ("noise, even steps", even(17, 3.0, 0.7), even(8, -1.0, 0.2), false),
        ("noise, uneven steps", uneven(20, 0.0, 0.5, 0.15, 100), even(9, -1.0, 0.2), false),
        ("noise, steps of all sizes", sparse.clone(), sparse, false),
        ("noise, two by two", even(2, 0.0, 1.0), even(2, 5.0, 0.1), false),
        ("one row", even(5, 0.0, 1.0), vec![1.0], false),
        ("falling", vec![2.0, 1.0, 0.0], even(3, 0.0, 1.0), false),
        ("the same place twice", vec![0.0, 1.0, 1.0, 2.0], even(3, 0.0, 1.0), false),
    ] {
        let middle = |x: &[f64]| 0.5 * (x[0] + x[x.len() - 1]);
        let (cx, cy) = (middle(&x), middle(&y));
        let rough = (noise(x.len() * y.len(), 101), noise(x.len() * y.len(), 102));
        let map: Vec<Complex<f64>> = (0..x.len() * y.len())
            .map(|i| {
                let (u, v) = (x[i % x.len()] - cx, y[i / x.len()] - cy);
                let size = (-(u * u + v * v) / (2.0 * width * width)).exp();
                match packet {
                    true => Complex::from_polar(size, kx * u + ky * v),
                    false => Complex::new(rough.0[i], rough.1[i]),
                }
            })
            .collect();
        let made = plane_spectrum(&x, &y, &map);
        let input = json!({"x": x, "y": y, "map": complex(&map),
                           "packet": packet.then_some([kx, ky, width])});
        let output: Value = json!(made.map(|s| json!({
            "kx": s.kx, "ky": s.ky, "values": complex(&s.values), "step": [s.step.0, s.step.1],
            "points": s.points, "resampled": s.resampled})));
        cases.add(("plane_spectrum", "plane_spectrum"), name, input, output);
    }
    let made = plane_spectrum(&[0.0, 1.0], &[0.0, 1.0], &[Complex::new(1.0, 0.0); 3]);
    let input = json!({"x": [0.0, 1.0], "y": [0.0, 1.0], "packet": null,
                       "map": complex(&[Complex::new(1.0, 0.0); 3])});
    let refused = json!(made.map(|s| s.points));
    cases.add(("plane_spectrum", "plane_spectrum"), "a value missing", input, refused);
}

fn fits(cases: &mut Cases) {
    for (name, count, c, rough, weighted, at) in [
        ("exact", 40, [3.0, -0.4, 0.7, 1.1, 0.2, -0.9], 0.0, true, (0.0, 0.0)),
        ("noise", 60, [3.0, -0.4, 0.7, 1.1, 0.2, -0.9], 0.05, false, (0.0, 0.0)),
        ("noise and weights", 61, [1.0, 0.4, 0.7, -1.1, 0.2, -0.9], 0.1, true, (0.0, 0.0)),
        ("off its middle", 200, [1.0, 0.4, 0.7, 1.1, -0.5, 0.9], 0.02, true, (2.0, -1.0)),
        ("seven points", 7, [1.0, 0.4, 0.7, 1.1, -0.5, 0.9], 0.02, true, (0.0, 0.0)),
        ("curvature lost in noise", 50, [1.0, 0.4, 0.7, 0.02, 0.0, 0.9], 0.3, true, (0.0, 0.0)),
        ("six points", 6, [1.0, 0.4, 0.7, 1.1, -0.5, 0.9], 0.0, true, (0.0, 0.0)),
    ] {
        let (x, y) = (noise(count, 104), noise(count, 105));
        let (scatter, weight) = (noise(count, 106), noise(count, 107));
        let points: Vec<Weighted> = (0..count)
            .map(|i| {
                // Units of very unequal size along the two axes.
                let (u, v) = (x[i] + at.0, y[i] + at.1);
                let value = c[0] + c[1] * u + c[2] * v + c[3] * u * u + c[4] * u * v + c[5] * v * v;
                let weight = if weighted { (0.7 * weight[i]).exp() } else { 2.0 };
                let value = value + rough * scatter[i] / weight.sqrt();
                Weighted { x: 1e-3 * u, y: 20.0 * v, value, weight }
            })
            .collect();
        surface(cases, name, &points);
    }
    let grid = |f: fn(f64, f64) -> (f64, f64)| -> Vec<Weighted> {
        (0..9)
            .flat_map(|r| (0..7).map(move |c| (f64::from(c) - 3.0, f64::from(r) - 4.0)))
            .map(|(x, y)| {
                let (value, weight) = f(x, y);
                Weighted { x, y, value, weight }
            })
            .collect()
    };
    surface(cases, "some weights are zero", &grid(|x, y| ((x * y).sin(), f64::from(x > -2.0))));
    surface(cases, "a trough of no bottom", &grid(|x, y| (x * x + 2.0 * x * y + y * y, 1.0)));
    surface(cases, "all weights are zero", &grid(|x, y| (x + y, 0.0)));
    let line: Vec<Weighted> =
        grid(|x, _| (x, 1.0)).iter().map(|p| Weighted { y: p.x, ..*p }).collect();
    surface(cases, "points on a line", &line);
}

fn surface(cases: &mut Cases, name: &str, points: &[Weighted]) {
    let made = WeightedSurface::fit(points);
    let rows: Vec<[f64; 4]> = points.iter().map(|p| [p.x, p.y, p.value, p.weight]).collect();
    let output: Value = json!(made.map(|s| json!({"c": s.c, "u": s.u, "residual": s.residual})));
    cases.add(("weighted_surface", "fit"), name, json!({"points": rows}), output);
    let Some(made) = made else { return };
    let known = json!({"c": made.c, "u": made.u});
    let level = made.level_at().map(|(x, y)| [x, y]);
    cases.add(("weighted_surface", "level_at"), name, known, json!(level));
    let at: Vec<[f64; 2]> = points.iter().map(|p| [1.5 * p.x, -0.7 * p.y]).collect();
    let values: Vec<f64> = at.iter().map(|p| made.at(p[0], p[1])).collect();
    cases.add(("weighted_surface", "at"), name, json!({"c": made.c, "at": at}), json!(values));
}

/// Magnitudes with valleys and islands over smooth phases of many turns; and noise.
fn phases(cases: &mut Cases) {
    type Field = fn(f64, f64) -> (f64, f64);
    let fields: [(&str, Field, f64); 5] = [
        ("a bowl", |x, y| (2.0 - 0.01 * x.hypot(y), 0.11 * (x * x + y * y) + 0.3 * x), 0.3),
        ("a tilt", |x, y| (1.0 / (1.0 + 0.02 * (x * x + y * y)), 1.5 * x - 2.9 * y), 0.1),
        (
            "an island",
            |x, y| ((-0.05 * (x * x + y * y)).exp() + 0.5 * f64::from(x > 8.0), 0.9 * x + 0.4 * y),
            0.2,
        ),
        (
            "around a hole",
            |x, y| {
                let r = x.hypot(y - 2.0);
                (f64::from(r > 4.0) * (1.0 + 0.1 * (x + 0.3 * y).sin()), 0.8 * r)
            },
            0.5,
        ),
        ("the strongest point alone", |x, y| (1.0 / (1.0 + x * x + y * y), 0.4 * x), 0.9),
    ];
    for (name, field, floor) in fields {
        let phasors: Vec<Complex<f64>> = (0..19 * 24)
            .map(|i| {
                let (size, phase) = field(f64::from(i % 24) - 11.2, f64::from(i / 24) - 8.7);
                Complex::from_polar(size, phase)
            })
            .collect();
        let known: Vec<f64> = (0..19 * 24)
            .map(|i| field(f64::from(i % 24) - 11.2, f64::from(i / 24) - 8.7).1)
            .collect();
        phase(cases, name, 24, &phasors, floor, Some(known));
    }
    let rough: Vec<Complex<f64>> =
        noise(300, 108).iter().zip(noise(300, 109)).map(|(re, im)| Complex::new(*re, im)).collect();
    phase(cases, "noise", 15, &rough, 0.2, None);
    phase(cases, "one row", 300, &rough, 1e-9, None);
    phase(cases, "one column", 1, &rough, 1e-9, None);
    phase(cases, "a floor of zero", 15, &rough, 0.0, None);
    phase(cases, "nothing", 5, &[Complex::new(0.0, 0.0); 20], 0.1, None);
    phase(cases, "empty", 5, &[], 0.1, None);
}

fn phase(
    cases: &mut Cases,
    name: &str,
    columns: usize,
    phasors: &[Complex<f64>],
    floor: f64,
    known: Option<Vec<f64>>,
) {
    let made = unwrapped(columns, phasors, floor);
    let input = json!({"columns": columns, "phasors": complex(phasors), "floor": floor,
                       "known": known});
    cases.add(("unwrapped", "unwrapped"), name, input, json!(made));
}
