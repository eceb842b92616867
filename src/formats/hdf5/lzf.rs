//! LZF decompression, the byte layout of LibLZF: literal runs and back references.

/// Number of the filter in the registry of HDF5 filters.
pub const FILTER: u16 = 32000;

/// Decompresses to at most `limit` bytes.
///
/// A control byte below 32 announces that many literal bytes and one more. Any other holds the
/// length less two of a back reference in its upper three bits (7: a further byte is added) and the
/// upper five bits of its distance less one in the rest; the lower eight follow.
///
/// Returns `None` where the stream is cut short, refers to before its start, or exceeds the limit.
pub fn decompress(packed: &[u8], limit: usize) -> Option<Vec<u8>> {
    let mut out = Vec::new();
    let mut at = 0;
    let next = |at: &mut usize| -> Option<usize> {
        let byte = *packed.get(*at)?;
        *at += 1;
        Some(usize::from(byte))
    };
    while at < packed.len() {
        let control = next(&mut at)?;
        if control < 32 {
            let literals = packed.get(at..at + control + 1)?;
            out.extend_from_slice(literals);
            at += control + 1;
        } else {
            let mut length = control >> 5;
            if length == 7 {
                length += next(&mut at)?;
            }
            let distance = ((control & 31) << 8) + next(&mut at)? + 1;
            let from = out.len().checked_sub(distance)?;
            for i in from..from + length + 2 {
                let byte = *out.get(i)?;
                out.push(byte);
            }
        }
        if out.len() > limit {
            return None;
        }
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn literals_and_overlapping_references() {
        // "ab", then 6 bytes from 2 back; by hand after the layout above.
        assert_eq!(decompress(&[1, b'a', b'b', 4 << 5, 1], 100).unwrap(), b"abababab");
        // The long form: 7 + 3 + 2 bytes from 1 back.
        assert_eq!(decompress(&[0, b'x', 7 << 5, 3, 0], 100).unwrap(), [b'x'; 13]);
    }

    #[test]
    fn broken_streams() {
        assert_eq!(decompress(&[5, 1, 2], 100), None);
        assert_eq!(decompress(&[0, b'a', 1 << 5, 9], 100), None);
        assert_eq!(decompress(&[0, b'a', 7 << 5, 255, 0], 100), None);
        assert_eq!(decompress(&[0, b'a', 7 << 5], 100), None);
    }
}
