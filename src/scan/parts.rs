//! What a scan consists of, found by the names of the arrays or by a layout.

use crate::base::error::{Problem, Problems};
use crate::formats::container::{ArrayInfo, Attribute, Container};
use crate::record::AxisName;

/// Most numbers read for one axis.
const MAX_NUMBERS: u64 = 4 << 20;
/// Deviation from equal steps, as a fraction of the step, up to which a time axis counts as uniform.
const TIME_TOLERANCE: f64 = 0.01;

/// Numbers of a file, in SI.
#[derive(Debug, Clone, PartialEq)]
pub struct Numbers {
    /// Where they stand.
    pub path: String,
    /// Storage order.
    pub shape: Vec<u64>,
    pub values: Vec<f64>,
}

/// All that makes a scan of an array.
#[derive(Debug, Clone)]
pub struct Parts {
    /// The waveforms.
    pub array: ArrayInfo,
    /// Meaning of each dimension of the waveforms, storage order.
    pub dims: Vec<AxisName>,
    /// x, y, z, m.
    pub positions: [Option<Numbers>; 3],
    /// Drive levels along the dimension `level`.
    pub levels: Option<Numbers>,
    /// Sample interval, s: one number, or one a point.
    pub interval: Option<Numbers>,
    /// Instant of the first sample, s: one number, or one a point.
    pub start: Option<Numbers>,
    /// Instants of the samples, s.
    pub instants: Option<Numbers>,
    /// Volts per stored number; `None` where nothing says so.
    pub volts_per_number: Option<f64>,
    /// When each point was measured, s.
    pub moments: Option<Numbers>,
    pub offset_v: f64,
    /// Every other row was recorded backwards.
    pub serpentine: bool,
}

/// Reads a whole array of numbers; `scale_factor` and `add_offset` (CF conventions, packed data) are
/// applied.
///
/// # Errors
/// The container's own; `scan-not-finite`.
pub fn numbers(container: &dyn Container, array: &ArrayInfo) -> Result<Numbers, Problem> {
    let mut values = container.read_numbers(&array.path, MAX_NUMBERS)?;
    let (factor, offset) = packing(array);
    if (factor, offset) != (1.0, 0.0) {
        for value in &mut values {
            *value = *value * factor + offset;
        }
    }
    finite(&array.path, values).map(|values| Numbers {
        path: array.path.clone(),
        shape: array.shape.clone(),
        values,
    })
}

/// Factor and offset of packed data (CF conventions: `scale_factor`, `add_offset`).
pub fn packing(array: &ArrayInfo) -> (f64, f64) {
    let one = |name: &str, otherwise: f64| match array.attributes.get(name) {
        Some(Attribute::Numbers(numbers)) if numbers.len() == 1 && numbers[0].is_finite() => {
            numbers[0]
        }
        _ => otherwise,
    };
    (one("scale_factor", 1.0), one("add_offset", 0.0))
}

/// Refuses numbers that are not finite.
///
/// # Errors
/// `scan-not-finite` at the first of them.
pub fn finite(path: &str, values: Vec<f64>) -> Result<Vec<f64>, Problem> {
    match values.iter().position(|n| !n.is_finite()) {
        Some(i) => Err(Problem::new("scan-not-finite").at(format!("{path}[{i}]"))),
        None => Ok(values),
    }
}

/// Sample interval and start of a scan.
#[derive(Debug, Clone, PartialEq)]
pub struct Time {
    pub interval_s: f64,
    pub t0_s: Vec<f64>,
    pub t0_known: bool,
}

impl Parts {
    /// Group of the waveforms, for messages.
    pub fn group(&self) -> &str {
        self.array.group()
    }

    /// The time axis of `points` waveforms.
    ///
    /// # Errors
    /// All that does not fit.
    pub fn time(&self, samples: usize, points: usize) -> Result<Time, Problems> {
        let mut problems = Vec::new();
        let mut interval_s = None;
        let mut t0_s = Vec::new();
        if let Some(axis) = &self.instants {
            let t = &axis.values;
            if t.len() != samples {
                problems.push(length(&axis.path, samples, t.len()));
            } else {
                let mean = (t[samples - 1] - t[0]) / (samples - 1) as f64;
                let uneven = (0..samples).find(|i| {
                    (t[*i] - t[0] - mean * *i as f64).abs() > TIME_TOLERANCE * mean.abs()
                });
                if let Some(i) = uneven {
                    problems.push(
                        Problem::new("scan-time-not-uniform").at(format!("{}[{i}]", axis.path)),
                    );
                }
                interval_s = Some(mean);
                t0_s = vec![t[0]];
            }
        }
        if let Some(step) = &self.interval {
            match step.values.as_slice() {
                [first, rest @ ..] if rest.iter().all(|s| s == first) => interval_s = Some(*first),
                _ => problems.push(Problem::new("scan-interval-varies").at(step.path.clone())),
            }
        }
        if let Some(start) = &self.start {
            if start.values.len() == 1 || start.values.len() == points {
                t0_s = start.values.clone();
            } else {
                problems.push(length(&start.path, points, start.values.len()));
            }
        }
        let place = || match (&self.interval, &self.instants) {
            (Some(numbers), _) | (None, Some(numbers)) => numbers.path.clone(),
            (None, None) => format!("{}/dt_s", self.group()),
        };
        match interval_s {
            None if problems.is_empty() => {
                problems.push(Problem::new("scan-interval-missing").at(place()));
            }
            Some(interval) if interval <= 0.0 => problems.push(
                Problem::new("scan-interval-not-positive").at(place()).with("found", interval),
            ),
            _ => {}
        }
        match (interval_s, problems.is_empty()) {
            (Some(interval_s), true) => {
                let t0_known = !t0_s.is_empty();
                if t0_s.is_empty() {
                    t0_s.push(0.0);
                }
                Ok(Time { interval_s, t0_s, t0_known })
            }
            _ => Err(problems),
        }
    }
}

/// `scan-axis-length`.
pub fn length(path: &str, expected: usize, found: usize) -> Problem {
    Problem::new("scan-axis-length").at(path).with("expected", expected).with("found", found)
}
