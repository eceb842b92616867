//! Printing: results to standard output, everything else to standard error.
#![allow(clippy::print_stderr, reason = "this is the command line's voice")]

use std::io::{self, Write};

use crate::base::error::Problem;
use crate::report::problem_texts;
use crate::report::wording::{Wording, en::English};

/// A line of result. A reader that has seen enough (`focalsheet look FILE | head`) is no trouble.
pub fn out(text: &str) {
    if let Err(error) = writeln!(io::stdout(), "{text}")
        && error.kind() != io::ErrorKind::BrokenPipe
    {
        err(&error.to_string());
    }
}

/// A line of progress or trouble.
pub fn err(text: &str) {
    eprintln!("{text}");
}

/// Problems, one a paragraph: file, what is wrong, what to do.
pub fn problems(problems: &[Problem]) -> String {
    problems_in(problems, &English)
}

/// Problems in the words of a language.
pub fn problems_in(problems: &[Problem], words: &dyn Wording) -> String {
    let texts = problem_texts(problems, words);
    texts
        .iter()
        .map(|p| {
            let (file, text, hint) = (plain(&p.file), plain(&p.text), plain(&p.hint));
            let file = if file.is_empty() { file } else { format!("{file}: ") };
            let hint = if hint.is_empty() { hint } else { format!("\n  {hint}") };
            format!("{file}{text}{hint}")
        })
        .collect::<Vec<_>>()
        .join("\n")
}

/// Names and texts of a file may hold control characters, which a terminal would obey.
fn plain(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}
