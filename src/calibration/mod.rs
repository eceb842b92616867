//! Volts to pascals, one waveform at a time (two travel together).
//!
//! Order of operations: counts to volts, baseline, taper, zero padding, division by the response
//! times the low-pass over the full length, truncation.

pub mod check_source;
mod columns;
mod coverage;
pub mod disc_average;
mod errors;
mod loading;
mod lowpass;
mod phase;
mod pressure;
mod response;
mod rows;
mod table;

pub use coverage::{extrapolated, outside};
pub use errors::{ErrorRows, Missing, ResponseErrors, RowWeights};
pub use loading::Loading;
pub use lowpass::{LowPassShape, lowpass_at, noise_band_hz};
pub use pressure::{Conditioning, PressureMaker, RawWave, padded_length, response_at_bins};
pub use response::{Response, response};
pub use table::{Table, is_table};
