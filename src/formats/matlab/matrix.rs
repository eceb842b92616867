//! The head of an array: class, flags, dimensions, name; and the names of the fields of a struct.

use super::cursor::Cursor;
use super::tag::{Class, UTF_8, word};
use crate::base::error::Problem;
use crate::formats::fault;

/// Most dimensions.
const MAX_DIMENSIONS: usize = 32;
/// Longest name, bytes.
const MAX_NAME: u64 = 4096;
/// Most bytes of all field names of a struct.
const MAX_FIELD_NAMES: u64 = 1 << 20;

/// Types of stored values as in [`super::tag::stored`].
const INT_8: u32 = 1;
const UINT_8: u32 = 2;
const INT_32: u32 = 5;
const UINT_32: u32 = 6;

/// What stands before the values of an array.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Head {
    pub class: Class,
    pub complex: bool,
    /// As the writer shows them, fastest first.
    pub dimensions: Vec<u64>,
    /// Empty for fields, which are named by their struct.
    pub name: String,
}

impl Head {
    /// Reads the head; the cursor then stands at the values.
    ///
    /// # Errors
    /// `mat-element`, `mat-class`, `mat-dimensions`, and the cursor's.
    pub(super) fn read(cursor: &mut Cursor) -> Result<Self, Problem> {
        let (kind, flags) = cursor.value(8)?;
        let Some(first) = flags.first_chunk::<4>().filter(|_| kind == UINT_32) else {
            return Err(element("flags", kind));
        };
        let flags = word(*first, cursor.order);
        let class = Class::of(flags & 0xff)
            .ok_or_else(|| fault::number("mat-class", u64::from(flags & 0xff)))?;
        let mut dimensions = Vec::new();
        if class.has_dimensions() {
            let (kind, bytes) = cursor.value(4 * MAX_DIMENSIONS as u64)?;
            if kind != INT_32 && kind != UINT_32 {
                return Err(element("dimensions", kind));
            }
            let (words, _) = bytes.as_chunks::<4>();
            // Signed by the published layout: negative ones show as too large.
            dimensions = words.iter().map(|n| u64::from(word(*n, cursor.order))).collect();
        }
        let (kind, name) = cursor.value(MAX_NAME)?;
        if !matches!(kind, INT_8 | UINT_8 | UTF_8) && !name.is_empty() {
            return Err(element("name", kind));
        }
        let this = Self { class, complex: flags & 0x800 != 0, dimensions, name: until_zero(&name) };
        let negative = this.dimensions.iter().any(|n| *n > i32::MAX as u64);
        if negative || (class.has_dimensions() && this.dimensions.is_empty()) {
            let found = this.dimensions.iter().map(|n| (*n as u32 as i32).to_string());
            let found: Vec<String> = found.collect();
            return Err(fault::text("mat-dimensions", &found.join(" × ")));
        }
        Ok(this)
    }

    /// Number of elements; `None` beyond what can be counted.
    pub(super) fn elements(&self) -> Option<u64> {
        if self.dimensions.contains(&0) {
            return Some(0);
        }
        self.dimensions.iter().try_fold(1u64, |n, d| n.checked_mul(*d))
    }

    /// Dimensions in storage order, slowest first.
    pub(super) fn storage(&self) -> Vec<u64> {
        self.dimensions.iter().rev().copied().collect()
    }
}

/// Names of the fields of a struct, behind its head.
///
/// # Errors
/// `mat-element`, and the cursor's.
pub(super) fn field_names(cursor: &mut Cursor) -> Result<Vec<String>, Problem> {
    let (kind, bytes) = cursor.value(8)?;
    let len = bytes.first_chunk::<4>().map(|n| word(*n, cursor.order) as usize);
    let Some(len) = len.filter(|_| kind == INT_32 || kind == UINT_32) else {
        return Err(element("name-length", kind));
    };
    let (kind, names) = cursor.value(MAX_FIELD_NAMES)?;
    if names.is_empty() {
        return Ok(Vec::new());
    }
    if !matches!(kind, INT_8 | UINT_8 | UTF_8) || len == 0 {
        return Err(element("field-names", kind));
    }
    Ok(names.chunks(len).map(until_zero).collect())
}

/// An element of another type than stands there by the layout.
#[cold]
#[inline(never)]
pub(super) fn element(expected: &str, found: u32) -> Problem {
    Problem::new("mat-element").with("expected", expected).with("found", u64::from(found))
}

fn until_zero(bytes: &[u8]) -> String {
    let end = bytes.iter().position(|b| *b == 0).unwrap_or(bytes.len());
    String::from_utf8_lossy(bytes.get(..end).unwrap_or_default()).into_owned()
}
