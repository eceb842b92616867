//! Files as named arrays: `Source` (bytes) in, `Container` (arrays with attributes) out.
//!
//! A format reader knows nothing of scans. It lists the arrays of a file, says how each can be
//! read, and reads boxes of them. Adding a format is one folder here and a line in [`open`].

pub mod block;
pub mod container;
pub mod element;
pub mod fault;
pub mod hdf5;
pub mod inflate;
pub mod listing;
pub mod matlab;
pub mod numpy;
pub mod source;
pub mod text;

use std::sync::Arc;

use crate::base::error::{Problem, Problems};
use container::Container;
use source::Source;

/// First bytes of an HDF5 file (HDF5 File Format Specification, superblock signature).
const HDF5_SIGNATURE: [u8; 8] = [0x89, b'H', b'D', b'F', b'\r', b'\n', 0x1a, b'\n'];

/// Offsets at which a superblock may stand: 0, 512, 1024 … (a user block lies before it).
const USER_BLOCKS: [u64; 8] = [0, 512, 1024, 2048, 4096, 8192, 16384, 32768];

/// Bytes from the beginning by which the other formats are told.
const HEAD: u64 = 256;

/// Most places of an array. An HDF5 file may declare any number that was never written.
const MAX_PLACES: u64 = 1 << 48;

/// Opens a file by its content, never by its name.
///
/// # Errors
/// All that is wrong with the file, each with the file's name in its place; `array-too-large` where
/// the dimensions of an array, those of size 0 aside, cannot be counted on.
pub fn open(name: &str, source: Arc<dyn Source>) -> Result<Arc<dyn Container>, Problems> {
    let container = by_content(name, source)?;
    let places = |shape: &[u64]| shape.iter().fold(1u64, |n, d| n.saturating_mul((*d).max(1)));
    let too_large: Problems = container
        .arrays()
        .iter()
        .filter(|array| places(&array.shape) > MAX_PLACES)
        .map(|array| {
            let problem = fault::beyond("array-too-large", places(&array.shape), MAX_PLACES);
            problem.at(array.path.as_str()).in_file(name)
        })
        .collect();
    if too_large.is_empty() { Ok(container) } else { Err(too_large) }
}

fn by_content(name: &str, source: Arc<dyn Source>) -> Result<Arc<dyn Container>, Problems> {
    let in_file = |problems: Problems| -> Problems {
        problems.into_iter().map(|problem| problem.in_file(name)).collect()
    };
    if source.is_empty() {
        return Err(vec![Problem::new("file-empty").in_file(name)]);
    }
    let mut head = [0u8; 8];
    for offset in USER_BLOCKS {
        if offset + 8 <= source.len()
            && source.read_at(offset, &mut head).is_ok()
            && head == HDF5_SIGNATURE
        {
            return hdf5::Hdf5::open(source).map(|c| Arc::new(c) as _).map_err(in_file);
        }
    }
    let n = usize::try_from(source.len().min(HEAD)).unwrap_or(0);
    let mut head = vec![0u8; n];
    if let Err(error) = source.read_at(0, &mut head) {
        let problem = Problem::new("file-unreadable").with("found", error.to_string());
        return Err(in_file(vec![problem]));
    }
    if head.starts_with(b"CDF") {
        return Err(vec![Problem::new("file-netcdf-classic").in_file(name)]);
    }
    if numpy::Npy::looks_like(&head) {
        return numpy::Npy::open(source).map(|c| Arc::new(c) as _).map_err(in_file);
    }
    if numpy::Npz::looks_like(&head) {
        return numpy::Npz::open(source).map(|c| Arc::new(c) as _).map_err(in_file);
    }
    if matlab::Mat::looks_like(&head) {
        return matlab::Mat::open(source).map(|c| Arc::new(c) as _).map_err(in_file);
    }
    if text::looks_like_text(source.as_ref()) {
        return text::Text::open(source).map(|c| Arc::new(c) as _).map_err(in_file);
    }
    let found = head.iter().take(8).map(|b| format!("{b:02x}")).collect::<Vec<_>>().join(" ");
    Err(vec![Problem::new("file-unknown-format").in_file(name).with("found", found)])
}
