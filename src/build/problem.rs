//! What can stop the building of the page, and how each case is said.

use std::fmt;
use std::io;
use std::path::PathBuf;

/// A step of the build that failed.
#[derive(Debug)]
pub enum BuildProblem {
    /// No checkout of the project was found.
    NoCheckout { looked_in: Vec<PathBuf> },
    /// A program of the tool chain could not be started.
    NoProgram { program: String, source: io::Error },
    /// The compiler's WebAssembly target is missing and could not be added.
    NoTarget { target: &'static str, said: String },
    /// The compiler refused the source.
    Compile { said: String },
    /// The module was compiled but could not be bound to scripts.
    Bind { said: String },
    /// A source of the page could not be read.
    Read { path: PathBuf, source: io::Error },
    /// The finished page could not be written.
    Write { path: PathBuf, source: io::Error },
    /// The template lacks a line that the builder fills.
    Template { expected: String, found: usize },
    /// A script holds text that would end or disturb the inline script around it.
    Script { name: String, line: usize, found: &'static str },
}

impl fmt::Display for BuildProblem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoCheckout { looked_in } => {
                write!(
                    f,
                    "The page is built from the project's sources, and they were not found.\n\
                     Expected a Cargo.toml of the package focalsheet beside a folder www; looked in:"
                )?;
                for folder in looked_in {
                    write!(f, "\n  {}", folder.display())?;
                }
                write!(f, "\nRun the command inside a checkout of the project.")
            }
            Self::NoProgram { program, source } => write!(
                f,
                "{program} could not be started: {source}.\n\
                 Install the Rust tool chain (rustup brings cargo and rustc), then try again."
            ),
            Self::NoTarget { target, said } => write!(
                f,
                "The Rust tool chain cannot compile for {target} yet, and adding it failed:\n{}\n\
                 Add it by hand with: rustup target add {target}",
                indented(said)
            ),
            Self::Compile { said } => {
                write!(f, "The engine did not compile:\n{}", indented(said))
            }
            Self::Bind { said } => write!(
                f,
                "The compiled engine could not be bound to the page's scripts:\n{}\n\
                 The versions of wasm-bindgen and wasm-bindgen-cli-support in Cargo.toml must be the same.",
                indented(said)
            ),
            Self::Read { path, source } => {
                write!(f, "{} could not be read: {source}.", path.display())
            }
            Self::Write { path, source } => write!(
                f,
                "{} could not be written: {source}.\nCheck that the disk has room and the folder may be written to.",
                path.display()
            ),
            Self::Template { expected, found } => {
                write!(f, "www/index.html: expected exactly one line {expected}, found {found}.")
            }
            Self::Script { name, line, found } => write!(
                f,
                "www/{name}, line {line}: {found} cannot stand in an inline script.\n\
                 Split the text, for example '<' + '!--'."
            ),
        }
    }
}

impl std::error::Error for BuildProblem {}

/// What another program said, set off from our own words.
fn indented(said: &str) -> String {
    said.trim_end().lines().map(|line| format!("  {line}")).collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_missing_checkout_names_each_folder_and_what_to_do() {
        let problem = BuildProblem::NoCheckout { looked_in: vec!["a".into(), "b".into()] };
        let text = problem.to_string();
        assert!(text.contains("\n  a\n  b\n"), "{text}");
        assert!(text.ends_with("Run the command inside a checkout of the project."), "{text}");
    }

    #[test]
    fn what_the_compiler_said_is_set_off() {
        let text = BuildProblem::Compile { said: "error: x\nat y\n".into() }.to_string();
        assert_eq!(text, "The engine did not compile:\n  error: x\n  at y");
    }
}
