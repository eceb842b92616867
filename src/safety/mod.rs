//! Values by the rules for diagnostic equipment, on request: derated values and indices.
//!
//! One concept a file; SI in, SI or pure numbers out. None of them says that an exposure is safe.

pub mod derating;
pub mod mechanical_index;
pub mod thermal_indices;
