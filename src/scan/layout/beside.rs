//! What stands beside the waveforms of a foreign file: axes and single numbers.

use super::words::{self, Single};
use crate::formats::container::{ArrayInfo, Attribute, Container, NumberKind};
use crate::record::AxisName;
use crate::scan::parts::{Numbers, numbers};

/// An array that holds coordinates.
#[derive(Debug, Clone)]
pub struct AxisArray {
    pub axis: AxisName,
    pub numbers: Numbers,
    /// Sizes of its dimensions above 1, storage order.
    pub sizes: Vec<u64>,
    /// Unit that the file states, and whether by attribute (else by name).
    pub unit: Option<(&'static str, bool)>,
    /// Unit as written, where it is not known.
    pub unknown_unit: Option<String>,
}

/// A single number with its unit, where stated.
#[derive(Debug, Clone, PartialEq)]
pub struct SingleNumber {
    pub meaning: Single,
    pub place: String,
    pub value: f64,
    pub unit: Option<&'static str>,
}

/// Sizes above 1.
pub fn squeezed(shape: &[u64]) -> Vec<u64> {
    shape.iter().copied().filter(|n| *n > 1).collect()
}

/// Whether an array has a name of the reader's own making.
pub fn nameless(array: &ArrayInfo) -> bool {
    array.name().starts_with("column_") || array.name() == "headings"
}

/// Numbers at the head of columns, or a column without a name, that rise evenly are times.
pub fn nameless_time(container: &dyn Container, array: &ArrayInfo) -> Option<AxisName> {
    let even = || numbers(container, array).is_ok_and(|numbers| rises_evenly(&numbers.values));
    (nameless(array) && squeezed(&array.shape).len() == 1 && even()).then_some(AxisName::T)
}

/// Whether numbers rise in even steps, as the instants of samples do.
fn rises_evenly(values: &[f64]) -> bool {
    let (Some(first), Some(last)) = (values.first(), values.last()) else { return false };
    let step = (last - first) / (values.len().max(2) - 1) as f64;
    let off = |(i, v): (usize, &f64)| (v - first - step * i as f64).abs() > 0.01 * step;
    values.len() >= 16 && step > 0.0 && !values.iter().enumerate().any(off)
}

/// Whether an array stands in the group of the waveforms or in one above.
fn near(array: &ArrayInfo, waveforms: &ArrayInfo) -> bool {
    let (group, ours) = (array.group(), waveforms.group());
    ours == group || ours.starts_with(&format!("{group}/"))
}

/// The axis of an array: by its name, its attributes `axis`, `standard_name` or `long_name`.
fn meaning(array: &ArrayInfo) -> Option<AxisName> {
    let text = |name: &str| match array.attributes.get(name) {
        Some(Attribute::Text(text)) => Some(text.as_str()),
        _ => None,
    };
    words::axis(array.name())
        .or_else(|| text("axis").and_then(words::axis))
        .or_else(|| text("standard_name").and_then(words::axis))
        .or_else(|| text("long_name").and_then(words::axis))
}

/// The coordinate arrays of a file for these waveforms; nearest group first.
pub fn axes(container: &dyn Container, waveforms: &ArrayInfo) -> Vec<AxisArray> {
    let most = waveforms.elements();
    let mut out = Vec::new();
    for array in container.arrays() {
        let scale = waveforms.scales.iter().flatten().any(|path| *path == array.path);
        let number = array.kind != NumberKind::Other;
        if array.path == waveforms.path || !number || array.elements() > most.min(1 << 22) {
            continue;
        }
        if array.elements() < 2 || !(near(array, waveforms) || scale) {
            continue;
        }
        let unit_text = match array.attributes.get("units") {
            Some(Attribute::Text(text)) if !text.trim().is_empty() => Some(text.clone()),
            _ => None,
        };
        let by_attribute = unit_text.as_deref().and_then(words::unit);
        // A dimension scale in units of time is time, whatever its name.
        let timed = scale && matches!(by_attribute, Some("s" | "ms" | "us" | "ns"));
        let named = meaning(array).or(timed.then_some(AxisName::T));
        let Some(axis) = named.or_else(|| nameless_time(container, array)) else { continue };
        let Ok(numbers) = numbers(container, array) else { continue };
        let by_name = words::unit_of_name(array.name());
        let unit = match (by_attribute, by_name) {
            (Some(unit), _) => Some((unit, true)),
            (None, Some(unit)) => Some((unit, false)),
            _ => None,
        };
        out.push(AxisArray {
            axis,
            sizes: squeezed(&array.shape),
            unknown_unit: unit_text.filter(|_| by_attribute.is_none()),
            unit,
            numbers,
        });
    }
    let depth = |path: &str| path.matches('/').count();
    out.sort_by_key(|a| std::cmp::Reverse(depth(&a.numbers.path)));
    // Of several of one meaning and size the nearest stays.
    let mut kept: Vec<AxisArray> = Vec::new();
    for array in out {
        let twin = |k: &AxisArray| {
            k.axis == array.axis
                && k.sizes == array.sizes
                && depth(&k.numbers.path) > depth(&array.numbers.path)
        };
        if !kept.iter().any(twin) {
            kept.push(array);
        }
    }
    kept
}

/// Single numbers beside the waveforms: arrays of one element, attributes of the waveforms, of their
/// group, of the root.
pub fn singles(container: &dyn Container, waveforms: &ArrayInfo) -> Vec<SingleNumber> {
    let mut out: Vec<SingleNumber> = Vec::new();
    let mut add = |name: &str, place: String, value: f64, unit_text: Option<&str>| {
        if let Some(meaning) = words::single(name)
            && value.is_finite()
            && !out.iter().any(|s| s.meaning == meaning)
        {
            let unit = unit_text.and_then(words::unit).or_else(|| words::unit_of_name(name));
            out.push(SingleNumber { meaning, place, value, unit });
        }
    };
    let text = |attributes: &std::collections::BTreeMap<String, Attribute>, name: &str| {
        let keys = [format!("{name} units"), format!("{name}_units"), format!("{name}_unit")];
        keys.iter().find_map(|key| match attributes.get(key) {
            Some(Attribute::Text(text)) => Some(text.clone()),
            _ => None,
        })
    };
    let groups = [waveforms.group(), ""];
    let sets = std::iter::once(waveforms.attributes.clone())
        .chain(groups.iter().map(|group| container.group_attributes(group)));
    for attributes in sets {
        for (name, attribute) in &attributes {
            if let Attribute::Numbers(values) = attribute
                && let [value] = values.as_slice()
            {
                add(name, format!("attribute {name}"), *value, text(&attributes, name).as_deref());
            }
        }
    }
    for array in container.arrays() {
        if array.elements() != 1 || array.kind == NumberKind::Other || !near(array, waveforms) {
            continue;
        }
        let Ok(found) = numbers(container, array) else { continue };
        let unit = match array.attributes.get("units") {
            Some(Attribute::Text(text)) => Some(text.as_str()),
            _ => None,
        };
        if let [value] = found.values.as_slice() {
            add(array.name(), array.path.clone(), *value, unit);
        }
    }
    out
}
