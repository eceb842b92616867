//! Problems of MAT files.

use super::{Filled, Sentence, s};

pub fn matlab(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    levels(code, a).or_else(|| elements(code, a)).or_else(|| skipped(code, a))
}

fn levels(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "mat-level-4" => s(
            "This is a MAT file of level 4, which is not read.",
            "Save it again as version 6, 7 or 7.3.",
        ),
        "mat-version" => s(
            a.fill("The MAT file says it is of version {found}; level 5 (1.0) is read here."),
            "Save it again as version 6 or 7.",
        ),
        "mat-unknown" => s(
            "The first 128 bytes are not those of a MAT file of level 5.",
            "The file is damaged; copy or save it again.",
        ),
        _ => return None,
    })
}

fn elements(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    let damaged = "The file is damaged; copy or save it again.";
    let place = if a.path().is_empty() { "The file".to_owned() } else { a.path() };
    Some(match code {
        "mat-short" => s(
            format!(
                "{place} should go on for {} bytes, found {}.",
                a.get("expected"),
                a.get("found")
            ),
            "The file is cut short; copy or save it again.",
        ),
        "mat-unreadable" => s(
            format!("{place} cannot be read: {}.", a.get("found")),
            "The file may be cut short or damaged; copy or save it again.",
        ),
        "mat-damaged" => s(
            format!("The compressed array {place} cannot be unpacked: {}.", a.get("found")),
            damaged,
        ),
        "mat-long" => s(
            format!(
                "At {place} a part of the array's head has {} bytes; at most {} are expected.",
                a.get("found"),
                a.get("limit")
            ),
            damaged,
        ),
        "mat-element" => s(
            format!(
                "At {place} {} are expected, found an element of type {}.",
                part(&a.get("expected")),
                a.get("found")
            ),
            damaged,
        ),
        "mat-class" => s(
            format!("At {place} stands an array of the unknown class {}.", a.get("found")),
            "Save it as numbers, text or a struct of them.",
        ),
        "mat-dimensions" => s(
            format!("The array at {place} cannot have the dimensions {}.", a.get("found")),
            damaged,
        ),
        "mat-size" => s(
            format!(
                "By its dimensions {place} has {} bytes, found {}.",
                a.get("expected"),
                a.get("found")
            ),
            damaged,
        ),
        "mat-duplicate" => {
            s(format!("{place} stands more than once."), "Give each variable its own name.")
        }
        "mat-packed-size" => s(
            format!(
                "{place} declares {} unpacked bytes; at most {} are possible.",
                a.get("found"),
                a.get("expected")
            ),
            damaged,
        ),
        _ => return None,
    })
}

/// Names of the parts of an array, plural.
fn part(key: &str) -> &'static str {
    match key {
        "flags" => "array flags",
        "dimensions" => "dimensions",
        "name" => "letters of a name",
        "name-length" | "field-names" => "names of fields",
        "text" => "characters",
        "numbers" => "numbers",
        _ => "the parts of an array",
    }
}

fn skipped(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "mat-kind-skipped" => s(
            format!("{} was not read: it is {}.", a.path(), kind(&a.get("found"))),
            "Save it as an array of numbers if it is needed.",
        ),
        "mat-text-skipped" => s(
            format!(
                "The text {} was not read: it {}.",
                a.path(),
                if a.get("found") == "long" { "is too long" } else { "is no row of characters" }
            ),
            "Nothing need be done unless it belongs to the scan.",
        ),
        "mat-struct-skipped" => s(
            a.fill("The struct array {} has {found} elements, of which {limit} are read."),
            "Save numbers as one array rather than in many structs.",
        ),
        "mat-more-skipped" => {
            s(a.fill("{found} more variables or fields were not read."), "Save the scan alone.")
        }
        "mat-element-skipped" => s(
            a.fill(
                "What stands at {} was not read: it is an element of type {found}, not an array.",
            ),
            "Nothing need be done unless a variable is missing.",
        ),
        _ => return None,
    })
}

fn kind(key: &str) -> &'static str {
    match key {
        "cell" => "a cell array",
        "sparse" => "a sparse matrix",
        "function" => "a function handle",
        _ => "an object",
    }
}
