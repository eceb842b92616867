//! Finds the checkout of the project that the page is built from.

use std::env;
use std::fs;
use std::path::{Path, PathBuf};

use super::problem::BuildProblem;

/// The root of the checkout: the nearest one above the current folder, else the one that this
/// program was compiled from.
///
/// # Errors
/// [`BuildProblem::NoCheckout`] with the folders that were tried.
pub fn root() -> Result<PathBuf, BuildProblem> {
    let here = env::current_dir().unwrap_or_default();
    let compiled_from = Path::new(env!("CARGO_MANIFEST_DIR"));
    find(&here, compiled_from)
}

fn find(here: &Path, compiled_from: &Path) -> Result<PathBuf, BuildProblem> {
    here.ancestors()
        .chain([compiled_from])
        .find(|folder| is_checkout(folder))
        .map(Path::to_owned)
        .ok_or_else(|| BuildProblem::NoCheckout {
            looked_in: vec![here.to_owned(), compiled_from.to_owned()],
        })
}

/// Whether the folder holds this package's manifest and the page's sources.
fn is_checkout(folder: &Path) -> bool {
    folder.join("www/index.html").is_file()
        && fs::read_to_string(folder.join("Cargo.toml")).is_ok_and(|manifest| names_us(&manifest))
}

fn names_us(manifest: &str) -> bool {
    manifest
        .lines()
        .skip_while(|line| line.trim() != "[package]")
        .skip(1)
        .take_while(|line| !line.trim_start().starts_with('['))
        .any(|line| line.split_whitespace().collect::<String>() == "name=\"focalsheet\"")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_checkout_is_found_from_a_folder_inside_it() {
        let root = Path::new(env!("CARGO_MANIFEST_DIR"));
        let nowhere = Path::new("no-such-folder");
        assert_eq!(find(&root.join("src/build"), nowhere).unwrap(), root);
    }

    #[test]
    fn elsewhere_falls_back_to_the_sources_compiled_from_and_then_refuses() {
        let nowhere = env::temp_dir().join("no-such-folder");
        let root = Path::new(env!("CARGO_MANIFEST_DIR"));
        assert_eq!(find(&nowhere, root).unwrap(), root);
        assert!(matches!(
            find(&nowhere, &nowhere),
            Err(BuildProblem::NoCheckout { looked_in }) if looked_in.len() == 2
        ));
    }

    #[test]
    fn only_the_package_name_counts() {
        assert!(names_us("[package]\nname = \"focalsheet\"\n"));
        assert!(!names_us("[package]\nname = \"other\"\n[[bin]]\nname = \"focalsheet\"\n"));
    }

    /// The scripts are written by one version of wasm-bindgen for modules of exactly that version.
    #[test]
    fn both_pins_of_wasm_bindgen_agree() {
        let manifest =
            fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("Cargo.toml")).unwrap();
        let pin = |name: &str| {
            let line = manifest
                .lines()
                .find(|line| line.split('=').next().is_some_and(|key| key.trim() == name))
                .unwrap_or_else(|| panic!("Cargo.toml: no line {name}"));
            let quoted = line.split('"').nth(1).unwrap_or_default().to_owned();
            assert!(quoted.starts_with('='), "{name} must be pinned with =, found {quoted}");
            quoted
        };
        assert_eq!(pin("wasm-bindgen"), pin("wasm-bindgen-cli-support"));
    }
}
