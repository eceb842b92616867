//! `focalsheet look`.

use std::path::Path;

use super::disk::DiskFile;
use super::{DONE, say};
use crate::analysis;
use crate::report::{look_lines, wording::en::English};

/// Lists what is in a file and proposes how to read it; or prints all values of one array.
///
/// # Errors
/// A message for the user.
pub fn run(file: &Path, values: Option<&Path>) -> Result<u8, String> {
    let name = file.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned());
    let source = DiskFile::open(file).map_err(|problem| say::problems(&[problem]))?;
    if let Some(path) = values {
        let numbers = analysis::values(&name, source, &path.to_string_lossy())
            .map_err(|problems| say::problems(&problems))?;
        let mut text = String::with_capacity(numbers.len() * 12);
        for number in numbers {
            text.push_str(&format!("{number:e}\n"));
        }
        say::out(text.trim_end());
        return Ok(DONE);
    }
    let look = analysis::look(&name, source).map_err(|problems| say::problems(&problems))?;
    for line in look_lines(&name, &look, &English) {
        say::out(&line);
    }
    Ok(DONE)
}
