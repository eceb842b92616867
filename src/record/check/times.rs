//! Days and instants exist in the calendar and come in their order.

use super::{Found, quote};
use crate::record::Record;
use crate::record::date::{Day, Instant};

pub(super) fn check(record: &Record, found: &mut Found) {
    let measured = day(record.date.as_deref(), "date", found);
    let issued = day(record.issued.as_deref(), "issued", found);
    if let (Some(measured), Some(issued)) = (measured, issued)
        && issued < measured
    {
        out_of_order("issued", record.date.as_deref(), record.issued.as_deref(), found);
    }
    let sensor = &record.sensor;
    calibration("sensor", [&sensor.calibrated, &sensor.due], found);
    for (i, item) in record.equipment.iter().enumerate() {
        calibration(&format!("equipment[{i}]"), [&item.calibrated, &item.due], found);
    }
    for (i, scan) in record.scans.iter().enumerate() {
        let path = format!("scans[{i}].acquisition");
        let ended_path = format!("{path}.ended");
        let acquisition = &scan.acquisition;
        let started = instant(acquisition.started.as_deref(), &format!("{path}.started"), found);
        let ended = instant(acquisition.ended.as_deref(), &ended_path, found);
        if let (Some(started), Some(ended)) = (started, ended)
            && ended.since(started).is_some_and(|seconds| seconds < 0.0)
        {
            let (started, ended) = (acquisition.started.as_deref(), acquisition.ended.as_deref());
            out_of_order(&ended_path, started, ended, found);
        }
    }
    for (i, change) in record.changes.iter().enumerate() {
        instant(change.time.as_deref(), &format!("changes[{i}].time"), found);
    }
}

/// The day of a calibration and the one until which it holds.
fn calibration(path: &str, [calibrated, due]: [&Option<String>; 2], found: &mut Found) {
    let due_path = format!("{path}.due");
    let first = day(calibrated.as_deref(), &format!("{path}.calibrated"), found);
    let last = day(due.as_deref(), &due_path, found);
    if first.zip(last).is_some_and(|(first, last)| last < first) {
        out_of_order(&due_path, calibrated.as_deref(), due.as_deref(), found);
    }
}

fn day(text: Option<&str>, path: &str, found: &mut Found) -> Option<Day> {
    let text = text?;
    let day = Day::parse(text);
    if day.is_none() {
        found.add("record-not-a-day", path, |problem| problem.with("found", quote(text)));
    }
    day
}

fn instant(text: Option<&str>, path: &str, found: &mut Found) -> Option<Instant> {
    let text = text?;
    let instant = Instant::parse(text);
    if instant.is_none() {
        found.add("record-not-an-instant", path, |problem| problem.with("found", quote(text)));
    }
    instant
}

fn out_of_order(path: &str, first: Option<&str>, then: Option<&str>, found: &mut Found) {
    found.add("record-ends-before-start", path, |problem| {
        problem.with("start", quote(first.unwrap_or(""))).with("end", quote(then.unwrap_or("")))
    });
}

#[cfg(test)]
mod tests {
    use super::super::codes;
    use super::*;
    use crate::record::{Equipment, Role, ScanEntry};

    fn text(text: &str) -> Option<String> {
        Some(text.to_owned())
    }

    #[test]
    fn days_and_instants_are_checked() {
        let mut record = Record { date: text("04.05.2026"), ..Record::default() };
        record.equipment.push(Equipment {
            kind: "digitiser".to_owned(),
            serial: None,
            certificate: None,
            calibrated: text("2026-02-30"),
            due: text("2027-01-31"),
        });
        record.sensor.calibrated = text("2026-04-31");
        record.scans.push(ScanEntry::new("focus", Role::Plane, "focus.h5"));
        record.scans[0].acquisition.started = text("2026-05-04T10:00:00");
        record.scans[0].acquisition.ended = text("2026-05-04T09:59:00");
        assert_eq!(
            codes(&record),
            [
                "record-not-a-day date",
                "record-not-a-day sensor.calibrated",
                "record-not-a-day equipment[0].calibrated",
                "record-ends-before-start scans[0].acquisition.ended",
            ]
        );
        record.date = text("2026-05-04");
        record.issued = text("2026-05-03");
        record.sensor.calibrated = text("2026-04-30");
        record.sensor.due = text("2026-04-29");
        record.equipment[0].calibrated = text("2027-02-01");
        record.scans[0].acquisition.started = text("ten o'clock");
        assert_eq!(
            codes(&record),
            [
                "record-ends-before-start issued",
                "record-ends-before-start sensor.due",
                "record-ends-before-start equipment[0].due",
                "record-not-an-instant scans[0].acquisition.started",
            ]
        );
    }
}
