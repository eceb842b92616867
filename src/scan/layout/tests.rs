//! Foreign files in memory: what is proposed, what is used, what stops.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::*;
use crate::formats::container::{Access, ArrayInfo, Attribute, NumberKind, Samples};
use crate::record::{AxisName, Role};
use crate::scan::{Grid, Opened, open};

/// Arrays of numbers; the waveforms are counted from 0 in storage order.
#[derive(Default)]
struct File {
    arrays: Vec<ArrayInfo>,
    values: BTreeMap<String, Vec<f64>>,
}

impl File {
    fn with(mut self, path: &str, shape: &[u64], values: Vec<f64>) -> Self {
        self.arrays.push(ArrayInfo {
            path: path.to_owned(),
            shape: shape.to_vec(),
            reversed: false,
            kind: NumberKind::Float { bits: 64 },
            access: Access::Random,
            chunk: Vec::new(),
            scales: Vec::new(),
            attributes: BTreeMap::new(),
        });
        self.values.insert(path.to_owned(), values);
        self
    }

    fn waves(self, path: &str, shape: &[u64]) -> Self {
        let n: u64 = shape.iter().product();
        self.with(path, shape, (0..n).map(|i| i as f64 * 1e-6).collect())
    }

    fn text(mut self, name: &str, text: &str) -> Self {
        if let Some(last) = self.arrays.last_mut() {
            last.attributes.insert(name.to_owned(), Attribute::Text(text.to_owned()));
        }
        self
    }

    fn change(mut self, change: impl Fn(&mut ArrayInfo)) -> Self {
        if let Some(last) = self.arrays.last_mut() {
            change(last);
        }
        self
    }
}

impl Container for File {
    fn arrays(&self) -> &[ArrayInfo] {
        &self.arrays
    }

    fn group_attributes(&self, _: &str) -> BTreeMap<String, Attribute> {
        BTreeMap::new()
    }

    fn read(&self, path: &str, start: &[u64], count: &[u64]) -> Result<Samples, Problem> {
        let array = self.array(path).ok_or_else(|| Problem::new("array-missing"))?;
        let mut flat = vec![0u64];
        for d in 0..array.shape.len() {
            let steps: Vec<u64> = (start[d]..start[d] + count[d]).collect();
            flat = flat
                .iter()
                .flat_map(|f| steps.iter().map(move |s| f * array.shape[d] + s))
                .collect();
        }
        Ok(Samples::F64(flat.into_iter().map(|i| self.values[path][i as usize]).collect()))
    }
}

fn steps(start: f64, step: f64, n: usize) -> Vec<f64> {
    (0..n).map(|i| start + step * i as f64).collect()
}

fn try_open(file: File, role: Role) -> Result<Vec<Opened>, Vec<String>> {
    let record = Record::default();
    let entry = ScanEntry::new("s", role, "file");
    open(&record, &entry, Arc::new(file))
        .map_err(|problems| problems.into_iter().map(|p| p.code).collect())
}

fn opened(file: File, role: Role) -> Opened {
    try_open(file, role).expect("opens").remove(0)
}

use AxisName::{Point, Repeat, T, X, Y};

#[test]
fn time_first_with_units_of_all_kinds() {
    let file = File::default()
        .waves("/scan/data", &[40, 3, 4])
        .text("units", "mV")
        .with("/scan/xpos", &[4], steps(-1.5, 0.5, 4))
        .text("units", "mm")
        .with("/scan/y_mm", &[3], steps(0.0, 1.0, 3))
        .with("/scan/zeit", &[40], steps(10.0, 0.02, 40));
    let proposals = propose(&file);
    assert_eq!(proposals.len(), 1);
    assert_eq!(proposals[0].layout.axes, [T, Y, X]);
    assert_eq!(proposals[0].role, Role::Plane);
    assert!(proposals[0].lacking.is_empty());
    let one = opened(file, Role::Plane);
    let Grid::Plane { x_m, y_m, .. } = &one.scan.grid else { panic!("a plane") };
    assert!((x_m[0] + 1.5e-3).abs() < 1e-15 && (y_m[2] - 2e-3).abs() < 1e-15);
    assert!((one.scan.interval_s - 2e-8).abs() < 1e-15 && (one.scan.t0(0) - 1e-5).abs() < 1e-18);
    assert!((one.scan.volts.volts_per_count - 1e-3).abs() < 1e-18);
    // Point (y 1, x 2) at sample 5 is element 5 · 12 + 1 · 4 + 2.
    let wave = one.scan.read(6, 1).expect("reads").to_f64();
    assert_eq!(wave[5], 66.0 * 1e-6);
    assert!(one.findings.iter().any(|f| f.code == "layout-proposed"));
    // Only the unit of time was assumed.
    let assumed = one.findings.iter().filter(|f| f.severity == Severity::Caution).count();
    assert_eq!(assumed, 1);
}

#[test]
fn equal_lengths_are_asked_not_guessed() {
    let file = || {
        File::default()
            .waves("/v", &[5, 5, 30])
            .text("units", "V")
            .with("/x_mm", &[5], steps(0.0, 0.5, 5))
            .with("/y_mm", &[5], steps(0.0, 0.5, 5))
            .with("/t_us", &[30], steps(0.0, 0.02, 30))
    };
    let axes: Vec<Vec<AxisName>> = propose(&file()).into_iter().map(|p| p.layout.axes).collect();
    assert_eq!(axes.len(), 2);
    assert!(axes.contains(&vec![X, Y, T]) && axes.contains(&vec![Y, X, T]));
    assert_eq!(try_open(file(), Role::Plane).err().expect("stops"), ["layout-choose"; 2]);
    // The file's own dimension scales decide.
    let scaled = File::default()
        .waves("/v", &[5, 5, 30])
        .text("units", "V")
        .change(|a| {
            a.scales = vec![Some("/x_mm".into()), Some("/y_mm".into()), Some("/t_us".into())]
        })
        .with("/x_mm", &[5], steps(0.0, 0.5, 5))
        .with("/y_mm", &[5], steps(0.0, 0.5, 5))
        .with("/t_us", &[30], steps(0.0, 0.02, 30));
    let proposals = propose(&scaled);
    assert_eq!(proposals.len(), 1);
    assert_eq!(proposals[0].layout.axes, [X, Y, T]);
}

#[test]
fn what_is_missing_is_said_all_at_once() {
    let file = File::default()
        .waves("/v", &[6, 5, 30])
        .change(|a| a.kind = NumberKind::Integer { bits: 16, signed: true });
    let codes = try_open(file, Role::Plane).err().expect("stops");
    for code in [
        "layout-incomplete",
        "layout-time-guessed",
        "layout-no-positions",
        "layout-no-time-step",
        "layout-no-volts-per-count",
    ] {
        assert!(codes.iter().any(|c| c == code), "{code} {codes:?}");
    }
    let pressure = File::default().waves("/p", &[30]).text("units", "MPa").with(
        "/t_us",
        &[30],
        steps(0.0, 0.02, 30),
    );
    assert_eq!(
        try_open(pressure, Role::Point).err().expect("stops"),
        ["layout-incomplete", "layout-not-volts"]
    );
}

#[test]
fn listed_points_serpentine_and_holes() {
    // Rows back and forth, one place left out.
    let mut x = Vec::new();
    let mut y = Vec::new();
    for row in 0..4 {
        for step in 0..5 {
            let column = if row % 2 == 1 { 4 - step } else { step };
            if (row, column) != (2, 3) {
                x.push(f64::from(column) * 0.5 + 1e-3);
                y.push(f64::from(row) * 0.5);
            }
        }
    }
    let file = File::default()
        .waves("/voltage", &[19, 30])
        .text("units", "V")
        .with("/x_mm", &[19], x)
        .with("/y_mm", &[19], y)
        .with("/dt_ns", &[1], vec![20.0]);
    assert_eq!(propose(&file)[0].layout.axes, [Point, T]);
    let one = opened(file, Role::Plane);
    assert_eq!((one.scan.grid.cells(), one.scan.points()), (20, 19));
    assert_eq!(one.scan.grid.point_of_cell(2 * 5 + 3), None);
    // Row 1 runs backwards: its last place holds the sixth point.
    assert_eq!(one.scan.grid.point_of_cell(5 + 4), Some(5));
    assert!(one.findings.iter().any(|f| f.code == "points-missing"));
}

#[test]
fn a_stated_layout_may_be_serpentine() {
    let mut entry = ScanEntry::new("s", Role::Plane, "file");
    entry.layout = serde_json::from_str(
        r#"{"waveforms": "v", "axes": ["y", "x", "t"], "serpentine": true,
            "x": {"start": 0, "step": 0.5, "unit": "mm"}, "y": {"start": 0, "step": 0.5, "unit": "mm"},
            "time": {"dt": 20, "unit": "ns"}}"#,
    )
    .expect("parses");
    let file = File::default().waves("/v", &[3, 4, 20]);
    let one = open(&Record::default(), &entry, Arc::new(file)).map_err(|p| format!("{p:?}"));
    let scan = one.expect("opens").remove(0).scan;
    assert_eq!(scan.grid.point_of_cell(4), Some(7));
    assert_eq!(scan.grid.point_of_cell(8), Some(8));
}

#[test]
fn levels_repeats_and_depths_are_scans_of_their_own() {
    let named = |first: &str| {
        File::default()
            .waves("/waveforms", &[2, 3, 4, 20])
            .change(|a| {
                a.attributes.insert("volts_per_count".into(), Attribute::Numbers(vec![1.0]));
            })
            .with("/x_m", &[4], steps(0.0, 5e-4, 4))
            .with("/y_m", &[3], steps(0.0, 5e-4, 3))
            .with("/dt_s", &[1], vec![2e-8])
            .with(first, &[2], vec![50.0, 100.0])
    };
    let levels = try_open(named("/level"), Role::Plane).expect("opens");
    assert_eq!(levels.len(), 2);
    assert_eq!(levels[1].entry.level, Some(100.0));
    assert_eq!(levels[1].scan.id, "s-level-2");
    let first = levels[1].scan.read(0, 1).expect("reads").to_f64();
    assert_eq!(first[0], 240.0 * 1e-6);
    let repeats = try_open(named("/other"), Role::Plane).expect("opens");
    assert_eq!(repeats[0].scan.id, "s-repeat-1");
    let stated = named("/z_m").change(|_| {}).arrays.len();
    assert_eq!(stated, 5);
    let mut volume = named("/z_m");
    volume.arrays[0].attributes.insert("axes".into(), Attribute::Text("z y x t".into()));
    let depths = try_open(volume, Role::Plane).expect("opens");
    let Grid::Plane { z_m, .. } = &depths[1].scan.grid else { panic!("a plane") };
    assert_eq!(*z_m, Some(100.0));
}

#[test]
fn a_layout_is_used_again_for_the_next_file() {
    let file = || File::default().waves("/odd/name", &[30, 4]).text("units", "V");
    let mut record = Record::default();
    let mut first = ScanEntry::new("a", Role::Line, "a");
    first.layout = serde_json::from_str(
        r#"{"waveforms": "/odd/name", "axes": ["t", "x"], "x": {"start": 0, "step": 0.5, "unit": "mm"},
            "time": {"dt": 20, "unit": "ns"}}"#,
    )
    .expect("parses");
    let second = ScanEntry::new("b", Role::Line, "b");
    record.scans = vec![first, second.clone()];
    let one = open(&record, &second, Arc::new(file())).map_err(|p| format!("{p:?}"));
    let one = one.expect("opens").remove(0);
    assert!(one.findings.iter().any(|f| f.code == "layout-reused"));
    assert!(one.layout.is_some());
    assert_eq!(one.scan.points(), 4);
}

#[test]
fn column_major_axes_are_stated_as_they_are_shown() {
    let file = File::default()
        .waves("/v", &[4, 3, 20])
        .text("units", "V")
        .change(|a| a.reversed = true)
        .with("/x_mm", &[4], steps(0.0, 0.5, 4))
        .with("/y_mm", &[3], steps(0.0, 0.5, 3))
        .with("/t_us", &[20], steps(0.0, 0.02, 20));
    let proposals = propose(&file);
    assert_eq!(proposals[0].layout.axes, [T, Y, X]);
    assert_eq!(proposals[0].shape, [20, 3, 4]);
    let one = opened(file, Role::Plane);
    // Storage order is x, y, t: point 1 is x 0, y 1.
    assert_eq!(one.scan.grid.cell(1), 4);
}

#[test]
fn single_dimensions_do_no_harm() {
    let file = File::default().waves("/v", &[1, 30]).text("units", "V").with(
        "/t_us",
        &[30, 1],
        steps(0.0, 0.02, 30),
    );
    let proposals = propose(&file);
    assert_eq!((proposals.len(), proposals[0].role), (1, Role::Point));
    assert_eq!(proposals[0].layout.axes, [Repeat, T]);
    assert_eq!(opened(file, Role::Point).scan.points(), 1);
}
