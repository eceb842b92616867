//! Problems of HDF5 files.

use super::{Filled, Sentence, s};

pub fn hdf5(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "hdf5-broken" => s(
            a.fill("The HDF5 file cannot be read at {}: {found}."),
            "The file may be cut short or damaged; copy or save it again.",
        ),
        "hdf5-filter" => s(
            a.fill("{} is compressed in a way that is not read: {found}."),
            "Save it uncompressed or with gzip (deflate).",
        ),
        "hdf5-short" => s(
            a.fill("The data of {} reach to byte {expected}, but there are only {found} bytes."),
            "The file was cut short, or not closed by the program that wrote it; copy or save it again.",
        ),
        "hdf5-elsewhere" if a.has("found") => s(
            a.fill("{} stands for something in another file: {found}."),
            "It is passed over; save everything in one file if it is needed.",
        ),
        "hdf5-elsewhere" => s(
            a.fill("The data of {} are in another file."),
            "Save the array in the HDF5 file itself.",
        ),
        "hdf5-virtual" => s(
            a.fill("{} is a virtual dataset, put together from other datasets."),
            "Save a copy of it as an array of its own.",
        ),
        "hdf5-chunk-too-large" => s(
            a.fill("{} is stored in chunks of {found} bytes; at most {limit} are read at once."),
            "Save it in smaller chunks, for instance of a few waveforms each.",
        ),
        "hdf5-not-numbers" => s(
            a.fill("{} holds {found}, not numbers; it is passed over."),
            "If it is needed, save it as integers or floating-point numbers.",
        ),
        "hdf5-cells" => s(
            a.fill("{} holds cells or objects; it is passed over."),
            "If it is needed, save its contents as arrays of numbers or as characters.",
        ),
        "hdf5-link-lost" => s(
            a.fill("The link {} leads nowhere: {found}."),
            "It is passed over; check whether something was renamed or deleted.",
        ),
        "box-too-large" => s(
            a.fill("{found} bytes of {} were to be read at once; the limit is {limit}."),
            "Check that the right array has this name, and that its shape is right.",
        ),
        _ => return None,
    })
}
