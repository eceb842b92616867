//! Problems from what the structure reader says.

use hdf5_reader::error::Error;

use crate::base::error::Problem;

/// `hdf5-virtual`, `hdf5-filter` or `hdf5-broken`.
pub fn broken(path: &str, error: &Error) -> Problem {
    let mut inner = error;
    while let Error::Context { source, .. } = inner {
        inner = source;
    }
    let code = match inner {
        Error::UnsupportedLayoutClass(3) => "hdf5-virtual",
        Error::UnsupportedFilter(_) => "hdf5-filter",
        _ => "hdf5-broken",
    };
    Problem::new(code).at(if path.is_empty() { "/" } else { path }).with("found", inner.to_string())
}
