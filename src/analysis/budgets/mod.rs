//! Budgets of a scan's quantities: which source acts on which quantity, and how strongly.
//!
//! ```text
//! sources (record, response, revisits) ─┐
//! quantities (sensitivities from birth) ─ complete ─ uncertainty::combine ─ budget
//! waveform at the peak, spread of maps  ─┘
//! ```

mod complete;
mod powers;
mod response;
mod sources;

pub use complete::complete;
pub use response::ResponseSensitivity;
pub use sources::{of_shots, sources};
