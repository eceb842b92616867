//! The first 128 bytes: which level, which byte order.

use crate::base::error::Problem;
use crate::formats::element::ByteOrder;
use crate::formats::fault;
use crate::formats::source::Source;

/// Bytes before the first data element.
pub(super) const HEADER_BYTES: u64 = 128;
/// Longest variable name that level 4 is believed to hold, with its final zero.
const LEVEL_4_NAME: i32 = 256;

/// What the beginning of a file says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Level {
    /// Level 4: no header, five numbers before each matrix.
    Four,
    /// Level 5, and the version field's two bytes as a number.
    Five { order: ByteOrder, version: u16 },
}

/// Tells the level by the first bytes, at best 128 or more.
pub(super) fn level(head: &[u8]) -> Option<Level> {
    if let Some(&[a, b, c, d]) = head.get(124..128) {
        let order = match [c, d] {
            [b'I', b'M'] => Some((ByteOrder::Little, u16::from_le_bytes([a, b]))),
            [b'M', b'I'] => Some((ByteOrder::Big, u16::from_be_bytes([a, b]))),
            _ => None,
        };
        // The text of level 5 never begins with a zero among its first four bytes.
        if let Some((order, version)) = order
            && !head[..4].contains(&0)
        {
            return Some(Level::Five { order, version });
        }
    }
    is_level_4(head).then_some(Level::Four)
}

/// Whether the first bytes are the head of a level 4 matrix: type `MOPT` with O = 0, two dimensions,
/// 0 or 1 for complex, length of the name, and the name with its final zero.
fn is_level_4(head: &[u8]) -> bool {
    let (words, _) = head.as_chunks::<4>();
    let [kind, rows, columns, complex, name, ..] = words else { return false };
    [i32::from_le_bytes, i32::from_be_bytes].iter().enumerate().any(|(order, number)| {
        let kind = number(*kind);
        let digits = [kind / 1000, kind / 100 % 10, kind / 10 % 10, kind % 10];
        let name = number(*name);
        let text = usize::try_from(name).ok().and_then(|n| head.get(20..20 + n.min(64)));
        let text = text.unwrap_or_default();
        (0..5000).contains(&kind)
            && (digits[0] > 1 || digits[0] == order as i32)
            && digits[1] == 0
            && digits[2] <= 5
            && digits[3] <= 2
            && number(*rows) >= 0
            && number(*columns) >= 0
            && (0..=1).contains(&number(*complex))
            && (2..=LEVEL_4_NAME).contains(&name)
            && text.first().is_some_and(u8::is_ascii_alphabetic)
            && text.iter().all(|b| *b == 0 || *b == b'_' || b.is_ascii_alphanumeric())
    })
}

/// Reads the header of level 5.
///
/// # Errors
/// `mat-level-4`, `mat-version`, `mat-unknown`, `mat-short`.
pub(super) fn read(source: &dyn Source) -> Result<ByteOrder, Problem> {
    let n = source.len().min(HEADER_BYTES);
    let mut head = vec![0; n as usize];
    source
        .read_at(0, &mut head)
        .map_err(|error| fault::text("mat-unreadable", &error.to_string()))?;
    match level(&head) {
        Some(Level::Five { order, version }) if version >> 8 == 1 => Ok(order),
        Some(Level::Five { version, .. }) => {
            let found = format!("{}.{}", version >> 8, version & 0xff);
            Err(fault::text("mat-version", &found))
        }
        Some(Level::Four) => Err(Problem::new("mat-level-4")),
        None if n < HEADER_BYTES => Err(fault::differs("mat-short", HEADER_BYTES, n)),
        None => Err(Problem::new("mat-unknown")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn levels() {
        let mut five = vec![b' '; 128];
        five[124..].copy_from_slice(b"\x00\x01IM");
        let little = Level::Five { order: ByteOrder::Little, version: 0x100 };
        assert_eq!(level(&five), Some(little));
        five[124..].copy_from_slice(b"\x02\x00MI");
        let big = Level::Five { order: ByteOrder::Big, version: 0x200 };
        assert_eq!(level(&five), Some(big));
        five[2] = 0;
        assert_eq!(level(&five), None);
        // A 2 × 3 matrix of doubles named x, both byte orders (value from memory of the level 4
        // layout: MOPT, mrows, ncols, imagf, namlen).
        let four = |order: fn(i32) -> [u8; 4], kind| {
            let mut head: Vec<u8> = [kind, 2, 3, 0, 2].into_iter().flat_map(order).collect();
            head.extend(b"x\0");
            head
        };
        assert_eq!(level(&four(i32::to_le_bytes, 0)), Some(Level::Four));
        assert_eq!(level(&four(i32::to_be_bytes, 1000)), Some(Level::Four));
        assert_eq!(level(&four(i32::to_le_bytes, 1000)), None);
        assert_eq!(level(&four(i32::to_le_bytes, 100)), None);
        assert_eq!(level(&[0; 200]), None);
        assert_eq!(level(b""), None);
    }
}
