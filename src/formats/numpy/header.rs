//! The header of one array (NPY format, versions 1.0, 2.0 and 3.0, as published with NumPy:
//! "NEP 1 — A simple file format for NumPy arrays" and the documentation of `numpy.lib.format`).

use super::kind::Kind;
use super::literal::{Literal, parse};
use crate::base::error::Problem;
use crate::formats::fault;
use crate::formats::source::Source;

/// First bytes of every array.
pub(super) const MAGIC: [u8; 6] = *b"\x93NUMPY";
/// Longest header read, bytes.
const MAX_HEADER: u64 = 1 << 20;
/// Most dimensions (NumPy's own limit is 64).
const MAX_DIMENSIONS: usize = 64;

/// What a header says.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Header {
    pub kind: Kind,
    /// Whether the first dimension varies fastest in storage.
    pub fortran: bool,
    /// As written: the order in which NumPy shows them.
    pub shape: Vec<u64>,
    /// Byte of the source at which the numbers begin.
    pub data: u64,
}

impl Header {
    /// Reads the header at the front of a source.
    ///
    /// # Errors
    /// `npy-short`, `npy-magic`, `npy-version`, `npy-header-long`, `npy-header`, `npy-shape`; that
    /// of the medium as `npy-unreadable`. Without a place.
    pub(super) fn read(source: &dyn Source) -> Result<Self, Problem> {
        let prefix: [u8; 10] = bytes(source, 0, 10)?.try_into().unwrap_or_default();
        if prefix[..6] != MAGIC {
            let found: Vec<String> = prefix[..6].iter().map(|b| format!("{b:02x}")).collect();
            return Err(fault::text("npy-magic", &found.join(" ")));
        }
        let (data, len) = match prefix[6] {
            1 => (10, u64::from(u16::from_le_bytes([prefix[8], prefix[9]]))),
            2 | 3 => {
                let len: [u8; 4] = bytes(source, 8, 4)?.try_into().unwrap_or_default();
                (12, u64::from(u32::from_le_bytes(len)))
            }
            major => {
                let found = format!("{major}.{}", prefix[7]);
                return Err(fault::text("npy-version", &found));
            }
        };
        if len > MAX_HEADER {
            return Err(fault::beyond("npy-header-long", len, MAX_HEADER));
        }
        let header = bytes(source, data, len)?;
        // Version 3 is UTF-8, the others Latin-1; where a text is not UTF-8 it is Latin-1.
        let text = match String::from_utf8(header) {
            Ok(text) => text,
            Err(error) => error.into_bytes().iter().map(|b| char::from(*b)).collect(),
        };
        let header = || fault::text("npy-header", text.trim());
        let literal = parse(&text).ok_or_else(header)?;
        let descr = literal.entry("descr").ok_or_else(header)?;
        let Some(Literal::Truth(fortran)) = literal.entry("fortran_order") else {
            return Err(header());
        };
        let Some(Literal::Items(items)) = literal.entry("shape") else { return Err(header()) };
        let shape = items
            .iter()
            .map(|item| match item {
                Literal::Number(n) => Some(*n),
                _ => None,
            })
            .collect::<Option<Vec<u64>>>()
            .ok_or_else(header)?;
        let this = Self { kind: Kind::of(descr), fortran: *fortran, shape, data: data + len };
        if this.shape.len() > MAX_DIMENSIONS || this.size().is_none() {
            let found: Vec<String> = this.shape.iter().map(u64::to_string).collect();
            return Err(fault::text("npy-shape", &found.join(" × ")));
        }
        Ok(this)
    }

    /// Number of elements; `None` beyond what can be counted, with a reserve for their bytes.
    fn elements(&self) -> Option<u64> {
        // A dimension of 0 must not hide that the others cannot be multiplied.
        let full = self.shape.iter().try_fold(1u64, |n, d| n.checked_mul((*d).max(1)))?;
        Some(if self.shape.contains(&0) { 0 } else { full })
    }

    /// Bytes of all elements; those of unknown kinds count as none.
    pub(super) fn size(&self) -> Option<u64> {
        self.elements()?.checked_mul(self.kind.bytes())?.checked_add(self.data)?;
        self.elements()?.checked_mul(self.kind.bytes())
    }

    /// Whether there is exactly one element.
    pub(super) fn one(&self) -> bool {
        self.elements() == Some(1)
    }

    /// Dimensions in storage order, slowest first.
    pub(super) fn storage(&self) -> Vec<u64> {
        let mut shape = self.shape.clone();
        if self.fortran {
            shape.reverse();
        }
        shape
    }

    /// Whether the order of storage is the other way round than that shown.
    pub(super) fn reversed(&self) -> bool {
        self.fortran && self.shape.len() > 1
    }
}

/// `n` bytes of a source, not more than it has.
pub(super) fn bytes(source: &dyn Source, offset: u64, n: u64) -> Result<Vec<u8>, Problem> {
    let left = source.len().saturating_sub(offset);
    if n > left {
        return Err(fault::differs("npy-short", n, left));
    }
    let mut bytes = vec![0; n as usize];
    match source.read_at(offset, &mut bytes) {
        Ok(()) => Ok(bytes),
        Err(error) => Err(fault::text("npy-unreadable", &error.to_string())),
    }
}
