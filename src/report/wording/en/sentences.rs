//! The plain sentence of the front, put together from what was measured and stated.

/// `On 2026-05-04, in water at 21.0 °C, driven at 90 Vpp,`.
pub fn opening(date: Option<&str>, temperature: &str, level: Option<&str>) -> String {
    let day = match date {
        Some(date) => format!("On {date}"),
        None => "On a date that is not stated".to_owned(),
    };
    let level = level.map_or_else(String::new, |level| format!(" driven at {level},"));
    format!("{day}, in water at {temperature},{level}")
}

/// After the opening: measured, name, stated, outcome.
pub fn judged(args: &[(&str, String)]) -> String {
    let said = said(args);
    format!(
        " {} was measured as {}; the maker states {}: {}.",
        said("measured"),
        said("name"),
        said("stated"),
        said("outcome")
    )
}

/// How many of the stated values do not conform, are undecided, conform.
pub fn counted(not: usize, undecided: usize, conform: usize) -> String {
    let all = not + undecided + conform;
    if conform == all {
        return format!("All {all} stated values conform.");
    }
    let parts: Vec<String> = [
        (not, "does not conform", "do not conform"),
        (undecided, "is undecided", "are undecided"),
        (conform, "conforms", "conform"),
    ]
    .into_iter()
    .filter(|(count, ..)| *count > 0)
    .map(|(count, one, many)| format!("{count} {}", if count == 1 { one } else { many }))
    .collect();
    format!("Of {all} stated values {}.", parts.join(", "))
}

fn said<'a>(args: &'a [(&str, String)]) -> impl Fn(&str) -> &'a str {
    move |name| args.iter().find(|(n, _)| *n == name).map_or("", |(_, text)| text.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_in_a_sentence() {
        assert_eq!(counted(0, 0, 6), "All 6 stated values conform.");
        assert_eq!(counted(3, 0, 1), "Of 4 stated values 3 do not conform, 1 conforms.");
        assert_eq!(
            counted(1, 1, 2),
            "Of 4 stated values 1 does not conform, 1 is undecided, 2 conform."
        );
    }
}
