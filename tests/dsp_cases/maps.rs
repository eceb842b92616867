//! Cases of `surface`, `region_moments`, `smooth_surface` and `disc_mean`.

use focalsheet::dsp::disc_mean::disc_mean;
use focalsheet::dsp::region_moments::region_moments;
use focalsheet::dsp::smooth_surface::smoothed;
use focalsheet::dsp::surface::Surface;
use serde_json::{Value, json};

use super::cases::Cases;
use super::signals::{noise, uneven};

/// A map with what it was made of.
struct Map {
    name: &'static str,
    /// Kind of the closed form, for the reference.
    form: &'static str,
    x: Vec<f64>,
    y: Vec<f64>,
    values: Vec<f64>,
}

pub fn add(cases: &mut Cases) {
    let maps = maps();
    for map in &maps {
        between(cases, map);
        falls(cases, map);
        discs(cases, map);
    }
    moments(cases, &maps);
    smooth(cases);
}

fn even(count: u32, from: f64, step: f64) -> Vec<f64> {
    (0..count).map(|i| from + f64::from(i) * step).collect()
}

fn over(x: &[f64], y: &[f64], value: impl Fn(f64, f64) -> f64) -> Vec<f64> {
    y.iter().flat_map(|y| x.iter().map(|x| value(*x, *y)).collect::<Vec<f64>>()).collect()
}

/// exp(−2 (u²/1.5² + v²)), u and v turned by 0.5 rad: its logarithm is a quadratic.
fn gauss(x: f64, y: f64) -> f64 {
    let (s, c) = 0.5f64.sin_cos();
    (-2.0 * (((c * x + s * y) / 1.5).powi(2) + (c * y - s * x).powi(2))).exp()
}

/// Below zero, where no logarithm is: of the fourth degree along x and the third along y.
fn polynomial(x: f64, y: f64) -> f64 {
    x.powi(4) - 2.0 * x * x * y + 0.5 * y.powi(3) - 300.0 + x
}

/// A main lobe with a null around it and a ring.
fn lobes(x: f64, y: f64) -> f64 {
    let r2 = x * x + y * y;
    (1.0 - 0.5 * r2).powi(2) * (-0.5 * r2).exp()
}

fn maps() -> Vec<Map> {
    let (odd_x, odd_y) = (uneven(42, -3.2, 0.16, 0.4, 110), uneven(37, -2.7, 0.15, 0.4, 111));
    let (x, y) = (even(43, -3.1, 0.15), even(40, -2.9, 0.15));
    let rough: Vec<f64> =
        over(&x, &y, gauss).iter().zip(noise(43 * 40, 112)).map(|(v, n)| v + 0.003 * n).collect();
    vec![
        Map {
            name: "Gaussian",
            form: "gauss",
            values: over(&x, &y, gauss),
            x: x.clone(),
            y: y.clone(),
        },
        Map {
            name: "Gaussian, uneven steps",
            form: "gauss",
            values: over(&odd_x, &odd_y, gauss),
            x: odd_x.clone(),
            y: odd_y.clone(),
        },
        Map {
            name: "polynomial, uneven steps",
            form: "polynomial",
            values: over(&odd_x, &odd_y, polynomial),
            x: odd_x,
            y: odd_y,
        },
        Map {
            name: "lobes",
            form: "lobes",
            values: over(&x, &y, lobes),
            x: x.clone(),
            y: y.clone(),
        },
        Map { name: "noise", form: "none", values: rough, x, y },
        Map {
            name: "four by three",
            form: "none",
            values: (1..=12).map(|i| f64::from(i * i % 13) - 4.0).collect(),
            x: even(4, 0.0, 0.5),
            y: vec![0.0, 0.4, 1.0],
        },
        Map {
            name: "one row",
            form: "none",
            values: vec![1.0; 5],
            x: even(5, 0.0, 1.0),
            y: vec![0.0],
        },
    ]
}

impl Map {
    fn surface(&self) -> Surface<'_> {
        Surface { x: &self.x, y: &self.y, values: &self.values }
    }

    fn input(&self, more: Value) -> Value {
        let mut input = json!({"x": self.x, "y": self.y, "values": self.values, "form": self.form});
        if let (Some(all), Some(more)) = (input.as_object_mut(), more.as_object()) {
            all.extend(more.clone());
        }
        input
    }

    /// Coordinates from a share of the grid, 0 … 1 along each axis.
    fn place(&self, (u, v): (f64, f64)) -> (f64, f64) {
        let along = |x: &[f64], u: f64| x[0] + u * (x[x.len() - 1] - x[0]);
        (along(&self.x, u), along(&self.y, v))
    }
}

/// Places all over the grid, on its points, at its corners, and off it.
fn between(cases: &mut Cases, map: &Map) {
    let mut at: Vec<(f64, f64)> = (0..500)
        .map(|i| {
            map.place(((f64::from(i) * 0.618_034).fract(), (f64::from(i) * 0.414_214).fract()))
        })
        .collect();
    at.extend(map.x.iter().map(|x| (*x, map.y[map.y.len() / 2])));
    let (right, top) = (map.x[map.x.len() - 1], map.y[map.y.len() - 1]);
    at.extend([(map.x[0], map.y[0]), (right, top), (right, map.y[0]), (map.x[0], top)]);
    at.extend([(-0.01, 0.5), (1.001, 0.5), (0.3, -1.0), (0.3, 1.001)].map(|p| map.place(p)));
    let values: Vec<Option<f64>> = at.iter().map(|p| map.surface().at(*p)).collect();
    cases.add(("surface", "at"), map.name, map.input(json!({"at": at})), json!(values));
    let held: Vec<bool> = at.iter().map(|p| map.surface().holds(*p)).collect();
    cases.add(
        ("surface", "holds"),
        map.name,
        json!({"x": map.x, "y": map.y, "at": at}),
        json!(held),
    );
}

fn falls(cases: &mut Cases, map: &Map) {
    if map.form == "polynomial" || map.values.len() < 100 {
        return;
    }
    for (db, from) in
        [(3.0, (0.0, 0.0)), (6.0, (0.05, -0.03)), (13.0, (0.0, 0.0)), (60.0, (0.1, 0.0))]
    {
        let level = 10f64.powf(-0.1 * db);
        for degrees in [0.0f64, 28.0, 90.0, 151.0, 213.0, 270.0] {
            let (sin, cos) = degrees.to_radians().sin_cos();
            let made = map.surface().fall(from, (cos, sin), level);
            let input = map
                .input(json!({"from": [from.0, from.1], "direction": [cos, sin], "level": level}));
            let name = format!("{}, −{db} dB at {degrees}°", map.name);
            cases.add(("surface", "fall"), name, input, json!(made));
        }
    }
}

fn discs(cases: &mut Cases, map: &Map) {
    for (name, share, radius) in [
        ("in the middle", (0.5, 0.5), 0.3),
        ("on the flank", (0.61, 0.42), 0.2),
        ("a point", (0.61, 0.42), 0.0),
        ("over the edge", (0.97, 0.5), 0.3),
        ("off the grid", (1.2, 0.5), 0.1),
    ] {
        let at = map.place(share);
        let made = disc_mean(&map.surface(), at, radius);
        let input = map.input(json!({"at": [at.0, at.1], "radius": radius}));
        cases.add(("disc_mean", "disc_mean"), format!("{}, {name}", map.name), input, json!(made));
    }
}

/// Regions above levels, weighted with one, with themselves and with another map.
fn moments(cases: &mut Cases, maps: &[Map]) {
    for map in maps.iter().filter(|m| m.form == "gauss" || m.form == "lobes" || m.name == "noise") {
        let best = (0..map.values.len())
            .max_by(|a, b| map.values[*a].total_cmp(&map.values[*b]))
            .unwrap_or(0);
        let top = (best / map.x.len(), best % map.x.len());
        let slope = over(&map.x, &map.y, |x, y| 2.0 + 0.3 * x - 0.2 * y + 0.1 * x * y);
        let ones = vec![1.0; map.values.len()];
        for (weights, weight) in [("ones", &ones), ("itself", &map.values), ("a slope", &slope)] {
            for (db, seed) in [(6.0, top), (12.0, top), (0.0, (0, 0))] {
                // The last: a seed below the level.
                let level = 10f64.powf(-0.1 * db);
                let made = region_moments(&map.x, &map.y, &map.values, level, seed, weight);
                let input = map.input(json!({"level": level, "seed": [seed.0, seed.1],
                                             "weights": weight, "kind": weights}));
                let output = json!(made.map(|m| json!({
                    "area": m.area, "integral": m.integral, "x": m.x, "y": m.y, "xx": m.xx,
                    "xy": m.xy, "yy": m.yy, "at_edge": m.at_edge})));
                let name = format!("{}, −{db} dB, {weights}", map.name);
                cases.add(("region_moments", "region_moments"), name, input, output);
            }
        }
    }
    // Far from zero and cut by the edge of the grid.
    let (x, y) = (even(25, 996.9, 0.15), even(40, -502.9, 0.15));
    let values = over(&x, &y, |x, y| gauss(x - 1000.0, y + 500.0));
    let made = region_moments(&x, &y, &values, 0.1, (19, 20), &values);
    let input = json!({"x": x, "y": y, "values": values, "form": "none", "level": 0.1,
                       "seed": [19, 20], "weights": values, "kind": "itself"});
    let output = json!(made.map(|m| json!({
        "area": m.area, "integral": m.integral, "x": m.x, "y": m.y, "xx": m.xx, "xy": m.xy,
        "yy": m.yy, "at_edge": m.at_edge})));
    cases.add(("region_moments", "region_moments"), "far and cut by the edge", input, output);
}

fn smooth(cases: &mut Cases) {
    let (x, y) = (even(31, 5.0, 0.5), even(24, -3.0, 0.4));
    for (name, x, y, radius) in [
        ("small", x.clone(), y.clone(), 0.71),
        ("a step and a half", x.clone(), y.clone(), 0.6),
        ("below a step and a half", x.clone(), y.clone(), 0.59),
        ("wide", x.clone(), y.clone(), 2.3),
        ("beyond eight steps", x.clone(), y.clone(), 9.0),
        ("wider than the map", even(9, 0.0, 1.0), even(8, 0.0, 1.0), 6.2),
        ("uneven steps", uneven(31, 5.0, 0.5, 0.1, 113), uneven(24, -3.0, 0.4, 0.1, 114), 1.7),
        ("two rows", x, vec![0.0, 0.4], 1.3),
        ("one row", even(9, 0.0, 1.0), vec![0.0], 3.0),
    ] {
        let values: Vec<f64> = over(&x, &y, |x, y| (0.7 * x).sin() + 0.1 * x * y)
            .iter()
            .zip(noise(x.len() * y.len(), 115))
            .map(|(v, n)| v + 0.3 * n)
            .collect();
        let made = smoothed(&x, &y, &values, radius);
        let input = json!({"x": x, "y": y, "values": values, "radius": radius});
        cases.add(("smooth_surface", "smoothed"), name, input, json!(made));
    }
}
