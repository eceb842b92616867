//! The tag before each data element, and the types of stored values.

use crate::formats::container::NumberKind;
use crate::formats::element::ByteOrder;

/// A nested array.
pub(super) const MATRIX: u32 = 14;
/// A zlib stream of one element.
pub(super) const COMPRESSED: u32 = 15;
pub(super) const UTF_8: u32 = 16;
pub(super) const UTF_16: u32 = 17;
pub(super) const UTF_32: u32 = 18;

/// Type, size and place of one data element.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Tag {
    pub kind: u32,
    /// Bytes of the value.
    pub size: u64,
    /// First byte of the value.
    pub data: u64,
    /// First byte of the next element: values fill up to 8 bytes, compressed ones do not.
    pub next: u64,
}

impl Tag {
    /// The tag that stands in eight bytes at offset `at`.
    pub(super) fn read(bytes: [u8; 8], order: ByteOrder, at: u64) -> Self {
        let [a, b, c, d, e, f, g, h] = bytes;
        Self::of(word([a, b, c, d], order), word([e, f, g, h], order), at)
    }

    /// From the two words at offset `at`; the bytes of a small element (up to four, in the place of
    /// the second word) are told by the upper half of the first word.
    fn of(first: u32, second: u32, at: u64) -> Self {
        let small = first >> 16;
        if small != 0 {
            return Self { kind: first & 0xffff, size: small.into(), data: at + 4, next: at + 8 };
        }
        let (size, data) = (u64::from(second), at + 8);
        let end = data + size;
        let next = if first == COMPRESSED { end } else { data + size.next_multiple_of(8) };
        Self { kind: first, size, data, next }
    }

    /// Whether the value stands in the tag itself.
    pub(super) fn is_small(&self) -> bool {
        self.next - self.data == 4
    }
}

/// A word of 32 bits.
pub(super) fn word(bytes: [u8; 4], order: ByteOrder) -> u32 {
    match order {
        ByteOrder::Little => u32::from_le_bytes(bytes),
        ByteOrder::Big => u32::from_be_bytes(bytes),
    }
}

/// The kind of number of a stored type.
pub(super) fn stored(kind: u32) -> Option<NumberKind> {
    Some(match kind {
        1 => NumberKind::Integer { bits: 8, signed: true },
        2 | UTF_8 => NumberKind::Integer { bits: 8, signed: false },
        3 => NumberKind::Integer { bits: 16, signed: true },
        4 | UTF_16 => NumberKind::Integer { bits: 16, signed: false },
        5 => NumberKind::Integer { bits: 32, signed: true },
        6 | UTF_32 => NumberKind::Integer { bits: 32, signed: false },
        7 => NumberKind::Float { bits: 32 },
        9 => NumberKind::Float { bits: 64 },
        12 => NumberKind::Integer { bits: 64, signed: true },
        13 => NumberKind::Integer { bits: 64, signed: false },
        _ => return None,
    })
}

/// What an array is to the program that wrote it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Class {
    Numbers(NumberKind),
    Text,
    Struct,
    /// Not read; the word by which the note names it.
    Passed(&'static str),
}

impl Class {
    /// From the number in the array flags.
    pub(super) fn of(class: u32) -> Option<Self> {
        let integer = |bits, signed| Self::Numbers(NumberKind::Integer { bits, signed });
        Some(match class {
            1 => Self::Passed("cell"),
            2 => Self::Struct,
            3 | 18 => Self::Passed("object"),
            4 => Self::Text,
            5 => Self::Passed("sparse"),
            6 => Self::Numbers(NumberKind::Float { bits: 64 }),
            7 => Self::Numbers(NumberKind::Float { bits: 32 }),
            8 => integer(8, true),
            9 => integer(8, false),
            10 => integer(16, true),
            11 => integer(16, false),
            12 => integer(32, true),
            13 => integer(32, false),
            14 => integer(64, true),
            15 => integer(64, false),
            16 => Self::Passed("function"),
            17 => Self::Passed("opaque"),
            _ => return None,
        })
    }

    /// Whether dimensions and a name follow the flags as for arrays.
    pub(super) fn has_dimensions(self) -> bool {
        self != Self::Passed("opaque")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Layout of MAT-file level 5, from memory.
    #[test]
    fn tags() {
        let long = Tag::of(9, 20, 128);
        assert_eq!(long, Tag { kind: 9, size: 20, data: 136, next: 160 });
        assert!(!long.is_small());
        let small = Tag::of(0x0002_0005, 7, 128);
        assert_eq!(small, Tag { kind: 5, size: 2, data: 132, next: 136 });
        assert!(small.is_small());
        assert_eq!(Tag::of(COMPRESSED, 21, 0).next, 29);
        let empty = Tag::of(9, 0, 8);
        assert_eq!((empty.next, empty.is_small()), (16, false));
    }
}
