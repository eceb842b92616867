//! Builds the page: one HTML file with the scripts, the styles and the engine inside.
//!
//! ```text
//! src ─ compile ─ bind ─┐
//! www ──────────────── assemble ─ policy ─ target/page/focalsheet.html
//! ```
//!
//! Native only, called by the command line. Nothing here prints: slow steps report a line through
//! the callback that the caller hands in.

mod assemble;
mod bind;
mod checkout;
mod compile;
mod eights;
mod plain;
mod policy;
mod problem;

use std::fs;
use std::path::{Path, PathBuf};

pub use checkout::root;
pub use policy::{PolicyHashes, hashes_of};
pub use problem::BuildProblem;

/// Where the page lands, below the checkout's root.
pub const PAGE: &str = "target/page/focalsheet.html";

/// Builds the page from the checkout at `root` and returns the path of the finished file.
///
/// `progress` receives one line at a time: the steps, and what the compiler says meanwhile.
///
/// # Errors
/// The first step that fails, with what it said and what to do.
pub fn page(root: &Path, progress: &mut dyn FnMut(&str)) -> Result<PathBuf, BuildProblem> {
    progress("Compiling the engine for the page (the first time takes a minute or two) …");
    let module = compile::engine(root, progress)?;
    progress("Binding the engine to the page's scripts …");
    let engine = bind::engine(&module)?;
    progress("Putting the page together …");
    let html = assemble::page(&root.join("www"), &engine)?;
    let html = eights::bytes(&html).ok_or_else(|| BuildProblem::Script {
        name: "index.html".to_owned(),
        line: 1,
        found: "a sign beyond windows-1252",
    })?;
    let path = root.join(PAGE);
    write(&path, &html)?;
    progress(&format!("{} ({} kB)", PAGE, html.len().div_ceil(1000)));
    Ok(path)
}

/// Writes beside the target first, so that a reader never sees half a page.
fn write(path: &Path, html: &[u8]) -> Result<(), BuildProblem> {
    let failed = |source| BuildProblem::Write { path: path.to_owned(), source };
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder).map_err(failed)?;
    }
    let fresh = path.with_extension("html.new");
    fs::write(&fresh, html).map_err(failed)?;
    fs::rename(&fresh, path).map_err(failed)
}
