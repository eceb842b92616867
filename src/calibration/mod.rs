//! Volts to pascals, one waveform at a time (two travel together).
//!
//! Order of operations: counts to volts, baseline, taper, zero padding, division by the response
//! times the low-pass over the full length, truncation.

mod columns;
mod coverage;
mod loading;
mod lowpass;
mod phase;
mod pressure;
mod response;
mod rows;
mod table;

pub use coverage::{extrapolated, outside};
pub use loading::Loading;
pub use lowpass::{LowPassShape, lowpass_at};
pub use pressure::{Conditioning, PressureMaker, RawWave, padded_length};
pub use response::{Response, response};
pub use table::{Table, is_table};
