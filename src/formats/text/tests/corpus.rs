//! Small files with invented numbers (`tests/corpus/text`).

use std::sync::Arc;

use super::super::super::container::{Attribute, Container, Samples};
use super::super::super::source::Memory;
use super::super::Text;
use crate::base::error::Problems;

macro_rules! corpus {
    ($($name:literal),* $(,)?) => {
        /// Name and bytes of every file.
        pub const FILES: &[(&str, &[u8])] = &[$((
            $name,
            include_bytes!(concat!("../../../../tests/corpus/text/", $name)),
        )),*];
    };
}

corpus![
    "point.csv",
    "points.csv",
    "sensitivity.csv",
    "decimal-comma-latin1.txt",
    "wide-headings.csv",
    "wide-indexed.tsv",
    "long-fast.csv",
    "long-slow.txt",
    "matrix.txt",
    "instrument.csv",
    "carriage-return.txt",
    "utf16.txt",
    "empty-cells.csv",
    "two-tables.csv",
    "corner.csv",
    "broken-rows.csv",
    "broken-first-row.csv",
    "broken-header.csv",
    "broken-nul.csv",
    "broken-order.csv",
    "broken-twice.csv",
    "broken-no-rows.csv",
];

/// Opens a text.
pub fn open(text: &[u8]) -> Result<Text, Problems> {
    Text::open(Arc::new(Memory(Arc::from(text))))
}

/// Opens a file of the corpus.
pub fn file(name: &str) -> Result<Text, Problems> {
    open(FILES.iter().find(|(n, _)| *n == name).expect("a file of the corpus").1)
}

/// Paths and shapes.
pub fn shapes(text: &Text) -> Vec<(&str, Vec<u64>)> {
    text.arrays().iter().map(|a| (a.path.as_str(), a.shape.clone())).collect()
}

/// All numbers of an array.
pub fn numbers(text: &Text, path: &str) -> Vec<f64> {
    text.read_numbers(path, 1 << 20).expect("reads")
}

/// Codes and places.
pub fn codes(problems: &Problems) -> Vec<(&str, &str)> {
    problems.iter().map(|p| (p.code.as_str(), p.place.path.as_deref().unwrap_or(""))).collect()
}

/// The unit of an array.
pub fn unit<'a>(text: &'a Text, path: &str) -> Option<&'a str> {
    match text.array(path)?.attributes.get("units")? {
        Attribute::Text(unit) => Some(unit),
        Attribute::Numbers(_) => None,
    }
}

/// Every box of an array of one or two axes against the whole of it.
pub fn every_box(text: &Text, path: &str) {
    let shape = text.array(path).expect("there").shape.clone();
    let whole = numbers(text, path);
    let (rows, columns) = (shape[0], shape.get(1).copied().unwrap_or(1));
    for a in 0..rows {
        for b in a..=rows {
            for c in 0..columns {
                for d in [c, c + 1, columns] {
                    let (start, count) = match shape.len() {
                        1 => (vec![a], vec![b - a]),
                        _ => (vec![a, c], vec![b - a, d - c]),
                    };
                    let mut expected = Vec::new();
                    for i in a..b {
                        let columns = if shape.len() == 1 { 0..1 } else { c..d };
                        expected.extend(
                            columns.map(|j| whole[(i * shape.get(1).unwrap_or(&1) + j) as usize]),
                        );
                    }
                    let read = text.read(path, &start, &count);
                    match read {
                        Ok(Samples::F64(found)) => {
                            let bits =
                                |v: &[f64]| v.iter().map(|x| x.to_bits()).collect::<Vec<_>>();
                            assert_eq!(bits(&found), bits(&expected), "{path} {start:?} {count:?}");
                        }
                        other => panic!("{path} {start:?} {count:?}: {other:?}"),
                    }
                }
            }
        }
    }
}

#[test]
fn every_file_is_small() {
    for (name, bytes) in FILES {
        assert!(bytes.len() < 2048, "{name}");
    }
}
