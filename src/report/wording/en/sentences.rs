//! The plain sentence of the front, put together from what was measured and stated.

/// `On 2026-05-04, in water at 21.0 °C, driven at 90 Vpp, the head delivered`.
pub fn opening(date: Option<&str>, temperature: &str, level: Option<&str>) -> String {
    let day = match date {
        Some(date) => format!("On {date}"),
        None => "On a date that is not stated".to_owned(),
    };
    let level = level.map_or_else(String::new, |level| format!("driven at {level}, "));
    format!("{day}, in water at {temperature}, {level}the head delivered")
}

/// After the opening: measured, name, stated, outcome.
pub fn judged(args: &[(&str, String)]) -> String {
    let said = said(args);
    format!(
        " {} as {}; the maker states {}: {}.",
        said("measured"),
        said("name"),
        said("stated"),
        said("outcome")
    )
}

/// The gravest of the other verdicts: name, stated, outcome, and measured where it was.
pub fn worst(args: &[(&str, String)]) -> String {
    let said = said(args);
    let measured = match said("measured") {
        "" => "not measured".to_owned(),
        value => format!("measured {value}"),
    };
    format!(
        " The gravest other one, {}: {measured}, stated {}: {}.",
        said("name"),
        said("stated"),
        said("outcome")
    )
}

fn said<'a>(args: &'a [(&str, String)]) -> impl Fn(&str) -> &'a str {
    move |name| args.iter().find(|(n, _)| *n == name).map_or("", |(_, text)| text.as_str())
}
