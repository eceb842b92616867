//! The plain sentence of the front, put together from what was measured and stated.

const MONTHS: [&str; 12] = [
    "Januar",
    "Februar",
    "März",
    "April",
    "Mai",
    "Juni",
    "Juli",
    "August",
    "September",
    "Oktober",
    "November",
    "Dezember",
];

/// `Am 4. Mai 2026, in Wasser bei 21,0 °C, angesteuert mit 90 Vpp,`.
pub fn opening(date: Option<&str>, temperature: &str, level: Option<&str>) -> String {
    let day = match date {
        Some(date) => format!("Am {}", day(date).unwrap_or_else(|| date.to_owned())),
        None => "An einem nicht angegebenen Tag".to_owned(),
    };
    let level = level.map_or_else(String::new, |level| format!(" angesteuert mit {level},"));
    format!("{day}, in Wasser bei {temperature},{level}")
}

/// `2026-05-04` → `4. Mai 2026`; nothing for a date written otherwise.
fn day(date: &str) -> Option<String> {
    let parts: Vec<&str> = date.split('-').collect();
    let [year, month, day] = parts.as_slice() else { return None };
    let month = MONTHS.get(month.parse::<usize>().ok()?.checked_sub(1)?)?;
    Some(format!("{}.\u{a0}{month} {year}", day.parse::<u8>().ok()?))
}

/// After the opening: measured, name, stated, outcome.
pub fn judged(args: &[(&str, String)]) -> String {
    let said = said(args);
    format!(
        " wurden {} als {} gemessen; der Hersteller gibt {} an: {}.",
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
        return format!("Alle {all} angegebenen Werte sind erfüllt.");
    }
    let parts: Vec<String> =
        [(not, "nicht erfüllt"), (undecided, "nicht entschieden"), (conform, "erfüllt")]
            .into_iter()
            .filter(|(count, _)| *count > 0)
            .map(|(count, word)| format!("{count} {word}"))
            .collect();
    format!("Von {all} angegebenen Werten: {}.", parts.join(", "))
}

fn said<'a>(args: &'a [(&str, String)]) -> impl Fn(&str) -> &'a str {
    move |name| args.iter().find(|(n, _)| *n == name).map_or("", |(_, text)| text.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Dates as DIN 5008 writes them in running text (value from memory).
    #[test]
    fn days() {
        assert_eq!(day("2026-05-04").as_deref(), Some("4.\u{a0}Mai 2026"));
        assert_eq!(day("2026-12-31").as_deref(), Some("31.\u{a0}Dezember 2026"));
        assert_eq!(day("2026-13-01"), None);
        assert_eq!(day("2026-00-01"), None);
        assert_eq!(day("im Mai"), None);
    }

    #[test]
    fn an_opening_with_and_without_what_is_known() {
        assert_eq!(
            opening(Some("2026-05-04"), "21,0 °C", Some("90 Vpp")),
            "Am 4.\u{a0}Mai 2026, in Wasser bei 21,0 °C, angesteuert mit 90 Vpp,"
        );
        assert_eq!(
            opening(None, "22 °C", None),
            "An einem nicht angegebenen Tag, in Wasser bei 22 °C,"
        );
    }
}
