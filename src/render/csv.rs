//! The quantities as a table for spreadsheets and scripts: one row a quantity, SI and unrounded.

use crate::base::quantity::{Correction, TimeBase, Window, WindowKind};
use crate::base::sheet::{QuantityEntry, Sheet};

const HEAD: [&str; 25] = [
    "scan",
    "level",
    "level_unit",
    "range",
    "id",
    "symbol",
    "name",
    "value",
    "lower_bound",
    "unit",
    "u_standard",
    "u_expanded",
    "k",
    "nu_eff",
    "u_reason",
    "value_uncorrected",
    "corrections",
    "window_kind",
    "window_start_s",
    "window_stop_s",
    "time_base",
    "method",
    "reference",
    "reason",
    "text",
];

/// The quantities of a sheet as CSV: UTF-8, comma, a header, CRLF line ends.
///
/// Numbers stand with a decimal point and as many digits as give the same `f64` back; what is not
/// known is an empty cell. Text that a spreadsheet would take for a formula gets an apostrophe in
/// front; numbers never do.
///
/// # Units
/// `value`, `u_standard`, `u_expanded` and `value_uncorrected` in the SI unit of the column `unit`.
///
/// # References
/// RFC 4180 (quoting, line ends). OWASP, "CSV Injection": cells that begin with `=`, `+`, `-`, `@`,
/// tab, carriage return or line feed.
pub fn quantities_csv(sheet: &Sheet) -> String {
    let mut writer = ::csv::WriterBuilder::new()
        .terminator(::csv::Terminator::CRLF)
        .from_writer(Vec::<u8>::new());
    let rows = std::iter::once(HEAD.map(str::to_owned))
        .chain(sheet.quantities.iter().map(|quantity| row(quantity, sheet)));
    for cells in rows {
        // Every row has the header's length and a Vec takes every byte: there is nothing to fail.
        let _ = writer.write_record(&cells);
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8_lossy(&bytes).into_owned()
}

fn row(quantity: &QuantityEntry, sheet: &Sheet) -> [String; HEAD.len()] {
    let scan = sheet.scans.iter().find(|scan| scan.id == quantity.scan);
    let level_unit = scan.and_then(|scan| scan.level_unit.as_deref()).unwrap_or_default();
    let window = quantity.window;
    [
        text(&quantity.scan),
        number(quantity.level),
        if quantity.level.is_some() { text(level_unit) } else { String::new() },
        optional_text(quantity.range.as_deref()),
        text(&quantity.id),
        text(&quantity.symbol),
        text(&quantity.name),
        number(quantity.value),
        quantity.value.map(|_| quantity.lower_bound.to_string()).unwrap_or_default(),
        text(&quantity.unit),
        number(quantity.u_standard),
        number(quantity.u_expanded),
        number(quantity.k),
        number(quantity.nu_eff),
        optional_text(quantity.u_reason.as_deref()),
        number(quantity.value_uncorrected),
        text(&corrections(&quantity.corrections)),
        window.map(window_kind).unwrap_or_default().to_owned(),
        number(window.map(|window| window.start_s)),
        number(window.map(|window| window.stop_s)),
        quantity.time_base.map(time_base).unwrap_or_default().to_owned(),
        text(&quantity.method),
        text(&quantity.reference),
        optional_text(quantity.reason.as_deref()),
        text(&quantity.text),
    ]
}

/// Names and factors of the corrections: `noise-energy 0.981; spatial-averaging 1.034`.
fn corrections(corrections: &[Correction]) -> String {
    let parts: Vec<String> = corrections
        .iter()
        .map(|one| format!("{} {}", one.name, number(Some(one.factor))))
        .collect();
    parts.join("; ")
}

fn window_kind(window: Window) -> &'static str {
    match window.kind {
        WindowKind::WholePulse => "whole-pulse",
        WindowKind::SteadyState => "steady-state",
    }
}

fn time_base(base: TimeBase) -> &'static str {
    match base {
        TimeBase::On => "on",
        TimeBase::Tank => "tank",
        TimeBase::Exposure => "exposure",
    }
}

/// Shortest digits that read back as the same number; empty for none and for what is not finite.
fn number(value: Option<f64>) -> String {
    match value {
        Some(value) if value.is_finite() => format!("{value:?}"),
        _ => String::new(),
    }
}

fn optional_text(value: Option<&str>) -> String {
    text(value.unwrap_or_default())
}

/// Text with an apostrophe in front where a spreadsheet would take it for a formula.
fn text(value: &str) -> String {
    if value.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']) {
        format!("'{value}")
    } else {
        value.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::super::sample::{quantity, sheet};
    use super::*;

    fn read(text: &str) -> Vec<BTreeMap<String, String>> {
        let mut reader = ::csv::Reader::from_reader(text.as_bytes());
        reader.deserialize().map(Result::unwrap).collect()
    }

    #[test]
    fn reads_back() {
        let mut sheet = sheet();
        sheet.quantities[0].name = "a \"quoted\" name,\nover two lines".to_owned();
        sheet.quantities[0].value_uncorrected = Some(-1.0 / 3.0 * 1e-9);
        sheet.quantities[0].corrections = vec![Correction {
            name: "spatial-averaging".to_owned(),
            factor: 1.034,
            u: None,
            source: String::new(),
        }];
        let text = quantities_csv(&sheet);
        let rows = read(&text);
        assert_eq!(rows.len(), 2);
        assert_eq!(rows[0]["name"], "a \"quoted\" name,\nover two lines");
        assert_eq!(rows[0]["value"].parse::<f64>().unwrap(), 6.24e6);
        assert_eq!(rows[0]["value_uncorrected"].parse::<f64>().unwrap(), -1.0 / 3.0 * 1e-9);
        assert_eq!(rows[0]["corrections"], "spatial-averaging 1.034");
        assert_eq!(rows[0]["window_start_s"].parse::<f64>().unwrap(), 1.0e-5);
        assert_eq!(rows[0]["window_kind"], "steady-state");
        assert_eq!(rows[0]["level_unit"], "mV");
        assert_eq!(rows[1]["value"], "");
        assert_eq!(rows[1]["lower_bound"], "");
        assert_eq!(text.matches("\r\n").count(), 3);
    }

    /// OWASP, "CSV Injection": the characters that start a formula.
    #[test]
    fn formulas_are_guarded_and_numbers_are_not() {
        let mut sheet = sheet();
        let hostile = [
            "=1+1",
            "+1",
            "-1+cmd|' /C calc'!A0",
            "@SUM(A1)",
            "\t=1",
            "\r=1",
            "=HYPERLINK(\"x\",\"y\")",
        ];
        for (index, cell) in hostile.iter().enumerate() {
            let mut quantity = quantity(&format!("q{index}"), Some(-1.5e-3));
            quantity.name = (*cell).to_owned();
            quantity.level = Some(-3.0);
            sheet.quantities.push(quantity);
        }
        let rows = read(&quantities_csv(&sheet));
        for (cell, row) in hostile.iter().zip(&rows[2..]) {
            assert_eq!(row["name"], format!("'{cell}"));
            assert_eq!(row["value"].parse::<f64>().unwrap(), -1.5e-3);
            assert_eq!(row["level"].parse::<f64>().unwrap(), -3.0);
        }
        assert_eq!(text("6.24 = x"), "6.24 = x");
        assert_eq!(text("−3 dB"), "−3 dB");
    }

    /// RFC 4180, section 2, rules 5 to 7: fields with line breaks, quotes and commas are enclosed
    /// in quotes, and a quote inside is doubled.
    #[test]
    fn quoting_is_that_of_rfc_4180() {
        let mut sheet = sheet();
        sheet.quantities.truncate(1);
        sheet.quantities[0].name = "b \"bb\", c".to_owned();
        assert!(quantities_csv(&sheet).contains(",\"b \"\"bb\"\", c\","));
    }

    #[test]
    fn a_number_that_is_not_finite_is_an_empty_cell() {
        let mut sheet = sheet();
        sheet.quantities[0].u_expanded = Some(f64::NAN);
        assert_eq!(read(&quantities_csv(&sheet))[0]["u_expanded"], "");
    }
}
