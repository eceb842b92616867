//! Which inputs a sheet rests on.

use sha2::{Digest, Sha256};

use crate::base::sheet::InputFile;

/// Short number of a sheet, from its inputs' hashes in order of name and the record as typed: same inputs,
/// same number; another number where anything else is stated. `None` until every input is hashed.
pub fn sheet_number(inputs: &[InputFile], record: &serde_json::Value) -> Option<String> {
    let mut lines: Vec<String> = inputs
        .iter()
        .map(|input| input.sha256.as_ref().map(|hash| format!("{} {hash}\n", input.name)))
        .collect::<Option<_>>()?;
    if lines.is_empty() {
        return None;
    }
    lines.sort();
    // As data: blanks and line ends of the file do not count, what the page logged of changes does.
    lines.push(format!("{record}\n"));
    let digest = Sha256::digest(lines.concat().as_bytes());
    let hex: String = digest.iter().take(4).map(|byte| format!("{byte:02X}")).collect();
    Some(format!("{}-{}", &hex[..4], &hex[4..]))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn input(name: &str, hash: Option<&str>) -> InputFile {
        InputFile {
            name: name.to_owned(),
            role: String::new(),
            bytes: 1,
            sha256: hash.map(str::to_owned),
        }
    }

    #[test]
    fn number_follows_inputs_and_record() {
        let record = serde_json::json!({"title": "t"});
        let a = [input("a", Some("00")), input("b", Some("11"))];
        let b = [input("b", Some("11")), input("a", Some("00"))];
        let c = [input("a", Some("01")), input("b", Some("11"))];
        assert_eq!(sheet_number(&a, &record), sheet_number(&b, &record));
        assert_ne!(sheet_number(&a, &record), sheet_number(&c, &record));
        let other = serde_json::json!({"title": "u"});
        assert_ne!(sheet_number(&a, &record), sheet_number(&a, &other));
        assert_eq!(sheet_number(&[input("a", None)], &record), None);
    }
}
