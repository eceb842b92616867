//! Proposes layouts for a file that does not describe itself, with the reasons.

use super::apply::shown;
use super::beside::{AxisArray, SingleNumber, axes, nameless, nameless_time, singles, squeezed};
use super::dims::{Reading, TimeBy, readings};
use super::words::{self, Single};
use super::{Proposal, plausible};
use crate::base::error::Problem;
use crate::base::finding::{Arg, Finding, Severity};
use crate::formats::container::{ArrayInfo, Attribute, Container, NumberKind};
use crate::record::{ArrayRef, AxisName, AxisSource, Layout, Role, TimeSource, TimeSteps, Volts};

/// Fewest samples of a waveform.
const FEWEST_SAMPLES: u64 = 16;
/// Most proposals.
const MOST: usize = 12;

/// Proposals for all waveform arrays of a file; several for one array where it can be read in several
/// ways.
pub fn propose(container: &dyn Container) -> Vec<Proposal> {
    let mut out = Vec::new();
    for (waveforms, reason) in candidates(container) {
        let axes: Vec<AxisArray> = axes(container, waveforms)
            .into_iter()
            .filter(|a| a.numbers.path != waveforms.path)
            .collect();
        let singles = singles(container, waveforms);
        let readings = readings(waveforms, &axes);
        for reading in &readings {
            if out.len() < MOST {
                let around = Around { container, waveforms, axes: &axes, singles: &singles };
                let mut proposal = around.proposal(reading);
                proposal.reasons.insert(0, reason.clone());
                out.push(proposal);
            }
        }
    }
    out
}

/// Arrays that can be waveforms: in each group the largest ones, by name where names decide.
fn candidates(container: &dyn Container) -> Vec<(&ArrayInfo, Finding)> {
    let fits = |a: &&ArrayInfo| {
        let axis = squeezed(&a.shape).len() == 1
            && (words::axis(a.name()).is_some() || nameless_time(container, a).is_some());
        let long = a.shape.iter().any(|n| *n >= FEWEST_SAMPLES);
        a.kind != NumberKind::Other && long && !axis && a.name() != "imag"
    };
    let scales: Vec<&String> =
        container.arrays().iter().flat_map(|a| a.scales.iter().flatten()).collect();
    let all: Vec<&ArrayInfo> =
        container.arrays().iter().filter(fits).filter(|a| !scales.contains(&&a.path)).collect();
    let mut groups: Vec<&str> = all.iter().map(|a| a.group()).collect();
    groups.sort_unstable();
    groups.dedup();
    let mut out = Vec::new();
    for group in groups {
        let own: Vec<&ArrayInfo> = all.iter().copied().filter(|a| a.group() == group).collect();
        let largest = own.iter().map(|a| a.elements()).max().unwrap_or(0);
        let top: Vec<&ArrayInfo> =
            own.iter().copied().filter(|a| 4 * a.elements() >= largest).collect();
        let named: Vec<&ArrayInfo> =
            top.iter().copied().filter(|a| words::waveforms(a.name())).collect();
        let (chosen, code) = match (top.as_slice(), named.as_slice()) {
            ([only], _) => (vec![*only], "layout-largest"),
            (_, [only]) => (vec![*only], "layout-named"),
            (several, _) => (several.to_vec(), "layout-one-of"),
        };
        for array in chosen {
            // A list of numbers beside others is no waveform without a name that says so.
            let rank = squeezed(&array.shape).len();
            let named = words::waveforms(array.name()) || nameless(array);
            if rank < 2 && !named && all.len() > 1 {
                continue;
            }
            out.push((array, Finding::new(Severity::Note, code).at(&array.path)));
        }
    }
    // Beside an array of waveforms, far smaller ones in other groups are something else unless they
    // are named as waveforms.
    let largest = out.iter().map(|(a, _)| a.elements()).max().unwrap_or(0);
    out.retain(|(a, _)| 1000 * a.elements() >= largest || words::waveforms(a.name()));
    out
}

struct Around<'a> {
    container: &'a dyn Container,
    waveforms: &'a ArrayInfo,
    axes: &'a [AxisArray],
    singles: &'a [SingleNumber],
}

impl Around<'_> {
    fn proposal(&self, reading: &Reading) -> Proposal {
        let mut reasons = Vec::new();
        let mut lacking = Vec::new();
        let mut axes = reading.dims.clone();
        if self.waveforms.reversed {
            axes.reverse();
        }
        let mut layout =
            Layout { waveforms: self.waveforms.path.clone(), axes, ..Layout::default() };
        let time_by = match reading.time_by {
            TimeBy::Scale => "layout-time-scale",
            TimeBy::Length => "layout-time-length",
            TimeBy::Rest => "layout-time-rest",
            TimeBy::Longest => "layout-time-longest",
        };
        let samples = reading.dims.iter().position(|d| *d == AxisName::T);
        let samples = samples.map_or(0, |d| self.waveforms.shape[d]);
        reasons.push(Finding::new(Severity::Note, time_by).with("samples", samples));
        if reading.time_by == TimeBy::Longest {
            lacking.push(
                Problem::new("layout-time-guessed")
                    .at(self.waveforms.path.clone())
                    .with("samples", samples),
            );
        }
        for axis in [AxisName::X, AxisName::Y, AxisName::Z] {
            let source = self.position(reading, axis, &mut reasons, &mut lacking);
            match axis {
                AxisName::X => layout.x = source,
                AxisName::Y => layout.y = source,
                _ => layout.z = source,
            }
        }
        if let Some(levels) = self.used(reading, AxisName::Level) {
            reasons.push(because("layout-axis", &levels.numbers.path, "level"));
            layout.level = Some(AxisSource::Array(reference(levels, None)));
        }
        if !reading.unnamed.is_empty() {
            let sizes: Vec<String> = reading.unnamed.iter().map(u64::to_string).collect();
            lacking.push(
                Problem::new("layout-no-positions")
                    .at(self.waveforms.path.clone())
                    .with("found", sizes.join(" × ")),
            );
        }
        layout.time = self.time(reading, &mut reasons, &mut lacking);
        layout.volts = self.volts(reading, &mut reasons, &mut lacking);
        Proposal {
            array: self.waveforms.path.clone(),
            group: self.waveforms.group().to_owned(),
            shape: shown(self.waveforms),
            role: self.role(reading),
            layout,
            lacking,
            reasons,
        }
    }

    fn used(&self, reading: &Reading, axis: AxisName) -> Option<&AxisArray> {
        reading.arrays.iter().map(|u| &self.axes[*u]).find(|a| a.axis == axis)
    }

    fn position(
        &self,
        reading: &Reading,
        axis: AxisName,
        reasons: &mut Vec<Finding>,
        lacking: &mut Vec<Problem>,
    ) -> Option<AxisSource> {
        let name = axis.as_str();
        let Some(array) = self.used(reading, axis) else {
            // A coordinate of one value is that of the whole scan, where its unit is known.
            let single = self.container.arrays().iter().find(|a| {
                a.elements() == 1
                    && a.group() == self.waveforms.group()
                    && words::axis(a.name()) == Some(axis)
            })?;
            let by_attribute = match single.attributes.get("units") {
                Some(Attribute::Text(text)) => words::unit(text),
                _ => None,
            };
            let unit = by_attribute.or_else(|| words::unit_of_name(single.name()))?;
            let unit = Some(unit.to_owned());
            return Some(AxisSource::Array(ArrayRef {
                array: single.path.clone(),
                unit,
                step: None,
            }));
        };
        let path = &array.numbers.path;
        reasons.push(because("layout-axis", path, name));
        let unit = self
            .unit(array, name, reasons, lacking, |array| plausible::length(&array.numbers.values));
        Some(AxisSource::Array(reference(array, unit)))
    }

    /// Unit of an axis: by attribute, by name, else by what a scan can be.
    fn unit(
        &self,
        array: &AxisArray,
        axis: &str,
        reasons: &mut Vec<Finding>,
        lacking: &mut Vec<Problem>,
        guess: impl Fn(&AxisArray) -> Option<&'static str>,
    ) -> Option<&'static str> {
        let path = &array.numbers.path;
        if let Some(text) = &array.unknown_unit {
            lacking.push(
                Problem::new("layout-unit-unknown").at(path.clone()).with("found", text.as_str()),
            );
            return None;
        }
        if let Some((unit, stated)) = array.unit {
            let code = if stated { "layout-unit-stated" } else { "layout-unit-named" };
            reasons.push(because(code, path, axis).with("unit", unit));
            return Some(unit);
        }
        match guess(array) {
            Some(unit) => {
                reasons.push(
                    Finding::new(Severity::Caution, "layout-unit-plausible")
                        .at(path)
                        .with("axis", axis)
                        .with("unit", unit),
                );
                Some(unit)
            }
            None => {
                lacking.push(Problem::new("layout-unit-missing").at(path.clone()));
                None
            }
        }
    }

    fn single(&self, meaning: Single) -> Option<&SingleNumber> {
        self.singles.iter().find(|s| s.meaning == meaning)
    }

    fn time(
        &self,
        reading: &Reading,
        reasons: &mut Vec<Finding>,
        lacking: &mut Vec<Problem>,
    ) -> Option<TimeSource> {
        if let Some(array) = self.used(reading, AxisName::T) {
            let values = &array.numbers.values;
            let dt = match values.as_slice() {
                [first, .., last] => (last - first) / (values.len() - 1) as f64,
                _ => 0.0,
            };
            reasons.push(because("layout-axis", &array.numbers.path, "t"));
            let unit = self.unit(array, "t", reasons, lacking, |_| plausible::interval(dt));
            return Some(TimeSource::Array(reference(array, unit)));
        }
        let interval = self.single(Single::Interval).map(|s| (s, s.value, "s"));
        let rate =
            self.single(Single::Rate).filter(|s| s.value > 0.0).map(|s| (s, 1.0 / s.value, "Hz"));
        let Some((source, dt, _)) = interval.or(rate) else {
            lacking.push(
                Problem::new("layout-no-time-step").at(format!("{}/dt_s", self.waveforms.group())),
            );
            return None;
        };
        let inverse = source.meaning == Single::Rate;
        let unit = match source.unit {
            Some(unit) if inverse => match unit {
                "Hz" => Some("s"),
                "kHz" => Some("ms"),
                "MHz" => Some("us"),
                "GHz" => Some("ns"),
                _ => None,
            },
            Some(unit @ ("s" | "ms" | "us" | "ns")) => Some(unit),
            _ => None,
        };
        let unit = match unit {
            Some(unit) => {
                reasons.push(because("layout-step-stated", &source.place, "t").with("unit", unit));
                Some(unit)
            }
            None => match plausible::interval(dt) {
                Some(unit) => {
                    reasons.push(
                        Finding::new(Severity::Caution, "layout-unit-plausible")
                            .at(&source.place)
                            .with("axis", "t")
                            .with("unit", unit),
                    );
                    Some(unit)
                }
                None => {
                    lacking.push(Problem::new("layout-unit-missing").at(source.place.clone()));
                    None
                }
            },
        };
        // The start counts in its own unit; without one, in that of the interval.
        let t0 = self.single(Single::Start).and_then(|start| {
            let own = crate::base::units::si_factor(start.unit.or(unit)?)?;
            let step = crate::base::units::si_factor(unit?)?;
            reasons.push(because("layout-start-stated", &start.place, "t"));
            Some(twelve_digits(start.value * own / step))
        });
        let dt = twelve_digits(dt);
        Some(TimeSource::Steps(TimeSteps { dt, t0, unit: unit.map(str::to_owned) }))
    }

    fn volts(
        &self,
        reading: &Reading,
        reasons: &mut Vec<Finding>,
        lacking: &mut Vec<Problem>,
    ) -> Option<Volts> {
        let path = &self.waveforms.path;
        let stated = match self.waveforms.attributes.get("units") {
            Some(Attribute::Text(text)) if !text.trim().is_empty() => Some(text.as_str()),
            _ => None,
        };
        let unit = stated
            .map_or_else(|| words::unit_of_name(self.waveforms.name()), words::unit)
            .filter(|unit| unit.ends_with('V'));
        let packed = self.waveforms.attributes.contains_key("scale_factor");
        let counts = matches!(self.waveforms.kind, NumberKind::Integer { .. });
        if let Some(scale) = self.single(Single::VoltsPerCount) {
            reasons.push(because("layout-scale-stated", &scale.place, ""));
            let unit = scale.unit.filter(|unit| unit.ends_with('V'));
            let offset = self.single(Single::VoltsOffset).map(|s| s.value);
            return Some(Volts { scale: Some(scale.value), offset, unit: unit.map(str::to_owned) });
        }
        if packed {
            reasons.push(because("layout-packed", path, ""));
        } else if counts {
            lacking.push(Problem::new("layout-no-volts-per-count").at(path.clone()));
            return None;
        }
        match (unit, stated) {
            (Some(unit), _) if stated.is_some() => {
                reasons.push(because("layout-unit-stated", path, "volts").with("unit", unit));
                // Packed data are scaled by the file's own factors, then by its unit.
                None
            }
            (Some(unit), _) => {
                reasons.push(because("layout-unit-named", path, "volts").with("unit", unit));
                Some(Volts { unit: Some(unit.to_owned()), ..Volts::default() })
            }
            (None, Some(text)) => {
                lacking.push(Problem::new("layout-not-volts").at(path.clone()).with("found", text));
                None
            }
            (None, None) => {
                let time = reading.dims.iter().position(|d| *d == AxisName::T);
                let largest = self.largest(time.unwrap_or(0));
                if packed || plausible::volts(largest) {
                    reasons.push(
                        Finding::new(Severity::Caution, "layout-volts-plausible")
                            .at(path)
                            .with("largest", Arg::Number(largest)),
                    );
                } else {
                    lacking.push(Problem::new("layout-unit-missing").at(path.clone()));
                }
                None
            }
        }
    }

    /// Largest magnitude in three waveforms: one in the middle, two half-way to it from the corners.
    fn largest(&self, time: usize) -> f64 {
        let shape = &self.waveforms.shape;
        let wave = |quarters: u64| {
            let mut start: Vec<u64> = shape.iter().map(|n| n * quarters / 4).collect();
            let mut count = vec![1u64; shape.len()];
            if let (Some(s), Some(c), Some(n)) =
                (start.get_mut(time), count.get_mut(time), shape.get(time))
            {
                (*s, *c) = (0, (*n).min(1 << 16));
            }
            let read = self.container.read(&self.waveforms.path, &start, &count);
            read.map(|samples| samples.to_f64()).unwrap_or_default()
        };
        let all = [2, 1, 3].into_iter().flat_map(wave);
        all.filter(|v| v.is_finite()).fold(0.0, |m: f64, v| m.max(v.abs()))
    }

    fn role(&self, reading: &Reading) -> Role {
        let points: u64 = reading
            .dims
            .iter()
            .zip(&self.waveforms.shape)
            .filter(|(d, _)| matches!(d, AxisName::X | AxisName::Y | AxisName::Z | AxisName::Point))
            .map(|(_, n)| *n)
            .product();
        let varies = |axis: AxisName| {
            self.used(reading, axis).is_some_and(|a| {
                a.numbers.values.iter().any(|v| (v - a.numbers.values[0]).abs() > 0.0)
            })
        };
        let (x, y, z) = (varies(AxisName::X), varies(AxisName::Y), varies(AxisName::Z));
        match (x, y, z) {
            (true, true, _) => Role::Plane,
            (false, false, true) => Role::Axial,
            (true, ..) | (_, true, _) => Role::Line,
            _ if points > 1 => Role::Plane,
            _ if reading.dims.contains(&AxisName::Level)
                && self.used(reading, AxisName::Level).is_some() =>
            {
                Role::Sweep
            }
            _ => Role::Point,
        }
    }
}

/// Without the last digits that a change of units leaves.
fn twelve_digits(value: f64) -> f64 {
    format!("{value:.11e}").parse().unwrap_or(value)
}

fn because(code: &str, path: &str, axis: &str) -> Finding {
    let finding = Finding::new(Severity::Note, code).at(path);
    if axis.is_empty() { finding } else { finding.with("axis", axis) }
}

fn reference(array: &AxisArray, unit: Option<&'static str>) -> ArrayRef {
    ArrayRef { array: array.numbers.path.clone(), unit: unit.map(str::to_owned), step: None }
}
