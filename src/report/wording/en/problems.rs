//! Problems: where, expected, found, what to do.

use super::formats::formats;
use super::layouts;
use super::record_problems::records;
use super::typed_problems;
use super::{Filled, Sentence};

pub fn problem(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    files(code, a)
        .or_else(|| formats(code, a))
        .or_else(|| scans(code, a))
        .or_else(|| layouts::problems(code, a))
        .or_else(|| tables(code, a))
        .or_else(|| records(code, a))
        .or_else(|| typed_problems::problems(code, a))
}

fn files(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "file-empty" => s("The file is empty.", "Save it again."),
        "file-unknown-format" => s(
            a.fill("The file is none of HDF5, netCDF, MAT, NPY, NPZ and text (it begins with {found})."),
            "Save the scan in one of these; the documentation says how.",
        ),
        "file-netcdf-classic" => {
            s("The file is netCDF of the classic kind, which is not read.", "Save it as netCDF-4.")
        }
        "file-missing" => s(
            format!(
                "The record names this file, but it is not among the files at hand ({}).",
                list_or_none(&a.get("found"))
            ),
            "Add the file, or correct the name in the record.",
        ),
        "file-unreadable" => s(
            a.fill("The file could not be read: {found}."),
            "Check that it is there and may be read.",
        ),
        "file-too-deep" => s(
            a.fill("Groups are nested more than {limit} deep at {}."),
            "The file is damaged or not a scan.",
        ),
        "file-too-many-arrays" => s(
            a.fill("The file holds more than {limit} arrays."),
            "Save the scan alone.",
        ),
        "array-missing" => s(a.fill("There is no array {}."), "Check its name."),
        "array-too-large" => s(
            a.fill("The array {} has {found} values; at most {limit} are expected there."),
            "Check that the right array has this name.",
        ),
        "array-not-numbers" => s(
            a.fill("The array {} holds {found}, not numbers."),
            "Save it as integers or floating-point numbers.",
        ),
        "file-short" => s(
            a.fill("The file ends before {} does: {found}."),
            "The file was cut short; copy or save it again.",
        ),
        "box-outside-array" => s(
            a.fill("The file ends before {} does."),
            "The file may have changed while it was read; load it again.",
        ),
        "number-not-finite" => s(
            a.fill("A result at {} is not a finite number."),
            "Please report this with the files.",
        ),
        "sheet-not-writable" => s(
            a.fill("The sheet could not be written: {detail}."),
            "Check that there is space and permission.",
        ),
        "figure-length"
        | "figure-not-monotonic"
        | "figure-too-small"
        | "figure-raster"
        | "figure-backend" => s(
            a.fill("The figure {} could not be drawn."),
            "Please report this with the files.",
        ),
        _ => return None,
    })
}

fn scans(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "scan-no-waveforms" => s(
            format!(
                "No array of waveforms was found; the file holds {}.",
                list_or_none(&a.get("found"))
            ),
            "Name it waveforms, state its layout, or check the group in the record.",
        ),
        "scan-several-waveforms" => s(
            a.fill("Several groups hold waveforms: {found}."),
            "Say in the record which group this scan is.",
        ),
        "scan-empty" => s(a.fill("{} holds no samples."), "Check the export."),
        "scan-not-numbers" => s(
            a.fill("{} does not hold numbers."),
            "Save the waveforms as integers or floating-point numbers.",
        ),
        "scan-axis-missing" => s(a.fill("The coordinates {} are missing."), "Add them, in metres."),
        "scan-axis-length" => s(
            a.fill("{} should hold {expected} values, found {found}."),
            "Check the order of the axes: (y, x, time).",
        ),
        "scan-axis-not-monotonic" => s(
            a.fill("The coordinates {} neither rise nor fall throughout."),
            "Check for repeated or swapped positions.",
        ),
        "scan-not-a-grid" => s(
            a.fill(
                "The {points} positions do not fill a grid of {columns} columns and {rows} rows.",
            ),
            "Check for missing or doubled positions.",
        ),
        "scan-line-axis" => s(
            a.fill("No coordinate of this line changes over its {points} points (looked for {})."),
            "Give the coordinate along the line one value a point, or another role.",
        ),
        "scan-line-two-axes" => {
            s("Both x and y change along this line.", "Lines along x or along y are read.")
        }
        "scan-role-shape" => s(
            a.fill("The role asks for {expected}, {} holds {found}."),
            "Give the scan another role, or check the file.",
        ),
        "scan-unit-conflict" => s(
            a.fill("{} says its unit is “{found}”, but its name asks for {expected}."),
            "Convert the values or correct the unit.",
        ),
        "scan-not-a-number" => s(a.fill("{} should be a number, found “{found}”."), "Correct it."),
        "scan-not-finite" => s(a.fill("{} is not a finite number."), "Correct it."),
        "scan-interval-missing" => {
            s(a.fill("The sampling interval {} is missing."), "Add dt_s, or a time axis t_s.")
        }
        "scan-interval-not-positive" => {
            s(a.fill("The sampling interval {} is {found}; it must be above zero."), "Correct it.")
        }
        "scan-interval-varies" => {
            s(a.fill("{} differs between points."), "One sampling interval a scan is read.")
        }
        "scan-time-not-uniform" => s(
            a.fill("The time axis is not evenly spaced at {}."),
            "Waveforms must be sampled at equal intervals.",
        ),
        "scan-zero-scale" => s(a.fill("{} is zero."), "Give the volts of one count."),
        "scan-counts-without-scale" => s(
            a.fill("{} holds counts, but nothing says how many volts a count is."),
            "Add volts_per_count.",
        ),
        "scan-short-read" => s(
            "The file gave fewer samples than it declares.",
            "It may be cut short; copy it again.",
        ),
        "band-missing" => {
            s("A part of the scan is missing from the computation.", "Load the files again.")
        }
        _ => return None,
    })
}

fn tables(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "table-column-missing" => s(
            format!(
                "The sensitivity table needs one of the columns {}; it has {}.",
                a.get("expected"),
                list_or_none(&a.get("found"))
            ),
            "Name the column with its unit, or write the unit in brackets behind its heading.",
        ),
        "table-column-twice" => s(
            format!(
                "The sensitivity table gives {} more than once: {}.",
                column(&a.get("quantity")),
                a.get("found")
            ),
            "Keep one of them.",
        ),
        "table-column-length" => s(
            format!(
                "The sensitivity table has {} values of {}, where {} are expected.",
                a.get("found"),
                column(&a.get("quantity")),
                a.get("expected")
            ),
            "All columns need the same number of rows.",
        ),
        "table-unit-missing" => s(
            a.fill("The unit of the column {} of the sensitivity table is not stated."),
            a.fill("State one of {expected}, in brackets behind the heading."),
        ),
        "table-unit-unknown" => s(
            a.fill("The column {} of the sensitivity table has the unit “{found}”, which is none of {expected}."),
            "Convert the values, or correct the unit; capital letters count, and a level must name its reference.",
        ),
        "table-unit-conflict" => s(
            a.fill("The column {} of the sensitivity table says its unit is “{found}”, but its name says another."),
            "Convert the values or correct the unit.",
        ),
        "table-coverage-missing" => s(
            a.fill("The column {} of the sensitivity table is an expanded uncertainty (capital U) without its coverage factor."),
            "End its name in _k2, or give a standard uncertainty under u.",
        ),
        "table-too-short" => s(
            a.fill("Rows of the sensitivity table: {found}; at least two are needed."),
            "Check the export.",
        ),
        "table-bad-frequency" => s(
            a.fill("The frequency at {} is {found}."),
            "Frequencies must be zero or above.",
        ),
        "table-not-rising" => s(
            a.fill("The frequency at {} does not rise."),
            "Sort the table by frequency and remove doubled rows.",
        ),
        "table-bad-sensitivity" => s(
            a.fill("The sensitivity at {} is {found}."),
            "Sensitivities must be above zero.",
        ),
        "table-bad-phase" => s(
            a.fill("The phase at {} is {found}."),
            "Every row needs a phase, or the whole column must go.",
        ),
        "table-bad-uncertainty" => s(
            format!("At {}, {} is {}.", a.path(), column(&a.get("quantity")), a.get("found")),
            "Uncertainties must be zero or above.",
        ),
        "response-load-missing" => s(
            format!(
                "{} The blank {} is needed for it.",
                if a.get("plane") == "open-circuit" {
                    "The table refers to the open circuit, so it must be converted to the load in use."
                } else {
                    "A load is stated, so the table must be converted from the load of its calibration to the load in use."
                },
                a.path()
            ),
            "State the capacitance (0 for none) or the resistance; or give a table for the end of the cable under the load in use.",
        ),
        "response-load-zero" => s(
            a.fill("The impedance of the sensor at {} is infinite."),
            "State the capacitance of the sensor with its cable.",
        ),
        "check-source-no-signal" => s(
            "No burst of the check source stands above the noise.",
            "Check that the file is the right one, or average more shots.",
        ),
        "check-source-no-quiet-part" => s(
            "There is no quiet part before the burst of the check source: its noise cannot be told.",
            "Start the record a few periods before the wave arrives.",
        ),
        "check-source-not-held" => s(
            a.fill("The record of the check source ends before its burst would: {found} samples, {expected} are needed."),
            "Record both sensors over the whole burst, with two periods before and after.",
        ),
        "check-source-no-common-level" => s(
            a.fill("No level of the check source was measured both here and by the calibrated sensor (scan {reference})."),
            "Measure both at the same levels, and state them alike.",
        ),
        "check-source-range-missing" => Sentence::new(
            a.fill("{}: no scan of the check source is named for the range “{range}” of this scan."),
            format!(
                "Name it there, or name the range of the scan ({} are calibrated).",
                list_or_none(&a.get("found"))
            ),
        ),
        _ => return None,
    })
}

/// What a column of a sensitivity table gives.
fn column(key: &str) -> &'static str {
    match key {
        "frequency" => "the frequency",
        "magnitude" => "the sensitivity",
        "real" => "the real part",
        "imaginary" => "the imaginary part",
        "phase" => "the phase",
        "u-magnitude" => "the uncertainty of the sensitivity",
        _ => "the uncertainty of the phase",
    }
}

fn list_or_none(list: &str) -> String {
    if list.is_empty() { "none".to_owned() } else { list.to_owned() }
}

pub fn s(text: impl Into<String>, hint: impl Into<String>) -> Sentence {
    Sentence::new(text, hint)
}
