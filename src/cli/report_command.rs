//! `focalsheet report`.

use std::fs;
use std::path::{Path, PathBuf};

use super::disk::{DiskFile, sha256};
use super::{DONE, UNFIT, say};
use crate::base::error::{Problem, Problems};
use crate::base::sheet::InputFile;
use crate::formats::source::{FileSet, Source};
use crate::outputs::{Outputs, outputs, role_of};
use crate::record::{self, Record};
use crate::report::wording::Wording;
use crate::{analysis, report};

/// Written into every folder that a report makes, so that a later one may replace it.
const MARK: &str = ".focalsheet-report";

/// Evaluates a record and writes the sheet.
///
/// # Errors
/// A message for the user; nothing is written then.
pub fn run(record_path: &Path, out: &Path, words: &dyn Wording) -> Result<u8, String> {
    refuse_foreign(out)?;
    let made =
        evaluate(record_path, words).map_err(|problems| say::problems_in(&problems, words))?;
    write(&made, out)?;
    say::out(&format!("{}", out.join("sheet.html").display()));
    for finding in report::rank(&made.sheet.findings) {
        let scan = finding.place.scan.as_ref().map_or(String::new(), |scan| format!("{scan}: "));
        let severity = report::severity_word(finding.severity, words);
        let text = report::plain_symbols(&format!("{} {}", finding.text, finding.hint));
        say::err(format!("{severity}: {scan}{text}").trim_end());
    }
    Ok(if made.fit { DONE } else { UNFIT })
}

/// Reads, computes and renders a record.
///
/// # Errors
/// All problems of the record and its files.
pub fn evaluate(record_path: &Path, words: &dyn Wording) -> Result<Outputs, Problems> {
    let name =
        record_path.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned());
    let source = DiskFile::open(record_path).map_err(|p| vec![p])?;
    if source.len() > record::MAX_BYTES as u64 {
        let problem = Problem::new("record-too-large").in_file(&name);
        return Err(vec![
            problem.with("maximum_bytes", record::MAX_BYTES).with("found_bytes", source.len()),
        ]);
    }
    let bytes = fs::read(record_path).map_err(|error| {
        vec![Problem::new("file-unreadable").in_file(&name).with("found", error.to_string())]
    })?;
    let text = String::from_utf8_lossy(&bytes);
    let typed = record::read(&text, &name)?;
    let folder = record_path.parent().unwrap_or(Path::new("."));
    let (files, mut inputs) = gather(&typed, folder)?;
    inputs.push(input(&name, "record", source.as_ref())?);
    inputs.sort_by(|a, b| a.name.cmp(&b.name));
    let mut shown = 0;
    let results = analysis::run(typed, &files, &mut |done, all| {
        let tenth = done * 10 / all.max(1);
        if tenth > shown && all > 1000 {
            shown = tenth;
            say::err(&format!("{done} of {all} points"));
        }
    })?;
    let value: serde_json::Value =
        serde_json::from_str(text.trim_start_matches('\u{feff}')).unwrap_or_default();
    outputs(&results, value, &inputs, words)
}

/// Opens the files that a record names, beside it. Missing ones are left to the analysis to name.
fn gather(record: &Record, folder: &Path) -> Result<(FileSet, Vec<InputFile>), Problems> {
    let mut names: Vec<String> = record.scans.iter().map(|scan| scan.file.clone()).collect();
    names.extend(record.other_files().into_iter().map(str::to_owned));
    names.sort();
    names.dedup();
    let mut files = FileSet::default();
    let mut inputs = Vec::new();
    let mut problems = Problems::new();
    for name in names {
        let path = folder.join(&name);
        if !path.exists() {
            continue;
        }
        match DiskFile::open(&path) {
            Ok(file) => {
                match input(&name, role_of(record, "", &name), file.as_ref()) {
                    Ok(entry) => inputs.push(entry),
                    Err(found) => problems.extend(found),
                }
                files.insert(&name, file);
            }
            Err(problem) => problems.push(problem),
        }
    }
    if problems.is_empty() { Ok((files, inputs)) } else { Err(problems) }
}

fn input(name: &str, role: &str, source: &dyn Source) -> Result<InputFile, Problems> {
    let hash = sha256(source).map_err(|error| {
        vec![Problem::new("file-unreadable").in_file(name).with("found", error.to_string())]
    })?;
    Ok(InputFile {
        name: name.to_owned(),
        role: role.to_owned(),
        bytes: source.len(),
        sha256: Some(hash),
    })
}

fn refuse_foreign(out: &Path) -> Result<(), String> {
    let empty = fs::read_dir(out).map(|mut entries| entries.next().is_none()).unwrap_or(true);
    if out.is_file() || (out.is_dir() && !empty && !out.join(MARK).exists()) {
        return Err(format!(
            "{}: is there already and was not written by an earlier report. Name another folder.",
            out.display()
        ));
    }
    Ok(())
}

/// Writes into a sibling of `out`, then renames.
///
/// # Errors
/// A message with the place and what the system said.
pub fn write(made: &Outputs, out: &Path) -> Result<(), String> {
    let failed =
        |error: std::io::Error| format!("{}: could not be written: {error}.", out.display());
    let mut name = out.file_name().map_or_else(|| "sheet".into(), std::ffi::OsStr::to_os_string);
    name.push(".new");
    let fresh: PathBuf = out.with_file_name(name);
    if fresh.exists() {
        fs::remove_dir_all(&fresh).map_err(failed)?;
    }
    fs::create_dir_all(fresh.join("figures")).map_err(failed)?;
    fs::write(fresh.join(MARK), "").map_err(failed)?;
    fs::write(fresh.join("sheet.html"), &made.document).map_err(failed)?;
    fs::write(fresh.join("sheet.json"), &made.json).map_err(failed)?;
    fs::write(fresh.join("quantities.csv"), &made.csv).map_err(failed)?;
    for (id, svg) in &made.figures {
        fs::write(fresh.join("figures").join(format!("{id}.svg")), svg).map_err(failed)?;
    }
    if out.exists() {
        fs::remove_dir_all(out).map_err(failed)?;
    }
    fs::rename(&fresh, out).map_err(failed)
}
