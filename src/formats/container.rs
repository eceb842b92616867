//! What a format reader offers: a list of arrays, and boxes of them.

use std::collections::BTreeMap;

use crate::base::error::{Problem, Problems};

/// The kind of number that an array stores.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NumberKind {
    /// Integers of that many bits: counts of a digitiser.
    Integer { bits: u8, signed: bool },
    /// Floating point of that many bits.
    Float { bits: u8 },
    /// Text or anything else that is not a number.
    Other,
}

/// How an array can be read without holding all of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Access {
    /// Any box at about the cost of its own bytes.
    Random,
    /// Any box, but cheaply only from the front on: it has to be decoded (deflate) or found (rows of
    /// text) from there. One reader reads for all workers.
    Sequential,
}

/// An attribute of an array or its group. A text that a file stores as an array of its own is listed
/// as an attribute of its group.
#[derive(Debug, Clone, PartialEq)]
pub enum Attribute {
    Numbers(Vec<f64>),
    Text(String),
}

/// One array of a file.
#[derive(Debug, Clone, PartialEq)]
pub struct ArrayInfo {
    /// Absolute path inside the file, `/scan/waveforms`.
    pub path: String,
    /// Storage order, slowest dimension first.
    pub shape: Vec<u64>,
    /// Whether the program that wrote the file shows the dimensions the other way round, fastest
    /// first (column-major arrays). Only what people read and type is reversed.
    pub reversed: bool,
    pub kind: NumberKind,
    pub access: Access,
    /// Smallest box that is read at once along each dimension (storage chunks); empty if any will do.
    pub chunk: Vec<u64>,
    /// Path of the array that holds the coordinates of each dimension, where the file says so;
    /// storage order; empty if it says so of none.
    pub scales: Vec<Option<String>>,
    pub attributes: BTreeMap<String, Attribute>,
}

impl ArrayInfo {
    /// Number of elements, saturating.
    pub fn elements(&self) -> u64 {
        self.shape.iter().fold(1u64, |n, d| n.saturating_mul(*d))
    }

    /// Group in which the array stands, without a trailing slash (`""` for the root).
    pub fn group(&self) -> &str {
        self.path.rsplit_once('/').map_or("", |(group, _)| group)
    }

    /// Last part of the path.
    pub fn name(&self) -> &str {
        self.path.rsplit_once('/').map_or(self.path.as_str(), |(_, name)| name)
    }
}

/// Numbers as stored, widened to the next of these kinds.
#[derive(Debug, Clone, PartialEq)]
pub enum Samples {
    I16(Vec<i16>),
    I32(Vec<i32>),
    F32(Vec<f32>),
    F64(Vec<f64>),
}

impl Samples {
    /// Number of samples.
    pub fn len(&self) -> usize {
        match self {
            Self::I16(v) => v.len(),
            Self::I32(v) => v.len(),
            Self::F32(v) => v.len(),
            Self::F64(v) => v.len(),
        }
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// Appends samples of the same kind; another kind turns both to `f64`.
    pub fn append(&mut self, other: Self) {
        match (&mut *self, other) {
            (Self::I16(a), Self::I16(b)) => a.extend(b),
            (Self::I32(a), Self::I32(b)) => a.extend(b),
            (Self::F32(a), Self::F32(b)) => a.extend(b),
            (this, other) => {
                let mut all = this.to_f64();
                all.extend(other.to_f64());
                *self = Self::F64(all);
            }
        }
    }

    /// All samples as `f64`.
    pub fn to_f64(&self) -> Vec<f64> {
        match self {
            Self::I16(v) => v.iter().map(|s| f64::from(*s)).collect(),
            Self::I32(v) => v.iter().map(|s| f64::from(*s)).collect(),
            Self::F32(v) => v.iter().map(|s| f64::from(*s)).collect(),
            Self::F64(v) => v.clone(),
        }
    }
}

/// A file opened by its reader.
pub trait Container: Send + Sync {
    /// All arrays, in order of path.
    fn arrays(&self) -> &[ArrayInfo];

    /// Attributes of a group (`""` for the root).
    fn group_attributes(&self, group: &str) -> BTreeMap<String, Attribute>;

    /// Reads the box `start .. start + count` of an array, row-major.
    ///
    /// # Errors
    /// When the box does not lie in the array, or the file is broken there.
    fn read(&self, path: &str, start: &[u64], count: &[u64]) -> Result<Samples, Problem>;

    /// What the reader passed over, worth a note.
    fn notes(&self) -> Problems {
        Vec::new()
    }

    /// The array of a path.
    fn array(&self, path: &str) -> Option<&ArrayInfo> {
        self.arrays().iter().find(|array| array.path == path)
    }

    /// Reads a whole array as `f64`, refusing more than `limit` elements.
    ///
    /// # Errors
    /// As [`Container::read`], and `array-too-large`.
    fn read_numbers(&self, path: &str, limit: u64) -> Result<Vec<f64>, Problem> {
        let array = self.array(path).ok_or_else(|| Problem::new("array-missing").at(path))?;
        if array.elements() > limit {
            return Err(Problem::new("array-too-large")
                .at(path)
                .with("found", array.elements())
                .with("limit", limit));
        }
        let start = vec![0; array.shape.len()];
        Ok(self.read(path, &start, &array.shape.clone())?.to_f64())
    }
}

/// Boxes that cover the flat range `first .. first + count` of an array of the given leading shape,
/// in order.
///
/// # Examples
/// Of a 4 × 10 array, elements 7..25 are the end of row 0, row 1, and the start of row 2.
pub fn boxes(shape: &[u64], first: u64, count: u64) -> Vec<(Vec<u64>, Vec<u64>)> {
    let mut out = Vec::new();
    collect_boxes(shape, first, count, &mut Vec::new(), &mut out);
    out
}

fn collect_boxes(
    shape: &[u64],
    first: u64,
    count: u64,
    prefix: &mut Vec<u64>,
    out: &mut Vec<(Vec<u64>, Vec<u64>)>,
) {
    if count == 0 {
        return;
    }
    let fixed = prefix.len();
    let push = |start: u64, rows: u64, rest: &[u64], out: &mut Vec<_>| {
        let mut starts = prefix.clone();
        let mut counts = vec![1; fixed];
        starts.push(start);
        counts.push(rows);
        starts.extend(rest.iter().map(|_| 0));
        counts.extend(rest);
        out.push((starts, counts));
    };
    let Some((_, rest)) = shape.split_first() else {
        out.push((prefix.clone(), vec![1; fixed]));
        return;
    };
    let inner = rest.iter().fold(1u64, |n, d| n.saturating_mul(*d)).max(1);
    if inner == 1 {
        push(first, count, rest, out);
        return;
    }
    let (mut at, end) = (first, first + count);
    if at % inner != 0 || end - at < inner {
        let row = at / inner;
        let stop = end.min((row + 1) * inner);
        prefix.push(row);
        collect_boxes(rest, at - row * inner, stop - at, prefix, out);
        prefix.pop();
        at = stop;
    }
    let rows = (end - at) / inner;
    if rows > 0 {
        let mut starts = prefix.clone();
        let mut counts = vec![1; fixed];
        starts.push(at / inner);
        counts.push(rows);
        starts.extend(rest.iter().map(|_| 0));
        counts.extend(rest);
        out.push((starts, counts));
        at += rows * inner;
    }
    if at < end {
        prefix.push(at / inner);
        collect_boxes(rest, 0, end - at, prefix, out);
        prefix.pop();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every flat range of a small array is covered once and in order.
    #[test]
    fn boxes_cover_a_flat_range_in_order() {
        for shape in [vec![12u64], vec![3, 5], vec![2, 3, 4], vec![4, 1, 3]] {
            let total: u64 = shape.iter().product();
            for first in 0..total {
                for count in 0..=(total - first) {
                    let mut flat = Vec::new();
                    for (start, size) in boxes(&shape, first, count) {
                        assert_eq!(start.len(), shape.len());
                        let mut index = vec![0u64; shape.len()];
                        'all: loop {
                            flat.push(
                                (0..shape.len()).fold(0, |f, d| f * shape[d] + start[d] + index[d]),
                            );
                            for d in (0..shape.len()).rev() {
                                index[d] += 1;
                                if index[d] < size[d] {
                                    continue 'all;
                                }
                                index[d] = 0;
                            }
                            break;
                        }
                    }
                    let expected: Vec<u64> = (first..first + count).collect();
                    assert_eq!(flat, expected, "{shape:?} {first} {count}");
                }
            }
        }
    }
}
