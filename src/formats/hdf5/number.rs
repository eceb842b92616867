//! Which numbers a datatype holds, and where in each element.

use hdf5_reader::{ByteOrder as Order, Datatype};

use crate::formats::container::NumberKind;
use crate::formats::element::{ByteOrder, Element};

/// A number in an element: its own array in the listing.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Name under the path of the dataset; `None` where the element is just this number.
    pub name: Option<String>,
    pub element: Element,
    /// Byte of the element at which it begins.
    pub at: u32,
    /// Dimensions of its own that each element has (array types).
    pub inner: Vec<u64>,
}

/// The numbers in elements of a type of `size` bytes; empty if there are none.
///
/// Enumerations count as the integers they are. The two parts of a complex number come as `real` and
/// `imag`, the fields of other compounds under their names.
pub fn parts(datatype: &Datatype, size: u32) -> Vec<Part> {
    let whole = |part: &Part| part.at as usize + part.bytes() <= size as usize;
    match datatype {
        Datatype::Compound { fields, .. } => {
            let is = |i: usize, names: [&str; 2]| {
                fields.get(i).is_some_and(|f| names.contains(&f.name.to_lowercase().as_str()))
            };
            let complex = fields.len() == 2 && is(0, ["r", "real"]) && is(1, ["i", "imag"]);
            fields
                .iter()
                .enumerate()
                .filter_map(|(i, field)| {
                    let (element, inner) = number(&field.datatype)?;
                    let name = match (complex, i) {
                        (true, 0) => "real".to_owned(),
                        (true, _) => "imag".to_owned(),
                        _ => field.name.replace('/', "_"),
                    };
                    Some(Part { name: Some(name), element, at: field.byte_offset, inner })
                })
                // A field that is an array would need a spacing of its own.
                .filter(|part| part.inner.is_empty() && whole(part))
                .collect()
        }
        other => number(other)
            .map(|(element, inner)| Part { name: None, element, at: 0, inner })
            .filter(|part| part.bytes() == size as usize)
            .into_iter()
            .collect(),
    }
}

impl Part {
    /// Bytes of all its numbers in one element.
    fn bytes(&self) -> usize {
        self.inner.iter().fold(self.element.bytes(), |n, d| {
            n.saturating_mul(usize::try_from(*d).unwrap_or(usize::MAX))
        })
    }
}

fn number(datatype: &Datatype) -> Option<(Element, Vec<u64>)> {
    let of = |kind, order: &Order| {
        let order = match order {
            Order::LittleEndian => ByteOrder::Little,
            Order::BigEndian => ByteOrder::Big,
        };
        let element = Element { kind, order };
        (element.bytes() > 0).then(|| (element, Vec::new()))
    };
    match datatype {
        Datatype::FixedPoint { size, signed, byte_order } => {
            of(NumberKind::Integer { bits: size.checked_mul(8)?, signed: *signed }, byte_order)
        }
        Datatype::FloatingPoint { size, byte_order } => {
            of(NumberKind::Float { bits: size.checked_mul(8)? }, byte_order)
        }
        Datatype::Enum { base, .. } => number(base),
        Datatype::Array { base, dims } => {
            let (element, inner) = number(base)?;
            (inner.is_empty() && !dims.contains(&0)).then(|| (element, dims.clone()))
        }
        _ => None,
    }
}

/// Whether a stored type message describes plain two's complement integers or numbers of IEEE 754
/// that fill their bytes (HDF5 File Format Specification, IV.A.2.d). The reader of the structure
/// keeps only the size; a `bfloat16` or a 12-bit integer in two bytes would be misread.
pub fn is_plain(message: &[u8]) -> bool {
    let word = |at: usize| match message.get(at..at + 4) {
        Some([a, b, c, d]) => u32::from_le_bytes([*a, *b, *c, *d]),
        _ => 0,
    };
    let (Some(class), size) = (message.first().map(|b| b & 0x0f), word(4)) else { return false };
    let (offset, precision) = (word(8) & 0xffff, word(8) >> 16);
    match class {
        0 => offset == 0 && precision == size * 8,
        1 => {
            let expected = match size {
                2 => (10, 5, 0, 10, 15),
                4 => (23, 8, 0, 23, 127),
                8 => (52, 11, 0, 52, 1023),
                _ => return false,
            };
            let [exponent_at, exponent, fraction_at, fraction] = word(12).to_le_bytes();
            offset == 0
                && precision == size * 8
                && (exponent_at, exponent, fraction_at, fraction, word(16)) == expected
        }
        _ => true,
    }
}

/// A word for the elements of a type that is not numbers.
pub fn word(datatype: &Datatype) -> &'static str {
    match datatype {
        Datatype::String { .. } => "text",
        Datatype::VarLen { kind: hdf5_reader::VarLenKind::String, .. } => "text",
        Datatype::VarLen { .. } => "rows of different length",
        Datatype::Reference { .. } => "references",
        Datatype::Compound { .. } => "records",
        Datatype::Opaque { .. } => "opaque bytes",
        Datatype::Bitfield { .. } => "bit fields",
        Datatype::Array { .. } => "small arrays",
        _ => "numbers of an unusual format",
    }
}
