//! What the elements of an NPY array are (NumPy manual, "The array interface protocol", `typestr`).

use super::literal::Literal;
use crate::formats::container::NumberKind;
use crate::formats::element::{ByteOrder, Element};

/// The kind of one element.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Kind {
    /// A number; two of them, real and imaginary, if complex.
    Number { element: Element, complex: bool },
    /// Text of that many bytes, one a character, or four (UCS-4) in the given order.
    Text { bytes: u64, wide: Option<ByteOrder> },
    /// Anything else, by its description.
    Other(String),
}

impl Kind {
    /// From the header's `descr`.
    pub(super) fn of(descr: &Literal) -> Self {
        match descr {
            Literal::Text(text) => Self::of_text(text).unwrap_or_else(|| Self::Other(text.clone())),
            _ => Self::Other("V".to_owned()),
        }
    }

    fn of_text(descr: &str) -> Option<Self> {
        let order = if descr.starts_with('>') { ByteOrder::Big } else { ByteOrder::Little };
        let bare = descr.trim_start_matches(['<', '>', '|', '=']);
        let kind = bare.chars().next()?;
        let size: u64 = bare.get(kind.len_utf8()..)?.parse().ok()?;
        let number = |kind| Some(Self::Number { element: Element { kind, order }, complex: false });
        match (kind, size) {
            ('b', 1) => number(NumberKind::Integer { bits: 8, signed: false }),
            ('i' | 'u', 1 | 2 | 4 | 8) => {
                number(NumberKind::Integer { bits: size as u8 * 8, signed: kind == 'i' })
            }
            ('f', 2 | 4 | 8) => number(NumberKind::Float { bits: size as u8 * 8 }),
            ('c', 8 | 16) => {
                let kind = NumberKind::Float { bits: size as u8 * 4 };
                Some(Self::Number { element: Element { kind, order }, complex: true })
            }
            ('S' | 'a', _) => Some(Self::Text { bytes: size, wide: None }),
            ('U', _) => Some(Self::Text { bytes: size.checked_mul(4)?, wide: Some(order) }),
            _ => None,
        }
    }

    /// Bytes of one element; 0 where that is not known.
    pub(super) fn bytes(&self) -> u64 {
        match self {
            Self::Number { element, complex } => {
                element.bytes() as u64 * if *complex { 2 } else { 1 }
            }
            Self::Text { bytes, .. } => *bytes,
            Self::Other(_) => 0,
        }
    }
}

/// Text of one element: without the zeros that fill it up; ill-formed characters replaced.
pub(super) fn text(bytes: &[u8], wide: Option<ByteOrder>) -> String {
    let Some(order) = wide else {
        return String::from_utf8_lossy(bytes).trim_end_matches('\0').to_owned();
    };
    let (units, _) = bytes.as_chunks::<4>();
    let text: String = units
        .iter()
        .map(|unit| match order {
            ByteOrder::Little => u32::from_le_bytes(*unit),
            ByteOrder::Big => u32::from_be_bytes(*unit),
        })
        .map(|unit| char::from_u32(unit).unwrap_or(char::REPLACEMENT_CHARACTER))
        .collect();
    text.trim_end_matches('\0').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Typestrings of the array interface protocol.
    #[test]
    fn kinds() {
        let of = |text: &str| Kind::of(&Literal::Text(text.to_owned()));
        let i2 = NumberKind::Integer { bits: 16, signed: true };
        let f4 = NumberKind::Float { bits: 32 };
        assert_eq!(
            of(">i2"),
            Kind::Number { element: Element { kind: i2, order: ByteOrder::Big }, complex: false }
        );
        assert_eq!(
            of("<c8"),
            Kind::Number { element: Element { kind: f4, order: ByteOrder::Little }, complex: true }
        );
        assert_eq!(of("<U3"), Kind::Text { bytes: 12, wide: Some(ByteOrder::Little) });
        assert_eq!(of("|S3"), Kind::Text { bytes: 3, wide: None });
        for other in ["<f16", "<c32", "|O", "<M8[ns]", "i3", "", "f", "<i-1", "é4"] {
            assert!(matches!(of(other), Kind::Other(_)), "{other}");
        }
        assert_eq!(of("<U4611686018427387904"), Kind::Other("<U4611686018427387904".to_owned()));
    }

    #[test]
    fn texts() {
        assert_eq!(text(b"mm\0\0", None), "mm");
        let wide = [0u8, 0, 0, 0xb5, 0, 0, 0, b'm', 0, 0, 0, 0];
        assert_eq!(text(&wide, Some(ByteOrder::Big)), "µm");
        assert_eq!(text(&[0xff; 4], Some(ByteOrder::Little)), "\u{fffd}");
    }
}
