//! Arguments as typed, then as a command.

use std::path::PathBuf;

use crate::report::wording::LANGUAGES;

/// What is to be done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Command {
    /// Make everything, fill the demo sheet, show both.
    Show,
    Demo,
    Page,
    Report {
        record: PathBuf,
        out: PathBuf,
        /// Tag of the sheet's language.
        language: String,
    },
    Record {
        folder: PathBuf,
        out: Option<PathBuf>,
    },
    Look {
        file: PathBuf,
        values: Option<PathBuf>,
    },
    Help(Option<&'static str>),
    Version,
}

/// Names of the commands.
pub const NAMES: [&str; 5] = ["report", "record", "look", "page", "demo"];

/// Reads the arguments.
///
/// # Errors
/// A message that says what is wrong and how it is written.
pub fn parse(arguments: &[String]) -> Result<Command, String> {
    let mut words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let name = words.first().copied();
    if words.iter().any(|word| matches!(*word, "--help" | "-h")) || name == Some("help") {
        let topic = NAMES.iter().copied().find(|name| words.contains(name));
        return Ok(Command::Help(topic));
    }
    if matches!(name, Some("--version" | "-V")) {
        return Ok(Command::Version);
    }
    let Some(name) = name else { return Ok(Command::Show) };
    words.remove(0);
    let out = match name {
        "look" => None,
        _ => take_option(&mut words, "--out", name)?,
    };
    let language = match name {
        "report" => take_language(&mut words)?,
        _ => String::new(),
    };
    let values = match name {
        "look" => take_option(&mut words, "--values", name)?,
        _ => None,
    };
    if let Some(unknown) = words.iter().find(|word| word.starts_with("--")) {
        return Err(format!("focalsheet {name}: unknown option {unknown}.\n{}", usage(name)));
    }
    let only = |what: &str| match words.as_slice() {
        [one] => Ok(PathBuf::from(one)),
        [] => Err(format!("focalsheet {name}: {what} is missing.\n{}", usage(name))),
        _ => Err(format!(
            "focalsheet {name}: one {what} is expected, found {}.\n{}",
            words.len(),
            usage(name)
        )),
    };
    match name {
        "report" => {
            let record = only("the record")?;
            let out = out.ok_or_else(|| {
                format!("focalsheet report: --out FOLDER is missing.\n{}", usage(name))
            })?;
            Ok(Command::Report { record, out, language })
        }
        "record" => Ok(Command::Record { folder: only("the folder")?, out }),
        "look" => Ok(Command::Look { file: only("the file")?, values }),
        "page" | "demo" if words.is_empty() && out.is_none() => {
            Ok(if name == "page" { Command::Page } else { Command::Demo })
        }
        "page" | "demo" => Err(format!("focalsheet {name} takes no arguments.")),
        other => Err(format!(
            "There is no command “{other}”. Commands: {}. See focalsheet --help.",
            NAMES.join(", ")
        )),
    }
}

fn take_option(words: &mut Vec<&str>, option: &str, name: &str) -> Result<Option<PathBuf>, String> {
    let Some(at) = words.iter().position(|word| *word == option) else { return Ok(None) };
    if at + 1 >= words.len() {
        return Err(format!("focalsheet {name}: {option} wants something after it."));
    }
    let value = words.remove(at + 1);
    words.remove(at);
    Ok(Some(PathBuf::from(value)))
}

fn take_language(words: &mut Vec<&str>) -> Result<String, String> {
    let known = LANGUAGES.map(|language| language.tag());
    let Some(typed) = take_option(words, "--language", "report")? else {
        return Ok(known[0].to_owned());
    };
    let typed = typed.to_string_lossy().into_owned();
    if known.contains(&typed.as_str()) {
        return Ok(typed);
    }
    Err(format!(
        "focalsheet report: there is no language “{typed}”. Languages: {}.",
        known.join(", ")
    ))
}

fn usage(name: &str) -> String {
    match name {
        "report" => "Usage: focalsheet report RECORD.json --out FOLDER [--language de]",
        "record" => "Usage: focalsheet record FOLDER [--out RECORD.json]",
        "look" => "Usage: focalsheet look FILE [--values ARRAY]",
        _ => "See focalsheet --help.",
    }
    .to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parsed(line: &str) -> Result<Command, String> {
        parse(&line.split_whitespace().map(str::to_owned).collect::<Vec<_>>())
    }

    #[test]
    fn commands() {
        assert_eq!(parsed(""), Ok(Command::Show));
        assert_eq!(
            parsed("report a.json --out b"),
            Ok(Command::Report { record: "a.json".into(), out: "b".into(), language: "en".into() })
        );
        assert_eq!(
            parsed("report a.json --language de --out b"),
            Ok(Command::Report { record: "a.json".into(), out: "b".into(), language: "de".into() })
        );
        assert_eq!(parsed("record x"), Ok(Command::Record { folder: "x".into(), out: None }));
        assert_eq!(
            parsed("look a.mat --values /v"),
            Ok(Command::Look { file: "a.mat".into(), values: Some("/v".into()) })
        );
        assert_eq!(parsed("report --help"), Ok(Command::Help(Some("report"))));
        for wrong in [
            "report",
            "report a.json",
            "report a b --out c",
            "paint",
            "page x",
            "report a --in b --out c",
            "report a --out b --language",
            "report a --out b --language xx",
            "record a --language de",
            "look",
            "look a --out b",
        ] {
            assert!(parsed(wrong).is_err(), "{wrong}");
        }
    }
}
