//! Bytes as text of 85 signs, four bytes in five: a sixteenth shorter than base64.

/// Signs that would need care in markup or in a script.
const LEFT_OUT: &[u8] = b"\"#$&'<>\\`";

/// The signs, each of which stands for its place: printable ASCII but for those left out.
fn signs() -> Vec<u8> {
    (b'!'..=b'~').filter(|sign| !LEFT_OUT.contains(sign)).collect()
}

/// The text of bytes: how many were added to fill the last four, then five signs for each four bytes,
/// first byte and first sign the most significant.
pub fn encode(bytes: &[u8]) -> String {
    let signs = signs();
    let added = (4 - bytes.len() % 4) % 4;
    let mut out = String::with_capacity(bytes.len() / 4 * 5 + 6);
    out.push_str(&added.to_string());
    for four in bytes.chunks(4) {
        let mut padded = [0; 4];
        padded[..four.len()].copy_from_slice(four);
        let mut rest = u32::from_be_bytes(padded) as usize;
        let mut five = ['!'; 5];
        for slot in five.iter_mut().rev() {
            *slot = signs.get(rest % 85).map_or('!', |sign| char::from(*sign));
            rest /= 85;
        }
        out.extend(five);
    }
    out
}

#[cfg(test)]
pub fn decode(text: &str) -> Vec<u8> {
    let signs = signs();
    let (added, text) = text.split_at(1);
    let place = |sign: &u8| signs.iter().position(|s| s == sign).unwrap() as u64;
    let mut out: Vec<u8> = text
        .as_bytes()
        .chunks(5)
        .flat_map(|five| {
            let value = five.iter().fold(0, |value, sign| value * 85 + place(sign));
            u32::try_from(value).unwrap().to_be_bytes()
        })
        .collect();
    out.truncate(out.len() - added.parse::<usize>().unwrap());
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_are_85_signs_and_every_length_comes_back() {
        assert_eq!(signs().len(), 85);
        let bytes: Vec<u8> = (0..=255).chain([255; 9]).collect();
        for length in 0..bytes.len() {
            let text = encode(&bytes[..length]);
            assert_eq!(decode(&text), &bytes[..length], "{length}");
            assert!(text.bytes().all(|sign| sign.is_ascii_graphic() && !LEFT_OUT.contains(&sign)));
        }
    }
}
