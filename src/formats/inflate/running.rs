//! One stream on its way: decoder, window, input, and points to go back to.

use crc32fast::Hasher;
use miniz_oxide::inflate::TINFLStatus;
use miniz_oxide::inflate::core::inflate_flags::{
    TINFL_FLAG_HAS_MORE_INPUT, TINFL_FLAG_PARSE_ZLIB_HEADER,
};
use miniz_oxide::inflate::core::{DecompressorOxide, decompress};

use super::{Packed, Wrapper};
use crate::formats::source::SourceError;

/// Farthest back that deflate refers (RFC 1951, 2: 32 768 bytes), and what is unpacked at once.
const WINDOW: usize = 32 << 10;
/// Packed bytes read at once.
const INPUT: u64 = 256 << 10;
/// Unpacked bytes between two points to go back to, at first.
const POINT_EVERY: u64 = 16 << 20;
/// Most such points (about 45 kB each); then every other one goes.
const MAX_POINTS: usize = 256;

/// Why a stream stopped.
pub(super) enum Fault {
    Medium(SourceError),
    NotDeflate { at: u64 },
    Cut { at: u64 },
    Shorter { expected: u64, found: u64 },
    Longer { expected: u64 },
    Checksum { at: u64 },
}

/// All that is needed to go on from one place.
#[derive(Clone)]
struct Point {
    decoder: Box<DecompressorOxide>,
    /// The byte at `p` of the output stands at `p % WINDOW`, for the last `WINDOW` bytes.
    window: Vec<u8>,
    /// Bytes unpacked so far.
    made: u64,
    /// Next packed byte, as an offset in the packed source.
    next: u64,
    crc32: Hasher,
    done: bool,
}

impl Point {
    fn front(start: u64) -> Self {
        Self {
            decoder: Box::default(),
            window: vec![0; WINDOW],
            made: 0,
            next: start,
            crc32: Hasher::new(),
            done: false,
        }
    }
}

/// A stream unpacked up to some place.
pub(super) struct Running {
    here: Point,
    input: Vec<u8>,
    input_from: u64,
    points: Vec<Point>,
    every: u64,
}

impl Running {
    /// A stream at its front.
    pub(super) fn new(start: u64) -> Self {
        Self {
            here: Point::front(start),
            input: Vec::new(),
            input_from: start,
            points: Vec::new(),
            every: POINT_EVERY,
        }
    }

    /// Fills `buffer` with the unpacked bytes from `offset` on.
    pub(super) fn read(
        &mut self,
        packed: &Packed,
        offset: u64,
        buffer: &mut [u8],
    ) -> Result<(), Fault> {
        self.approach(packed, offset);
        let mut filled = 0;
        while filled < buffer.len() {
            let at = offset + filled as u64;
            if at < self.here.made {
                let from = (at % WINDOW as u64) as usize;
                let ready = (self.here.made - at).min((WINDOW - from) as u64) as usize;
                let n = ready.min(buffer.len() - filled);
                buffer[filled..filled + n].copy_from_slice(&self.here.window[from..from + n]);
                filled += n;
            } else if self.here.done {
                let expected = offset + buffer.len() as u64;
                return Err(Fault::Shorter { expected, found: self.here.made });
            } else {
                self.step(packed)?;
            }
        }
        Ok(())
    }

    /// Unpacks the rest and compares its length and checksum with what is declared.
    pub(super) fn check_end(&mut self, packed: &Packed, expected: u64) -> Result<(), Fault> {
        while !self.here.done && self.here.made <= expected {
            self.step(packed)?;
        }
        let found = self.here.made;
        if found > expected {
            return Err(Fault::Longer { expected });
        }
        if found < expected {
            return Err(Fault::Shorter { expected, found });
        }
        match packed.wrapper {
            Wrapper::Raw { crc32: Some(crc32) } if self.here.crc32.clone().finalize() != crc32 => {
                Err(Fault::Checksum { at: found })
            }
            _ => Ok(()),
        }
    }

    /// Goes to the point from which `offset` is nearest, unless the way from here is shorter.
    fn approach(&mut self, packed: &Packed, offset: u64) {
        let kept = self.here.made.saturating_sub(WINDOW as u64);
        let point = self.points.iter().rev().find(|point| point.made <= offset);
        if point.is_some_and(|point| point.made > self.here.made) || offset < kept {
            self.here = point.cloned().unwrap_or_else(|| Point::front(packed.range.start));
        }
    }

    /// Unpacks up to the end of the window.
    fn step(&mut self, packed: &Packed) -> Result<(), Fault> {
        self.mark();
        let end = packed.range.end;
        loop {
            self.fill(packed)?;
            let here = &mut self.here;
            let skip = usize::try_from(here.next - self.input_from).unwrap_or(usize::MAX);
            let input = self.input.get(skip..).unwrap_or_default();
            let mut flags = 0;
            if packed.wrapper == Wrapper::Zlib {
                flags |= TINFL_FLAG_PARSE_ZLIB_HEADER;
            }
            if here.next + (input.len() as u64) < end {
                flags |= TINFL_FLAG_HAS_MORE_INPUT;
            }
            let from = (here.made % WINDOW as u64) as usize;
            let (status, taken, written) =
                decompress(&mut here.decoder, input, &mut here.window, from, flags);
            here.next += taken as u64;
            here.made += written as u64;
            if matches!(packed.wrapper, Wrapper::Raw { crc32: Some(_) }) {
                here.crc32.update(here.window.get(from..from + written).unwrap_or_default());
            }
            match status {
                TINFLStatus::Done => {
                    here.done = true;
                    return Ok(());
                }
                TINFLStatus::HasMoreOutput => return Ok(()),
                TINFLStatus::NeedsMoreInput if here.next < end => {}
                TINFLStatus::NeedsMoreInput | TINFLStatus::FailedCannotMakeProgress => {
                    return Err(Fault::Cut { at: here.made });
                }
                TINFLStatus::Adler32Mismatch => return Err(Fault::Checksum { at: here.made }),
                _ => return Err(Fault::NotDeflate { at: here.made }),
            }
        }
    }

    /// Keeps a point where the last one lies far enough behind.
    fn mark(&mut self) {
        let last = self.points.last().map_or(0, |point| point.made);
        if self.here.made < last.saturating_add(self.every) {
            return;
        }
        self.points.push(self.here.clone());
        if self.points.len() >= MAX_POINTS {
            let mut odd = false;
            self.points.retain(|_| {
                odd = !odd;
                !odd
            });
            self.every = self.every.saturating_mul(2);
        }
    }

    /// Reads the block of packed bytes that begins at the next one, if it is not at hand.
    fn fill(&mut self, packed: &Packed) -> Result<(), Fault> {
        let next = self.here.next;
        if next >= self.input_from && next < self.input_from + self.input.len() as u64 {
            return Ok(());
        }
        let n = packed.range.end.saturating_sub(next).min(INPUT);
        self.input.resize(n as usize, 0);
        self.input_from = next;
        packed.source.read_at(next, &mut self.input).map_err(Fault::Medium)
    }
}
