//! Lines of a source, in blocks, never the whole of it.

use super::super::source::Source;
use crate::base::error::Problem;

/// What is read at once, bytes.
pub const BLOCK_BYTES: usize = 1 << 20;
/// Longest line, bytes.
pub const MAX_LINE_BYTES: usize = 16 << 20;

/// A line without its end.
pub struct Line<'a> {
    /// Byte of the file at which it begins.
    pub offset: u64,
    pub bytes: &'a [u8],
}

/// Reads lines from an offset on.
pub struct Lines<'a> {
    source: &'a dyn Source,
    terminator: u8,
    block: usize,
    buffer: Vec<u8>,
    /// Start of the next line in the buffer.
    at: usize,
    /// Byte of the file at which the buffer begins.
    offset: u64,
}

/// The byte that ends lines: LF wherever one occurs (a CR before it is dropped), else CR.
pub fn terminator(head: &[u8]) -> u8 {
    if !head.contains(&b'\n') && head.contains(&b'\r') { b'\r' } else { b'\n' }
}

/// Whether there is nothing on the line (a lone end-of-file mark, 0x1a, counts as nothing).
pub fn is_blank(line: &[u8]) -> bool {
    line.iter().all(|b| b.is_ascii_whitespace() || *b == 0x1a)
}

impl<'a> Lines<'a> {
    /// Lines from `offset` on, read in blocks of about `block` bytes.
    pub fn new(source: &'a dyn Source, offset: u64, terminator: u8, block: usize) -> Self {
        let block = block.clamp(256, BLOCK_BYTES);
        Self { source, terminator, block, buffer: Vec::new(), at: 0, offset }
    }

    /// The next line; `None` at the end.
    ///
    /// # Errors
    /// `text-broken` where the source cannot be read, `text-line-too-long`.
    pub fn next_line(&mut self) -> Result<Option<Line<'_>>, Problem> {
        let mut seen = self.at;
        let (stop, next) = loop {
            let unseen = self.buffer.get(seen..).unwrap_or_default();
            if let Some(found) = unseen.iter().position(|b| *b == self.terminator) {
                break (seen + found, seen + found + 1);
            }
            let line = self.buffer.len() - self.at;
            if line > MAX_LINE_BYTES {
                return Err(Problem::new("text-line-too-long")
                    .at(format!("byte {}", self.offset + self.at as u64))
                    .with("limit", MAX_LINE_BYTES));
            }
            if !self.fill()? {
                if line == 0 {
                    return Ok(None);
                }
                break (self.buffer.len(), self.buffer.len());
            }
            seen = line;
        };
        let (start, offset) = (self.at, self.offset + self.at as u64);
        self.at = next;
        let mut bytes = self.buffer.get(start..stop).unwrap_or_default();
        if let Some(rest) = bytes.strip_suffix(b"\r") {
            bytes = rest;
        }
        Ok(Some(Line { offset, bytes }))
    }

    /// Drops what was given out and reads a block more; false at the end of the source.
    fn fill(&mut self) -> Result<bool, Problem> {
        self.buffer.drain(..self.at);
        self.offset += self.at as u64;
        self.at = 0;
        let kept = self.buffer.len();
        let end = self.offset + kept as u64;
        let left = self.source.len().saturating_sub(end);
        let n = usize::try_from(left).unwrap_or(usize::MAX).min(self.block);
        if n == 0 {
            return Ok(false);
        }
        self.buffer.resize(kept + n, 0);
        let fresh = self.buffer.get_mut(kept..).unwrap_or_default();
        self.source.read_at(end, fresh).map_err(|error| {
            Problem::new("text-broken").at(format!("byte {end}")).with("found", error.to_string())
        })?;
        Ok(true)
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::super::super::source::Memory;
    use super::*;

    fn all(text: &[u8], block: usize) -> Vec<(u64, String)> {
        let source = Memory(Arc::from(text));
        let mut lines = Lines::new(&source, 0, terminator(text), block);
        let mut out = Vec::new();
        while let Some(line) = lines.next_line().expect("readable") {
            out.push((line.offset, String::from_utf8_lossy(line.bytes).into_owned()));
        }
        out
    }

    #[test]
    fn three_kinds_of_ends() {
        for (text, offset) in [("ab\ncd", 3), ("ab\r\ncd\r\n", 4), ("ab\rcd\r", 3)] {
            assert_eq!(all(text.as_bytes(), 1), [(0, "ab".into()), (offset, "cd".into())]);
        }
        assert_eq!(all(b"", 1), []);
        assert_eq!(all(b"\n\n", 1), [(0, String::new()), (1, String::new())]);
    }

    #[test]
    fn lines_across_blocks() {
        let text: String = (0..400).map(|i| format!("{}\n", "x".repeat(i))).collect();
        let lines = all(text.as_bytes(), 256);
        assert_eq!(lines.len(), 400);
        assert!(lines.iter().enumerate().all(|(i, (_, line))| line.len() == i));
    }

    #[test]
    fn a_line_without_end_is_refused() {
        let source = Memory(Arc::from(vec![b'1'; MAX_LINE_BYTES + 2 * BLOCK_BYTES]));
        let refused = Lines::new(&source, 0, b'\n', BLOCK_BYTES).next_line().err();
        assert_eq!(refused.map(|p| p.code), Some("text-line-too-long".to_owned()));
    }
}
