//! Which dimension of the waveforms is which axis.

use super::beside::{AxisArray, squeezed};
use crate::formats::container::ArrayInfo;
use crate::record::AxisName;

/// Most coordinate arrays that are tried against each other.
const MOST_AXES: usize = 9;

/// A way to read the dimensions.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// Storage order.
    pub dims: Vec<AxisName>,
    /// Index of the array that holds the coordinates of x, y, z, t, level.
    pub arrays: Vec<usize>,
    /// Why time is where it is.
    pub time_by: TimeBy,
    /// Sizes of dimensions above 1 that nothing names.
    pub unnamed: Vec<u64>,
}

/// How the dimension of time was told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TimeBy {
    /// The file names the coordinates of its dimensions.
    Scale,
    /// An array of times has that length, and no other dimension has it.
    Length,
    /// All other dimensions are told.
    Rest,
    /// It is the longest.
    Longest,
}

/// All readings that use as many of the coordinate arrays as possible. More than one: undecided.
pub fn readings(waveforms: &ArrayInfo, axes: &[AxisArray]) -> Vec<Reading> {
    let mut best: Vec<Reading> = Vec::new();
    let scaled = by_scales(waveforms, axes);
    let axes = &axes[..axes.len().min(MOST_AXES)];
    let mut search = Search { waveforms, axes, best: &mut best };
    search.extend(0, scaled.clone(), Vec::new());
    let most = best.iter().map(|r| r.arrays.len()).max().unwrap_or(0);
    best.retain(|r| r.arrays.len() == most);
    let mut out: Vec<Reading> = Vec::new();
    for reading in best {
        if !out.iter().any(|r| r.dims == reading.dims) {
            out.push(reading);
        }
    }
    out
}

/// Labels that the file itself gives its dimensions.
fn by_scales(waveforms: &ArrayInfo, axes: &[AxisArray]) -> Vec<Option<AxisName>> {
    let mut dims = vec![None; waveforms.shape.len()];
    for (slot, scale) in dims.iter_mut().zip(&waveforms.scales) {
        if let Some(path) = scale {
            *slot = axes.iter().find(|a| a.numbers.path == *path).map(|a| a.axis);
        }
    }
    dims
}

struct Search<'a> {
    waveforms: &'a ArrayInfo,
    axes: &'a [AxisArray],
    best: &'a mut Vec<Reading>,
}

impl Search<'_> {
    /// Decides on the coordinate arrays from `next` on, one by one.
    fn extend(&mut self, next: usize, dims: Vec<Option<AxisName>>, used: Vec<usize>) {
        let Some(array) = self.axes.get(next) else {
            if let Some(reading) = self.finish(dims, used) {
                self.best.push(reading);
            }
            return;
        };
        let mut with = used.clone();
        with.push(next);
        let meant_twice = used.iter().any(|u| self.axes[*u].axis == array.axis);
        let of_points = matches!(array.axis, AxisName::X | AxisName::Y | AxisName::Z);
        if !meant_twice {
            if let Some(own) = dims.iter().position(|d| *d == Some(array.axis)) {
                if array.sizes == [self.waveforms.shape[own]] {
                    self.extend(next + 1, dims.clone(), with.clone());
                }
            } else if let [size] = array.sizes.as_slice() {
                for (d, n) in self.waveforms.shape.iter().enumerate() {
                    if n == size && dims[d].is_none() {
                        let mut dims = dims.clone();
                        dims[d] = Some(array.axis);
                        self.extend(next + 1, dims, with.clone());
                    }
                }
            }
            // One a point: decided when time is known.
            if of_points {
                self.extend(next + 1, dims.clone(), with);
            }
        }
        self.extend(next + 1, dims, used);
    }

    /// Completes a reading: time, listed points, what is left; `None` where it does not hold.
    fn finish(&self, mut dims: Vec<Option<AxisName>>, used: Vec<usize>) -> Option<Reading> {
        let shape = &self.waveforms.shape;
        let time_array = used.iter().find(|u| self.axes[**u].axis == AxisName::T);
        let scaled = |d: usize| {
            let scale = self.waveforms.scales.get(d).and_then(Option::as_ref);
            scale
                .is_some_and(|path| time_array.is_some_and(|t| self.axes[*t].numbers.path == *path))
        };
        let free = |dims: &[Option<AxisName>]| -> Vec<usize> {
            (0..shape.len()).filter(|d| dims[*d].is_none() && shape[*d] > 1).collect()
        };
        let listed: Vec<usize> = used
            .iter()
            .copied()
            .filter(|u| {
                let axis = self.axes[*u].axis;
                !dims.contains(&Some(axis)) && axis != AxisName::T
            })
            .collect();
        let time_by = match dims.iter().position(|d| *d == Some(AxisName::T)) {
            Some(d) if scaled(d) => TimeBy::Scale,
            Some(_) => TimeBy::Length,
            None => {
                let open = free(&dims);
                // Points listed one by one leave one dimension, or one more than they fill.
                let lengths = listed.first().map(|u| self.axes[*u].numbers.values.len() as u64);
                let time = match (open.as_slice(), lengths) {
                    ([only], None) => Some((*only, TimeBy::Rest)),
                    (_, Some(n)) => {
                        let rest: Vec<usize> = open
                            .iter()
                            .copied()
                            .filter(|t| {
                                let others = open.iter().filter(|d| *d != t);
                                others.map(|d| shape[*d]).product::<u64>() == n
                            })
                            .collect();
                        match rest.as_slice() {
                            [only] => Some((*only, TimeBy::Rest)),
                            _ => None,
                        }
                    }
                    ([], None) => None,
                    _ => {
                        let longest = open.iter().copied().max_by_key(|d| (shape[*d], *d))?;
                        Some((longest, TimeBy::Longest))
                    }
                };
                let (d, by) = time?;
                dims[d] = Some(AxisName::T);
                by
            }
        };
        if !self.listed_fit(&dims, &listed) {
            return None;
        }
        let open = free(&dims);
        let unnamed: Vec<u64> =
            if listed.is_empty() { open.iter().map(|d| shape[*d]).collect() } else { Vec::new() };
        // Points over two dimensions are read row by row; the names of these do not matter then.
        let names: &[AxisName] = if open.len() == 1 {
            &[AxisName::Point, AxisName::Repeat]
        } else {
            &[AxisName::Y, AxisName::X, AxisName::Z, AxisName::Level, AxisName::Repeat]
        };
        name(&mut dims, &open, names)?;
        let single: Vec<usize> = (0..dims.len()).filter(|d| dims[*d].is_none()).collect();
        let names = [
            AxisName::Repeat,
            AxisName::Gain,
            AxisName::Level,
            AxisName::Point,
            AxisName::Z,
            AxisName::Y,
            AxisName::X,
        ];
        name(&mut dims, &single, &names)?;
        let dims: Option<Vec<AxisName>> = dims.into_iter().collect();
        Some(Reading { dims: dims?, arrays: used, time_by, unnamed })
    }

    /// Whether the arrays that hold one coordinate a point fit the points.
    fn listed_fit(&self, dims: &[Option<AxisName>], listed: &[usize]) -> bool {
        let shape = &self.waveforms.shape;
        let open: Vec<u64> = (0..shape.len())
            .filter(|d| dims[*d].is_none() && shape[*d] > 1)
            .map(|d| shape[d])
            .collect();
        let n: u64 = open.iter().product();
        // One coordinate along one dimension is an axis, not a list of points.
        if listed.len() == 1 && open.len() == 1 {
            return false;
        }
        listed.iter().all(|u| {
            let array = &self.axes[*u];
            array.numbers.values.len() as u64 == n
                && n > 1
                && (array.sizes.len() == 1 || squeezed(&array.sizes) == open)
        })
    }
}

/// Gives the dimensions `open` names in order, passing over those in use; `None` where they run out.
fn name(dims: &mut [Option<AxisName>], open: &[usize], names: &[AxisName]) -> Option<()> {
    for d in open {
        let name = names.iter().copied().find(|name| !dims.contains(&Some(*name)))?;
        dims[*d] = Some(name);
    }
    Some(())
}
