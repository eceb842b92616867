//! Numbers that can be read in two ways: `1,500`, `1.500`.

/// How an ambiguous number was meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reading {
    /// The mark is the decimal one: one and a half.
    Decimal,
    /// The mark parts thousands: fifteen hundred.
    Thousands,
}

/// Both readings of a text.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Readings {
    /// What stands before the mark, sign included, and the three digits after it.
    before: String,
    after: String,
    /// What follows the number.
    rest: String,
    /// Both as they are shown, the decimal one first.
    pub shown: [String; 2],
}

impl Readings {
    /// The text with the reading made plain.
    pub(super) fn plain(&self, reading: Reading) -> String {
        let Self { before, after, rest, .. } = self;
        match reading {
            // Four digits after a mark part no thousands.
            Reading::Decimal => format!("{before}.{after}0{rest}"),
            Reading::Thousands => format!("{before}{after}{rest}"),
        }
    }
}

/// Both readings where one mark stands before exactly three digits and after one to three of which
/// the first is not zero.
pub(super) fn readings(text: &str) -> Option<Readings> {
    let start = text.find(|c: char| c.is_ascii_digit())?;
    let from = &text[start..];
    let end =
        from.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ','))).unwrap_or(from.len());
    let (digits, rest) = from.split_at(end);
    let (whole, after) = digits.split_once(['.', ','])?;
    let exponent = rest.starts_with(['e', 'E'])
        && rest[1..].starts_with(|c: char| c.is_ascii_digit() || c == '-' || c == '+');
    let fits = after.len() == 3
        && after.bytes().all(|c| c.is_ascii_digit())
        && (1..=3).contains(&whole.len())
        && !whole.starts_with('0')
        && !exponent;
    fits.then(|| {
        let before = format!("{}{whole}", &text[..start]);
        let decimal = after.trim_end_matches('0');
        let decimal =
            if decimal.is_empty() { before.clone() } else { format!("{before}.{decimal}") };
        let shown = [format!("{decimal}{rest}"), format!("{before}{after}{rest}")];
        Readings { before, after: after.to_owned(), rest: rest.to_owned(), shown }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By reading.
    #[test]
    fn one_mark_before_three_digits_can_be_either() {
        for (text, decimal, thousands) in [
            ("1,500", "1.5", "1500"),
            ("1.500 MHz", "1.5 MHz", "1500 MHz"),
            ("-12,345 mm", "-12.345 mm", "-12345 mm"),
            ("≤ 2,000 Pa", "≤ 2 Pa", "≤ 2000 Pa"),
        ] {
            let found = readings(text).unwrap();
            assert_eq!(found.shown, [decimal, thousands], "{text}");
        }
        let found = readings("1,512 mm").unwrap();
        assert_eq!(found.plain(Reading::Decimal), "1.5120 mm");
        assert_eq!(found.plain(Reading::Thousands), "1512 mm");
        for text in [
            "0,125", "1,5", "21.4 °C", "1,500.5", "1500", "12,5000", "1.500e3", "", "MHz",
            "1234,567",
        ] {
            assert_eq!(readings(text), None, "{text}");
        }
    }
}
