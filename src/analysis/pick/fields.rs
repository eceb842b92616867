//! What is asked of a reading: what one number of each array is.

use crate::formats::container::{Attribute, Container};
use crate::record::{AxisName, AxisSource, Layout, TimeSource};
use crate::scan::layout::Proposal;

/// A question, with the answer that the file or a plausible unit gives.
#[derive(Debug, Clone, PartialEq)]
pub struct Field {
    /// `x` `y` `z` `t` `volts`: what one number of the array is. `x-step` `y-step` `z-step` `dt`: equal
    /// steps. `columns`: points in a row. `serpentine`: every other row backwards.
    pub key: &'static str,
    /// As it may be typed; empty where it has to be.
    pub text: String,
}

/// Names of the questions on the three coordinates: of an array, of equal steps.
pub const AXES: [(AxisName, &str, &str); 3] =
    [(AxisName::X, "x", "x-step"), (AxisName::Y, "y", "y-step"), (AxisName::Z, "z", "z-step")];

/// The source of a coordinate in a layout.
pub fn source(layout: &mut Layout, axis: AxisName) -> &mut Option<AxisSource> {
    match axis {
        AxisName::X => &mut layout.x,
        AxisName::Y => &mut layout.y,
        _ => &mut layout.z,
    }
}

/// Length of the dimension of an axis, where the reading has it.
pub fn size(proposal: &Proposal, axis: AxisName) -> Option<u64> {
    let at = proposal.layout.axes.iter().position(|a| *a == axis)?;
    proposal.shape.get(at).copied()
}

/// Whether points are listed and nothing says where they are.
pub fn unplaced(proposal: &Proposal) -> bool {
    let Layout { x, y, z, .. } = &proposal.layout;
    x.is_none() && y.is_none() && z.is_none() && size(proposal, AxisName::Point) > Some(1)
}

/// The questions of a reading, in the order of asking.
pub fn fields(container: &dyn Container, proposal: &Proposal) -> Vec<Field> {
    let layout = &proposal.layout;
    let mut out = Vec::new();
    let mut ask = |key: &'static str, text: Option<String>| {
        out.push(Field { key, text: text.unwrap_or_default() });
    };
    if unplaced(proposal) {
        ask("columns", None);
        ask("x-step", None);
        ask("y-step", None);
    }
    for (axis, one, step) in AXES {
        match source(&mut layout.clone(), axis) {
            Some(AxisSource::Array(at)) => ask(one, typed(at.step, at.unit.as_deref())),
            Some(AxisSource::Steps(steps)) => {
                ask(step, typed(Some(steps.step), steps.unit.as_deref()))
            }
            None if size(proposal, axis) > Some(1) => ask(step, None),
            None => {}
        }
    }
    match &layout.time {
        Some(TimeSource::Array(at)) => ask("t", typed(at.step, at.unit.as_deref())),
        Some(TimeSource::Steps(steps)) => ask("dt", typed(Some(steps.dt), steps.unit.as_deref())),
        None => ask("dt", None),
    }
    // What a packed array states of itself is not asked.
    let array = container.array(&layout.waveforms);
    let attribute = |name: &str| array.and_then(|array| array.attributes.get(name));
    if attribute("scale_factor").is_none() {
        let lacks = |code: &str| {
            proposal.lacking.iter().any(|lack| {
                lack.code == code && lack.place.path.as_deref() == Some(layout.waveforms.as_str())
            })
        };
        let known = !["layout-no-volts-per-count", "layout-unit-missing", "layout-not-volts"]
            .into_iter()
            .any(lacks);
        let stated = match attribute("units") {
            Some(Attribute::Text(text)) => Some(text.trim()),
            _ => None,
        };
        let text = match &layout.volts {
            Some(volts) => typed(volts.scale, Some(volts.unit.as_deref().unwrap_or("V"))),
            None => typed(None, Some(stated.unwrap_or("V"))).filter(|_| known),
        };
        ask("volts", text);
    }
    if size(proposal, AxisName::X) > Some(1) && size(proposal, AxisName::Y) > Some(1) {
        ask("serpentine", None);
    }
    out
}

/// The answer to a question that a layout in use gives.
pub fn told(key: &str, layout: &Layout) -> Option<String> {
    let mut layout = layout.clone();
    let of_axis = |source: &Option<AxisSource>, asked_step: bool| match source {
        Some(AxisSource::Array(at)) if !asked_step => typed(at.step, at.unit.as_deref()),
        Some(AxisSource::Steps(steps)) if asked_step => {
            typed(Some(steps.step), Some(steps.unit.as_deref().unwrap_or("m")))
        }
        _ => None,
    };
    match key {
        "volts" => {
            let volts = layout.volts?;
            typed(volts.scale, Some(volts.unit.as_deref().unwrap_or("V")))
        }
        "t" | "dt" => match layout.time? {
            TimeSource::Array(at) if key == "t" => typed(at.step, at.unit.as_deref()),
            TimeSource::Steps(steps) if key == "dt" => {
                typed(Some(steps.dt), Some(steps.unit.as_deref().unwrap_or("s")))
            }
            _ => None,
        },
        "columns" => match (&layout.x, &layout.y) {
            (Some(AxisSource::Steps(steps)), _) => steps.count.map(|count| count.to_string()),
            (None, Some(_)) => Some("1".to_owned()),
            _ => None,
        },
        "serpentine" => layout.serpentine.then(|| "yes".to_owned()),
        key => AXES.into_iter().find_map(|(axis, one, step)| {
            let asked = key == one || key == step;
            asked.then(|| of_axis(source(&mut layout, axis), key == step)).flatten()
        }),
    }
}

/// A number and a unit as a person writes them.
fn typed(number: Option<f64>, unit: Option<&str>) -> Option<String> {
    let unit = unit?;
    let unit = unit.strip_prefix('u').map_or_else(|| unit.to_owned(), |rest| format!("µ{rest}"));
    Some(format!("{} {unit}", number.unwrap_or(1.0)))
}
