//! Against zlib streams of the `flate2` crate, with jumps.

use std::io::Write;
use std::sync::Arc;

use flate2::Compression;
use flate2::write::{DeflateEncoder, ZlibEncoder};

use super::*;
use crate::formats::source::Memory;

/// Deterministic numbers (xorshift64, G. Marsaglia, J. Stat. Softw. 8(14), 2003).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }
}

/// Partly repeating, partly random bytes.
fn sample(n: usize) -> Vec<u8> {
    let mut dice = Dice(7);
    let mut out = Vec::with_capacity(n + 8);
    while out.len() < n {
        let word = dice.next();
        if word & 3 == 0 && out.len() > 40_000 {
            let from = out.len() - 1 - (word >> 8) as usize % 32_000;
            let len = (word >> 40) as usize % 200;
            out.extend_from_within(from..(from + len).min(out.len()));
        } else {
            out.extend(word.to_le_bytes());
        }
    }
    out.truncate(n);
    out
}

fn raw(bytes: &[u8], level: u32) -> Vec<u8> {
    let mut encoder = DeflateEncoder::new(Vec::new(), Compression::new(level));
    encoder.write_all(bytes).unwrap();
    encoder.finish().unwrap()
}

fn zlib(bytes: &[u8]) -> Vec<u8> {
    let mut encoder = ZlibEncoder::new(Vec::new(), Compression::default());
    encoder.write_all(bytes).unwrap();
    encoder.finish().unwrap()
}

/// The stream with 100 bytes of something else on either side.
fn packed(stream: &[u8], wrapper: Wrapper) -> Packed {
    let mut bytes = vec![0xa5; 100];
    bytes.extend(stream);
    bytes.extend([0x5a; 100]);
    Packed {
        source: Arc::new(Memory(Arc::from(bytes))),
        range: 100..100 + stream.len() as u64,
        wrapper,
        streams: Arc::default(),
    }
}

fn crc32(bytes: &[u8]) -> Wrapper {
    let mut crc = flate2::Crc::new();
    crc.update(bytes);
    Wrapper::Raw { crc32: Some(crc.sum()) }
}

#[test]
fn jumps_read_the_same_bytes() {
    let bytes = sample(400_000);
    for (stream, wrapper) in [
        (raw(&bytes, 0), crc32(&bytes)),
        (raw(&bytes, 1), Wrapper::Raw { crc32: None }),
        (raw(&bytes, 9), crc32(&bytes)),
        (zlib(&bytes), Wrapper::Zlib),
    ] {
        let inflated = packed(&stream, wrapper).unpacked(bytes.len() as u64);
        let mut dice = Dice(3);
        for _ in 0..20 {
            let from = dice.next() as usize % bytes.len();
            let n = (dice.next() as usize % 50_000).min(bytes.len() - from);
            let mut found = vec![0; n];
            inflated.read_at(from as u64, &mut found).unwrap();
            assert!(found == bytes[from..from + n], "{from} {n}");
        }
        let mut all = vec![0; bytes.len()];
        inflated.read_at(0, &mut all).unwrap();
        assert!(all == bytes);
        assert!(inflated.read_at(bytes.len() as u64, &mut [0]).is_err());
        assert!(inflated.read_at(u64::MAX, &mut [0]).is_err());
    }
}

/// Going back in a long stream begins at a kept point, not at the front: after the packed bytes of
/// the front are gone it still works.
#[test]
fn points_are_gone_back_to() {
    struct Tail {
        bytes: Memory,
        from: std::sync::atomic::AtomicU64,
    }
    impl Source for Tail {
        fn len(&self) -> u64 {
            self.bytes.len()
        }
        fn read_at(&self, offset: u64, buffer: &mut [u8]) -> Result<(), SourceError> {
            assert!(offset >= self.from.load(std::sync::atomic::Ordering::SeqCst));
            self.bytes.read_at(offset, buffer)
        }
    }
    let n = 34u64 << 20;
    let mut bytes = vec![0u8; n as usize];
    for (i, byte) in bytes.iter_mut().enumerate() {
        *byte = (i >> 16) as u8;
    }
    let stream = raw(&bytes, 1);
    let tail = Arc::new(Tail { bytes: Memory(Arc::from(stream)), from: 0.into() });
    let range = 0..tail.len();
    let wrapper = Wrapper::Raw { crc32: None };
    let packed = Packed { source: tail.clone(), range, wrapper, streams: Arc::default() };
    let inflated = packed.unpacked(n);
    let mut last = [0u8; 1];
    inflated.read_at(n - 1, &mut last).unwrap();
    assert_eq!(last[0], ((n - 1) >> 16) as u8);
    tail.from.store(1, std::sync::atomic::Ordering::SeqCst);
    for at in [n - 1, 17 << 20, 33 << 20, (16 << 20) + 40_000] {
        inflated.read_at(at, &mut last).unwrap();
        assert_eq!(last[0], (at >> 16) as u8);
    }
}

#[test]
fn wrong_lengths_and_checksums_are_told() {
    let bytes = sample(100_000);
    let stream = raw(&bytes, 6);
    let n = bytes.len() as u64;
    let detail = |packed: Packed, len: u64| {
        packed.unpacked(len).read_at(len - 1, &mut [0]).unwrap_err().detail
    };
    let good = || packed(&stream, crc32(&bytes));
    assert!(good().unpacked(n).read_at(n - 1, &mut [0]).is_ok());
    assert_eq!(
        detail(good(), n + 3),
        "(expected 100003 bytes from the deflate data, found 100000)"
    );
    assert_eq!(detail(good(), n - 3), "(expected 99997 bytes from the deflate data, found more)");
    let mut cut = good();
    cut.range.end -= 10;
    assert!(detail(cut, n).contains("cut short"));
    let mut other = good();
    other.wrapper = Wrapper::Raw { crc32: Some(1) };
    assert!(detail(other, n).contains("checksum after 100000 bytes"));

    let mut broken = zlib(&bytes);
    let last = broken.len() - 1;
    broken[last] ^= 1;
    assert!(detail(packed(&broken, Wrapper::Zlib), n).contains("checksum"));
    broken[0] = 0xff;
    assert!(detail(packed(&broken, Wrapper::Zlib), n).contains("no valid deflate data"));
}

/// A declared length is never allocated: the largest one is just an error at its end.
#[test]
fn huge_declared_lengths_cost_nothing() {
    let inflated = packed(&raw(&[1, 2, 3], 6), crc32(&[1, 2, 3])).unpacked(u64::MAX - 100);
    let mut first = [0u8; 3];
    inflated.read_at(0, &mut first).unwrap();
    assert_eq!(first, [1, 2, 3]);
    assert!(inflated.read_at(1 << 60, &mut first).is_err());
}

/// More streams than stay unpacked, read in turn.
#[test]
fn many_streams_share_few_decoders() {
    let parts: Vec<Vec<u8>> = (0..9).map(|i| sample(50_000 + i)).collect();
    let mut file = Vec::new();
    let mut ranges = Vec::new();
    for part in &parts {
        let from = file.len() as u64;
        file.extend(raw(part, 6));
        ranges.push(from..file.len() as u64);
    }
    let source: Arc<dyn Source> = Arc::new(Memory(Arc::from(file)));
    let streams = Arc::new(Streams::default());
    for round in 0..3 {
        for (part, range) in parts.iter().zip(&ranges) {
            let packed = Packed {
                source: source.clone(),
                range: range.clone(),
                wrapper: crc32(part),
                streams: streams.clone(),
            };
            let mut found = vec![0; 20_000];
            let from = round * 15_000;
            packed.unpacked(part.len() as u64).read_at(from as u64, &mut found).unwrap();
            assert!(found == part[from..from + 20_000]);
            assert!(streams.0.lock().unwrap().len() <= MAX_RUNNING);
        }
    }
}
