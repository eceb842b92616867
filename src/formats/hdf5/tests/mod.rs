//! Example files written with h5py 3.16 (HDF5 2.0) and netCDF4: element `i` of most arrays is
//! `3 i − 5`, so the expected numbers are the writer's, not ours.

mod broken;
mod chunks;
mod conventions;
mod cost;
mod kinds;
mod mutated;

use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use super::Hdf5;
use crate::base::error::Problems;
use crate::formats::container::{Attribute, Container};
use crate::formats::source::{Memory, Source, SourceError};

macro_rules! example {
    ($name:ident, $file:literal) => {
        pub const $name: &[u8] = include_bytes!(concat!("../../../../tests/corpus/hdf5/", $file));
    };
}
example!(AXES, "axes.nc");
example!(CHUNKS, "chunks.h5");
example!(CHUNKS_NEW, "chunks_new.h5");
example!(CUT, "cut.h5");
example!(DAMAGED, "damaged.h5");
example!(DEEP, "deep.h5");
example!(DENSE, "dense.h5");
example!(ELSEWHERE, "elsewhere.h5");
example!(GROUPS, "groups.h5");
example!(HUGE, "huge.h5");
example!(KINDS, "kinds.h5");
example!(LINE, "line.h5");
example!(MATLAB, "matlab.mat");
example!(SCALES, "scales.h5");

fn try_open(bytes: &[u8]) -> Result<Hdf5, Problems> {
    Hdf5::open(Arc::new(Memory(Arc::from(bytes))))
}

fn open(bytes: &[u8]) -> Hdf5 {
    try_open(bytes).unwrap()
}

/// All numbers of an array.
fn all(file: &Hdf5, path: &str) -> Vec<f64> {
    file.read_numbers(path, 1 << 20).unwrap()
}

/// `3 i − 5` for all elements.
fn ramp(n: u32) -> Vec<f64> {
    (0..n).map(|i| f64::from(i) * 3.0 - 5.0).collect()
}

/// Codes and paths of problems.
fn codes(problems: &Problems) -> Vec<(&str, &str)> {
    problems.iter().map(|p| (p.code.as_str(), p.place.path.as_deref().unwrap_or(""))).collect()
}

fn text(text: &str) -> Attribute {
    Attribute::Text(text.to_owned())
}

fn number(number: f64) -> Attribute {
    Attribute::Numbers(vec![number])
}

/// Bytes that count how often they are read.
struct Counted(Vec<u8>, AtomicU64);

impl Counted {
    fn new(bytes: Vec<u8>) -> Arc<Self> {
        Arc::new(Self(bytes, AtomicU64::new(0)))
    }

    /// Reads since the last call.
    fn reads(&self) -> u64 {
        self.1.swap(0, Ordering::Relaxed)
    }
}

impl Source for Counted {
    fn len(&self) -> u64 {
        self.0.len() as u64
    }

    fn read_at(&self, offset: u64, buffer: &mut [u8]) -> Result<(), SourceError> {
        self.1.fetch_add(1, Ordering::Relaxed);
        let offset = offset as usize;
        buffer.copy_from_slice(&self.0[offset..offset + buffer.len()]);
        Ok(())
    }
}
