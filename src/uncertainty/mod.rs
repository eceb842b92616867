//! How sure a value is: from the sensitivities that a quantity carries and the sources' uncertainties
//! to a budget.
//!
//! ```text
//! record, defaults ─ instruments ┐
//! data (analysis) ───────────────┼─ sources ─ combine ─ budget ─ monte_carlo
//! record.uncertainties ─ typed ──┘
//! ```
//!
//! Conventions: standard uncertainties; sources are independent of each other; a sensitivity is
//! ∂value/∂source.

mod combine;
mod instruments;
mod monte_carlo;
mod source;
mod typed;

pub use combine::{combine, of_lines};
pub use instruments::{Instruments, instruments};
pub use monte_carlo::draw;
pub use source::{Origin, Source, Sources};
pub use typed::typed_lines;
