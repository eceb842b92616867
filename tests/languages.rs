//! The demo's sheet in every language: the same numbers, each with the decimal mark of its language.

#![allow(clippy::expect_used, reason = "a test program")]

use std::path::Path;
use std::sync::Arc;

use focalsheet::analysis::{self, Results};
use focalsheet::formats::source::{FileSet, Memory};
use focalsheet::outputs::{Outputs, outputs};
use focalsheet::record;
use focalsheet::report::wording;

fn demo() -> (Results, serde_json::Value) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data");
    let mut files = FileSet::default();
    for entry in std::fs::read_dir(&folder).expect("folder").flatten() {
        let path = entry.path();
        let name = entry.file_name().to_string_lossy().into_owned();
        if path.is_file() && (name.ends_with(".h5") || name.ends_with(".csv")) {
            files.insert(&name, Arc::new(Memory(Arc::from(std::fs::read(&path).expect("reads")))));
        }
    }
    let text = std::fs::read_to_string(folder.join("record.json")).expect("reads");
    let typed = record::read(&text, "record.json").expect("a record");
    let results = analysis::run(typed, &files, &mut |_, _| {}).expect("runs");
    (results, serde_json::from_str(&text).expect("JSON"))
}

/// The visible text of a document: no markup, no style, no data.
fn text_of(html: &str) -> String {
    let mut rest = html;
    let mut out = String::new();
    while let Some(at) = rest.find('<') {
        out.push_str(&rest[..at]);
        out.push(' ');
        let tag = &rest[at..];
        let end = ["style", "script"]
            .iter()
            .find(|name| tag[1..].starts_with(**name))
            .and_then(|name| tag.find(&format!("</{name}>")))
            .unwrap_or(0);
        let close = tag[end..].find('>').map_or(tag.len(), |at| end + at + 1);
        rest = &tag[close..];
    }
    out + rest
}

/// Numbers with a mark between two digits: `7.96`.
fn marked(text: &str, mark: char) -> Vec<String> {
    text.split(|c: char| !(c.is_ascii_digit() || c == '.' || c == ','))
        .map(|word| word.trim_matches(['.', ',']))
        .filter(|word| word.contains(mark) && word.chars().all(|c| c.is_ascii_digit() || c == mark))
        .map(str::to_owned)
        .collect()
}

#[test]
fn the_demo_in_every_language() {
    let (results, record) = demo();
    let [english, german] = ["en", "de"]
        .map(|tag| outputs(&results, record.clone(), &[], wording::of(tag)).expect("a sheet"));
    decimal_marks(&english, &german, &record);
    data_do_not_depend_on_the_language(&english, &german);
}

/// Every number of the German sheet has a comma, and every one of the English a point; what is left is no
/// number of ours: the version, a clause (JCGM 101:2008, 8.1), and texts of the record, which are printed as
/// they were typed.
fn decimal_marks(english: &Outputs, german: &Outputs, record: &serde_json::Value) {
    let (en, de) = (text_of(&english.document), text_of(&german.document));
    assert!(german.document.starts_with("<!DOCTYPE html>\n<html lang=\"de\">"));
    assert!(marked(&en, '.').len() > 300 && marked(&de, ',').len() > 300);
    let typed = record.to_string();
    let ours: Vec<String> = marked(&de, '.')
        .into_iter()
        .filter(|number| {
            !typed.contains(number) && number != env!("CARGO_PKG_VERSION") && number != "8.1"
        })
        .collect();
    assert!(ours.is_empty(), "{ours:?}");
    // Pairs of subscripts (`w_{x,6}`) have letters; `1,681` would be a mark between thousands.
    assert_eq!(marked(&en, ','), Vec::<String>::new());
    // The same figures in both, for the peak pressure.
    let pc = english.sheet.quantities.iter().find(|q| q.id == "pc").expect("a peak pressure");
    let digits = marked(&pc.text, '.').into_iter().next().expect("digits");
    assert!(en.contains(&digits) && de.contains(&digits.replace('.', ",")), "{digits}");
}

/// `sheet.json`: codes, ids and numbers are the same in every language.
fn data_do_not_depend_on_the_language(english: &Outputs, german: &Outputs) {
    let [english, german] = [english, german]
        .map(|made| serde_json::from_str::<serde_json::Value>(&made.json).expect("JSON"));
    let mut texts = 0;
    same(&english, &german, "", &mut texts);
    assert!(texts > 50, "{texts}");
}

/// Compares all but the texts for readers; counts those that differ.
fn same(a: &serde_json::Value, b: &serde_json::Value, place: &str, texts: &mut usize) {
    use serde_json::Value::{Array, Object};
    const TEXTS: [&str; 6] = ["text", "hint", "name", "reference", "reason", "u_reason"];
    match (a, b) {
        (Object(a), Object(b)) => {
            assert!(a.keys().eq(b.keys()), "{place}");
            for (key, value) in a {
                let readers = TEXTS.contains(&key.as_str()) && value.is_string();
                if readers {
                    *texts += usize::from(*value != b[key]);
                } else {
                    same(value, &b[key], &format!("{place}/{key}"), texts);
                }
            }
        }
        (Array(a), Array(b)) => {
            assert_eq!(a.len(), b.len(), "{place}");
            a.iter().zip(b).for_each(|(a, b)| same(a, b, place, texts));
        }
        _ => assert_eq!(a, b, "{place}"),
    }
}
