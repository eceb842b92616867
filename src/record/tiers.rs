//! What has to be computed again when a blank changes.

use serde_json::Value;

use super::path::{entry_below, key_below};

/// How far back a change reaches; the later one includes the earlier.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Tier {
    /// Words and verdicts: all results stay.
    Sheet,
    /// Quantities: what was read from each waveform stays.
    Map,
    /// Everything: the waveforms are read again.
    Read,
}

/// The tier of each path or of all that lies below it; the longest beginning that fits counts. Lists as
/// `[]`.
const TIERS: &[(&str, Tier)] = &[
    ("schema", Tier::Read),
    ("title", Tier::Sheet),
    ("date", Tier::Sheet),
    ("site", Tier::Sheet),
    ("measured_by", Tier::Sheet),
    ("customer", Tier::Sheet),
    ("issued", Tier::Sheet),
    ("device", Tier::Map),
    ("device.description", Tier::Sheet),
    ("device.serial", Tier::Sheet),
    ("device.software_version", Tier::Sheet),
    ("device.operating_hours", Tier::Sheet),
    ("device.head_temperature_c", Tier::Sheet),
    // The frequency of the drive where that is blank.
    ("device.nominal_frequency_hz", Tier::Read),
    ("frame", Tier::Map),
    ("frame.x_mark", Tier::Sheet),
    // The echo that ends a steady window.
    ("frame.trigger_delay_s", Tier::Read),
    ("water", Tier::Map),
    ("water.treatment", Tier::Sheet),
    ("water.oxygen_mg_per_l", Tier::Sheet),
    ("water.conductivity_s_per_m", Tier::Sheet),
    ("water.sensor_soak_min", Tier::Sheet),
    ("excitation", Tier::Map),
    // Windows rest on them.
    ("excitation.frequency_hz", Tier::Read),
    ("excitation.cycles", Tier::Read),
    ("excitation.mode", Tier::Read),
    ("exposure", Tier::Map),
    ("sensor", Tier::Read),
    ("sensor.description", Tier::Sheet),
    ("sensor.serial", Tier::Sheet),
    ("sensor.certificate", Tier::Sheet),
    ("sensor.calibrated", Tier::Sheet),
    ("sensor.due", Tier::Sheet),
    ("sensor.effective_radius_m", Tier::Map),
    ("sensor.u_gain", Tier::Map),
    ("sensor.ranges[].u_gain", Tier::Map),
    ("sensor.ranges[].setting", Tier::Sheet),
    ("analysis", Tier::Read),
    ("analysis.bubbles", Tier::Map),
    ("analysis.safety_values", Tier::Map),
    ("scans", Tier::Read),
    // The ratio of powers by which linear values are scaled.
    ("readings", Tier::Map),
    ("readings[].method", Tier::Sheet),
    ("stated", Tier::Sheet),
    // Another file.
    ("stated_file", Tier::Read),
    ("decision", Tier::Sheet),
    ("decision.coverage", Tier::Map),
    ("uncertainties", Tier::Map),
    ("equipment", Tier::Sheet),
    ("history", Tier::Sheet),
    ("changes", Tier::Sheet),
    ("typed", Tier::Sheet),
];

/// The tier of a path, `None` for one that is not of a record.
///
/// # Examples
/// `stated[2].value` is of the sheet, `water.temperature_c` of the maps.
pub fn tier_of(path: &str) -> Option<Tier> {
    let mut plain = String::with_capacity(path.len());
    let mut inside = false;
    for c in path.chars() {
        inside = (inside || c == '[') && c != ']';
        if !inside || c == '[' {
            plain.push(c);
        }
    }
    let below = |start: &str| {
        plain
            .strip_prefix(start)
            .is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
    };
    let fitting = TIERS.iter().filter(|(start, _)| below(start));
    fitting.max_by_key(|(start, _)| start.len()).map(|(_, tier)| *tier)
}

/// The tier of all differences between two drafts; `None` where they say the same.
pub fn tier_between(before: &Value, after: &Value) -> Option<Tier> {
    // What no table knows is read anew.
    changed_paths(before, after).iter().map(|path| tier_of(path).unwrap_or(Tier::Read)).max()
}

/// Paths at which two drafts differ, as far down as both have the same kind of value.
pub fn changed_paths(before: &Value, after: &Value) -> Vec<String> {
    let mut out = Vec::new();
    differ("", before, after, &mut out);
    out
}

fn differ(path: &str, before: &Value, after: &Value, out: &mut Vec<String>) {
    match (before, after) {
        (Value::Object(a), Value::Object(b)) => {
            let added = b.keys().filter(|key| !a.contains_key(*key));
            for key in a.keys().chain(added) {
                let of = |object: &'_ serde_json::Map<String, Value>| {
                    object.get(key).cloned().unwrap_or(Value::Null)
                };
                differ(&key_below(path, key), &of(a), &of(b), out);
            }
        }
        (Value::Array(a), Value::Array(b)) => {
            for i in 0..a.len().max(b.len()) {
                let of = |list: &[Value]| list.get(i).cloned().unwrap_or(Value::Null);
                differ(&entry_below(path, i), &of(a), &of(b), out);
            }
        }
        // A section that comes or goes is its keys: what is blank in both is no difference.
        (Value::Object(_), Value::Null) => {
            differ(path, before, &Value::Object(Default::default()), out)
        }
        (Value::Null, Value::Object(_)) => {
            differ(path, &Value::Object(Default::default()), after, out)
        }
        (a, b) if a == b => {}
        _ => out.push(path.to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::known::KNOWN;
    use serde_json::json;

    /// Every path of the documented schema has its tier, and every row of the table is such a path.
    #[test]
    fn every_path_has_its_tier() {
        let without: Vec<&str> = KNOWN.paths().filter(|path| tier_of(path).is_none()).collect();
        assert_eq!(without, [""; 0]);
        for (start, _) in TIERS {
            assert!(KNOWN.paths().any(|path| path == *start), "{start} is no path of a record");
        }
        assert_eq!(tier_of("devices"), None);
    }

    /// By reading.
    #[test]
    fn the_longest_beginning_counts() {
        for (path, tier) in [
            ("device.serial", Tier::Sheet),
            ("device.aperture_radius_m", Tier::Map),
            ("sensor.ranges[3].u_gain.value", Tier::Map),
            ("sensor.ranges[3].response.v_per_pa", Tier::Read),
            ("stated[12].tolerance.lower", Tier::Sheet),
            ("decision.coverage", Tier::Map),
            ("scans[0].level", Tier::Read),
            // The echo.
            ("scans[0].distance_m", Tier::Read),
        ] {
            assert_eq!(tier_of(path), Some(tier), "{path}");
        }
    }

    #[test]
    fn differences_are_found_by_their_paths() {
        let a = json!({"site": "x", "water": {"temperature_c": 21.0}, "stated": [{"value": 1}], "exposure": null});
        let mut b = a.clone();
        assert_eq!(tier_between(&a, &b), None);
        b["stated"].as_array_mut().unwrap().push(json!({"value": 2}));
        assert_eq!(changed_paths(&a, &b), ["stated[1].value"]);
        assert_eq!(tier_between(&a, &b), Some(Tier::Sheet));
        b["water"]["u_temperature_c"] = json!(0.1);
        assert_eq!(tier_between(&a, &b), Some(Tier::Map));
        b.as_object_mut().unwrap().remove("water");
        b["unheard"] = json!(1);
        assert_eq!(tier_between(&a, &b), Some(Tier::Read));
        assert_eq!(tier_between(&json!({"water": {"oxygen_mg_per_l": null}}), &json!({})), None);
    }
}
