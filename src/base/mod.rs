//! The words that every stage shares: units, water, quantities, findings, problems.

pub mod error;
pub mod finding;
pub mod quantity;
pub mod sheet;
pub mod units;
pub mod water;
