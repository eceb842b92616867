//! Tables as people keep them, and broken ones.

use super::*;
use crate::record::{Medium, Role, ScanEntry, UncertaintyKind};

fn record() -> Record {
    let mut record = Record::default();
    record.scans.push(ScanEntry::new("focal-plane", Role::Plane, "plane.h5"));
    record
}

fn read(text: &str) -> Result<Vec<Stated>, Vec<String>> {
    with_stated_table(record(), text.as_bytes(), "sheet.csv").map(|record| record.stated).map_err(
        |problems| {
            let line = |p: &Problem| {
                assert_eq!(p.place.file.as_deref(), Some("sheet.csv"));
                format!("{} {}", p.code, p.place.path.as_deref().unwrap_or(""))
                    .trim_end()
                    .to_owned()
            };
            problems.iter().map(line).collect()
        },
    )
}

/// By reading.
#[test]
fn a_table_in_commas() {
    let text = "\u{feff}# data sheet\nquantity,value (MPa),tolerance,uncertainty,level,scan,origin,medium\n\
        pc,8.3,±15 %,12 % (k=2),40,focal-plane,\"page 4, table 2\",water\n\
        p_r,≤ 5.0,,,,,,\n";
    let rows = read(text).unwrap();
    assert_eq!(rows.len(), 2);
    assert_eq!((rows[0].quantity.as_str(), rows[0].value), ("pc", 8.3));
    assert_eq!((rows[0].unit.as_deref(), rows[0].level), (Some("MPa"), Some(40.0)));
    let tolerance = rows[0].tolerance.as_ref().unwrap();
    assert_eq!(tolerance.limits(8.3), (Some(8.3 - 0.15 * 8.3), Some(8.3 + 0.15 * 8.3)));
    let uncertainty = rows[0].uncertainty.as_ref().unwrap();
    assert_eq!((uncertainty.kind, uncertainty.relative), (UncertaintyKind::Expanded, true));
    assert_eq!(rows[0].medium, Some(Medium::Water));
    assert_eq!(rows[0].origin.as_deref(), Some("page 4, table 2"));
    assert_eq!(rows[1].tolerance.as_ref().unwrap().limits(5.0), (None, Some(5.0)));
}

/// A German spreadsheet: semicolons, decimal commas, Latin-1.
#[test]
fn a_table_in_semicolons() {
    let text = "Quantity;Value;Unit;Tolerance;Time base\nbeam width in x at -6 dB;1,5;mm;\u{b1}0,2 mm;\n\
        i_on;300;W/cm\u{b2};+20 % / -10 %;on\n";
    let bytes: Vec<u8> = text.chars().map(|c| c as u8).collect();
    let rows = with_stated_table(record(), &bytes, "t.csv").unwrap().stated;
    assert_eq!((rows[0].quantity.as_str(), rows[0].value), ("width_x_6", 1.5));
    assert_eq!(rows[0].tolerance.as_ref().unwrap().upper, Some(0.2));
    assert_eq!(rows[1].tolerance.as_ref().unwrap().lower, Some(-0.1));
    assert_eq!(rows[1].time_base, Some(crate::base::quantity::TimeBase::On));
}

/// Cells pasted from a spreadsheet come with tabs; a value may bring its unit.
#[test]
fn a_table_in_tabs() {
    let rows = read("quantity\tvalue\ttolerance [%]\t\npr\t4.8 MPa\t±20\t\n\n").unwrap();
    assert_eq!((rows[0].value, rows[0].unit.as_deref()), (4.8, Some("MPa")));
    assert_eq!(rows[0].tolerance.as_ref().unwrap().upper, Some(0.2));
}

/// Every problem at once, each with its line.
#[test]
fn problems_name_their_lines() {
    let text = "quantity;value;unit;tolerance;uncertainty;window;scan\n\
        pc;1,500;MPa;;;;\n\
        loudness;3;MPa;;;;\n\
        f_awf;1.5;MHz;;;;\n\
        pc;5;mm;;;;\n\
        pc;five;MPa;±15;10 %;late;\n\
        h2;30;%;±3 %;;;\n\
        pc;5;MPa;±1 mm;;;\n\
        pc;5;MPa;-20 % / -10 %;;;\n\
        pc;5;MPa;±5 %;;;axis\n\
        pr;-5;MPa;±5 %;;;\n\
        pr;5;MPa;±5 %;;;;extra\n";
    assert_eq!(
        read(text).unwrap_err(),
        [
            "stated-table-ambiguous-number line 2",
            "stated-table-unknown-quantity line 3",
            "stated-table-ambiguous-quantity line 4",
            "stated-table-not-a-number line 6",
            "stated-table-no-unit line 6",
            "stated-table-no-kind line 6",
            "stated-table-not-one-of line 6",
            "stated-table-percent-of-percent line 7",
            "stated-table-wrong-unit line 8",
            "stated-table-not-understood line 9",
            "stated-table-too-many-cells line 12",
        ]
    );
    let text = "quantity;value;unit;tolerance;scan\npc;5;mm;±5 %;\npc;5;MPa;±5 %;axis\npr;-5;MPa;±500 %;\n";
    assert_eq!(
        read(text).unwrap_err(),
        [
            "record-wrong-unit line 2, unit",
            "record-unknown-scan line 3, scan",
            "record-negative-value line 4, value",
            "record-not-a-fraction line 4, tolerance.lower",
            "record-not-a-fraction line 4, tolerance.upper",
        ]
    );
}

#[test]
fn headings_are_checked() {
    assert_eq!(read(""), Err(vec!["stated-table-empty".to_owned()]));
    assert_eq!(read("quantity,value\n"), Err(vec!["stated-table-empty".to_owned()]));
    assert_eq!(
        read("quantity,tolerence,colour\npc,1,2\n").unwrap_err(),
        [
            "stated-table-unknown-column line 1",
            "stated-table-unknown-column line 1",
            "stated-table-no-column line 1"
        ]
    );
    assert_eq!(
        read("quantity,value,unit,Value\npc,1,MPa,2\n").unwrap_err(),
        ["stated-table-column-twice line 1"]
    );
    assert_eq!(read("\u{0}\u{1}"), Err(vec!["stated-table-not-text".to_owned()]));
    assert_eq!(
        read(&"x".repeat(MAX_TABLE_BYTES + 1)),
        Err(vec!["stated-table-too-long".to_owned()])
    );
}

/// Any bytes give rows or problems.
#[test]
fn changed_bytes_never_panic() {
    let text = "quantity,value (MPa),tolerance,uncertainty,k\npc,8.3,±15 % / -3 %,U = 12 % k=2,2\n";
    // Numbers of a linear congruence (Knuth's MMIX constants).
    let mut state = 7u64;
    let mut draw = |below: usize| {
        state =
            state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as usize % below
    };
    for _ in 0..4000 {
        let mut bytes = text.as_bytes().to_vec();
        for _ in 0..3 {
            let at = draw(bytes.len());
            bytes[at] = draw(256) as u8;
        }
        let _ = with_stated_table(record(), &bytes, "x.csv");
    }
}
