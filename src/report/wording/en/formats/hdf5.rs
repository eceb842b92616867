//! Problems of HDF5 files.

use super::{Filled, Sentence, s};

pub fn hdf5(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "hdf5-broken" => s(
            format!("The HDF5 file cannot be read at {}: {}.", a.path(), a.get("found")),
            "The file may be cut short or damaged; copy or save it again.",
        ),
        "hdf5-filter" => s(
            format!("{} is compressed in a way that is not read: {}.", a.path(), a.get("found")),
            "Save it uncompressed or with gzip (deflate).",
        ),
        "hdf5-short" => s(
            format!(
                "The data of {} reach to byte {}, but there are only {} bytes.",
                a.path(),
                a.get("expected"),
                a.get("found")
            ),
            "The file was cut short, or not closed by the program that wrote it; copy or save it again.",
        ),
        "hdf5-elsewhere" if a.has("found") => s(
            format!("{} stands for something in another file: {}.", a.path(), a.get("found")),
            "It is passed over; save everything in one file if it is needed.",
        ),
        "hdf5-elsewhere" => s(
            format!("The data of {} are in another file.", a.path()),
            "Save the array in the HDF5 file itself.",
        ),
        "hdf5-virtual" => s(
            format!("{} is a virtual dataset, put together from other datasets.", a.path()),
            "Save a copy of it as an array of its own.",
        ),
        "hdf5-chunk-too-large" => s(
            format!(
                "{} is stored in chunks of {} bytes; at most {} are read at once.",
                a.path(),
                a.get("found"),
                a.get("limit")
            ),
            "Save it in smaller chunks, for instance of a few waveforms each.",
        ),
        "hdf5-not-numbers" => s(
            format!("{} holds {}, not numbers; it is passed over.", a.path(), a.get("found")),
            "If it is needed, save it as integers or floating-point numbers.",
        ),
        "hdf5-cells" => s(
            format!("{} holds cells or objects; it is passed over.", a.path()),
            "If it is needed, save its contents as arrays of numbers or as characters.",
        ),
        "hdf5-link-lost" => s(
            format!("The link {} leads nowhere: {}.", a.path(), a.get("found")),
            "It is passed over; check whether something was renamed or deleted.",
        ),
        "box-too-large" => s(
            format!(
                "{} bytes of {} were to be read at once; the limit is {}.",
                a.get("found"),
                a.path(),
                a.get("limit")
            ),
            "Check that the right array has this name, and that its shape is right.",
        ),
        _ => return None,
    })
}
