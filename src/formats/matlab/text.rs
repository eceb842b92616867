//! Arrays of characters as text.

use super::tag::{UTF_8, UTF_16, UTF_32, stored};
use crate::formats::container::NumberKind;
use crate::formats::element::ByteOrder;

/// The text of a character array of that many rows (columns run slowest): rows become lines,
/// without the blanks that make them equally long. Types of 8 bits are Latin-1 unless marked as
/// UTF-8; types of 16 bits are UTF-16. Ill-formed characters are replaced. `None` where the type
/// holds no characters, or rows and characters do not match.
pub(super) fn text(kind: u32, bytes: &[u8], order: ByteOrder, rows: u64) -> Option<String> {
    let big = order == ByteOrder::Big;
    let chars: Vec<char> = match (kind, stored(kind)?) {
        (UTF_8, _) => String::from_utf8_lossy(bytes).chars().collect(),
        (_, NumberKind::Integer { bits: 8, .. }) => bytes.iter().map(|b| char::from(*b)).collect(),
        (UTF_16, _) | (_, NumberKind::Integer { bits: 16, .. }) => {
            let (units, _) = bytes.as_chunks::<2>();
            let units = units.iter().map(|unit| {
                if big { u16::from_be_bytes(*unit) } else { u16::from_le_bytes(*unit) }
            });
            char::decode_utf16(units).map(|c| c.unwrap_or(char::REPLACEMENT_CHARACTER)).collect()
        }
        (UTF_32, _) => {
            let (units, _) = bytes.as_chunks::<4>();
            units
                .iter()
                .map(|unit| if big { u32::from_be_bytes(*unit) } else { u32::from_le_bytes(*unit) })
                .map(|unit| char::from_u32(unit).unwrap_or(char::REPLACEMENT_CHARACTER))
                .collect()
        }
        _ => return None,
    };
    let rows = usize::try_from(rows).ok()?;
    if rows <= 1 || chars.is_empty() {
        return Some(chars.into_iter().collect());
    }
    if !chars.len().is_multiple_of(rows) {
        return None;
    }
    let lines: Vec<String> = (0..rows)
        .map(|row| chars.iter().skip(row).step_by(rows).collect::<String>().trim_end().to_owned())
        .collect();
    Some(lines.join("\n"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_and_types() {
        let of = |kind, bytes: &[u8], rows| text(kind, bytes, ByteOrder::Little, rows);
        assert_eq!(of(1, b"water", 1).as_deref(), Some("water"));
        assert_eq!(of(2, b"\xb5m", 1).as_deref(), Some("µm"));
        assert_eq!(of(UTF_8, "µm".as_bytes(), 1).as_deref(), Some("µm"));
        assert_eq!(of(4, &[0xb5, 0, b'm', 0], 1).as_deref(), Some("µm"));
        assert_eq!(of(1, b"abx y ", 2).as_deref(), Some("axy\nb"));
        assert_eq!(of(1, b"abc", 2), None);
        assert_eq!(of(9, &[0; 8], 1), None);
        assert_eq!(of(4, &[0, 0xd8], 1).as_deref(), Some("\u{fffd}"));
        assert_eq!(text(4, &[0, b'm'], ByteOrder::Big, 1).as_deref(), Some("m"));
        assert_eq!(of(1, b"", 0).as_deref(), Some(""));
    }
}
