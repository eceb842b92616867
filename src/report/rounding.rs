//! All rounding of the sheet, in one place.
//!
//! With an uncertainty: its expanded value to two significant digits, the value to the same last
//! place (JCGM 100:2008, 7.2.6). Without one: four significant digits, a convention of this project,
//! so that nothing looks more certain than a careful reading. `sheet.json` stays unrounded.

/// Significant digits of a value without an uncertainty.
const PLAIN_DIGITS: i32 = 4;
/// Significant digits of an uncertainty.
const UNCERTAINTY_DIGITS: i32 = 2;
/// Exponents outside this range are written as powers of ten.
const PLAIN_EXPONENTS: std::ops::RangeInclusive<i32> = -4..=6;

/// Decimal mark and minus sign of a language.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Marks {
    pub decimal: char,
}

/// Marks of English text.
pub const ENGLISH: Marks = Marks { decimal: '.' };
/// Marks of German text.
pub const GERMAN: Marks = Marks { decimal: ',' };

/// A value without uncertainty, in its printed unit, to four significant digits.
///
/// # Examples
/// 8.30449 → `8.304`; 0.0123456 → `0.01235`; 2.34926e8 → `2.349 × 10⁸`.
pub fn plain(value: f64, marks: Marks) -> String {
    digits(value, PLAIN_DIGITS, marks)
}

/// A value to a number of significant digits.
pub fn digits(value: f64, significant: i32, marks: Marks) -> String {
    if value == 0.0 || !value.is_finite() {
        return if value == 0.0 { "0".to_owned() } else { "–".to_owned() };
    }
    let exponent = exponent_after_rounding(value, significant);
    if PLAIN_EXPONENTS.contains(&exponent) {
        return fixed(value, (significant - 1 - exponent).max(0), marks);
    }
    let mantissa = value / 10f64.powi(exponent);
    format!("{} × 10{}", fixed(mantissa, significant - 1, marks), superscript(exponent))
}

/// A small fraction as a percentage of two digits.
pub fn percent(fraction: f64, marks: Marks) -> String {
    format!("{}\u{a0}%", digits(fraction * 100.0, 2, marks))
}

/// A value and its expanded uncertainty in the same last place: `(2.35 ± 0.28) × 10⁸`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pair {
    pub value: String,
    /// Empty where there is none.
    pub expanded: String,
    /// ` × 10⁸` of both, or empty.
    pub power: String,
}

/// A value with its expanded uncertainty, both in the printed unit.
///
/// # Examples
/// 8.3049 and 0.7151: `8.30` and `0.72`.
pub fn with_uncertainty(value: f64, expanded: f64, marks: Marks) -> Pair {
    if !expanded.is_finite() || expanded <= 0.0 {
        let value = plain(value, marks);
        return Pair { value, expanded: String::new(), power: String::new() };
    }
    let largest = value.abs().max(expanded);
    let order = exponent_after_rounding(largest, PLAIN_DIGITS);
    let (scale, power) = if PLAIN_EXPONENTS.contains(&order) {
        (1.0, String::new())
    } else {
        (10f64.powi(order), format!(" × 10{}", superscript(order)))
    };
    let (value, expanded) = (value / scale, expanded / scale);
    let places = UNCERTAINTY_DIGITS - 1 - exponent_after_rounding(expanded, UNCERTAINTY_DIGITS);
    if places >= 0 {
        let of = |v: f64| fixed(v, places, marks);
        return Pair { value: of(value), expanded: of(expanded), power };
    }
    let unit = 10f64.powi(-places);
    let round = |v: f64| fixed((v / unit).round() * unit, 0, marks);
    Pair { value: round(value), expanded: round(expanded), power }
}

fn exponent_after_rounding(value: f64, significant: i32) -> i32 {
    let exponent = value.abs().log10().floor() as i32;
    let scale = 10f64.powi(significant - 1 - exponent);
    if (value.abs() * scale).round() >= 10f64.powi(significant) { exponent + 1 } else { exponent }
}

/// A typed number again as it was typed: up to six significant digits, no zeros behind.
///
/// # Examples
/// 7.799999999999999 → `7.8`; 20 → `20`.
pub fn shortest(value: f64, marks: Marks) -> String {
    let text = digits(value, 6, marks);
    if !text.contains(marks.decimal) || text.contains('×') {
        return text;
    }
    text.trim_end_matches('0').trim_end_matches(marks.decimal).to_owned()
}

/// A value with a number of decimal places.
pub fn fixed(value: f64, places: i32, marks: Marks) -> String {
    let places = usize::try_from(places.clamp(0, 12)).unwrap_or(0);
    let text = format!("{value:.places$}");
    let zero = text.chars().all(|c| matches!(c, '-' | '0' | '.'));
    text.chars()
        .filter(|c| !(zero && *c == '-'))
        .map(|c| match c {
            '.' => marks.decimal,
            '-' => '−',
            other => other,
        })
        .collect()
}

fn superscript(exponent: i32) -> String {
    exponent
        .to_string()
        .chars()
        .map(|c| match c {
            '-' => '⁻',
            '1' => '¹',
            '2' => '²',
            '3' => '³',
            '0' | '4'..='9' => char::from_u32(0x2070 + (c as u32 - '0' as u32)).unwrap_or(c),
            other => other,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn four_digits() {
        let cases = [
            (8.30449, "8.304"),
            (0.012_345_6, "0.01235"),
            (2.349_26e8, "2.349 × 10⁸"),
            (-3.0, "−3.000"),
            (1228.0, "1228"),
            (9.99996, "10.00"),
            (0.0, "0"),
            (3.2e-7, "3.200 × 10⁻⁷"),
            (98765.4, "98765"),
        ];
        for (value, expected) in cases {
            assert_eq!(plain(value, ENGLISH), expected);
        }
    }

    /// By reading.
    #[test]
    fn typed_numbers_come_back() {
        for (value, expected) in
            [(7.8e6 * 1e-6, "7.8"), (20.0, "20"), (0.15, "0.15"), (1300.0, "1300"), (0.0, "0")]
        {
            assert_eq!(shortest(value, ENGLISH), expected);
        }
    }

    /// JCGM 100:2008, 7.2.6: the estimate is rounded to be consistent with its uncertainty; its example
    /// 10.05762 Ω with u = 27 mΩ becomes 10.058 Ω.
    #[test]
    fn value_follows_uncertainty() {
        let pair = |value: f64, expanded: f64| {
            let pair = with_uncertainty(value, expanded, ENGLISH);
            (pair.value + &pair.power, pair.expanded)
        };
        let expected = |value: &str, expanded: &str| (value.to_owned(), expanded.to_owned());
        assert_eq!(pair(10.057_62, 0.027), expected("10.058", "0.027"));
        assert_eq!(pair(8.3049, 0.7151), expected("8.30", "0.72"));
        assert_eq!(pair(1228.3, 151.0), expected("1230", "150"));
        assert_eq!(pair(1.0, 0.0996), expected("1.00", "0.10"));
        assert_eq!(pair(2.349e8, 2.84e7), expected("2.35 × 10⁸", "0.28"));
        assert_eq!(pair(-3.2e-7, 4.1e-9), expected("−3.200 × 10⁻⁷", "0.041"));
        assert_eq!(pair(0.0, 0.0047), expected("0.0000", "0.0047"));
    }
}
