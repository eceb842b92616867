//! The command-line program; everything is in the library's `cli`.

use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    focalsheet::cli::run(&arguments)
}
