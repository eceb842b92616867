//! The page's engine: what workers call. Parses, calls, hands back; no arithmetic.

mod answers;
mod editing;
mod example;
mod hasher;
mod language;
mod page_file;
mod picking;
mod picture;
mod pointing;
mod saving;
mod session;

pub use hasher::Hasher;
pub use session::Session;
