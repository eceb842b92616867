//! The language in which this worker answers.

use std::cell::Cell;

use crate::report::wording::{self, Wording};

thread_local! {
    static WORDS: Cell<Option<&'static dyn Wording>> = const { Cell::new(None) };
}

/// The words of the language that was chosen; English before.
pub fn words() -> &'static dyn Wording {
    WORDS.get().unwrap_or_else(|| wording::of(""))
}

/// Chooses a language by its tag, for all later answers of this worker, whatever the session.
pub fn choose(tag: &str) {
    WORDS.set(Some(wording::of(tag)));
}
