//! Problems of single file formats, a format a file.

mod hdf5;
mod matlab;
mod numpy;
mod text;

use super::problems::s;
use super::{Filled, Sentence};

pub fn formats(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    text::text(code, a)
        .or_else(|| hdf5::hdf5(code, a))
        .or_else(|| numpy::numpy(code, a))
        .or_else(|| matlab::matlab(code, a))
}
