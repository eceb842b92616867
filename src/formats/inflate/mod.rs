//! Deflated bytes as a [`Source`]: read anywhere, unpacked from the front on.
//!
//! Formats: RFC 1951 (deflate), RFC 1950 (zlib wrapper). Nothing is allocated from declared sizes:
//! a stream holds its window, one block of input and a bounded number of points to go back to.

mod running;
#[cfg(test)]
mod tests;

use std::ops::Range;
use std::sync::{Arc, Mutex, PoisonError};

use super::source::{Source, SourceError};
use running::{Fault, Running};

/// Streams that stay unpacked half-way; of others the next read begins at their front again.
const MAX_RUNNING: usize = 4;
/// A read that comes this near to the end also checks the end.
const NEAR_END: u64 = 64;
/// Most bytes that one deflated byte can stand for: 258 bytes in two bits (RFC 1951, 3.2.5 and
/// 3.2.7: a length code and a distance code of one bit each).
const MAX_RATIO: u64 = 1032;

/// What stands around the deflated data.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wrapper {
    /// Nothing (RFC 1951); the CRC-32 of the unpacked bytes if it is stored elsewhere.
    Raw { crc32: Option<u32> },
    /// Two bytes before and an Adler-32 after (RFC 1950).
    Zlib,
}

/// The streams of one source that are unpacked half-way, the last used last.
#[derive(Default)]
pub struct Streams(Mutex<Vec<(Range<u64>, Running)>>);

/// A range of deflated bytes.
#[derive(Clone)]
pub struct Packed {
    pub source: Arc<dyn Source>,
    pub range: Range<u64>,
    pub wrapper: Wrapper,
    /// Shared by all ranges of this source, so that memory does not grow with their number.
    pub streams: Arc<Streams>,
}

impl Packed {
    /// Most bytes into which the range can unpack, whatever is in it.
    pub fn at_most(&self) -> u64 {
        self.range.end.saturating_sub(self.range.start).saturating_mul(MAX_RATIO)
    }

    /// The first bytes, before the length of the whole is known.
    ///
    /// # Errors
    /// When the data are no deflate stream, end before `buffer` is full, or the medium fails.
    pub fn first(&self, buffer: &mut [u8]) -> Result<(), SourceError> {
        self.run(0, buffer, None)
    }

    /// The whole as a source of `len` bytes.
    pub fn unpacked(self, len: u64) -> Inflated {
        Inflated { packed: self, len }
    }

    fn run(&self, offset: u64, buffer: &mut [u8], len: Option<u64>) -> Result<(), SourceError> {
        let wanted = buffer.len() as u64;
        let mut streams = self.streams.0.lock().unwrap_or_else(PoisonError::into_inner);
        // Taken out while it runs: one that fails is not used again.
        let mut running = match streams.iter().position(|(range, _)| *range == self.range) {
            Some(at) => streams.remove(at).1,
            None => Running::new(self.range.start),
        };
        let near_end = |len: &u64| (offset + wanted).saturating_add(NEAR_END) >= *len;
        running
            .read(self, offset, buffer)
            .and_then(|()| match len.filter(near_end) {
                Some(len) => running.check_end(self, len),
                None => Ok(()),
            })
            .map_err(|fault| {
                let len = len.unwrap_or(self.range.end - self.range.start);
                SourceError { offset, wanted, len, detail: detail(&fault) }
            })?;
        if streams.len() >= MAX_RUNNING {
            streams.remove(0);
        }
        streams.push((self.range.clone(), running));
        Ok(())
    }
}

fn detail(fault: &Fault) -> String {
    match fault {
        Fault::Medium(error) => format!("(compressed {error})"),
        Fault::NotDeflate { at } => format!("(no valid deflate data after {at} bytes)"),
        Fault::Cut { at } => format!("(the deflate data are cut short after {at} bytes)"),
        Fault::Shorter { expected, found } => {
            format!("(expected {expected} bytes from the deflate data, found {found})")
        }
        Fault::Longer { expected } => {
            format!("(expected {expected} bytes from the deflate data, found more)")
        }
        Fault::Checksum { at } => format!("(the checksum after {at} bytes does not match)"),
    }
}

/// Unpacked bytes of a range of another source.
pub struct Inflated {
    packed: Packed,
    /// Length as declared; checked when a read comes near the end.
    len: u64,
}

impl Source for Inflated {
    fn len(&self) -> u64 {
        self.len
    }

    fn read_at(&self, offset: u64, buffer: &mut [u8]) -> Result<(), SourceError> {
        let wanted = buffer.len() as u64;
        if offset.checked_add(wanted).is_none_or(|end| end > self.len) {
            let detail = String::new();
            return Err(SourceError { offset, wanted, len: self.len, detail });
        }
        if buffer.is_empty() {
            return Ok(());
        }
        self.packed.run(offset, buffer, Some(self.len))
    }
}
