//! Titles of axes, and how they are shortened where room is scarce.

use super::axes::TEXT_PT;
use super::place::{self, fitted};
use super::ticks::power_of_ten;
use crate::report::model::AxisData;

/// `p_{c} / MPa`, `f / (10⁶ Hz)`: the quotient that the numbers are.
///
/// # References
/// SI Brochure (9th ed., 2019), 5.4.1.
pub fn title(data: &AxisData, exponent: i32) -> String {
    let lone_letter =
        data.label.chars().count() == 1 && data.label.chars().all(char::is_alphabetic);
    let label = if lone_letter { format!("{}_{{}}", data.label) } else { data.label.clone() };
    let power = if exponent == 0 { String::new() } else { power_of_ten(exponent) };
    let compound = data.unit.contains(['/', '·', ' ', '\u{2009}', '\u{202F}', '\u{00A0}']);
    let unit = match (power.is_empty(), data.unit.is_empty()) {
        (true, true) => return label,
        (true, false) if compound && !label.is_empty() => format!("({})", data.unit),
        (true, false) => data.unit.clone(),
        (false, true) => power,
        (false, false) if label.is_empty() => format!("{power} {}", data.unit),
        (false, false) => format!("({power} {})", data.unit),
    };
    if label.is_empty() { unit } else { format!("{label}\u{2009}/\u{2009}{unit}") }
}

/// A title shortened to a width: the label loses letters, the unit stays.
pub fn title_within(data: &AxisData, exponent: i32, room: f64) -> String {
    let whole = title(data, exponent);
    if place::width(&whole, TEXT_PT) <= room {
        return whole;
    }
    let named = |label: String| title(&AxisData { label, ..data.clone() }, exponent);
    let rest = place::width(&named("…".to_owned()), TEXT_PT) - place::width("…", TEXT_PT);
    let label = fitted(&data.label, TEXT_PT, room - rest);
    if label.is_empty() { fitted(&whole, TEXT_PT, room) } else { named(label) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::grid::tests::axis;

    #[test]
    fn a_title_is_a_quotient() {
        assert_eq!(title(&axis("x", "mm"), 0), "x_{}\u{2009}/\u{2009}mm");
        assert_eq!(title(&axis("I_{pa}", "W/cm²"), 0), "I_{pa}\u{2009}/\u{2009}(W/cm²)");
        assert_eq!(title(&axis("frequency", "Hz"), 6), "frequency\u{2009}/\u{2009}(10⁶ Hz)");
        assert_eq!(title(&axis("ratio", ""), 0), "ratio");
        assert_eq!(title(&axis("ratio", ""), -3), "ratio\u{2009}/\u{2009}10⁻³");
        assert_eq!(title(&axis("", "dB"), 0), "dB");
        assert_eq!(title(&axis("", ""), 0), "");
    }

    #[test]
    fn a_short_title_keeps_its_unit() {
        let data = axis("pulse-intensity integral", "mJ/cm²");
        let short = title_within(&data, 0, 90.0);
        assert!(short.contains('…') && short.ends_with("(mJ/cm²)"), "{short}");
        assert!(place::width(&short, TEXT_PT) <= 90.0);
        assert_eq!(title_within(&data, 0, 500.0), title(&data, 0));
        assert!(place::width(&title_within(&data, 0, 12.0), TEXT_PT) <= 12.0);
    }
}
