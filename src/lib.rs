//! Focalsheet: a measured ultrasound field in, a sheet that anyone can check out.
//!
//! The modules are the phases, in the order in which data flow:
//!
//! ```text
//! formats ─ scan ─ calibration ─ pulse ─ field ─ verdict
//!                                            │
//!                                 analysis ─ report ─ figures ─ render
//! ```
//!
//! `base` holds the words that all stages share, `record` what a person states, `dsp` and
//! `statistics` numerics without domain words. The shells (`wasm` for the page, `cli` for the
//! command line) parse, call one function, and hand back.

pub mod analysis;
pub mod base;
pub mod calibration;
pub mod drive;
pub mod dsp;
pub mod field;
pub mod figures;
pub mod formats;
pub mod outputs;
pub mod pulse;
pub mod record;
pub mod render;
pub mod report;
pub mod safety;
pub mod scan;
pub mod selfcheck;
pub mod statistics;
pub mod uncertainty;
pub mod verdict;

#[cfg(not(target_arch = "wasm32"))]
pub mod build;
#[cfg(not(target_arch = "wasm32"))]
pub mod cli;
#[cfg(not(target_arch = "wasm32"))]
pub mod serve;
#[cfg(target_arch = "wasm32")]
pub mod wasm;
