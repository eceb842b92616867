//! Compiles the library to WebAssembly.

use std::env;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use super::problem::BuildProblem;

const TARGET: &str = "wasm32-unknown-unknown";

/// Variables that would reach the inner compiler from the outer one and change its output.
const NOT_INHERITED: [&str; 7] = [
    "RUSTFLAGS",
    "CARGO_BUILD_RUSTFLAGS",
    "CARGO_BUILD_TARGET",
    "CARGO_TARGET_DIR",
    "RUSTC_WRAPPER",
    "RUSTC_WORKSPACE_WRAPPER",
    "CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS",
];

/// Compiles the engine in a target folder of its own (`target/wasm`), so that it can run inside
/// a `cargo run` that holds the lock of the ordinary one, and returns the module's path.
pub fn engine(root: &Path, progress: &mut dyn FnMut(&str)) -> Result<PathBuf, BuildProblem> {
    ensure_target(root, progress)?;
    let target_dir = root.join("target/wasm");
    let mut cargo = Command::new(env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    cargo
        .current_dir(root)
        .args(["rustc", "--profile", "wasm", "--lib", "--crate-type", "cdylib"])
        .args(["--target", TARGET, "--target-dir"])
        .arg(&target_dir);
    for name in NOT_INHERITED {
        cargo.env_remove(name);
    }
    cargo.env("CARGO_ENCODED_RUSTFLAGS", flags());
    let (good, said) = watch(cargo, "cargo", progress)?;
    if !good {
        return Err(BuildProblem::Compile { said });
    }
    Ok(target_dir.join(TARGET).join("wasm/focalsheet.wasm"))
}

/// 128-bit vectors; less inlining, which makes the module a tenth smaller and no slower; and no path
/// of this machine in the module's panic places.
fn flags() -> String {
    let mut flags =
        vec!["-Ctarget-feature=+simd128".to_owned(), "-Cllvm-args=-inline-threshold=60".to_owned()];
    let registry = env::var_os("CARGO_HOME")
        .map(PathBuf::from)
        .or_else(|| env::var_os("HOME").map(|home| Path::new(&home).join(".cargo")));
    if let Some(folder) = registry {
        flags.push(format!("--remap-path-prefix={}=cargo", folder.display()));
    }
    flags.join("\u{1f}")
}

/// Adds the compiler's WebAssembly target when it is missing.
fn ensure_target(root: &Path, progress: &mut dyn FnMut(&str)) -> Result<(), BuildProblem> {
    if has_target(root)? {
        return Ok(());
    }
    progress(&format!("Adding the compiler's target {TARGET} …"));
    let mut rustup = Command::new("rustup");
    rustup.current_dir(root).args(["target", "add", TARGET]);
    let (good, said) = match watch(rustup, "rustup", progress) {
        Err(BuildProblem::NoProgram { source, .. }) => {
            (false, format!("rustup could not be started: {source}"))
        }
        other => other?,
    };
    if good && has_target(root)? {
        Ok(())
    } else {
        Err(BuildProblem::NoTarget { target: TARGET, said })
    }
}

/// Whether the standard library for the target lies in the compiler's own folder.
fn has_target(root: &Path) -> Result<bool, BuildProblem> {
    let output = Command::new(env::var_os("RUSTC").unwrap_or_else(|| "rustc".into()))
        .current_dir(root)
        .args(["--print", "sysroot"])
        .output()
        .map_err(|source| BuildProblem::NoProgram { program: "rustc".into(), source })?;
    let sysroot = String::from_utf8_lossy(&output.stdout).trim().to_owned();
    Ok(Path::new(&sysroot).join("lib/rustlib").join(TARGET).join("lib").is_dir())
}

/// Runs a program, hands on each line that it says, and returns whether it ended well and all
/// that it said.
fn watch(
    mut command: Command,
    program: &str,
    progress: &mut dyn FnMut(&str),
) -> Result<(bool, String), BuildProblem> {
    let failed = |source| BuildProblem::NoProgram { program: program.to_owned(), source };
    let mut child = command
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .map_err(failed)?;
    let mut said = String::new();
    if let Some(stderr) = child.stderr.take() {
        for line in BufReader::new(stderr).split(b'\n') {
            let line = String::from_utf8_lossy(&line.map_err(failed)?).into_owned();
            progress(&line);
            said.push_str(&line);
            said.push('\n');
        }
    }
    Ok((child.wait().map_err(failed)?.success(), said))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_program_that_cannot_start_is_named() {
        let command = Command::new("no-such-program-of-the-tool-chain");
        let ended = watch(command, "cargo", &mut |_| ());
        assert!(
            matches!(ended, Err(BuildProblem::NoProgram { program, .. }) if program == "cargo")
        );
    }

    #[test]
    fn what_a_program_says_is_handed_on_and_kept() {
        let mut command = Command::new(env::var_os("RUSTC").unwrap_or_else(|| "rustc".into()));
        command.arg("--no-such-option");
        let mut lines = Vec::new();
        let (good, said) =
            watch(command, "rustc", &mut |line| lines.push(line.to_owned())).unwrap();
        assert!(!good);
        assert!(lines.iter().any(|line| line.contains("no-such-option")), "{lines:?}");
        assert_eq!(said.lines().count(), lines.len());
    }

    #[test]
    fn vectors_are_switched_on() {
        assert!(flags().split('\u{1f}').any(|flag| flag == "-Ctarget-feature=+simd128"));
    }
}
