//! The reduced example that travels inside the page.

/// Files of the example, by name; the record is `record.json`.
pub const FILES: &[(&str, &[u8])] = &[
    ("record.json", include_bytes!("../../demo-data/example/record.json")),
    ("focal-plane.h5", include_bytes!("../../demo-data/example/focal-plane.h5")),
    ("axial-line.csv", include_bytes!("../../demo-data/example/axial-line.csv")),
    ("sensitivity.csv", include_bytes!("../../demo-data/example/sensitivity.csv")),
];

/// Name of the example's record.
pub const RECORD: &str = "record.json";
