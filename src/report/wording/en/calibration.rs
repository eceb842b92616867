//! Sentences of the section on calibration.

/// What was compared to transfer a calibration. Known: feature, frequency, reference, cutoff; and, where
/// they apply, after, drift, size.
pub fn transfer_story(args: &[(&str, String)]) -> String {
    let get = |name: &str| args.iter().find(|(n, _)| *n == name).map(|(_, text)| text.as_str());
    let said = |name: &str| get(name).unwrap_or_default();
    let mut out = format!(
        "The same small source was measured by a calibrated sensor (scan {}) and by this sensor at each range; compared was the {} at {}, both after a low-pass from {}.",
        said("reference"),
        said("feature"),
        said("frequency"),
        said("cutoff")
    );
    match (get("after"), get("drift")) {
        (Some(after), Some(drift)) => out.push_str(&format!(
            " A second measurement by the calibrated sensor (scan {after}) differed by {drift}; their mean was used."
        )),
        _ => out.push_str(" It was measured once by the calibrated sensor: a drift would not show."),
    }
    match get("size") {
        Some(size) => out.push_str(&format!(
            " The two sensors average over faces of unequal size: the volts differ by {size} for that, which is corrected."
        )),
        None => out.push_str(" Unequal sizes of the two sensors were not corrected."),
    }
    out.push_str(" The factor is taken for all frequencies.");
    out
}
