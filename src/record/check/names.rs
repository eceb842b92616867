//! Ids are used once, and every id that is named exists.

use std::collections::HashMap;

use super::{Found, quote};
use crate::record::layout::AxisName;
use crate::record::nearest::nearest;
use crate::record::path::key_below;
use crate::record::{Record, Response};

pub(super) fn check(record: &Record, found: &mut Found) {
    let scans: Vec<&str> = record.scans.iter().map(|scan| scan.id.as_str()).collect();
    let ranges: Vec<&str> = record.sensor.ranges.iter().map(|range| range.id.as_str()).collect();
    once(&scans, "scans", found);
    once(&ranges, "sensor.ranges", found);

    for (i, scan) in record.scans.iter().enumerate() {
        if let Some(range) = &scan.range {
            exists(range, &ranges, "record-unknown-range", &format!("scans[{i}].range"), found);
        }
        if let Some(layout) = &scan.layout {
            let path = format!("scans[{i}].layout.axes");
            axes(&layout.axes, &path, found);
        }
    }
    for (path, response) in responses(record) {
        if let Response::CheckSource { reference_scan, device_scans, reference_response, .. } =
            response
        {
            let below = |key: &str| key_below(&path, key);
            let scan = "record-unknown-scan";
            exists(reference_scan, &scans, scan, &below("reference_scan"), found);
            for (range, id) in device_scans {
                let path = key_below(&below("device_scans"), range);
                exists(range, &ranges, "record-unknown-range", &path, found);
                exists(id, &scans, scan, &path, found);
            }
            if let Response::CheckSource { .. } = **reference_response {
                let path = key_below(&below("reference_response"), "kind");
                found.add("record-reference-not-calibrated", &path, |problem| problem);
            }
        }
    }
    for (i, stated) in record.stated.iter().enumerate() {
        if let Some(scan) = &stated.scan {
            // An array with levels, repeats or gain ranges gives scans `id-level-1` and so on.
            let part = |id: &&str| scan.strip_prefix(*id).is_some_and(|rest| rest.starts_with('-'));
            if !scans.iter().any(part) {
                exists(scan, &scans, "record-unknown-scan", &format!("stated[{i}].scan"), found);
            }
        }
    }
}

/// All responses of the sensor and its ranges, with their paths.
pub(super) fn responses(record: &Record) -> Vec<(String, &Response)> {
    let mut all = Vec::new();
    if let Some(response) = &record.sensor.response {
        all.push(("sensor.response".to_owned(), response));
    }
    for (i, range) in record.sensor.ranges.iter().enumerate() {
        if let Some(response) = &range.response {
            all.push((format!("sensor.ranges[{i}].response"), response));
        }
    }
    all
}

/// Ids stand once in their list.
fn once(ids: &[&str], list: &str, found: &mut Found) {
    let mut first = HashMap::new();
    for (i, id) in ids.iter().enumerate() {
        let before = *first.entry(*id).or_insert(i);
        if before != i {
            found.add("record-id-twice", &format!("{list}[{i}].id"), |problem| {
                problem.with("id", quote(id)).with("first", format!("{list}[{before}].id"))
            });
        }
    }
}

/// An id that is named is among those that exist.
fn exists(id: &str, known: &[&str], code: &str, path: &str, found: &mut Found) {
    if known.contains(&id) {
        return;
    }
    found.add(code, path, |mut problem| {
        if let Some((nearest, _)) = nearest(id, known.iter().copied()) {
            problem = problem.with("nearest", quote(nearest));
        }
        let allowed: Vec<String> = known.iter().take(20).map(|id| quote(id)).collect();
        problem.with("found", quote(id)).with("allowed", allowed)
    });
}

/// A layout names each axis once, and the samples' axis among them.
fn axes(axes: &[AxisName], path: &str, found: &mut Found) {
    for (i, axis) in axes.iter().enumerate() {
        if axes[..i].contains(axis) {
            found.add("record-axis-twice", &format!("{path}[{i}]"), |problem| {
                problem.with("axis", axis.as_str())
            });
        }
    }
    if !axes.contains(&AxisName::T) {
        found.add("record-no-time-axis", path, |problem| problem);
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::super::{check as check_all, codes};
    use super::*;
    use crate::base::finding::Arg;
    use crate::record::{GainRange, Layout, Role, ScanEntry};

    fn record() -> Record {
        let mut record = Record::default();
        for id in ["low", "high"] {
            record.sensor.ranges.push(GainRange { id: id.to_owned(), ..GainRange::default() });
            record.scans.push(ScanEntry::new(&format!("source-{id}"), Role::CheckSource, "c.h5"));
        }
        record
    }

    #[test]
    fn names_that_exist_are_accepted() {
        let mut record = record();
        record.scans[0].range = Some("low".to_owned());
        assert_eq!(codes(&record), [""; 0]);
    }

    #[test]
    fn ids_are_used_once() {
        let mut record = record();
        record.scans.push(record.scans[0].clone());
        record.sensor.ranges[1].id = "low".to_owned();
        assert_eq!(
            codes(&record),
            ["record-id-twice scans[2].id", "record-id-twice sensor.ranges[1].id"]
        );
        assert_eq!(check_all(&record)[0].args["first"], Arg::from("scans[0].id"));
    }

    #[test]
    fn names_that_do_not_exist_are_told_with_the_nearest() {
        let mut record = record();
        record.scans[1].range = Some("hihg".to_owned());
        record.sensor.response = Some(Response::CheckSource {
            reference_scan: "sourcelow".to_owned(),
            reference_response: Box::new(Response::CheckSource {
                reference_scan: "source-low".to_owned(),
                reference_response: Box::new(Response::Flat { v_per_pa: 1e-7, uncertainty: None }),
                device_scans: BTreeMap::new(),
                feature: None,
            }),
            device_scans: BTreeMap::from([("middle".to_owned(), "source-high".to_owned())]),
            feature: None,
        });
        assert_eq!(
            codes(&record),
            [
                "record-unknown-range scans[1].range",
                "record-unknown-scan sensor.response.reference_scan",
                "record-unknown-range sensor.response.device_scans.middle",
                "record-reference-not-calibrated sensor.response.reference_response.kind",
            ]
        );
        let problems = check_all(&record);
        assert_eq!(problems[0].args["nearest"], Arg::from("high"));
        assert_eq!(problems[1].args["nearest"], Arg::from("source-low"));
        assert!(!problems[2].args.contains_key("nearest"));
    }

    #[test]
    fn a_layout_needs_samples_and_each_axis_once() {
        let mut record = record();
        let layout = Layout {
            waveforms: "/v".to_owned(),
            axes: vec![AxisName::X, AxisName::Y, AxisName::X],
            ..Layout::default()
        };
        record.scans[0].layout = Some(layout);
        assert_eq!(
            codes(&record),
            [
                "record-axis-twice scans[0].layout.axes[2]",
                "record-no-time-axis scans[0].layout.axes"
            ]
        );
    }
}
