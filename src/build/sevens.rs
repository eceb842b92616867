//! Bytes as text, seven bits a sign: a seventh longer than the bytes, where base64 is a third longer.

/// Seven-bit signs that a page may not carry as they are, or that a transfer may change: NUL, line feed,
/// carriage return, and the sign that opens a tag.
const LEFT_OUT: [u8; 4] = [0x00, b'\n', b'\r', b'<'];
/// First of the two-byte signs: each stands for a seven that is left out, and the seven after it.
const PAIRS: u32 = 0x100;

/// The text of bytes: their number in decimal digits, a colon, then their bits in groups of seven, the
/// first bit the most significant, the last group filled with zeros. A group that may not stand as the
/// sign of its number is written together with the next one: sign 0x100 + 128 × its place among those
/// left out + the next group.
pub fn encode(bytes: &[u8]) -> String {
    let mut out = format!("{}:", bytes.len());
    out.reserve(bytes.len() / 7 * 8 + 8);
    let mut groups = groups(bytes);
    while let Some(group) = groups.next() {
        match LEFT_OUT.iter().position(|left| *left == group) {
            None => out.push(char::from(group)),
            Some(place) => {
                let next = u32::from(groups.next().unwrap_or(0));
                out.extend(char::from_u32(PAIRS + 128 * place as u32 + next));
            }
        }
    }
    out
}

/// Groups of seven bits.
fn groups(bytes: &[u8]) -> impl Iterator<Item = u8> {
    let bits = bytes.len() * 8;
    (0..bits.div_ceil(7)).map(move |group| {
        let at = group * 7;
        let two = |i: usize| u16::from(bytes.get(i).copied().unwrap_or(0));
        let window = (two(at / 8) << 8) | two(at / 8 + 1);
        ((window >> (9 - at % 8)) & 0x7f) as u8
    })
}

#[cfg(test)]
pub fn decode(text: &str) -> Vec<u8> {
    let (length, text) = text.split_once(':').unwrap();
    let mut sevens = Vec::new();
    for sign in text.chars().map(u32::from) {
        if sign < 128 {
            sevens.push(sign);
        } else {
            let pair = sign - PAIRS;
            sevens.extend([u32::from(LEFT_OUT[pair as usize >> 7]), pair & 0x7f]);
        }
    }
    let bit = |i: usize| (sevens[i / 7] >> (6 - i % 7)) & 1;
    let byte = |i: usize| (0..8).fold(0, |byte, k| byte << 1 | bit(8 * i + k) as u8);
    (0..length.parse().unwrap()).map(byte).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_length_comes_back_without_a_sign_that_is_left_out() {
        let mut bytes: Vec<u8> = (0..=255).chain([0; 20]).chain([255; 9]).collect();
        bytes.extend(b"<script></script><!-- \r\n");
        for length in 0..bytes.len() {
            let text = encode(&bytes[..length]);
            assert_eq!(decode(&text), &bytes[..length], "{length}");
            assert!(text.bytes().all(|sign| !LEFT_OUT.contains(&sign)));
        }
    }

    /// Eight signs for seven bytes, but for the pairs, which take as much.
    #[test]
    fn a_seventh_longer() {
        let bytes: Vec<u8> =
            (0..70_000_u32).map(|i| (i.wrapping_mul(2_654_435_761) >> 13) as u8).collect();
        let text = encode(&bytes);
        assert!((text.len() as f64 / bytes.len() as f64 - 8.0 / 7.0).abs() < 1e-3);
    }
}
