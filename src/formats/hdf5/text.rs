//! Texts: fixed and variable length, and characters stored as numbers.

use std::collections::BTreeMap;
use std::sync::Arc;

use hdf5_reader::global_heap::GlobalHeapCollection;
use hdf5_reader::io::Cursor;
use hdf5_reader::{Datatype, Hdf5File, StringPadding, StringSize, VarLenKind};

/// Longest text that is taken over, bytes.
pub const MAX_TEXT: u64 = 64 << 10;
/// Heap collections kept while a file is listed.
const KEPT_HEAPS: usize = 16;

/// Data of variable length, found by their references.
#[derive(Default)]
pub struct Heaps(BTreeMap<u64, Option<Arc<GlobalHeapCollection>>>);

impl Heaps {
    /// The bytes that one reference (count, address, index) stands for.
    pub fn resolve(&mut self, file: &Hdf5File, reference: &[u8]) -> Option<Vec<u8>> {
        let sizes = file.superblock();
        let mut cursor = Cursor::new(reference);
        cursor.read_u32_le().ok()?;
        let address = cursor.read_offset(sizes.offset_size).ok()?;
        let index = u16::try_from(cursor.read_u32_le().ok()?).ok()?;
        if index == 0 || Cursor::is_undefined_offset(address, sizes.offset_size) {
            return Some(Vec::new());
        }
        if self.0.len() >= KEPT_HEAPS && !self.0.contains_key(&address) {
            self.0.clear();
        }
        let heap = self.0.entry(address).or_insert_with(|| {
            GlobalHeapCollection::parse_at_storage(
                file.storage(),
                address,
                sizes.offset_size,
                sizes.length_size,
            )
            .ok()
            .map(Arc::new)
        });
        Some(heap.as_ref()?.get_object(index)?.data.clone())
    }

    /// The text in the bytes of one element; `None` if the type is no text.
    pub fn text(&mut self, file: &Hdf5File, datatype: &Datatype, bytes: &[u8]) -> Option<String> {
        match datatype {
            Datatype::String { size: StringSize::Fixed(_), padding, .. } => {
                Some(decode(bytes, *padding))
            }
            Datatype::String { size: StringSize::Variable, .. }
            | Datatype::VarLen { kind: VarLenKind::String, .. } => {
                let bytes = self.resolve(file, bytes)?;
                Some(decode(&bytes, StringPadding::NullTerminate))
            }
            _ => None,
        }
    }
}

/// Whether elements of this type are texts.
pub fn is_text(datatype: &Datatype) -> bool {
    matches!(datatype, Datatype::String { .. } | Datatype::VarLen { kind: VarLenKind::String, .. })
}

/// UTF-8, else Latin-1, without its padding.
fn decode(bytes: &[u8], padding: StringPadding) -> String {
    let kept = match padding {
        StringPadding::NullTerminate => bytes.split(|b| *b == 0).next().unwrap_or(bytes),
        StringPadding::NullPad => bytes.trim_ascii_end_of(0),
        StringPadding::SpacePad => bytes.trim_ascii_end_of(b' '),
    };
    match std::str::from_utf8(kept) {
        Ok(text) => text.to_owned(),
        Err(_) => kept.iter().map(|b| char::from(*b)).collect(),
    }
}

trait TrimEnd {
    fn trim_ascii_end_of(&self, pad: u8) -> &[u8];
}

impl TrimEnd for [u8] {
    fn trim_ascii_end_of(&self, pad: u8) -> &[u8] {
        let end = self.iter().rposition(|b| *b != pad).map_or(0, |i| i + 1);
        &self[..end]
    }
}

/// Text of a column-major array of character codes whose storage shape is `shape` (slowest first):
/// one line for each row of the array.
pub fn from_codes(codes: &[f64], shape: &[u64]) -> String {
    let rows = match shape {
        [_, rows] => usize::try_from(*rows).unwrap_or(1).max(1),
        _ => 1,
    };
    let line = |row: usize| -> String {
        let units: Vec<u32> =
            codes.iter().skip(row).step_by(rows).map(|code| *code as u32).collect();
        let narrow: Vec<u16> = units.iter().filter_map(|u| u16::try_from(*u).ok()).collect();
        if narrow.len() == units.len() {
            String::from_utf16_lossy(&narrow)
        } else {
            units
                .iter()
                .map(|u| char::from_u32(*u).unwrap_or(char::REPLACEMENT_CHARACTER))
                .collect()
        }
    };
    (0..rows).map(line).collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paddings_and_encodings() {
        assert_eq!(decode(b"mm\0\0", StringPadding::NullPad), "mm");
        assert_eq!(decode(b"mm\0x", StringPadding::NullTerminate), "mm");
        assert_eq!(decode(b"mm  ", StringPadding::SpacePad), "mm");
        assert_eq!(decode("µs".as_bytes(), StringPadding::NullPad), "µs");
        assert_eq!(decode(b"\xb5s", StringPadding::NullPad), "µs");
    }

    #[test]
    fn codes_of_two_rows() {
        // ['ab';'cd'] column-major: a c b d.
        let codes: Vec<f64> = "acbd".chars().map(|c| f64::from(u32::from(c))).collect();
        assert_eq!(from_codes(&codes, &[2, 2]), "ab\ncd");
        assert_eq!(from_codes(&codes, &[4, 1]), "acbd");
        assert_eq!(from_codes(&[], &[0, 0]), "");
    }
}
