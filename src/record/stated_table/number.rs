//! Numbers of a table that a person typed: decimal point or comma, refused where it may be either.

/// Why a cell is no number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fault {
    NotANumber,
    /// `1,500`: fifteen hundred or one and a half.
    Ambiguous,
}

/// A number and the text after it, trimmed.
///
/// A comma is a decimal mark where no reading as thousands is possible: `8,3`, `0,125`, `12,5000`.
/// One comma before exactly three digits (`1,500`) is refused. Where both marks stand, the last one
/// is the decimal mark (`1.500,5`, `1,500.5`).
///
/// # Errors
/// What is wrong with it.
pub fn number(text: &str) -> Result<(f64, &str), Fault> {
    let text = text.trim();
    let end = end_of_number(text);
    let (digits, rest) = text.split_at(end);
    let plain = with_point(&digits.replace('−', "-"))?;
    match plain.parse::<f64>() {
        Ok(value) if value.is_finite() && plain.contains(|c: char| c.is_ascii_digit()) => {
            Ok((value, rest.trim()))
        }
        _ => Err(Fault::NotANumber),
    }
}

/// A number with nothing after it.
///
/// # Errors
/// As [`number`].
pub fn bare(text: &str) -> Result<f64, Fault> {
    match number(text)? {
        (value, "") => Ok(value),
        _ => Err(Fault::NotANumber),
    }
}

fn end_of_number(text: &str) -> usize {
    let mut end = 0;
    let mut rest = text.char_indices().peekable();
    let mut digits = false;
    while let Some((at, c)) = rest.next() {
        let sign = matches!(c, '+' | '-' | '−') && at == 0;
        let exponent = matches!(c, 'e' | 'E')
            && digits
            && text[at + 1..]
                .trim_start_matches(['+', '-'])
                .starts_with(|c: char| c.is_ascii_digit());
        if exponent {
            if let Some((_, '+' | '-')) = rest.peek() {
                rest.next();
            }
            let tail = &text[at + 1..];
            let signed = tail.len() - tail.trim_start_matches(['+', '-']).len();
            let count = tail[signed..].bytes().take_while(u8::is_ascii_digit).count();
            return at + 1 + signed + count;
        }
        if !(sign || c.is_ascii_digit() || matches!(c, '.' | ',')) {
            break;
        }
        digits |= c.is_ascii_digit();
        end = at + c.len_utf8();
    }
    end
}

/// The same digits with a decimal point.
fn with_point(text: &str) -> Result<String, Fault> {
    let (commas, points) = (text.matches(',').count(), text.matches('.').count());
    match (commas, points) {
        (0, _) => Ok(text.to_owned()),
        (1, 0) => {
            let (before, after) = text.split_once(',').unwrap_or((text, ""));
            let whole = before.trim_start_matches(['+', '-']);
            let after = after.split(['e', 'E']).next().unwrap_or_default();
            let thousands = after.len() == 3 && (1..=3).contains(&whole.len()) && whole != "0";
            if thousands { Err(Fault::Ambiguous) } else { Ok(text.replace(',', ".")) }
        }
        (_, 0) if grouped(text, ',') => Ok(text.replace(',', "")),
        (_, 1) if text.rfind('.') > text.rfind(',') && grouped(text, ',') => {
            Ok(text.replace(',', ""))
        }
        (1, _) if text.rfind(',') > text.rfind('.') && grouped(text, '.') => {
            Ok(text.replace('.', "").replace(',', "."))
        }
        _ => Err(Fault::NotANumber),
    }
}

/// Whether every mark stands before a group of three digits.
fn grouped(text: &str, mark: char) -> bool {
    let whole = text.split(if mark == ',' { '.' } else { ',' }).next().unwrap_or_default();
    whole.split(mark).skip(1).all(|group| group.len() == 3)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By reading.
    #[test]
    fn numbers_as_typed() {
        for (text, value, rest) in [
            ("8.3", 8.3, ""),
            ("8,3 MPa", 8.3, "MPa"),
            ("0,125", 0.125, ""),
            ("-12,5 dB", -12.5, "dB"),
            ("−12.5dB", -12.5, "dB"),
            ("1.5e6 Pa", 1.5e6, "Pa"),
            ("1,5E-3", 1.5e-3, ""),
            ("1,500.5", 1500.5, ""),
            ("1.500,5", 1500.5, ""),
            ("1,234,567", 1_234_567.0, ""),
            ("12,5000", 12.5, ""),
            ("300 W/cm2", 300.0, "W/cm2"),
            ("5 east", 5.0, "east"),
            ("+4", 4.0, ""),
        ] {
            assert_eq!(number(text), Ok((value, rest)), "{text}");
        }
    }

    #[test]
    fn what_may_be_either_is_refused() {
        for text in ["1,500", "12,345 MPa", "-999,000"] {
            assert_eq!(number(text), Err(Fault::Ambiguous), "{text}");
        }
        for text in
            ["", "MPa", "1.2.3", "1,2,3", "1,23.4", "--5", ".", "1e999", "nan", "inf", "1.2,3,4"]
        {
            assert_eq!(number(text), Err(Fault::NotANumber), "{text}");
        }
        assert_eq!(bare("5 MPa"), Err(Fault::NotANumber));
    }
}
