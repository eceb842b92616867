//! Paths into a record, as a person reads them: `scans[2].role`.

use std::fmt::Write as _;

/// Longest part of a path that is printed whole, characters: a file may hold keys of any length.
const LONGEST_KEY: usize = 60;

/// The path of a key below another path; the empty path is the record itself. A key that is not a
/// plain word is quoted: `sensor["a b"]`.
pub(super) fn key_below(path: &str, key: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || c == '_' || c == '-';
    if !key.is_empty() && key.chars().all(plain) && key.len() <= LONGEST_KEY {
        return if path.is_empty() { key.to_owned() } else { format!("{path}.{key}") };
    }
    format!("{path}[\"{}\"]", shortened(key, LONGEST_KEY))
}

/// The path of a list entry, counted from 0.
pub(super) fn entry_below(path: &str, index: usize) -> String {
    format!("{path}[{index}]")
}

/// A text cut to a number of characters, control characters made visible.
pub(super) fn shortened(text: &str, longest: usize) -> String {
    let mut short = String::new();
    for (count, c) in text.chars().enumerate() {
        if count == longest {
            short.push('…');
            break;
        }
        if c.is_control() {
            // Writing to a String does not fail.
            let _ = write!(short, "{}", c.escape_default());
        } else {
            short.push(c);
        }
    }
    short
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_read_as_a_person_writes_them() {
        assert_eq!(key_below("", "scans"), "scans");
        assert_eq!(key_below(&entry_below("scans", 2), "role"), "scans[2].role");
        assert_eq!(key_below("sensor", "full scale"), "sensor[\"full scale\"]");
        assert_eq!(key_below("", ""), "[\"\"]");
        assert_eq!(key_below("", "a\u{7}b"), "[\"a\\u{7}b\"]");
        assert!(key_below("", &"k".repeat(5000)).chars().count() < 70);
    }
}
