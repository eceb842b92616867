//! Printing: results to standard output, everything else to standard error.
#![allow(clippy::print_stdout, clippy::print_stderr, reason = "this is the command line's voice")]

use crate::base::error::Problem;
use crate::report::{problem_texts, wording::en::English};

/// A line of result.
pub fn out(text: &str) {
    println!("{text}");
}

/// A line of progress or trouble.
pub fn err(text: &str) {
    eprintln!("{text}");
}

/// Problems, one a paragraph: file, what is wrong, what to do.
pub fn problems(problems: &[Problem]) -> String {
    let texts = problem_texts(problems, &English);
    texts
        .iter()
        .map(|p| {
            let file = if p.file.is_empty() { String::new() } else { format!("{}: ", p.file) };
            let hint = if p.hint.is_empty() { String::new() } else { format!("\n  {}", p.hint) };
            format!("{file}{}{hint}", p.text)
        })
        .collect::<Vec<_>>()
        .join("\n")
}
