//! Problems of NPY and NPZ files.

use super::{Filled, Sentence, s};

pub fn numpy(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    array(code, a).or_else(|| archive(code, a)).or_else(|| members(code, a))
}

fn array(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "npy-short" => s(
            format!(
                "{} should go on for {} bytes, found {}.",
                a.path(),
                a.get("expected"),
                a.get("found")
            ),
            "The file is cut short; copy or save it again.",
        ),
        "npy-longer" => s(
            format!(
                "After the {} bytes of {} more follow ({} in all), which are not read.",
                a.get("expected"),
                a.path(),
                a.get("found")
            ),
            "Save each array to a file of its own, or all to one NPZ file.",
        ),
        "npy-magic" => s(
            format!("{} is named as an NPY array but begins with {}.", a.path(), a.get("found")),
            "Save the array again.",
        ),
        "npy-version" => s(
            format!("{} is of NPY version {}; 1 to 3 are read.", a.path(), a.get("found")),
            "Save it in one of these versions.",
        ),
        "npy-header-long" => s(
            format!(
                "The header of {} has {} bytes; at most {} are read.",
                a.path(),
                a.get("found"),
                a.get("limit")
            ),
            "Save plain numbers without named fields.",
        ),
        "npy-header" => s(
            format!(
                "The header of {} should give descr, fortran_order and shape, found “{}”.",
                a.path(),
                a.get("found")
            ),
            "The file is damaged; save the array again.",
        ),
        "npy-shape" => s(
            format!("{} cannot have the dimensions it declares ({}).", a.path(), a.get("found")),
            "The file is damaged; save the array again.",
        ),
        "npy-unreadable" => s(
            format!("{} cannot be read: {}.", a.path(), a.get("found")),
            "The file may be cut short or damaged; copy or save it again.",
        ),
        "npy-kind-skipped" => s(
            format!("{} was not read: its elements are “{}”.", a.path(), a.get("found")),
            "Save it as integers or floating-point numbers if it is needed.",
        ),
        _ => return None,
    })
}

fn archive(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "zip-no-directory" => s(
            format!("No directory was found at the end of the archive ({} bytes).", a.get("found")),
            "The file is cut short; copy or save it again.",
        ),
        "zip-parts" => s("The archive is one of several parts.", "Save it as a single file."),
        "zip-directory-place" => s(
            format!(
                "The directory of the archive should end at byte {}, but its end record stands at \
                 {}.",
                a.get("expected"),
                a.get("found")
            ),
            "The file is damaged; copy or save it again.",
        ),
        "zip-directory" => s(
            format!(
                "The directory of the archive should list {} members, found {}.",
                a.get("expected"),
                a.get("found")
            ),
            "The file is damaged; copy or save it again.",
        ),
        "zip-member" => s(
            format!("No member {} begins at byte {}.", a.path(), a.get("found")),
            "The file is damaged; copy or save it again.",
        ),
        "zip-member-short" => s(
            format!(
                "The member {} should have {} bytes, found {}.",
                a.path(),
                a.get("expected"),
                a.get("found")
            ),
            "The file is cut short; copy or save it again.",
        ),
        "zip-overlap" => s(
            format!("The members {} and {} overlap.", a.get("found"), a.path()),
            "The file is damaged; save it again.",
        ),
        "npz-too-many-members" => s(
            format!(
                "The directory of the archive is too large ({}; at most {}).",
                a.get("found"),
                a.get("limit")
            ),
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
            format!("The array {} stands more than once in the archive.", a.path()),
            "Give each array its own name.",
        ),
        "npz-damaged" => s(
            format!("The compressed array {} cannot be unpacked: {}.", a.path(), a.get("found")),
            "The file is damaged; copy or save it again.",
        ),
        "npz-size" => s(
            format!(
                "The member {} declares {} bytes; what is stored gives at most {}.",
                a.path(),
                a.get("found"),
                a.get("expected")
            ),
            "The file is damaged; save it again.",
        ),
        "npz-more-skipped" => s(
            format!("{} more members or arrays were not read.", a.get("found")),
            "Save the scan alone.",
        ),
        "npz-member-skipped" => s(
            format!("The member {} was not read: it is no NPY array.", a.path()),
            "Nothing need be done unless it belongs to the scan.",
        ),
        "npz-method" => s(
            format!(
                "The member {} is compressed in a way that is not read (method {}).",
                a.path(),
                a.get("found")
            ),
            "Save it uncompressed or deflated (methods 0 and 8).",
        ),
        "npz-encrypted" => {
            s(format!("The member {} is encrypted.", a.path()), "Save it without a password.")
        }
        _ => return None,
    })
}

fn list_or_none(list: &str) -> String {
    if list.is_empty() { "none".to_owned() } else { list.to_owned() }
}
