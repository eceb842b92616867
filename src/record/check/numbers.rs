//! Numbers that must agree: bursts and periods, radii, windows, tables that must rise, units.

use super::{Found, quote};
use crate::base::finding::Arg;
use crate::base::units::si_factor;
use crate::record::ending::unit_of;
use crate::record::layout::{AxisSource, TimeSource};
use crate::record::nearest::nearest;
use crate::record::{EffectiveRadius, ExcitationMode, Layout, Record};

/// Smallest and largest effective radius, m: one typed in mm or µm falls outside. Common practice,
/// no source.
const EFFECTIVE_RADIUS_M: (f64, f64) = (1e-7, 0.05);

/// Excess of a burst over its period that is rounding of typed values.
const ROUNDING: f64 = 1e-9;

/// Units that a layout may name; each is known to `base::units`.
const LENGTHS: &[&str] = &["m", "cm", "mm", "µm", "um", "μm", "nm"];
const TIMES: &[&str] = &["s", "ms", "µs", "us", "μs", "ns"];
const VOLTAGES: &[&str] = &["V", "mV", "µV", "uV", "μV"];

pub(super) fn check(record: &Record, found: &mut Found) {
    let (device, drive) = (&record.device, &record.excitation);
    let window = &record.analysis.window;
    let aperture = ("device.aperture_radius_m", device.aperture_radius_m);
    below(("device.aperture_inner_radius_m", device.aperture_inner_radius_m), aperture, found);
    // A spherical cap is no wider than its sphere.
    at_most(aperture, ("device.radius_of_curvature_m", device.radius_of_curvature_m), found);
    let incident = ("excitation.power_electrical_w", drive.power_electrical_w);
    at_most(("excitation.power_reflected_w", drive.power_reflected_w), incident, found);
    let stop = ("analysis.window.stop_s", window.stop_s);
    below(("analysis.window.start_s", window.start_s), stop, found);
    burst(drive.burst_s(), drive.repetition_hz, "excitation.repetition_hz", found);
    if let Some(exposure) = &record.exposure
        && exposure.mode != Some(ExcitationMode::Cw)
    {
        burst(exposure.burst_s, exposure.repetition_hz, "exposure.repetition_hz", found);
        let train = ("exposure.train_s", exposure.train_s);
        at_most(("exposure.burst_s", exposure.burst_s), train, found);
    }
    if let Some(radius) = &record.sensor.effective_radius_m {
        effective_radius(radius, found);
    }
    for (i, scan) in record.scans.iter().enumerate() {
        if let Some(layout) = &scan.layout {
            layout_units(layout, &format!("scans[{i}].layout"), found);
        }
    }
}

/// A number with its path, if it was typed.
type Typed<'a> = (&'a str, Option<f64>);

/// One number must be smaller than another.
fn below(smaller: Typed, larger: Typed, found: &mut Found) {
    ordered(smaller, larger, |value, limit| value < limit, found);
}

/// One number must not be larger than another.
fn at_most(smaller: Typed, larger: Typed, found: &mut Found) {
    ordered(smaller, larger, |value, limit| value <= limit, found);
}

fn ordered(smaller: Typed, larger: Typed, holds: fn(f64, f64) -> bool, found: &mut Found) {
    let ((path, Some(value)), (other, Some(limit))) = (smaller, larger) else { return };
    if holds(value, limit) {
        return;
    }
    let measure = |value| match unit_of(path) {
        Some(unit) => Arg::measure(value, unit),
        None => Arg::Number(value),
    };
    found.add("record-not-below", path, |problem| {
        problem.with("found", measure(value)).with("other", other).with("limit", measure(limit))
    });
}

/// A burst must not last longer than the period in which it is repeated.
fn burst(duration_s: Option<f64>, repetition_hz: Option<f64>, path: &str, found: &mut Found) {
    let (Some(duration_s), Some(repetition_hz)) = (duration_s, repetition_hz) else { return };
    if duration_s * repetition_hz > 1.0 + ROUNDING {
        found.add("record-burst-exceeds-period", path, |problem| {
            problem
                .with("burst", Arg::measure(duration_s, "s"))
                .with("period", Arg::measure(1.0 / repetition_hz, "s"))
        });
    }
}

fn effective_radius(radius: &EffectiveRadius, found: &mut Found) {
    const PATH: &str = "sensor.effective_radius_m";
    let (least, most) = EFFECTIVE_RADIUS_M;
    let mut in_range = |radius_m: f64, path: &str| {
        if !(least..=most).contains(&radius_m) {
            found.add("record-out-of-range", path, |problem| {
                problem
                    .with("found", Arg::measure(radius_m, "m"))
                    .with("minimum", Arg::measure(least, "m"))
                    .with("maximum", Arg::measure(most, "m"))
            });
        }
    };
    let table = match radius {
        EffectiveRadius::Constant(radius_m) => return in_range(*radius_m, PATH),
        EffectiveRadius::Table(table) => table,
    };
    for (i, [_, radius_m]) in table.iter().enumerate() {
        in_range(*radius_m, &format!("{PATH}[{i}][1]"));
    }
    if table.is_empty() {
        found.add("record-wrong-length", PATH, |problem| {
            problem.with("minimum", 1usize).with("found", 0usize)
        });
    }
    let mut last_hz = 0.0;
    for (i, [frequency_hz, _]) in table.iter().enumerate() {
        if *frequency_hz <= last_hz {
            found.add("record-not-rising", &format!("{PATH}[{i}][0]"), |problem| {
                problem
                    .with("found", Arg::measure(*frequency_hz, "Hz"))
                    .with("before", Arg::measure(last_hz, "Hz"))
            });
        }
        last_hz = *frequency_hz;
    }
}

fn layout_units(layout: &Layout, path: &str, found: &mut Found) {
    for (name, axis) in [("x", &layout.x), ("y", &layout.y), ("z", &layout.z)] {
        if let Some(AxisSource::Array(array)) = axis {
            unit(array.unit.as_deref(), LENGTHS, &format!("{path}.{name}.unit"), found);
        }
        if let Some(AxisSource::Steps(steps)) = axis {
            unit(steps.unit.as_deref(), LENGTHS, &format!("{path}.{name}.unit"), found);
        }
    }
    let axes = [("x", &layout.x), ("y", &layout.y), ("z", &layout.z), ("level", &layout.level)];
    for (name, axis) in axes {
        if let Some(AxisSource::Steps(steps)) = axis
            && steps.step == 0.0
        {
            found.add("record-zero-step", &format!("{path}.{name}.step"), |problem| problem);
        }
    }
    let time = match &layout.time {
        Some(TimeSource::Array(array)) => array.unit.as_deref(),
        Some(TimeSource::Steps(steps)) => steps.unit.as_deref(),
        None => None,
    };
    unit(time, TIMES, &format!("{path}.time.unit"), found);
    if let Some(volts) = &layout.volts {
        unit(volts.unit.as_deref(), VOLTAGES, &format!("{path}.volts.unit"), found);
        if volts.scale == Some(0.0) {
            found.add("record-zero-step", &format!("{path}.volts.scale"), |problem| problem);
        }
    }
}

fn unit(typed: Option<&str>, known: &[&str], path: &str, found: &mut Found) {
    let Some(typed) = typed else { return };
    if known.contains(&typed.trim()) && si_factor(typed).is_some() {
        return;
    }
    found.add("record-not-one-of", path, |mut problem| {
        if let Some((nearest, _)) = nearest(typed, known.iter().copied()) {
            problem = problem.with("nearest", nearest);
        }
        let allowed: Vec<String> = known.iter().map(|unit| (*unit).to_owned()).collect();
        problem.with("found", quote(typed)).with("allowed", allowed)
    });
}

#[cfg(test)]
mod tests {
    use super::super::codes;
    use super::*;
    use crate::record::{Exposure, Role, ScanEntry};

    #[test]
    fn every_unit_of_a_layout_has_a_factor() {
        for unit in [LENGTHS, TIMES, VOLTAGES].concat() {
            assert!(si_factor(unit).is_some(), "{unit}");
        }
    }

    #[test]
    fn radii_windows_and_powers_agree() {
        let mut record = Record::default();
        record.device.aperture_radius_m = Some(0.05);
        record.device.aperture_inner_radius_m = Some(0.05);
        record.device.radius_of_curvature_m = Some(0.04);
        record.excitation.power_electrical_w = Some(10.0);
        record.excitation.power_reflected_w = Some(11.0);
        record.analysis.window.start_s = Some(2e-6);
        record.analysis.window.stop_s = Some(1e-6);
        assert_eq!(
            codes(&record),
            [
                "record-not-below device.aperture_inner_radius_m",
                "record-not-below device.aperture_radius_m",
                "record-not-below excitation.power_reflected_w",
                "record-not-below analysis.window.start_s",
            ]
        );
        // A half sphere is the widest cap.
        record = Record::default();
        record.device.aperture_radius_m = Some(0.04);
        record.device.radius_of_curvature_m = Some(0.04);
        assert_eq!(codes(&record), [""; 0]);
    }

    #[test]
    fn a_burst_fits_its_period() {
        let mut record = Record::default();
        record.excitation.frequency_hz = Some(1e6);
        record.excitation.cycles = Some(1000.0);
        record.excitation.repetition_hz = Some(1000.0);
        record.exposure = Some(Exposure {
            burst_s: Some(0.2),
            repetition_hz: Some(10.0),
            train_s: Some(0.1),
            ..Exposure::default()
        });
        assert_eq!(
            codes(&record),
            [
                "record-burst-exceeds-period exposure.repetition_hz",
                "record-not-below exposure.burst_s",
            ]
        );
        record.exposure = None;
        record.excitation.cycles = Some(1001.0);
        assert_eq!(codes(&record), ["record-burst-exceeds-period excitation.repetition_hz"]);
        record.excitation.mode = Some(ExcitationMode::Cw);
        assert_eq!(codes(&record), [""; 0]);
    }

    #[test]
    fn effective_radius_is_plausible_and_rising() {
        let mut record = Record::default();
        record.sensor.effective_radius_m = Some(EffectiveRadius::Constant(0.2));
        assert_eq!(codes(&record), ["record-out-of-range sensor.effective_radius_m"]);
        record.sensor.effective_radius_m =
            Some(EffectiveRadius::Table(vec![[2e6, 2e-4], [1e6, -1e-4], [0.0, 1e-4]]));
        assert_eq!(
            codes(&record),
            [
                "record-out-of-range sensor.effective_radius_m[1][1]",
                "record-not-rising sensor.effective_radius_m[1][0]",
                "record-not-rising sensor.effective_radius_m[2][0]",
            ]
        );
        record.sensor.effective_radius_m = Some(EffectiveRadius::Table(Vec::new()));
        assert_eq!(codes(&record), ["record-wrong-length sensor.effective_radius_m"]);
    }

    #[test]
    fn units_of_a_layout_have_the_right_dimension() {
        let layout = serde_json::json!({
            "waveforms": "/v", "axes": ["t", "x"],
            "x": {"start": 0, "step": 0, "unit": "us"},
            "z": {"array": "/z", "unit": "inch"},
            "time": {"dt": 4, "unit": "nsec"},
            "volts": {"scale": 0.5, "unit": "mv"}
        });
        let mut record = Record::default();
        let mut scan = ScanEntry::new("focus", Role::Line, "focus.h5");
        scan.layout = Some(serde_json::from_value(layout).unwrap());
        record.scans.push(scan);
        assert_eq!(
            codes(&record),
            [
                "record-not-one-of scans[0].layout.x.unit",
                "record-not-one-of scans[0].layout.z.unit",
                "record-zero-step scans[0].layout.x.step",
                "record-not-one-of scans[0].layout.time.unit",
                "record-not-one-of scans[0].layout.volts.unit",
            ]
        );
    }
}
