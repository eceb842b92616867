//! Problems and notes of text files.

use super::{Filled, Sentence, s};

pub fn text(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    problem(code, a).or_else(|| note(code, a))
}

fn problem(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    let (at, found, expected) = (a.path(), a.get("found"), a.get("expected"));
    Some(match code {
        "text-broken" => s(
            format!("The text cannot be read at {at}: {found}."),
            "The file may have changed or be cut short; copy or save it again.",
        ),
        "text-utf16" => s(
            "The file is text in UTF-16; UTF-8 or an eight-bit code is expected.",
            "Save it as UTF-8 text.",
        ),
        "text-no-rows" => s(
            format!("No row of numbers was found up to {at}, which reads “{found}”."),
            "Check that the export holds a table of numbers with one separator throughout.",
        ),
        "text-header-width" => s(
            format!(
                "The header at {at} names {found} columns, but the row at line {} has {expected} cells.",
                a.get("row")
            ),
            "Name every column once, with the same separator as the rows.",
        ),
        "text-header-too-large" => s(
            format!("More than {} bytes stand before the first row ({at}).", a.get("limit")),
            "Shorten what stands before the table, or save the scan as HDF5.",
        ),
        "text-line-too-long" => s(
            format!("The line at {at} is longer than {} bytes.", a.get("limit")),
            "Check that lines end with a line break; save scans with such long rows as HDF5.",
        ),
        "text-row-width" => s(
            format!("At {at} {expected} cells are expected, found {found}."),
            "Check this row for a missing or doubled separator.",
        ),
        "text-not-a-number" => s(
            format!("At {at}, column {}, a number is expected, found “{found}”.", a.get("column")),
            "Write one kind of decimal sign throughout, and no units in the cells.",
        ),
        "text-nul" => s(
            format!(
                "At {at}, column {}, a NUL byte stands where a number is expected.",
                a.get("column")
            ),
            "The file is damaged or not text throughout; copy or export it again.",
        ),
        "text-more-problems" => s(
            a.fill("{count} more cells or rows of this file cannot be read."),
            "Repair those listed and look again.",
        ),
        "text-column-order" => s(
            format!("Column {} is {at} where {expected} is expected.", a.get("column")),
            "Number the columns of an array from 0 without gaps.",
        ),
        "text-column-twice" => s(
            format!("The column name {at} stands a second time at column {}.", a.get("column")),
            "Give each column its own name; units do not tell names apart.",
        ),
        "text-too-many-rows" => s(
            a.fill("The table has more than {limit} rows."),
            "Split the file, or save the scan as HDF5.",
        ),
        _ => return None,
    })
}

fn note(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "text-folded" => s(
            a.fill("The long table was read as {points} points of {samples} samples, along {}."),
            "Check that these are the points and samples of the scan.",
        ),
        "text-index-columns" => s(
            a.fill("The table has no headings; its first two columns name each place of a grid of {columns} × {rows} once and were taken as x and y, the other {samples} columns as samples."),
            "Check that this is so.",
        ),
        "text-empty-cells" => s(
            a.fill("{count} cells are empty and count as not a number; the first stands at {}."),
            "Check the export if these cells should hold values.",
        ),
        "text-after-table" => s(
            a.fill("A blank line ends the table; the text from {} on is not read."),
            "If it belongs to the table, remove the blank line; save other tables as files of their own.",
        ),
        _ => return None,
    })
}
