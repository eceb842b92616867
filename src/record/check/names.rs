//! Ids are used once, and every id that is named exists.

use std::collections::HashMap;

use super::{Found, quote};
use crate::record::layout::AxisName;
use crate::record::nearest::nearest;
use crate::record::path::key_below;
use crate::record::{Record, Response, Stated, WITHOUT_RANGE};

pub(super) fn check(record: &Record, found: &mut Found) {
    let scans: Vec<&str> = record.scans.iter().map(|scan| scan.id.as_str()).collect();
    let ranges: Vec<&str> = record.sensor.ranges.iter().map(|range| range.id.as_str()).collect();
    once(&scans, "scans", found);
    once(&ranges, "sensor.ranges", found);

    for (i, scan) in record.scans.iter().enumerate() {
        if let Some(range) = &scan.range {
            exists(range, &ranges, "record-unknown-range", &format!("scans[{i}].range"), found);
        }
        if let Some(beside) = &scan.beside {
            exists(beside, &scans, "record-unknown-scan", &format!("scans[{i}].beside"), found);
        }
        if let Some(layout) = &scan.layout {
            let path = format!("scans[{i}].layout.axes");
            axes(&layout.axes, &path, found);
        }
    }
    if let Some(checked) = &record.sensor.checked {
        for (key, id) in [("before", &checked.before), ("after", &checked.after)] {
            let path = format!("sensor.checked.{key}");
            exists(id, &scans, "record-unknown-scan", &path, found);
        }
    }
    for (path, response) in record.placed_responses() {
        of_response(&path, response, &scans, &ranges, found);
    }
    for (i, stated) in record.stated.iter().enumerate() {
        of_stated(record, stated, &format!("stated[{i}]"), found);
    }
}

/// The scan of a stated value exists.
pub(super) fn of_stated(record: &Record, stated: &Stated, path: &str, found: &mut Found) {
    let scans: Vec<&str> = record.scans.iter().map(|scan| scan.id.as_str()).collect();
    if let Some(scan) = &stated.scan {
        // An array with levels, repeats or gain ranges gives scans `id-level-1` and so on.
        let part = |id: &&str| scan.strip_prefix(*id).is_some_and(|rest| rest.starts_with('-'));
        if !scans.iter().any(part) {
            exists(scan, &scans, "record-unknown-scan", &key_below(path, "scan"), found);
        }
    }
}

/// A flat response has one factor; a check source names scans and ranges that exist.
fn of_response(
    path: &str,
    response: &Response,
    scans: &[&str],
    ranges: &[&str],
    found: &mut Found,
) {
    let below = |key: &str| key_below(path, key);
    match response {
        Response::Flat { v_per_pa, mv_per_mpa, db_re_1v_per_upa, .. } => {
            let stated = [v_per_pa, mv_per_mpa, db_re_1v_per_upa].into_iter().flatten().count();
            if stated != 1 {
                found.add("record-one-factor", path, |problem| problem.with("found", stated));
            }
        }
        Response::Table { .. } => {}
        Response::CheckSource {
            reference_scan,
            reference_scan_after,
            device_scans,
            reference_response,
            ..
        } => {
            let scan = "record-unknown-scan";
            exists(reference_scan, scans, scan, &below("reference_scan"), found);
            if let Some(after) = reference_scan_after {
                exists(after, scans, scan, &below("reference_scan_after"), found);
            }
            let whole = [WITHOUT_RANGE];
            let ranges = if ranges.is_empty() { &whole[..] } else { ranges };
            for (range, id) in device_scans {
                let path = key_below(&below("device_scans"), range);
                exists(range, ranges, "record-unknown-range", &path, found);
                exists(id, scans, scan, &path, found);
            }
            if device_scans.is_empty() {
                found.add("record-no-device-scans", &below("device_scans"), |problem| {
                    problem
                        .with("allowed", ranges.iter().map(|id| quote(id)).collect::<Vec<String>>())
                });
            }
            let reference = below("reference_response");
            if let Response::CheckSource { .. } = **reference_response {
                let path = key_below(&reference, "kind");
                found.add("record-reference-not-calibrated", &path, |problem| problem);
            } else {
                of_response(&reference, reference_response, scans, ranges, found);
            }
        }
    }
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
        let source = |reference: &str, response: Response, device: &str| Response::CheckSource {
            reference_scan: reference.to_owned(),
            reference_scan_after: None,
            reference_response: Box::new(response),
            device_scans: BTreeMap::from([(device.to_owned(), "source-high".to_owned())]),
            feature: None,
            frequency_hz: None,
            reference_radius_m: None,
            reference_limit_pa: None,
            field_width_m: None,
            flatness: None,
            linearity: None,
            temperature: None,
        };
        let inner = source("source-low", Response::flat(1e-7, None), "low");
        record.sensor.response = Some(source("sourcelow", inner, "middle"));
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
    fn a_flat_response_has_one_factor() {
        let mut record = record();
        let flat = |v_per_pa, mv_per_mpa| {
            Some(Response::Flat { v_per_pa, mv_per_mpa, db_re_1v_per_upa: None, uncertainty: None })
        };
        record.sensor.response = flat(None, Some(50.0));
        assert_eq!(codes(&record), [""; 0]);
        record.sensor.response = flat(Some(5e-8), Some(50.0));
        record.sensor.ranges[1].response = flat(None, None);
        assert_eq!(
            codes(&record),
            ["record-one-factor sensor.response", "record-one-factor sensor.ranges[1].response"]
        );
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
