//! The check bodies of `selfcheck`, natively; the browser tests run the same ones in the page's engine.

#![allow(clippy::expect_used, reason = "a test program")]

use std::path::Path;

#[test]
fn every_check_holds() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/example");
    let names = ["record.json", "focal-plane.h5", "axial-line.csv", "sensitivity.csv"];
    let files: Vec<(&str, Vec<u8>)> = names
        .into_iter()
        .map(|name| (name, std::fs::read(folder.join(name)).expect("reads")))
        .collect();
    let borrowed: Vec<(&str, &[u8])> =
        files.iter().map(|(name, bytes)| (*name, bytes.as_slice())).collect();
    let outcomes = focalsheet::selfcheck::all(&borrowed);
    assert!(outcomes.len() >= 8, "{}", outcomes.len());
    let wrong: Vec<_> = outcomes.iter().filter(|(_, outcome)| outcome.is_err()).collect();
    assert!(wrong.is_empty(), "{wrong:?}");
}

/// The checks can fail: without its files those of the example do, and no others.
#[test]
fn a_missing_example_is_told() {
    let outcomes = focalsheet::selfcheck::all(&[]);
    let failed: Vec<&str> =
        outcomes.iter().filter(|(_, outcome)| outcome.is_err()).map(|(name, _)| *name).collect();
    assert_eq!(failed, ["hdf5", "example"]);
}
