//! Words about a number that its blank says already, and a diameter where a radius is asked.

use crate::record::stated_table::number;

/// What counts the cycles of a burst.
const CYCLES: [&str; 6] = ["cycle", "cycles", "period", "periods", "zyklen", "perioden"];
/// Words before or behind a length that is a diameter, and one that is a radius.
const DIAMETER: [&str; 8] =
    ["in diameter", "diameter of", "diameter", "diam.", "durchmesser", "ø", "⌀", "∅"];
const RADIUS: [&str; 1] = ["radius"];

/// The text without such words, and the share of its number that is meant: half of a diameter.
pub fn number<'t>(path: &str, text: &'t str) -> (&'t str, f64) {
    let text = text.trim();
    let key = path.rsplit('.').next().unwrap_or_default();
    if key.ends_with("radius_m") {
        let diameter = || without(text, &DIAMETER).map(|rest| (rest, 0.5));
        return diameter()
            .or_else(|| without(text, &RADIUS).map(|rest| (rest, 1.0)))
            .unwrap_or((text, 1.0));
    }
    let unit = number::number(text).map_or("", |(_, unit)| unit);
    match CYCLES.contains(&unit.to_lowercase().as_str()) {
        true if key == "cycles" => (text.strip_suffix(unit).unwrap_or(text), 1.0),
        _ => (text, 1.0),
    }
}

/// The text without one of some words before or behind it, in whatever case.
fn without<'t>(text: &'t str, words: &[&str]) -> Option<&'t str> {
    let same = |part: Option<&str>, word: &str| part.is_some_and(|p| p.to_lowercase() == word);
    let one = |word: &&str| {
        let end = text.len().checked_sub(word.len());
        if same(text.get(..word.len()), word) {
            let rest = &text[word.len()..];
            return Some(rest.trim_start_matches([':', '=', ' ', '\u{a0}']));
        }
        let end = end.filter(|end| same(text.get(*end..), word))?;
        Some(text[..end].trim_end_matches([',', ' ', '\u{a0}']))
    };
    words.iter().find_map(one)
}
