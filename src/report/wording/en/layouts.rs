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
            s(format!("The layout of the scan {} fits this file and was used.", a.get("scan")), "")
        }
        "layout-largest" => s(format!("{} is the largest array of its group.", a.path()), ""),
        "layout-named" => s(format!("{} is named as waveforms are.", a.path()), ""),
        "layout-one-of" => {
            s(format!("{} is one of several arrays that can be waveforms.", a.path()), "")
        }
        "layout-time-scale" => {
            s(format!("The file says which dimension is time ({} samples).", a.get("samples")), "")
        }
        "layout-time-length" => s(
            format!("The times have the length of this dimension alone ({}).", a.get("samples")),
            "",
        ),
        "layout-time-rest" => s(
            format!("The other dimensions are told; what is left is time ({}).", a.get("samples")),
            "",
        ),
        "layout-time-longest" => {
            s(format!("The longest dimension was taken as time ({}).", a.get("samples")), "")
        }
        "layout-axis" => s(format!("{} holds {}, by name and length.", a.path(), axis(a)), ""),
        "layout-unit-stated" => {
            s(format!("{}: unit {}, as the file states.", a.path(), a.get("unit")), "")
        }
        "layout-unit-named" => s(format!("{}: unit {}, by the name.", a.path(), a.get("unit")), ""),
        "layout-unit-plausible" => s(
            format!(
                "Nothing states the unit of {}; {} was assumed, the only one that makes a scan of it.",
                a.path(),
                a.get("unit")
            ),
            "Check it, and state it in the layout.",
        ),
        "layout-step-stated" => s(format!("The sample interval is stated by {}.", a.path()), ""),
        "layout-start-stated" => s(format!("The first instant is stated by {}.", a.path()), ""),
        "layout-scale-stated" => s(format!("{} says how many volts a count is.", a.path()), ""),
        "layout-packed" => {
            s(format!("{} is packed: its scale_factor and add_offset were applied.", a.path()), "")
        }
        "layout-volts-plausible" => s(
            format!(
                "Nothing states the unit of {} (values up to about {}); volts were assumed.",
                a.path(),
                a.get("largest")
            ),
            "Check it: every pressure depends on it. State volts.unit in the layout.",
        ),
        "serpentine-unused" => s(
            "The layout says serpentine, but the points do not stand in rows of a plane.",
            "It was passed over.",
        ),
        "points-missing" => s(
            format!("{} of {} places of the grid have no point.", a.get("points"), a.get("all")),
            "Maps and integrals are interpolated there.",
        ),
        "points-gridded" => s(
            format!(
                "The positions lie up to {} off a grid (up to {} of a step counts as on it).",
                a.get("scatter"),
                a.get("tolerance")
            ),
            "",
        ),
        "read-in-passes" => s(
            format!(
                "Time is not the fastest dimension of this array ({} MB): the file was gone through {} times.",
                a.get("size"),
                a.get("passes")
            ),
            "Saved with time last it is read faster.",
        ),
        _ => return None,
    })
}

pub fn problems(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
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
            format!(
                "No times fit a dimension of {}; the longest ({}) was taken.",
                a.path(),
                a.get("samples")
            ),
            "Put t where it belongs in the layout's axes.",
        ),
        "layout-no-positions" => s(
            format!("No coordinates fit the dimensions {} of {}.", a.get("found"), a.path()),
            "State x, y or z in the layout: {\"array\": …, \"unit\": …} or {\"start\": …, \"step\": …, \"unit\": …}.",
        ),
        "layout-no-time-step" => s(
            "Nothing states the sample interval.",
            "State it in the layout: \"time\": {\"dt\": …, \"t0\": …, \"unit\": \"ns\"}.",
        ),
        "layout-no-volts-per-count" => s(
            format!("{} holds counts, but nothing says how many volts a count is.", a.path()),
            "State it in the layout: \"volts\": {\"scale\": …, \"unit\": \"mV\"}.",
        ),
        "layout-not-volts" => s(
            format!("{} says its unit is “{}”, which is no voltage.", a.path(), a.get("found")),
            "Give the sensor's voltages; pressures follow from the sensor's response.",
        ),
        "layout-unit-missing" => s(
            format!("Nothing states the unit of {}, and its values do not tell it.", a.path()),
            "State the unit in the layout.",
        ),
        "layout-unit-unknown" => s(
            format!(
                "The unit of {} is given as “{}”, which is not known.",
                a.path(),
                a.get("found")
            ),
            "State the unit in the layout, as mm, us, mV.",
        ),
        "layout-array-missing" => s(
            format!(
                "The layout names {}, which the file does not hold; it holds {}.",
                a.path(),
                a.get("found")
            ),
            "Correct the layout, or run “focalsheet look” on the file.",
        ),
        "layout-axes-count" => s(
            format!(
                "The layout names {} axes; {} has {} dimensions ({}).",
                a.get("found"),
                a.path(),
                a.get("expected"),
                a.get("shape")
            ),
            "Name each dimension, in the order shown.",
        ),
        "scan-too-many-passes" => s(
            format!(
                "Time is not the fastest dimension of {}, and reading it would take {} passes over the file; at most {} are made.",
                a.path(),
                a.get("found"),
                a.get("limit")
            ),
            format!("Save it with time last; in memory it would need {} MB.", a.get("megabytes")),
        ),
        "scan-position-twice" => s(
            format!(
                "The points {} and {} stand at the same place (x {}, y {}).",
                a.get("first"),
                a.get("second"),
                a.get("x"),
                a.get("y")
            ),
            "Save repeats along a dimension of their own, or as scans of their own.",
        ),
        "scan-axes-attribute" => s(
            format!(
                "The attribute axes of {} is “{}”; it should name its {} dimensions, t among them.",
                a.path(),
                a.get("found"),
                a.get("expected")
            ),
            "Use the words t, x, y, z, point, level, repeat, gain, in the order of the dimensions.",
        ),
        "scan-too-many-points" => s(
            format!(
                "The waveforms {} are of {} points; at most {} are read.",
                a.path(),
                a.get("found"),
                a.get("limit")
            ),
            "Check the order of the axes, or save the scan in several files.",
        ),
        "scan-too-many-scans" => s(
            format!(
                "The levels, repeats, gain ranges or depths of {} make {} scans; at most {} are read.",
                a.path(),
                a.get("found"),
                a.get("limit")
            ),
            "Save them in several files.",
        ),
        "scan-levels-missing" => s(
            format!("The {} drive levels {} are missing.", a.get("expected"), a.path()),
            "Add them in the unit that the record states.",
        ),
        "scan-ranges-missing" => s(
            format!(
                "The waveforms have {} gain ranges, the record states {}.",
                a.get("expected"),
                a.get("found")
            ),
            "State the ranges of the sensor in the same order.",
        ),
        _ => return None,
    })
}
