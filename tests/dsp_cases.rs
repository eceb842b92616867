//! Inputs and results of every routine of `src/dsp/`, written to `target/dsp-cases.json` for
//! `tests/reference/test_dsp.py`, which computes each result anew with numpy and scipy.
//!
//! Nothing is judged here but that all was written; inputs are made up so that they are no easy prey:
//! odd and even lengths, long records, noise, offsets, ends inside a burst, values to refuse.

#![allow(clippy::expect_used, reason = "a test program")]

#[path = "dsp_cases/bands.rs"]
mod bands;
#[path = "dsp_cases/cases.rs"]
mod cases;
#[path = "dsp_cases/correlations.rs"]
mod correlations;
#[path = "dsp_cases/curves.rs"]
mod curves;
#[path = "dsp_cases/maps.rs"]
mod maps;
#[path = "dsp_cases/phases.rs"]
mod phases;
#[path = "dsp_cases/planes.rs"]
mod planes;
#[path = "dsp_cases/signals.rs"]
mod signals;
#[path = "dsp_cases/spectra.rs"]
mod spectra;
#[path = "dsp_cases/surfaces.rs"]
mod surfaces;
#[path = "dsp_cases/waveforms.rs"]
mod waveforms;

use cases::Cases;

#[test]
fn cases_are_written() {
    let mut cases = Cases::default();
    spectra::add(&mut cases);
    waveforms::add(&mut cases);
    curves::add(&mut cases);
    phases::add(&mut cases);
    surfaces::add(&mut cases);
    bands::add(&mut cases);
    correlations::add(&mut cases);
    planes::add(&mut cases);
    maps::add(&mut cases);
    assert!(cases.routines().len() >= 40, "{:?}", cases.routines());
    cases.write("dsp-cases.json");
}
