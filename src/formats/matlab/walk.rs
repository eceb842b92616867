//! From array to array, and into structs.

use std::collections::BTreeMap;

use super::cursor::Cursor;
use super::matrix::{Head, element, field_names};
use super::tag::{Class, MATRIX, Tag, stored};
use super::text::text;
use crate::base::error::Problem;
use crate::formats::block::Block;
use crate::formats::container::{Access, ArrayInfo, NumberKind};
use crate::formats::element::{ByteOrder, Element};
use crate::formats::fault;
use crate::formats::listing::Listing;

/// Structs in structs deeper than this are refused.
const MAX_DEPTH: usize = 16;
/// Elements of a struct array that are listed.
const MAX_STRUCT_ELEMENTS: u64 = 64;
/// Longest text, bytes as stored.
const MAX_TEXT: u64 = 64 << 10;

/// Most arrays, of whatever class.
const MAX_ARRAYS: u64 = 4096;

/// What has been found in a file so far.
pub(super) struct Found {
    pub listing: Listing,
    arrays: u64,
}

impl Found {
    pub(super) fn new(listing: Listing) -> Self {
        Self { listing, arrays: 0 }
    }

    /// Counts an array, of whatever class, against the limit.
    ///
    /// # Errors
    /// `file-too-many-arrays`.
    pub(super) fn count(&mut self) -> Result<(), Problem> {
        self.arrays += 1;
        if self.is_full() {
            return Err(Problem::new("file-too-many-arrays").with("limit", MAX_ARRAYS));
        }
        Ok(())
    }

    /// Whether the limit is passed: there is no sense in going on.
    pub(super) fn is_full(&self) -> bool {
        self.arrays > MAX_ARRAYS
    }
}

/// Walks the elements of one source: the file, or one compressed element unpacked.
pub(super) struct Walk<'a> {
    pub cursor: Cursor,
    pub access: Access,
    pub found: &'a mut Found,
}

impl Walk<'_> {
    /// Takes the array whose tag has just been read; the cursor then stands behind it.
    ///
    /// # Errors
    /// What is wrong with it, with its path or its byte.
    pub(super) fn top(&mut self, tag: Tag) -> Result<(), Problem> {
        let result = self.array(tag, "", 0);
        self.cursor.at = tag.next;
        result.map_err(|problem| fault::at(problem, &format!("byte {}", tag.data)))
    }

    /// One array: a field whose path is given, or a variable if the path is empty.
    fn array(&mut self, tag: Tag, path: &str, depth: usize) -> Result<(), Problem> {
        self.found.count()?;
        if tag.kind != MATRIX {
            return Err(element("matrix", tag.kind));
        }
        let around = std::mem::replace(&mut self.cursor.end, tag.data + tag.size);
        let result = self.inside(tag, path, depth);
        self.cursor.end = around;
        self.cursor.at = tag.next;
        result
    }

    fn inside(&mut self, tag: Tag, path: &str, depth: usize) -> Result<(), Problem> {
        if tag.size == 0 {
            // A field that was never set.
            return self.empty(path);
        }
        let head = Head::read(&mut self.cursor)?;
        if !path.is_empty() {
            return self.values(&head, path, depth);
        }
        if head.name.is_empty() {
            // What the writer keeps for itself (the subsystem's data).
            return Ok(());
        }
        let path = format!("/{}", head.name);
        self.values(&head, &path, depth).map_err(|problem| fault::at(problem, &path))
    }

    fn empty(&mut self, path: &str) -> Result<(), Problem> {
        if path.is_empty() {
            return Ok(());
        }
        let kind = NumberKind::Float { bits: 64 };
        let block = self.block(kind, self.cursor.at, &[0, 0]);
        self.insert(path, kind, block)
    }

    fn insert(&mut self, path: &str, kind: NumberKind, block: Block) -> Result<(), Problem> {
        let array = ArrayInfo {
            path: path.to_owned(),
            shape: block.shape.clone(),
            reversed: true,
            kind,
            access: self.access,
            chunk: Vec::new(),
            scales: Vec::new(),
            attributes: BTreeMap::new(),
        };
        self.found.listing.insert(array, Ok(block))
    }

    fn block(&self, kind: NumberKind, offset: u64, shape: &[u64]) -> Block {
        let element = Element { kind, order: self.cursor.order };
        Block {
            source: self.cursor.source.clone(),
            offset,
            element,
            spacing: element.bytes() as u64,
            shape: shape.to_vec(),
        }
    }

    fn values(&mut self, head: &Head, path: &str, depth: usize) -> Result<(), Problem> {
        match head.class {
            Class::Numbers(class) if head.complex => {
                self.numbers(head, class, &format!("{path}/real"))?;
                self.numbers(head, class, &format!("{path}/imag"))
            }
            Class::Numbers(class) => self.numbers(head, class, path),
            Class::Text => self.text(head, path),
            Class::Struct => self.fields(head, path, depth),
            Class::Passed(found) => {
                self.note(fault::text("mat-kind-skipped", found), path);
                Ok(())
            }
        }
    }

    fn numbers(&mut self, head: &Head, class: NumberKind, path: &str) -> Result<(), Problem> {
        let tag = self.cursor.tag()?;
        let kind = stored(tag.kind).ok_or_else(|| element("numbers", tag.kind))?;
        let block = self.block(kind, tag.data, &head.storage());
        let expected = head.elements().and_then(|n| n.checked_mul(block.spacing));
        if expected != Some(tag.size) {
            let expected = expected.unwrap_or(u64::MAX);
            return Err(fault::at(fault::differs("mat-size", expected, tag.size), path));
        }
        self.cursor.at = tag.next;
        self.insert(path, class, block)
    }

    fn text(&mut self, head: &Head, path: &str) -> Result<(), Problem> {
        let tag = self.cursor.tag()?;
        if tag.size > MAX_TEXT {
            self.note(fault::text("mat-text-skipped", "long"), path);
            return Ok(());
        }
        let flat = head.dimensions.iter().skip(2).all(|n| *n == 1);
        let rows = head.dimensions.first().copied().unwrap_or(0);
        let order: ByteOrder = self.cursor.order;
        let bytes = self.cursor.bytes(tag.size)?;
        match text(tag.kind, &bytes, order, rows).filter(|_| flat) {
            Some(text) => self.found.listing.insert_text(path, text),
            None if stored(tag.kind).is_none() => Err(element("text", tag.kind)),
            None => {
                self.note(fault::text("mat-text-skipped", "shape"), path);
                Ok(())
            }
        }
    }

    fn note(&mut self, note: Problem, path: &str) {
        self.found.listing.note(fault::at(note, path));
    }

    fn fields(&mut self, head: &Head, path: &str, depth: usize) -> Result<(), Problem> {
        if depth >= MAX_DEPTH {
            return Err(Problem::new("file-too-deep").at(path).with("limit", MAX_DEPTH));
        }
        let names = field_names(&mut self.cursor)?;
        let elements = head.elements().unwrap_or(u64::MAX);
        if elements > MAX_STRUCT_ELEMENTS {
            self.note(fault::beyond("mat-struct-skipped", elements, MAX_STRUCT_ELEMENTS), path);
        }
        for number in 1..=elements.min(MAX_STRUCT_ELEMENTS) {
            let group = match elements {
                1 => path.to_owned(),
                _ => format!("{path}({number})"),
            };
            for name in &names {
                let field = format!("{group}/{name}");
                self.cursor
                    .tag()
                    .and_then(|tag| self.array(tag, &field, depth + 1))
                    .map_err(|problem| fault::at(problem, &field))?;
            }
        }
        Ok(())
    }
}
