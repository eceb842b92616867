//! One cell as a number.

/// What a cell of the table says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cell {
    /// Digits only, within 32 bits: perhaps counts of a digitiser.
    Whole(f64),
    /// Any other number; `nan` and `inf` too.
    Number(f64),
    /// Empty, `-`, `--`, `N/A` or `NA`.
    Missing,
}

impl Cell {
    /// The number; NaN where the cell is empty.
    pub fn value(self) -> f64 {
        match self {
            Self::Whole(v) | Self::Number(v) => v,
            Self::Missing => f64::NAN,
        }
    }
}

/// Powers of ten that are exact in binary64.
const TENS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
    1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
];
/// Integers up to here are exact in binary64.
const EXACT: u64 = 1 << 53;
/// More digits than this may not fit 64 bits.
const MAX_DIGITS: usize = 18;

/// Reads a trimmed cell; `decimal` is `.` or `,`. `None` if it is no number.
///
/// A mantissa below 2⁵³ and a power of ten up to 10²² are both exact, so that one product or quotient
/// of them is rounded once, as IEEE 754 asks; all else goes to the standard library.
pub fn number(cell: &[u8], decimal: u8) -> Option<Cell> {
    match leading(cell, decimal) {
        Some((number, used)) if used == cell.len() => Some(number),
        _ => slow(cell, decimal),
    }
}

/// The number at the start of some bytes, and how many of them it takes; `None` if there is none or
/// if it is not one of the quick ones.
pub fn leading(bytes: &[u8], decimal: u8) -> Option<(Cell, usize)> {
    let (negative, digits) = match bytes.split_first()? {
        (b'-', rest) => (true, rest),
        (b'+', rest) => (false, rest),
        _ => (false, bytes),
    };
    let mut mantissa = 0u64;
    let mut fraction = None;
    let mut at = 0;
    while let Some(byte) = digits.get(at) {
        let digit = byte.wrapping_sub(b'0');
        if digit < 10 {
            mantissa = mantissa.wrapping_mul(10).wrapping_add(u64::from(digit));
        } else if *byte == decimal && fraction.is_none() {
            fraction = Some(at);
        } else {
            break;
        }
        at += 1;
    }
    let count = at - usize::from(fraction.is_some());
    if count == 0 || count > MAX_DIGITS || mantissa > EXACT {
        return None;
    }
    let mut power = fraction.map_or(0, |point| -((at - point - 1) as i32));
    let mut whole = fraction.is_none() && i32::try_from(mantissa).is_ok();
    if let Some(b'e' | b'E') = digits.get(at) {
        let (more, used) = exponent(&digits[at + 1..])?;
        power += more;
        at += 1 + used;
        whole = false;
    }
    let size = mantissa as f64;
    let size = match usize::try_from(power) {
        Ok(up) => size * TENS.get(up)?,
        Err(_) => size / TENS.get(power.unsigned_abs() as usize)?,
    };
    let value = if negative { -size } else { size };
    let cell = if whole { Cell::Whole(value) } else { Cell::Number(value) };
    Some((cell, at + bytes.len() - digits.len()))
}

/// What follows the `e` of `e-5` or `E+07`, with at most three digits: its value and length.
fn exponent(bytes: &[u8]) -> Option<(i32, usize)> {
    let (sign, digits) = match bytes.split_first()? {
        (b'-', digits) => (-1, digits),
        (b'+', digits) => (1, digits),
        _ => (1, bytes),
    };
    let count = digits.iter().take_while(|b| b.is_ascii_digit()).count();
    if count == 0 || count > 3 {
        return None;
    }
    let size = digits[..count].iter().fold(0, |n, d| n * 10 + i32::from(d - b'0'));
    Some((sign * size, count + bytes.len() - digits.len()))
}

fn slow(cell: &[u8], decimal: u8) -> Option<Cell> {
    if matches!(cell, b"" | b"-" | b"--")
        || cell.eq_ignore_ascii_case(b"n/a")
        || cell.eq_ignore_ascii_case(b"na")
    {
        return Some(Cell::Missing);
    }
    let text = std::str::from_utf8(cell).ok()?;
    let parsed = if decimal == b'.' {
        text.parse::<f64>()
    } else if text.contains('.') {
        return None;
    } else {
        text.replace(',', ".").parse::<f64>()
    };
    let value = match parsed {
        Ok(value) => value,
        // Double precision exponents of Fortran (ISO/IEC 1539-1): 1.5D-03.
        Err(_) if text.contains(['d', 'D']) => {
            text.replace(['d', 'D'], "e").replace(char::from(decimal), ".").parse().ok()?
        }
        Err(_) => return None,
    };
    Some(Cell::Number(value))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(cell: &str, decimal: u8) -> Option<f64> {
        number(cell.as_bytes(), decimal).map(Cell::value)
    }

    /// The standard library's parser is correctly rounded (IEEE 754-2019, clause 5.12).
    #[test]
    fn the_quick_way_rounds_as_the_standard_library() {
        let mut state = 0x9e37_79b9_7f4a_7c15u64;
        for case in 0..20_000 {
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            let mantissa = state >> (11 + state % 50);
            let digits = mantissa.to_string();
            let (whole, part) = digits.split_at(state as usize % digits.len());
            let sign = ["", "-", "+"][case % 3];
            let power = (state >> 20) % 60;
            let text = match case % 4 {
                0 => format!("{sign}{digits}"),
                1 => format!("{sign}{whole}.{part}"),
                2 => format!("{sign}{whole}.{part}e-{power}"),
                _ => format!("{sign}{digits}E+{power}"),
            };
            let expected: f64 = text.parse().expect("a number");
            assert_eq!(value(&text, b'.').map(f64::to_bits), Some(expected.to_bits()), "{text}");
            let comma = text.replace('.', ",");
            assert_eq!(value(&comma, b',').map(f64::to_bits), Some(expected.to_bits()), "{comma}");
        }
    }

    #[test]
    fn kinds_of_cells() {
        assert_eq!(number(b"-12", b'.'), Some(Cell::Whole(-12.0)));
        assert_eq!(number(b"12.", b'.'), Some(Cell::Number(12.0)));
        assert_eq!(number(b".5", b'.'), Some(Cell::Number(0.5)));
        assert_eq!(number(b"3000000000", b'.'), Some(Cell::Number(3e9)));
        assert_eq!(number(b"1.5D-03", b'.'), Some(Cell::Number(1.5e-3)));
        assert_eq!(number(b"-inf", b'.'), Some(Cell::Number(f64::NEG_INFINITY)));
        assert!(number(b"NaN", b'.').is_some_and(|c| c.value().is_nan()));
        for missing in ["", "-", "--", "N/A", "n/a"] {
            assert_eq!(number(missing.as_bytes(), b'.'), Some(Cell::Missing));
        }
        for wrong in ["abc", "1,5", "1 2", ".", "e5", "1e", "0x10", "1.2.3", "12a", "+-1", "\u{b5}"]
        {
            assert_eq!(number(wrong.as_bytes(), b'.'), None, "{wrong}");
        }
        assert_eq!(number(b"1.234,5", b','), None);
        assert_eq!(number(b"1.5", b','), None);
    }
}
