//! An array that lies in one piece in a source: boxes of it, in few reads.

use std::sync::Arc;

use super::container::Samples;
use super::element::Element;
use super::source::{Source, SourceError};
use crate::base::error::Problem;

/// Largest box read at once, bytes.
const MAX_READ_BYTES: u64 = 128 << 20;
/// What is read at once to pick short runs from.
const WINDOW: u64 = 4 << 20;
/// A gap up to this size is read over rather than skipped: a read of its own costs as much.
const SKIP: u64 = 256 << 10;

/// Numbers stored without gaps or filters, slowest dimension first.
#[derive(Clone)]
pub struct Block {
    pub source: Arc<dyn Source>,
    /// Byte of the first number.
    pub offset: u64,
    pub element: Element,
    /// Bytes from one number to the next: the element's own, or twice that for parts of complex numbers.
    pub spacing: u64,
    /// Storage order, slowest first.
    pub shape: Vec<u64>,
}

impl Block {
    /// Bytes that the whole array takes in the source; `None` beyond what can be addressed.
    pub fn span(&self) -> Option<u64> {
        self.shape.iter().try_fold(self.spacing, |n, d| n.checked_mul(*d))
    }

    /// Reads a box, row-major.
    ///
    /// # Errors
    /// `box-outside-array`, `box-too-large`; `file-short` where the source ends before the box does.
    pub fn read(&self, path: &str, start: &[u64], count: &[u64]) -> Result<Samples, Problem> {
        let inside = start.len() == self.shape.len()
            && count.len() == self.shape.len()
            && start
                .iter()
                .zip(count)
                .zip(&self.shape)
                .all(|((s, c), n)| s.checked_add(*c).is_some_and(|end| end <= *n));
        if !inside || self.span().is_none() {
            return Err(Problem::new("box-outside-array").at(path));
        }
        let wanted = count.iter().fold(self.spacing, |n, d| n.saturating_mul(*d));
        if wanted > MAX_READ_BYTES {
            return Err(Problem::new("box-too-large")
                .at(path)
                .with("found", wanted)
                .with("limit", MAX_READ_BYTES));
        }
        if wanted == 0 {
            return Ok(self.element.decode(&[]));
        }
        let (run, starts) = self.runs(start, count);
        self.gather(&starts, run)
            .map(|bytes| self.decode(&bytes))
            .map_err(|error| Problem::new("file-short").at(path).with("found", error.to_string()))
    }

    fn decode(&self, bytes: &[u8]) -> Samples {
        let width = self.element.bytes();
        if self.spacing as usize == width {
            return self.element.decode(bytes);
        }
        let kept: Vec<u8> = bytes
            .chunks(self.spacing as usize)
            .filter_map(|chunk| chunk.get(..width))
            .flatten()
            .copied()
            .collect();
        self.element.decode(&kept)
    }

    /// Bytes of each unbroken run of the box, and where in the source each begins.
    fn runs(&self, start: &[u64], count: &[u64]) -> (u64, Vec<u64>) {
        let rank = self.shape.len();
        let mut strides = vec![self.spacing; rank];
        for d in (1..rank).rev() {
            strides[d - 1] = strides[d] * self.shape[d];
        }
        let whole = (0..rank).rev().take_while(|d| count[*d] == self.shape[*d]).count();
        // The dimension before those covered whole is still unbroken over its own count.
        let outer = rank.saturating_sub(whole + 1);
        let run = count[outer..].iter().fold(self.spacing, |n, c| n * c);
        let base: u64 = start.iter().zip(&strides).map(|(s, stride)| s * stride).sum();
        let mut starts = vec![self.offset + base];
        for d in 0..outer {
            starts = starts
                .iter()
                .flat_map(|from| (0..count[d]).map(move |i| (*from, i)))
                .map(|(from, i)| from + i * strides[d])
                .collect();
        }
        (run, starts)
    }

    /// The bytes of all runs, in order.
    fn gather(&self, starts: &[u64], run: u64) -> Result<Vec<u8>, SourceError> {
        let n = run as usize;
        // The part of the last number that belongs to another part is not there for the last run.
        let end = self.source.len();
        let mut out = vec![0u8; n * starts.len()];
        let mut at = 0;
        while at < starts.len() {
            let first = starts[at];
            let mut last = at;
            while last + 1 < starts.len()
                && starts[last + 1] - (starts[last] + run) <= SKIP
                && starts[last + 1] + run - first <= WINDOW
            {
                last += 1;
            }
            let slack = self.spacing - self.element.bytes() as u64;
            if last == at {
                let part = &mut out[at * n..(at + 1) * n];
                let take = run.min(end.saturating_sub(first)).max(run - slack) as usize;
                self.source.read_at(first, &mut part[..take])?;
            } else {
                let span = starts[last] + run - first;
                let mut window = vec![0u8; span as usize];
                let take = span.min(end.saturating_sub(first)).max(span - slack) as usize;
                self.source.read_at(first, &mut window[..take])?;
                for i in at..=last {
                    let from = (starts[i] - first) as usize;
                    out[i * n..(i + 1) * n].copy_from_slice(&window[from..from + n]);
                }
            }
            at = last + 1;
        }
        Ok(out)
    }
}

#[cfg(test)]
mod tests {
    use super::super::container::NumberKind;
    use super::super::element::ByteOrder;
    use super::super::source::Memory;
    use super::*;

    fn block(shape: &[u64], spacing: u64, offset: u64) -> Block {
        let n: u64 = shape.iter().product();
        let mut bytes = vec![0xee; offset as usize];
        for i in 0..n {
            let mut cell = (i as i16).to_le_bytes().to_vec();
            cell.resize(spacing as usize, 0xdd);
            bytes.extend(cell);
        }
        Block {
            source: Arc::new(Memory(Arc::from(bytes))),
            offset,
            element: Element {
                kind: NumberKind::Integer { bits: 16, signed: true },
                order: ByteOrder::Little,
            },
            spacing,
            shape: shape.to_vec(),
        }
    }

    #[test]
    fn every_box_of_a_small_array() {
        let shape = [3u64, 4, 5];
        for spacing in [2, 4] {
            let block = block(&shape, spacing, 7);
            for a in 0..3 {
                for (b, nb) in [(0, 4), (1, 2), (3, 1)] {
                    for (c, nc) in [(0, 5), (0, 2), (4, 1)] {
                        let read = block.read("/a", &[a, b, c], &[3 - a, nb, nc]);
                        let mut expected = Vec::new();
                        for i in a..3 {
                            for j in b..b + nb {
                                for k in c..c + nc {
                                    expected.push((i * 20 + j * 5 + k) as i16);
                                }
                            }
                        }
                        assert_eq!(read, Ok(Samples::I16(expected)));
                    }
                }
            }
        }
    }

    #[test]
    fn boxes_outside_and_short_sources() {
        let mut short = block(&[2, 4], 2, 0);
        assert_eq!(short.read("/a", &[1, 2], &[1, 3]).unwrap_err().code, "box-outside-array");
        assert_eq!(
            short.read("/a", &[0, u64::MAX], &[1, 2]).unwrap_err().code,
            "box-outside-array"
        );
        short.shape = vec![4, 4];
        assert_eq!(short.read("/a", &[0, 0], &[4, 4]).unwrap_err().code, "file-short");
        short.shape = vec![1 << 40, 1 << 40];
        assert_eq!(short.read("/a", &[0, 0], &[1, 1]).unwrap_err().code, "box-outside-array");
        short.shape = vec![1 << 30, 4];
        assert_eq!(short.read("/a", &[0, 0], &[1 << 30, 4]).unwrap_err().code, "box-too-large");
    }

    #[test]
    fn no_dimensions_is_one_number() {
        assert_eq!(block(&[], 2, 3).read("/a", &[], &[]), Ok(Samples::I16(vec![0])));
    }
}
