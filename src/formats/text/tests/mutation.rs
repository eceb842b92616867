//! No input brings the reader down.

use std::sync::Arc;

use super::super::super::container::Container;
use super::super::super::source::Memory;
use super::super::{Text, looks_like_text};
use super::corpus::FILES;

/// The generator of Marsaglia, "Xorshift RNGs", J. Stat. Softw. 8(14), 2003 (13, 7, 17).
struct Random(u64);

impl Random {
    fn below(&mut self, n: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % n.max(1) as u64) as usize
    }
}

/// Bytes that mean something to the reader.
const TELLING: &[u8] = b",;\t \"'#%/=:[]()-+.0e\n\r\0\xb5\xff";

fn mutate(bytes: &mut Vec<u8>, random: &mut Random) {
    for _ in 0..=random.below(4) {
        let at = random.below(bytes.len());
        match random.below(6) {
            0 => bytes.truncate(at),
            1 => {
                if let Some(byte) = bytes.get_mut(at) {
                    *byte ^= 1 << random.below(8);
                }
            }
            2 => {
                if let Some(byte) = bytes.get_mut(at) {
                    *byte = TELLING[random.below(TELLING.len())];
                }
            }
            3 => {
                let other = FILES[random.below(FILES.len())].1;
                let from = random.below(other.len());
                let to = from + random.below(other.len() - from);
                bytes.splice(at..at, other[from..to].iter().copied());
            }
            4 => {
                let to = at + random.below(bytes.len() - at);
                bytes.drain(at..to);
            }
            _ => {
                let to = at + random.below((bytes.len() - at).min(40));
                let part = bytes[at..to].to_vec();
                bytes.splice(at..at, part);
            }
        }
    }
}

#[test]
fn broken_files_are_read_or_refused() {
    let mut random = Random(0x2545_f491_4f6c_dd1d);
    let (mut opened, mut refused) = (0, 0);
    for case in 0..4000 {
        let mut bytes = FILES[case % FILES.len()].1.to_vec();
        mutate(&mut bytes, &mut random);
        let source = Arc::new(Memory(Arc::from(bytes.as_slice())));
        let _ = looks_like_text(source.as_ref());
        match Text::open(source) {
            Ok(text) => {
                opened += 1;
                for array in text.arrays() {
                    let numbers = text.read_numbers(&array.path, 1 << 16);
                    let found = numbers.map(|n| n.len() as u64).map_err(|p| p.code);
                    assert_eq!(found, Ok(array.elements()), "case {case}: {}", array.path);
                }
            }
            Err(problems) => {
                refused += 1;
                assert!(!problems.is_empty(), "case {case}");
            }
        }
    }
    assert!(opened > 500 && refused > 500, "{opened} {refused}");
}
