//! Spaces at which a line must not break: between a number and its unit, after a sign that belongs
//! to the number that follows.

/// A space that does not break.
const NO_BREAK: char = '\u{a0}';

/// Units and words that stay with the number before them.
const UNITS: &[&str] = &[
    "%", "°", "°C", "K", "m", "mm", "cm", "µm", "mm²", "cm²", "s", "ms", "µs", "ns", "Hz", "kHz",
    "MHz", "Pa", "kPa", "MPa", "Pa²", "W", "mW", "W/cm²", "mW/cm²", "mJ/cm²", "J", "V", "mV", "µV",
    "dB", "Ω", "m/s", "kg/m³", "mV/MPa", "bit", "MB", "kB",
];

/// The text with such spaces made unbreakable; nothing else changes.
///
/// # References
/// ISO 80000-1:2009, 7.1.4: the unit follows the number after a space. That no line may break
/// there: common practice, no source.
pub fn keep_together(text: &str) -> String {
    let mut kept = String::with_capacity(text.len());
    let mut before = None;
    for (index, character) in text.char_indices() {
        let after = &text[index + character.len_utf8()..];
        let joins = character == ' '
            && match before {
                Some('±' | '≥' | '≤' | '≈' | '=' | '×') => starts_with_digit(after),
                Some(last)
                    if after.starts_with("× ") && starts_with_digit(&after["× ".len()..]) =>
                {
                    last.is_ascii_digit()
                }
                Some(last) if after.starts_with("= ") => last.is_alphanumeric(),
                Some(last) => last.is_ascii_digit() && starts_with_unit(after),
                None => false,
            };
        kept.push(if joins { NO_BREAK } else { character });
        before = Some(character);
    }
    kept
}

fn starts_with_digit(text: &str) -> bool {
    text.starts_with(|first: char| first.is_ascii_digit())
}

fn starts_with_unit(text: &str) -> bool {
    let end =
        text.find(|end: char| end.is_whitespace() || ".,;:)]".contains(end)).unwrap_or(text.len());
    UNITS.contains(&&text[..end])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_unit_stays_with_its_number() {
        assert_eq!(keep_together("2.35 × 10⁸ with"), "2.35\u{a0}×\u{a0}10⁸ with");
        assert_eq!(keep_together("I × duty, 3 × I"), "I × duty, 3 × I");
        assert_eq!(keep_together("by about 4 %."), "by about 4\u{a0}%.");
        assert_eq!(keep_together("118 W ± 11 W (95 %)"), "118\u{a0}W ±\u{a0}11\u{a0}W (95\u{a0}%)");
        assert_eq!(keep_together("z = 62,4 mm, 120 mV"), "z\u{a0}=\u{a0}62,4\u{a0}mm, 120\u{a0}mV");
    }

    #[test]
    fn words_do_not() {
        for plain in
            ["12 times", "4 May 2026", "9 waveforms", "points 14 to 22", " 3", "", "a % b", "1 mmx"]
        {
            assert_eq!(keep_together(plain), plain);
        }
    }
}
