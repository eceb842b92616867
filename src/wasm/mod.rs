//! The page's engine: what workers call. Parses, calls, hands back; no arithmetic.

mod answers;
mod bands;
mod editing;
mod example;
mod finishing;
mod hasher;
mod language;
mod listing;
mod opening;
mod page_file;
mod picking;
mod picture;
mod pointing;
mod saving;
mod session;

pub use hasher::Hasher;
pub use session::Session;
