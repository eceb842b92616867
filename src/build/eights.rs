//! Bytes as text, a sign a byte: the page is read as windows-1252, in which every byte is a sign of its own,
//! so that packed data take no more room in it than they have, where base64 is a third longer.

/// Bytes that a page may not carry as they are, or that a reader or a transfer may change: NUL, line feed,
/// carriage return, the sign that opens a tag, and the one that announces them.
const LEFT_OUT: [u8; 5] = [0x00, b'\n', b'\r', b'<', ANNOUNCE];
/// Stands before a byte that is left out, which follows with 64 added.
const ANNOUNCE: u8 = b'=';

/// Signs of the bytes 0x80 to 0x9f; all others are those of their number.
///
/// WHATWG Encoding Standard, index windows-1252.
const HIGH: [u16; 32] = [
    0x20ac, 0x0081, 0x201a, 0x0192, 0x201e, 0x2026, 0x2020, 0x2021, 0x02c6, 0x2030, 0x0160, 0x2039,
    0x0152, 0x008d, 0x017d, 0x008f, 0x0090, 0x2018, 0x2019, 0x201c, 0x201d, 0x2022, 0x2013, 0x2014,
    0x02dc, 0x2122, 0x0161, 0x203a, 0x0153, 0x009d, 0x017e, 0x0178,
];

/// The text of bytes.
pub fn encode(bytes: &[u8]) -> String {
    let mut out = String::with_capacity(2 * bytes.len());
    for byte in bytes {
        if LEFT_OUT.contains(byte) {
            out.push(char::from(ANNOUNCE));
            out.push(char::from(byte + 64));
        } else {
            out.push(sign(*byte));
        }
    }
    out
}

/// The sign of a byte.
fn sign(byte: u8) -> char {
    let high = byte.checked_sub(0x80).and_then(|i| HIGH.get(usize::from(i)));
    high.and_then(|code| char::from_u32(u32::from(*code))).unwrap_or(char::from(byte))
}

/// The bytes of a page's text; `None` where a sign is not of windows-1252.
pub fn bytes(text: &str) -> Option<Vec<u8>> {
    let byte = |sign: char| {
        let code = u16::try_from(u32::from(sign)).ok()?;
        match HIGH.iter().position(|high| *high == code) {
            Some(place) => u8::try_from(0x80 + place).ok(),
            None => u8::try_from(code).ok().filter(|byte| !(0x80..=0x9f).contains(byte)),
        }
    };
    text.chars().map(byte).collect()
}

#[cfg(test)]
pub fn decode(text: &str) -> Vec<u8> {
    let mut signs = bytes(text).unwrap().into_iter();
    let mut out = Vec::new();
    while let Some(sign) = signs.next() {
        out.push(if sign == ANNOUNCE { signs.next().unwrap() - 64 } else { sign });
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_byte_comes_back_and_none_stands_that_is_left_out() {
        let mut all: Vec<u8> = (0..=255).chain([0; 20]).chain([255; 9]).collect();
        all.extend(b"<script></script><!-- \r\n=@");
        for length in 0..all.len() {
            let text = encode(&all[..length]);
            assert_eq!(decode(&text), &all[..length], "{length}");
            let written = bytes(&text).unwrap();
            assert!(written.iter().all(|b| *b == ANNOUNCE || !LEFT_OUT.contains(b)));
        }
    }

    /// The sign of every byte is another one, and the two known by heart: € is 0x80, Ÿ is 0x9f.
    #[test]
    fn signs_are_those_of_windows_1252() {
        let all: std::collections::BTreeSet<char> = (0..=255).map(sign).collect();
        assert_eq!(all.len(), 256);
        assert_eq!((sign(0x80), sign(0x9f), sign(0xe4)), ('€', 'Ÿ', 'ä'));
        assert_eq!(bytes("€Ÿä"), Some(vec![0x80, 0x9f, 0xe4]));
        assert_eq!(bytes("○"), None);
        assert_eq!(bytes("\u{80}"), None);
    }

    /// Two in a hundred longer: five bytes of 256 take two.
    #[test]
    fn hardly_longer() {
        let all: Vec<u8> =
            (0..70_000_u32).map(|i| (i.wrapping_mul(2_654_435_761) >> 13) as u8).collect();
        let written = bytes(&encode(&all)).unwrap();
        assert!((written.len() as f64 / all.len() as f64 - 1.02).abs() < 3e-3);
    }
}
