//! Layouts of foreign files: why one is proposed, what it lacks.

use super::problems::s;
use super::{Filled, Sentence};

/// The word of an axis.
fn axis(a: &Filled<'_>) -> String {
    match a.get("axis").as_str() {
        "t" => "the times of the samples".to_owned(),
        "level" => "the drive levels".to_owned(),
        "volts" => "the waveforms".to_owned(),
        other => format!("the coordinate {other}"),
    }
}

/// The dimensions in words.
pub fn axes(text: &str) -> String {
    text.split(" × ")
        .map(|part| match part.split_once(' ') {
            Some(("t", n)) => format!("{n} samples"),
            Some(("point", n)) => format!("{n} points"),
            Some(("level", n)) => format!("{n} levels"),
            Some(("repeat", n)) => format!("{n} repeats"),
            Some(("gain", n)) => format!("{n} gain ranges"),
            Some((axis, n)) => format!("{n} along {axis}"),
            None => part.to_owned(),
        })
        .collect::<Vec<_>>()
        .join(" × ")
}

pub fn findings(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "layout-proposed" => s(
            format!(
                "The file does not describe itself; {} was read as {}, the only reading that fits.",
                a.path(),
                axes(&a.get("axes"))
            ),
            "Check it; the layout stands in the record of this sheet.",
        ),
        "layout-reused" => {
            s(a.fill("The layout of the scan {scan} fits this file and was used."), "")
        }
        "layout-largest" => s(a.fill("{} is the largest array of its group."), ""),
        "layout-named" => s(a.fill("{} is named as waveforms are."), ""),
        "layout-one-of" => {
            s(a.fill("{} is one of several arrays that can be waveforms."), "")
        }
        "layout-time-scale" => {
            s(a.fill("The file says which dimension is time ({samples} samples)."), "")
        }
        "layout-time-length" => s(
            a.fill("The times have the length of this dimension alone ({samples})."),
            "",
        ),
        "layout-time-rest" => s(
            a.fill("The other dimensions are told; what is left is time ({samples})."),
            "",
        ),
        "layout-time-longest" => {
            s(a.fill("The longest dimension was taken as time ({samples})."), "")
        }
        "layout-axis" => s(format!("{} holds {}, by name and length.", a.path(), axis(a)), ""),
        "layout-unit-stated" => {
            s(a.fill("{}: unit {unit}, as the file states."), "")
        }
        "layout-unit-named" => s(a.fill("{}: unit {unit}, by the name."), ""),
        "layout-unit-plausible" => s(
            a.fill("Nothing states the unit of {}; {unit} was assumed, the only one that makes a scan of it."),
            "Check it, and state it in the layout.",
        ),
        "layout-step-stated" => s(a.fill("The sample interval is stated by {}."), ""),
        "layout-start-stated" => s(a.fill("The first instant is stated by {}."), ""),
        "layout-scale-stated" => s(a.fill("{} says how many volts a count is."), ""),
        "layout-packed" => {
            s(a.fill("{} is packed: its scale_factor and add_offset were applied."), "")
        }
        "layout-volts-plausible" => s(
            a.fill("Nothing states the unit of {} (values up to about {largest}); volts were assumed."),
            "Check it: every pressure depends on it. State volts.unit in the layout.",
        ),
        "serpentine-unused" => s(
            "The layout says serpentine, but the points do not stand in rows of a plane.",
            "It was passed over.",
        ),
        "points-missing" => s(
            a.fill("{points} of {all} places of the grid have no point."),
            "Maps and integrals are interpolated there.",
        ),
        "points-gridded" => s(
            a.fill("The positions lie up to {scatter} off a grid (up to {tolerance} of a step counts as on it)."),
            "",
        ),
        "read-in-passes" => s(
            a.fill("Time is not the fastest dimension of this array ({size} MB): the file was gone through {passes} times."),
            "Saved with time last it is read faster.",
        ),
        _ => return None,
    })
}

pub fn problems(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "saved-no-data" => s(
            "This HTML file is no saved sheet: it holds no data of one.",
            "Save the sheet again from the page, or give the record and its files.",
        ),
        "saved-too-long" => s(
            a.fill("The data in this saved sheet are longer than {limit} MB."),
            "No sheet of this program is that long; give the record and its files.",
        ),
        "saved-broken" => s(
            a.fill("The data in this saved sheet are damaged: {found}."),
            "Take an undamaged copy, or give the record and its files.",
        ),
        "saved-other-kind" => s(
            a.fill("The data in this file are not a sheet: “{expected}” was expected, “{found}” was found."),
            "Give a sheet that this page saved.",
        ),
        "saved-agrees" => s(a.fill("All {count} quantities agree with the saved sheet."), ""),
        "saved-differs" => s(a.fill("{found} of {count} quantities differ from the saved sheet:"), ""),
        "saved-quantity" => s(a.fill("{name} ({scan}): {before} saved, {after} now."), ""),
        "pick-needed" => s("This has to be known before the file can be read.", ""),
        "pick-belongs" => s("An answer below belongs to this one: it is needed.", ""),
        "pick-columns" => s(
            a.fill("“{found}” does not divide the {points} points into whole rows."),
            "Type how many points one row has.",
        ),
        "pick-preview" => s(
            a.fill("{seen} of {points} points looked at, {samples} samples each, {interval} ns apart, {duration} µs long; {across} mm along x by {up} mm along y; the loudest goes from {low} mV to {high} mV."),
            "",
        ),
        "layout-choose" => s(
            format!(
                "{} can be read as {} (one of {} readings).",
                a.path(),
                axes(&a.get("axes")),
                a.get("candidates")
            ),
            format!(
                "If this is right, add to the scan in the record: \"layout\": {}",
                a.whole("snippet")
            ),
        ),
        "layout-incomplete" => s(
            format!(
                "{} looks like waveforms ({}), but something is missing.",
                a.path(),
                axes(&a.get("axes"))
            ),
            format!(
                "Complete this and add it to the scan in the record: \"layout\": {}",
                a.whole("snippet")
            ),
        ),
        "layout-time-guessed" => s(
            a.fill("No times fit a dimension of {}; the longest ({samples}) was taken."),
            "Put t where it belongs in the layout's axes.",
        ),
        "layout-no-positions" => s(
            a.fill("No coordinates fit the dimensions {found} of {}."),
            "State x, y or z in the layout: {\"array\": …, \"unit\": …} or {\"start\": …, \"step\": …, \"unit\": …}.",
        ),
        "layout-no-time-step" => s(
            "Nothing states the sample interval.",
            "State it in the layout: \"time\": {\"dt\": …, \"t0\": …, \"unit\": \"ns\"}.",
        ),
        "layout-no-volts-per-count" => s(
            a.fill("{} holds counts, but nothing says how many volts a count is."),
            "State it in the layout: \"volts\": {\"scale\": …, \"unit\": \"mV\"}.",
        ),
        "layout-not-volts" => s(
            a.fill("{} says its unit is “{found}”, which is no voltage."),
            "Give the sensor's voltages; pressures follow from the sensor's response.",
        ),
        "layout-unit-missing" => s(
            a.fill("Nothing states the unit of {}, and its values do not tell it."),
            "State the unit in the layout.",
        ),
        "layout-unit-unknown" => s(
            a.fill("The unit of {} is given as “{found}”, which is not known."),
            "State the unit in the layout, as mm, us, mV.",
        ),
        "layout-array-missing" => s(
            a.fill("The layout names {}, which the file does not hold; it holds {found}."),
            "Correct the layout, or run “focalsheet look” on the file.",
        ),
        "layout-axes-count" => s(
            a.fill("The layout names {found} axes; {} has {expected} dimensions ({shape})."),
            "Name each dimension, in the order shown.",
        ),
        "scan-too-many-passes" => s(
            a.fill("Time is not the fastest dimension of {}, and reading it would take {found} passes over the file; at most {limit} are made."),
            a.fill("Save it with time last; in memory it would need {megabytes} MB."),
        ),
        "scan-position-twice" => s(
            a.fill("The points {first} and {second} stand at the same place (x {x}, y {y})."),
            "Save repeats along a dimension of their own, or as scans of their own.",
        ),
        "scan-axes-attribute" => s(
            a.fill("The attribute axes of {} is “{found}”; it should name its {expected} dimensions, t among them."),
            "Use the words t, x, y, z, point, level, repeat, gain, in the order of the dimensions.",
        ),
        "scan-too-many-points" => s(
            a.fill("The waveforms {} are of {found} points; at most {limit} are read."),
            "Check the order of the axes, or save the scan in several files.",
        ),
        "scan-too-many-scans" => s(
            a.fill("The levels, repeats, gain ranges or depths of {} make {found} scans; at most {limit} are read."),
            "Save them in several files.",
        ),
        "scan-levels-missing" => s(
            a.fill("The {expected} drive levels {} are missing."),
            "Add them in the unit that the record states.",
        ),
        "scan-level-unit" => s(
            a.fill("The file gives its drive levels in {found}, the record in {expected}."),
            "State the same unit in both: one record has one unit of the level.",
        ),
        "scan-ranges-missing" => s(
            a.fill("The waveforms have {expected} gain ranges, the record states {found}."),
            "State the ranges of the sensor in the same order.",
        ),
        _ => return None,
    })
}
