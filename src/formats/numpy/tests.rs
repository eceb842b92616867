//! Files written by NumPy 2.4 (the values by its own arithmetic), and broken ones.

use std::sync::Arc;

use super::*;
use crate::formats::container::{Attribute, Container, NumberKind, Samples};
use crate::formats::source::Memory;

macro_rules! corpus {
    ($($name:literal),* $(,)?) => {
        &[$(($name, include_bytes!(concat!("../../../tests/corpus/numpy/", $name)).as_slice())),*]
    };
}

const FILES: &[(&str, &[u8])] = corpus![
    "big_endian_fortran.npy",
    "broken_cut.npz",
    "broken_data.npz",
    "broken_encrypted.npz",
    "broken_header.npy",
    "broken_shape.npy",
    "broken_short.npy",
    "broken_twice.npz",
    "complex.npy",
    "counts.npy",
    "deflated.npz",
    "descriptor_zip64.npz",
    "stored.npz",
    "structured.npy",
    "version3_half.npy",
];

/// `round(1000 sin(n / 3))` for n = 0 … 11: what the arrays `waveforms` hold, 3 × 4.
const COUNTS: [i16; 12] = [0, 327, 618, 841, 972, 995, 909, 723, 457, 141, -191, -501];

fn bytes(name: &str) -> &'static [u8] {
    FILES.iter().find(|(n, _)| *n == name).unwrap().1
}

fn open_bytes(bytes: &[u8]) -> Result<Listing, Problems> {
    let source = Arc::new(Memory(Arc::from(bytes)));
    if Npz::looks_like(bytes) { Npz::open(source) } else { Npy::open(source) }
}

fn open(name: &str) -> Result<Listing, Problems> {
    open_bytes(bytes(name))
}

fn problem(name: &str) -> Problem {
    let mut problems = open(name).err().unwrap();
    problems.remove(0)
}

#[test]
fn counts_and_boxes_of_them() {
    let file = open("counts.npy").unwrap();
    let array = file.array("/array").unwrap();
    assert_eq!((array.shape.as_slice(), array.reversed), (&[3, 4][..], false));
    assert_eq!(array.access, Access::Random);
    assert_eq!(file.read("/array", &[0, 0], &[3, 4]), Ok(Samples::I16(COUNTS.to_vec())));
    assert_eq!(file.read("/array", &[1, 2], &[2, 1]), Ok(Samples::I16(vec![909, -191])));
    assert_eq!(file.read("/other", &[], &[]).unwrap_err().code, "array-missing");
}

#[test]
fn fortran_order_is_the_storage_reversed() {
    let file = open("big_endian_fortran.npy").unwrap();
    let array = file.array("/array").unwrap();
    assert_eq!((array.shape.as_slice(), array.reversed), (&[4, 3][..], true));
    assert_eq!(array.kind, NumberKind::Float { bits: 64 });
    // Shown row 1, column 2 is COUNTS[1 * 4 + 2].
    assert_eq!(file.read("/array", &[2, 1], &[1, 1]), Ok(Samples::F64(vec![909.0])));
}

#[test]
fn halves_and_complex_numbers() {
    let file = open("version3_half.npy").unwrap();
    let expected: Vec<f32> = COUNTS.iter().map(|n| f32::from(*n) / 256.0).collect();
    let Ok(Samples::F32(found)) = file.read("/array", &[0, 0], &[3, 4]) else { panic!() };
    // Halves keep 11 bits (IEEE 754-2019, table 3.5).
    for (f, e) in found.iter().zip(&expected) {
        assert!((f - e).abs() <= e.abs() / 2048.0, "{f} {e}");
    }
    let file = open("complex.npy").unwrap();
    assert_eq!(file.arrays().len(), 2);
    let imag = file.read("/array/imag", &[0, 1], &[2, 2]);
    assert_eq!(imag, Ok(Samples::F32(vec![7.0, 8.0, 10.0, 11.0])));
    let real = file.read("/array/real", &[1, 0], &[1, 3]);
    assert_eq!(real, Ok(Samples::F32(vec![3.0, 4.0, 5.0])));
}

#[test]
fn archives_stored_and_deflated() {
    for (name, access) in [("stored.npz", Access::Random), ("deflated.npz", Access::Sequential)] {
        let file = open(name).unwrap();
        let paths: Vec<&str> = file.arrays().iter().map(|a| a.path.as_str()).collect();
        assert_eq!(paths, ["/axes/x_m", "/dt_s", "/names", "/waveforms"]);
        assert_eq!(file.array("/waveforms").unwrap().access, access);
        assert_eq!(file.read("/waveforms", &[0, 0], &[3, 4]), Ok(Samples::I16(COUNTS.to_vec())));
        assert_eq!(file.read_numbers("/axes/x_m", 9), Ok(vec![0.0, 1e-3, 2e-3]));
        assert_eq!(file.read_numbers("/dt_s", 1), Ok(vec![1e-8]));
        let unit = file.group_attributes("/axes").remove("unit");
        assert_eq!(unit, Some(Attribute::Text("mm".to_owned())));
        assert_eq!(file.notes()[0].code, "npy-kind-skipped");
        assert_eq!(file.read("/names", &[0], &[2]).unwrap_err().code, "array-not-numbers");
    }
}

#[test]
fn zip64_with_sizes_after_the_data() {
    let file = open("descriptor_zip64.npz").unwrap();
    assert_eq!(file.read("/waveforms", &[0, 0], &[3, 4]), Ok(Samples::I16(COUNTS.to_vec())));
    let note = &file.notes()[0];
    assert_eq!(note.code, "npz-member-skipped");
    assert_eq!(note.place.path.as_deref(), Some("read me.txt"));
}

#[test]
fn broken_files_say_what_is_wrong() {
    for (name, code) in [
        ("broken_cut.npz", "zip-no-directory"),
        ("broken_data.npz", "npy-unreadable"),
        ("broken_encrypted.npz", "npz-encrypted"),
        ("broken_header.npy", "npy-header"),
        ("broken_shape.npy", "npy-shape"),
        ("broken_short.npy", "npy-short"),
        ("broken_twice.npz", "npz-duplicate"),
    ] {
        assert_eq!(problem(name).code, code, "{name}");
    }
    let short = problem("broken_short.npy");
    assert_eq!((&short.args["expected"], &short.args["found"]), (&24u64.into(), &19u64.into()));
    // Every member is told.
    assert_eq!(open("broken_encrypted.npz").err().unwrap().len(), 5);
    assert_eq!(open_bytes(b"\x93NUMPY\x04\x00\x00\x00").err().unwrap()[0].code, "npy-version");
    assert_eq!(open_bytes(b"\x93NUM").err().unwrap()[0].code, "npy-short");
    let long = [b"\x93NUMPY\x02\x00\xff\xff\xff\x7f".as_slice(), &[b' '; 50]].concat();
    assert_eq!(open_bytes(&long).err().unwrap()[0].code, "npy-header-long");
    let other = open("structured.npy").unwrap();
    assert_eq!(other.arrays()[0].kind, NumberKind::Other);
}

#[test]
fn directories_that_lie() {
    let base = bytes("stored.npz");
    let find = |sign: &[u8]| base.windows(4).position(|w| w == sign).unwrap();
    let (entry, end) = (find(b"PK\x01\x02"), find(b"PK\x05\x06"));
    let with = |at: usize, new: &[u8]| {
        let mut changed = base.to_vec();
        changed[at..at + new.len()].copy_from_slice(new);
        open_bytes(&changed).err().unwrap().remove(0).code
    };
    assert_eq!(with(end + 4, &[1, 0]), "zip-parts");
    assert_eq!(with(end + 16, &[0xff; 2]), "zip-directory-place");
    assert_eq!(with(end + 8, &[9, 0, 9, 0]), "zip-directory");
    assert_eq!(with(end + 8, &[0xff, 0xfe, 0xff, 0xfe]), "npz-too-many-members");
    assert_eq!(with(entry + 42, &[7, 0]), "zip-member");
    assert_eq!(with(entry + 20, &[0, 1, 1, 0]), "zip-member-short");
    assert_eq!(with(entry + 20, &[0xff, 0]), "zip-overlap");
    assert_eq!(with(entry + 24, &[0xff]), "npz-size");
    let mut method = base.to_vec();
    method[entry + 10] = 12;
    let notes = open_bytes(&method).unwrap().notes();
    assert!(notes.iter().any(|note| note.code == "npz-method"));
    assert_eq!(open_bytes(&base[end..]).err().unwrap()[0].code, "zip-directory-place");
    let mut empty = b"PK\x05\x06".to_vec();
    empty.resize(22, 0);
    assert_eq!(open_bytes(&empty).err().unwrap()[0].code, "npz-no-arrays");
}

/// Whatever the bytes, there is an answer: arrays as long as they say, or problems.
#[test]
fn no_change_of_the_bytes_breaks_the_reader() {
    // xorshift64, G. Marsaglia, J. Stat. Softw. 8(14), 2003.
    let mut state = 0x9e37_79b9_7f4a_7c15u64;
    let mut dice = |n: usize| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        (state >> 16) as usize % n.max(1)
    };
    let (mut opened, mut refused) = (0, 0);
    for round in 0..240 {
        for (name, base) in FILES {
            // Those that are broken already mostly stay so.
            if name.starts_with("broken") && round % 8 > 1 {
                continue;
            }
            let mut bytes = base.to_vec();
            match round % 4 {
                0 => bytes.truncate(dice(base.len())),
                1 => {
                    let (_, other) = FILES[dice(FILES.len())];
                    let (at, from) = (dice(bytes.len()), dice(other.len()));
                    bytes.splice(at.., other[from..].iter().copied());
                }
                _ => {
                    for _ in 0..=dice(3) * (round % 2) {
                        let (at, bit) = (dice(bytes.len()), dice(8));
                        bytes[at] ^= 1 << bit;
                    }
                }
            }
            let source = Arc::new(Memory(Arc::from(bytes)));
            let result = if name.ends_with('z') { Npz::open(source) } else { Npy::open(source) };
            match result {
                Err(problems) => {
                    assert!(!problems.is_empty());
                    refused += 1;
                }
                Ok(file) => {
                    opened += 1;
                    for array in file.arrays() {
                        if let Ok(numbers) = file.read_numbers(&array.path, 10_000) {
                            assert_eq!(numbers.len() as u64, array.elements());
                        }
                    }
                }
            }
        }
    }
    assert!(opened > 300 && refused > 300, "{opened} {refused}");
}
