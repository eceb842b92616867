//! Problems of NPY and NPZ files.

use super::{Filled, Sentence, s};

pub fn numpy(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    array(code, a).or_else(|| archive(code, a)).or_else(|| members(code, a))
}

fn array(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "npy-short" => s(
            a.fill("{} should go on for {expected} bytes, found {found}."),
            "The file is cut short; copy or save it again.",
        ),
        "npy-longer" => s(
            a.fill("After the {expected} bytes of {} more follow ({found} in all), which are not read."),
            "Save each array to a file of its own, or all to one NPZ file.",
        ),
        "npy-magic" => s(
            a.fill("{} is named as an NPY array but begins with {found}."),
            "Save the array again.",
        ),
        "npy-version" => s(
            a.fill("{} is of NPY version {found}; 1 to 3 are read."),
            "Save it in one of these versions.",
        ),
        "npy-header-long" => s(
            a.fill("The header of {} has {found} bytes; at most {limit} are read."),
            "Save plain numbers without named fields.",
        ),
        "npy-header" => s(
            a.fill("The header of {} should give descr, fortran_order and shape, found “{found}”."),
            "The file is damaged; save the array again.",
        ),
        "npy-shape" => s(
            a.fill("{} cannot have the dimensions it declares ({found})."),
            "The file is damaged; save the array again.",
        ),
        "npy-unreadable" => s(
            a.fill("{} cannot be read: {found}."),
            "The file may be cut short or damaged; copy or save it again.",
        ),
        "npy-kind-skipped" => s(
            a.fill("{} was not read: its elements are “{found}”."),
            "Save it as integers or floating-point numbers if it is needed.",
        ),
        _ => return None,
    })
}

fn archive(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "zip-no-directory" => s(
            a.fill("No directory was found at the end of the archive ({found} bytes)."),
            "The file is cut short; copy or save it again.",
        ),
        "zip-parts" => s("The archive is one of several parts.", "Save it as a single file."),
        "zip-directory-place" => s(
            a.fill("The directory of the archive should end at byte {expected}, but its end record stands at {found}."),
            "The file is damaged; copy or save it again.",
        ),
        "zip-directory" => s(
            a.fill("The directory of the archive should list {expected} members, found {found}."),
            "The file is damaged; copy or save it again.",
        ),
        "zip-member" => s(
            a.fill("No member {} begins at byte {found}."),
            "The file is damaged; copy or save it again.",
        ),
        "zip-member-short" => s(
            a.fill("The member {} should have {expected} bytes, found {found}."),
            "The file is cut short; copy or save it again.",
        ),
        "zip-overlap" => s(
            a.fill("The members {found} and {} overlap."),
            "The file is damaged; save it again.",
        ),
        "npz-too-many-members" => s(
            a.fill("The directory of the archive is too large ({found}; at most {limit})."),
            "Save the scan alone.",
        ),
        "npz-no-arrays" => s(
            format!(
                "The archive holds no NPY array; its members are {}.",
                list_or_none(&a.get("found"))
            ),
            "Save the arrays to an NPZ file.",
        ),
        _ => return None,
    })
}

fn members(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "npz-duplicate" => s(
            a.fill("The array {} stands more than once in the archive."),
            "Give each array its own name.",
        ),
        "npz-damaged" => s(
            a.fill("The compressed array {} cannot be unpacked: {found}."),
            "The file is damaged; copy or save it again.",
        ),
        "npz-size" => s(
            a.fill(
                "The member {} declares {found} bytes; what is stored gives at most {expected}.",
            ),
            "The file is damaged; save it again.",
        ),
        "npz-more-skipped" => {
            s(a.fill("{found} more members or arrays were not read."), "Save the scan alone.")
        }
        "npz-member-skipped" => s(
            a.fill("The member {} was not read: it is no NPY array."),
            "Nothing need be done unless it belongs to the scan.",
        ),
        "npz-method" => s(
            a.fill("The member {} is compressed in a way that is not read (method {found})."),
            "Save it uncompressed or deflated (methods 0 and 8).",
        ),
        "npz-encrypted" => s(a.fill("The member {} is encrypted."), "Save it without a password."),
        _ => return None,
    })
}

fn list_or_none(list: &str) -> String {
    if list.is_empty() { "none".to_owned() } else { list.to_owned() }
}
