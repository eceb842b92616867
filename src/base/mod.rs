//! The words that every stage shares: units, water, quantities, findings, problems.

pub mod bubbles;
pub mod budget;
pub mod depths;
pub mod drive;
pub mod error;
pub mod finding;
pub mod plain_symbols;
pub mod quantity;
pub mod range_noise;
pub mod revisits;
pub mod safety;
pub mod sheet;
pub mod transfer;
pub mod typed_unit;
pub mod units;
pub mod verdict;
pub mod water;
pub mod waveform_uncertainty;
