//! `focalsheet record`.

use std::fs;
use std::path::Path;

use super::disk::DiskFile;
use super::{DONE, say};
use crate::analysis::skeleton;
use crate::formats::source::FileSet;

/// Writes a record skeleton for the scan files of a folder.
///
/// # Errors
/// A message for the user; nothing is written then.
pub fn run(folder: &Path, out: Option<&Path>) -> Result<u8, String> {
    let out = out.map_or_else(|| folder.join("record.json"), Path::to_path_buf);
    if out.exists() {
        return Err(format!("{}: is there already. Name another file with --out.", out.display()));
    }
    let entries = fs::read_dir(folder)
        .map_err(|error| format!("{}: could not be read: {error}.", folder.display()))?;
    let mut files = FileSet::default();
    for entry in entries.flatten() {
        let path = entry.path();
        let name = entry.file_name().to_string_lossy().into_owned();
        if !path.is_file() || name.starts_with('.') {
            continue;
        }
        match DiskFile::open(&path) {
            Ok(file) => files.insert(&name, file),
            Err(problem) => say::err(&say::problems(&[problem])),
        }
    }
    let (record, problems) = skeleton(&files);
    if record.scans.is_empty() {
        let found = if problems.is_empty() {
            String::new()
        } else {
            format!("\n{}", say::problems(&problems))
        };
        return Err(format!("{}: no scan file was found.{found}", folder.display()));
    }
    for problem in &problems {
        say::err(&say::problems(std::slice::from_ref(problem)));
    }
    let text = serde_json::to_string_pretty(&record).map_err(|error| error.to_string())?;
    fs::write(&out, text + "\n")
        .map_err(|error| format!("{}: could not be written: {error}.", out.display()))?;
    for scan in &record.scans {
        say::out(&format!("{}: {} ({})", scan.id, scan.role.as_str(), scan.file));
    }
    say::out(&format!("{}", out.display()));
    say::err(
        "Fill in what only you know (frequency, water temperature, drive, sensor); docs/record.md lists it.",
    );
    Ok(DONE)
}
