//! Bytes of a text file as characters: UTF-8, else Windows-1252.

use super::super::source::Source;

/// How much of a file is looked at to tell text from anything else, bytes.
const LOOK_BYTES: u64 = 4096;

/// What bytes 0x80 to 0x9f stand for in Windows-1252; the rest of its upper half is Latin-1.
const WINDOWS: [char; 32] = [
    '€', '\u{81}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{8d}', 'Ž', '\u{8f}',
    '\u{90}', '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{9d}', 'ž', 'Ÿ',
];

/// Whether the first bytes read as text: UTF-8 without NUL (but for a cut last character); or bytes
/// of an eight-bit code, of which few are above 127 and none is a control character; or UTF-16 with
/// its mark, which the opening refuses by name.
pub fn looks_like_text(source: &dyn Source) -> bool {
    let n = usize::try_from(source.len().min(LOOK_BYTES)).unwrap_or(0);
    let mut head = vec![0u8; n];
    if n == 0 || source.read_at(0, &mut head).is_err() {
        return false;
    }
    if is_utf16(&head) {
        return true;
    }
    if head.contains(&0) {
        return false;
    }
    match std::str::from_utf8(&head) {
        Ok(_) => true,
        Err(error) if error.error_len().is_none() => true,
        Err(_) => {
            let high = head.iter().filter(|b| **b > 0x7f).count();
            let control =
                head.iter().any(|b| *b == 0x7f || (*b < 0x20 && !b"\t\n\r\x0c\x1a".contains(b)));
            !control && high * 5 < head.len()
        }
    }
}

/// Whether the file begins with the byte order mark of UTF-16 (Unicode Standard, section 23.8).
pub fn is_utf16(head: &[u8]) -> bool {
    head.starts_with(&[0xff, 0xfe]) || head.starts_with(&[0xfe, 0xff])
}

/// Bytes of the UTF-8 byte order mark at the start, 0 or 3.
pub fn mark(head: &[u8]) -> usize {
    if head.starts_with(&[0xef, 0xbb, 0xbf]) { 3 } else { 0 }
}

/// A line or a cell as text: UTF-8 if it is, else Windows-1252. No byte is refused.
pub fn decode(bytes: &[u8]) -> String {
    match std::str::from_utf8(bytes) {
        Ok(text) => text.to_owned(),
        Err(_) => bytes
            .iter()
            .map(|b| match b {
                0x80..=0x9f => WINDOWS[usize::from(b - 0x80)],
                _ => char::from(*b),
            })
            .collect(),
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::super::super::source::Memory;
    use super::*;

    fn text(bytes: &[u8]) -> bool {
        looks_like_text(&Memory(Arc::from(bytes)))
    }

    #[test]
    fn text_and_not_text() {
        assert!(text(b"a,b\n1,2\n"));
        assert!(text("Zeit [µs]\n1".as_bytes()));
        assert!(text(b"Zeit [\xb5s];Winkel [\xb0]\n1;2\n"));
        assert!(text(b"\xff\xfea\0"));
        assert!(!text(b""));
        assert!(!text(b"a,b\n1,\0\n"));
        assert!(!text(b"\x1f\x8b\x08\x01\x02\x9a\xb0\xc1"));
        let cut = [vec![b'a'; 4095], "µ\n".as_bytes().to_vec()].concat();
        assert!(text(&cut));
    }

    /// Codes of the WHATWG Encoding Standard, index windows-1252 (values from memory).
    #[test]
    fn eight_bit_text() {
        assert_eq!(decode(b"\xb5s \xb0C \x80 \x96"), "µs °C € –");
        assert_eq!(decode("µ°".as_bytes()), "µ°");
    }
}
