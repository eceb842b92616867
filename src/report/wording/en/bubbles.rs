//! Findings on signs of bubbles, and on the sensor before and after.

use super::{Filled, Sentence};

pub fn findings(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "bubble-signs" => s(
            format!(
                "The monitor shows signs of bubbles in {} ({}): noise between the harmonics or lines at odd halves of the drive frequency up to {} over the baseline ({} marks a shot).",
                shots(a),
                a.get("fraction"),
                a.get("worst"),
                a.get("limit")
            ),
            "Degas the water and wait; this is said of this tank’s water, not of tissue.",
        ),
        "bubble-signs-own" => s(
            format!(
                "The sensor’s own trace shows signs of bubbles in {} ({}): noise between the harmonics or lines at odd halves of the drive frequency up to {} over the baseline ({} marks a shot). No shot is left out for it.",
                shots(a),
                a.get("fraction"),
                a.get("worst"),
                a.get("limit")
            ),
            "Look at the sensor for bubbles, degas the water; a passive detector beside it would tell more.",
        ),
        "bubble-baseline-high" => s(
            a.fill("Even at the lowest levels, noise or lines stand {found} over the quiet part before the burst: bubbles or noise of the drive there hide weaker signs at the other levels."),
            "Begin the sweep at a lower level.",
        ),
        "bubble-baseline-own" => s(
            "There is no lower level and no quiet part before the burst: shots are compared with the median of their own. Bubbles in more than half of them would not be seen.",
            "Record at a lower level too, or from before the burst on.",
        ),
        "bubble-no-baseline" => s(
            "There is nothing to compare with: no lower level, no quiet part before the burst, too few shots. No signs of bubbles are given.",
            "Record at a lower level too, or from before the burst on.",
        ),
        "bubble-burst-short" => s(
            "The burst is too short for the signs of bubbles: its steady part holds fewer than 20 cycles, too few to tell what lies between the harmonics.",
            "",
        ),
        "bubble-band-narrow" => s(
            "The record does not reach to three times the drive frequency: there is too little between the harmonics to look for signs of bubbles.",
            "Sample faster.",
        ),
        "bubble-shots-left" => s(
            a.fill("Signs of bubbles were looked for in the first 1024 of {all} shots."),
            "",
        ),
        "monitor-beside-nothing" => s(
            "The monitor stands beside no scan that is evaluated: it was not used.",
            "Name the scan in its beside.",
        ),
        "monitor-levels-differ" => s(
            a.fill("The monitor has {found} levels, the scan beside it {expected}: it was not used."),
            "Give both the same levels in the same order.",
        ),
        "monitor-shots-differ" => s(
            a.fill("The monitor has {found} shots, {beside} has {expected}: which belong together cannot be told, and it was not used."),
            "Record one trace of the monitor with each shot.",
        ),
        "monitor-own-time-base" => s(
            a.fill("The monitor was sampled every {found}, the scan beside it every {expected}; each was used on its own axis."),
            "",
        ),
        "monitor-without-burst" => s(
            "The record does not hold 20 cycles of the steady part of the burst: no signs of bubbles are given.",
            "Let it begin before the burst arrives and end after it.",
        ),
        "sensor-changed" => s(
            format!(
                "Between the check source’s records before and after the scans the sensor’s reading ({}) changed by {}, more than its expanded uncertainty of {}.",
                feature(&a.get("feature")),
                a.get("found"),
                a.get("u")
            ),
            "Look at the sensor, place it anew, measure the source again. If it stays, calibrate the sensor and repeat the scans: which of them came before the change is not known.",
        ),
        "sensor-unchanged" => s(
            format!(
                "Between the check source’s records before and after the scans the sensor’s reading ({}) changed by {}, within its expanded uncertainty of {}: no change is seen.",
                feature(&a.get("feature")),
                a.get("found"),
                a.get("u")
            ),
            "",
        ),
        "sensor-check-assumed" => s(
            a.fill("How well the source and the placing repeat is not stated: limits of ± {assumed} were taken, common practice."),
            "State the uncertainty of the check.",
        ),
        "sensor-check-few-shots" => s(
            "A check of the sensor needs at least two shots in each record: from single ones the scatter is not known.",
            "Record some ten shots before and after.",
        ),
        "sensor-check-ranges-differ" => s(
            format!(
                "The check source was recorded at different ranges before ({}) and after ({}): nothing can be said of the sensor.",
                a.get("before"),
                a.get("after")
            ),
            "Record both at the same range.",
        ),
        "sensor-check-levels-differ" => s(
            "The records of the check source before and after have no level in common: nothing can be said of the sensor.",
            "Record both at the same level.",
        ),
        "sensor-check-no-signal" => s(
            "The check source’s burst is not found in this record, or no quiet part before it: nothing can be said of the sensor.",
            "Check connection, trigger and time window; if the sensor is silent, it is lost.",
        ),
        "sensor-check-unread" => s(
            a.fill("The record of the check source could not be read ({found}): nothing can be said of the sensor."),
            "Add its file, or name another in sensor.checked.",
        ),
        _ => return None,
    })
}

fn shots(a: &Filled<'_>) -> String {
    a.fill("{marked} of {all} shots")
}

fn feature(id: &str) -> String {
    match id {
        "rms" => "rms",
        "peak" => "positive peak",
        _ => "fundamental",
    }
    .to_owned()
}

fn s(text: impl Into<String>, hint: &str) -> Sentence {
    Sentence::new(text, hint)
}
