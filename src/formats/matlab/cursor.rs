//! Reading forward through data elements, in blocks.

use std::sync::Arc;

use super::tag::Tag;
use crate::base::error::Problem;
use crate::formats::element::ByteOrder;
use crate::formats::fault;
use crate::formats::source::Source;

/// What is read at once: many small elements stand close together.
const BLOCK: u64 = 4 << 10;

/// A place in a source, and the end of the element around it.
pub(super) struct Cursor {
    pub source: Arc<dyn Source>,
    pub order: ByteOrder,
    pub at: u64,
    /// Nothing is read from here on.
    pub end: u64,
    block: Vec<u8>,
    block_from: u64,
}

impl Cursor {
    pub(super) fn new(source: Arc<dyn Source>, order: ByteOrder, at: u64) -> Self {
        let end = source.len();
        Self { source, order, at, end, block: Vec::new(), block_from: 0 }
    }

    /// The next `n` bytes. The caller limits `n`.
    ///
    /// # Errors
    /// `mat-short` where the element around ends before; `mat-unreadable`.
    pub(super) fn bytes(&mut self, n: u64) -> Result<Vec<u8>, Problem> {
        let left = self.end.saturating_sub(self.at);
        if n > left {
            return Err(fault::differs("mat-short", n, left));
        }
        let inside =
            self.at >= self.block_from && self.at + n <= self.block_from + self.block.len() as u64;
        if !inside {
            let ahead = BLOCK.max(n).min(self.source.len().saturating_sub(self.at));
            let mut block = std::mem::take(&mut self.block);
            block.resize(ahead as usize, 0);
            self.source
                .read_at(self.at, &mut block)
                .map_err(|error| fault::text("mat-unreadable", &error.to_string()))?;
            self.block = block;
            self.block_from = self.at;
        }
        let from = (self.at - self.block_from) as usize;
        let bytes = self.block.get(from..from + n as usize).unwrap_or_default().to_vec();
        self.at += n;
        Ok(bytes)
    }

    /// The next tag; the cursor stands after it, at the value.
    ///
    /// # Errors
    /// `mat-short` where the value does not fit into the element around it.
    pub(super) fn tag(&mut self) -> Result<Tag, Problem> {
        let at = self.at;
        let bytes = self.bytes(8)?.try_into().unwrap_or_default();
        let mut tag = Tag::read(bytes, self.order, at);
        let left = if tag.is_small() { 4 } else { self.end - tag.data };
        if tag.size > left {
            return Err(fault::differs("mat-short", tag.size, left));
        }
        // The last element of all need not be filled up.
        tag.next = tag.next.min(self.end);
        self.at = tag.data;
        Ok(tag)
    }

    /// The next element: its type, and its value of at most `limit` bytes.
    ///
    /// # Errors
    /// As [`Cursor::tag`]; `mat-long`.
    pub(super) fn value(&mut self, limit: u64) -> Result<(u32, Vec<u8>), Problem> {
        let tag = self.tag()?;
        if tag.size > limit {
            return Err(fault::beyond("mat-long", tag.size, limit));
        }
        let bytes = self.bytes(tag.size)?;
        self.at = tag.next;
        Ok((tag.kind, bytes))
    }
}
