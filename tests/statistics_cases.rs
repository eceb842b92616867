//! Inputs and results of every routine of `src/statistics/`, written to `target/statistics-cases.json` for
//! `tests/reference/test_statistics.py`, which computes each result anew with scipy and in fractions.
//!
//! Nothing is judged here but that all was written.

#![allow(clippy::expect_used, reason = "a test program")]

#[allow(dead_code, reason = "complex numbers and single precision are those of dsp")]
#[path = "dsp_cases/cases.rs"]
mod cases;
#[path = "statistics_cases/distributions.rs"]
mod distributions;
#[path = "statistics_cases/samples.rs"]
mod samples;

use cases::Cases;

#[test]
fn cases_are_written() {
    let mut cases = Cases::default();
    distributions::add(&mut cases);
    samples::add(&mut cases);
    assert!(cases.routines().len() >= 18, "{:?}", cases.routines());
    cases.write("statistics-cases.json");
}
