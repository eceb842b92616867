//! Files as named arrays: `Source` (bytes) in, `Container` (arrays with attributes) out.
//!
//! A format reader knows nothing of scans. It lists the arrays of a file, says how each can be
//! read, and reads boxes of them. Adding a format is one file here and one line in [`open`].

pub mod container;
pub mod delimited;
pub mod hdf5;
pub mod source;

use std::sync::Arc;

use crate::base::error::{Problem, Problems};
use container::Container;
use source::Source;

/// First bytes of an HDF5 file (HDF5 File Format Specification, superblock signature).
const HDF5_SIGNATURE: [u8; 8] = [0x89, b'H', b'D', b'F', b'\r', b'\n', 0x1a, b'\n'];

/// Offsets at which a superblock may stand: 0, 512, 1024 … (a user block lies before it).
const USER_BLOCKS: [u64; 8] = [0, 512, 1024, 2048, 4096, 8192, 16384, 32768];

/// Opens a file by its content, never by its name.
///
/// # Errors
/// All that is wrong with the file, each with the file's name in its place.
pub fn open(name: &str, source: Arc<dyn Source>) -> Result<Arc<dyn Container>, Problems> {
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
    if delimited::looks_like_text(source.as_ref()) {
        return delimited::Delimited::open(source).map(|c| Arc::new(c) as _).map_err(in_file);
    }
    let n = usize::try_from(source.len().min(8)).unwrap_or(8);
    let mut found = vec![0u8; n];
    let found = match source.read_at(0, &mut found) {
        Ok(()) => found.iter().map(|b| format!("{b:02x}")).collect::<Vec<_>>().join(" "),
        Err(_) => String::new(),
    };
    Err(vec![Problem::new("file-unknown-format").in_file(name).with("found", found)])
}
