//! Files written by SciPy 1.17 (`scipy.io.savemat`), one built by hand in the other byte order, and
//! broken ones.

use std::sync::Arc;

use super::*;
use crate::formats::container::{Attribute, Container, NumberKind, Samples};
use crate::formats::source::Memory;

macro_rules! corpus {
    ($($name:literal),* $(,)?) => {
        &[$(($name, include_bytes!(concat!("../../../tests/corpus/matlab/", $name)).as_slice())),*]
    };
}

const FILES: &[(&str, &[u8])] = corpus![
    "big_endian.mat",
    "broken_checksum.mat",
    "broken_dimensions.mat",
    "broken_short.mat",
    "broken_size.mat",
    "compressed.mat",
    "level_4.mat",
    "plain.mat",
];

fn bytes(name: &str) -> &'static [u8] {
    FILES.iter().find(|(n, _)| *n == name).unwrap().1
}

fn open_bytes(bytes: &[u8]) -> Result<Listing, Problems> {
    Mat::open(Arc::new(Memory(Arc::from(bytes))))
}

fn open(name: &str) -> Result<Listing, Problems> {
    assert!(Mat::looks_like(bytes(name)));
    open_bytes(bytes(name))
}

fn text(file: &Listing, group: &str, name: &str) -> String {
    match file.group_attributes(group).remove(name) {
        Some(Attribute::Text(text)) => text,
        other => panic!("{other:?}"),
    }
}

/// `waveforms` is the 3 × 4 matrix of `round(1000 sin(n / 3))`, n = 0 … 11 row by row.
#[test]
fn plain_and_compressed_files_hold_the_same() {
    for (name, access) in [("plain.mat", Access::Random), ("compressed.mat", Access::Sequential)] {
        let file = open(name).unwrap();
        let array = file.array("/waveforms").unwrap();
        assert_eq!((array.shape.as_slice(), array.reversed), (&[4, 3][..], true));
        assert_eq!(array.kind, NumberKind::Integer { bits: 16, signed: true });
        assert_eq!(array.access, access);
        let columns = vec![0, 972, 457, 327, 995, 141, 618, 909, -191, 841, 723, -501];
        assert_eq!(file.read("/waveforms", &[0, 0], &[4, 3]), Ok(Samples::I16(columns)));
        let box_ = file.read("/waveforms", &[1, 1], &[2, 2]);
        assert_eq!(box_, Ok(Samples::I16(vec![995, 141, 909, -191])));
        assert_eq!(file.read_numbers("/gain", 3), Ok(vec![1.0, 2.0, 300.0]));
        assert_eq!(file.read_numbers("/scan/x_m", 2), Ok(vec![0.0, 1e-3]));
        assert_eq!(text(&file, "", "unit"), "V");
        assert_eq!(text(&file, "/scan/head", "name"), "Probe µ");
        let note = &file.notes()[0];
        assert_eq!(
            (note.code.as_str(), note.place.path.as_deref()),
            ("mat-kind-skipped", Some("/cell"))
        );
        assert_eq!(note.args["found"], "cell".into());
    }
}

#[test]
fn complex_empty_and_struct_arrays() {
    let file = open("compressed.mat").unwrap();
    assert_eq!(file.read_numbers("/z/real", 2), Ok(vec![1.0, 3.0]));
    assert_eq!(file.read_numbers("/z/imag", 2), Ok(vec![2.0, -4.0]));
    assert_eq!(file.array("/empty").unwrap().shape, [0, 0]);
    assert_eq!(file.read_numbers("/empty", 0), Ok(vec![]));
    assert_eq!(file.read_numbers("/step(1)/level", 1), Ok(vec![0.5]));
    assert_eq!(file.read_numbers("/step(2)/level", 1), Ok(vec![0.25]));
    let paths: Vec<&str> = file.arrays().iter().map(|a| a.path.as_str()).collect();
    assert!(paths.is_sorted());
}

/// Numbers of a floating-point class stand in the file as small integers; global and logical flags;
/// a field never set; the nameless array at the end.
#[test]
fn classes_differ_from_stored_types() {
    let file = open("big_endian.mat").unwrap();
    let all = file.read("/a", &[0, 0], &[3, 2]);
    assert_eq!(all, Ok(Samples::F64(vec![1.0, 2.0, 3.0, 4.0, 5.0, 250.0])));
    assert_eq!(file.array("/a").unwrap().kind, NumberKind::Float { bits: 64 });
    let single = file.read("/single_as_int", &[0, 0], &[2, 1]);
    assert_eq!(single, Ok(Samples::F32(vec![-7.0, 300.0])));
    assert_eq!(file.read("/yes", &[0, 0], &[2, 1]), Ok(Samples::I16(vec![1, 0])));
    assert_eq!(file.read_numbers("/s/t_s", 2), Ok(vec![0.5, -0.25]));
    assert_eq!(file.array("/s/unset").unwrap().elements(), 0);
    assert_eq!(text(&file, "", "unit"), "µm");
    assert_eq!(file.arrays().len(), 5);
    assert_eq!(file.notes(), vec![]);
}

#[test]
fn broken_files_say_what_is_wrong() {
    for (name, code, place) in [
        ("broken_checksum.mat", "mat-unreadable", Some("byte 634")),
        ("broken_dimensions.mat", "mat-dimensions", Some("byte 136")),
        ("broken_short.mat", "mat-short", Some("byte 360")),
        ("broken_size.mat", "mat-size", Some("/a")),
        ("level_4.mat", "mat-level-4", None),
    ] {
        let problems = open(name).err().unwrap();
        assert_eq!(problems.len(), 1);
        assert_eq!((problems[0].code.as_str(), problems[0].place.path.as_deref()), (code, place));
    }
    let mut version = bytes("plain.mat").to_vec();
    version[125] = 2;
    assert_eq!(open_bytes(&version).err().unwrap()[0].code, "mat-version");
    assert_eq!(open_bytes(&version[..100]).err().unwrap()[0].code, "mat-short");
    version[126] = b'X';
    assert_eq!(open_bytes(&version).err().unwrap()[0].code, "mat-unknown");
    let twice = [bytes("plain.mat"), &bytes("plain.mat")[128..]].concat();
    let problems = open_bytes(&twice).err().unwrap();
    assert!(problems.len() > 2 && problems.iter().all(|p| p.code == "mat-duplicate"));
}

/// Data elements, little endian.
fn element(kind: u32, value: &[u8]) -> Vec<u8> {
    let mut out = [kind.to_le_bytes(), (value.len() as u32).to_le_bytes()].concat();
    out.extend(value);
    out.resize(out.len().next_multiple_of(8), 0);
    out
}

fn words(kind: u32, values: &[u32]) -> Vec<u8> {
    element(kind, &values.iter().flat_map(|n| n.to_le_bytes()).collect::<Vec<u8>>())
}

fn array(class: u32, dimensions: &[u32], name: &str, rest: &[Vec<u8>]) -> Vec<u8> {
    let head = [words(6, &[class, 0]), words(5, dimensions), element(1, name.as_bytes())];
    element(MATRIX, &[head.concat(), rest.concat()].concat())
}

fn file(elements: &[Vec<u8>]) -> Result<Listing, Problems> {
    open_bytes(&[bytes("plain.mat")[..128].to_vec(), elements.concat()].concat())
}

fn field_a() -> [Vec<u8>; 2] {
    [words(5, &[2]), element(1, b"a\0")]
}

#[test]
fn limits() {
    let number = || array(6, &[1, 1], "", &[element(2, &[7])]);
    let structure = |dimensions: &[u32], name: &str, fields: Vec<Vec<u8>>| {
        array(2, dimensions, name, &[field_a().concat(), fields.concat()])
    };
    // 64 elements of 70 are listed.
    let found = file(&[structure(&[70, 1], "s", (0..70).map(|_| number()).collect())]).unwrap();
    assert_eq!(found.arrays().len(), 64);
    assert_eq!(found.read_numbers("/s(64)/a", 1), Ok(vec![7.0]));
    assert_eq!(found.notes()[0].code, "mat-struct-skipped");
    // Sixteen structs in each other, not seventeen.
    let nested = |n: usize| {
        let inner = (1..n).fold(number(), |inner, _| structure(&[1, 1], "", vec![inner]));
        file(&[structure(&[1, 1], "s", vec![inner])])
    };
    assert_eq!(nested(16).unwrap().arrays().len(), 1);
    assert_eq!(nested(17).err().unwrap()[0].code, "file-too-deep");
    let many: Vec<_> =
        (0..4097).map(|i| array(6, &[1, 1], &format!("v{i}"), &[element(2, &[7])])).collect();
    assert_eq!(file(&many[..4096]).unwrap().arrays().len(), 4096);
    assert_eq!(file(&many).err().unwrap()[0].code, "file-too-many-arrays");
    // More elements than there is file for.
    let huge = [u32::MAX >> 1; 3];
    assert_eq!(
        file(&[array(6, &huge, "x", &[element(2, &[7])])]).err().unwrap()[0].code,
        "mat-size"
    );
    let short = file(&[structure(&huge, "s", vec![number()])]).err().unwrap();
    assert_eq!(
        (short[0].code.as_str(), short[0].place.path.as_deref()),
        ("mat-short", Some("/s(2)/a"))
    );
    let cells: Vec<_> = (0..60).map(|i| array(1, &[0, 0], &format!("c{i}"), &[])).collect();
    let notes = file(&cells).unwrap().notes();
    assert_eq!((notes.len(), notes[50].args["found"].clone()), (51, 10u64.into()));
}

#[test]
fn compressed_elements_that_lie() {
    use std::io::Write;
    let pack = |bytes: &[u8]| {
        let level = flate2::Compression::default();
        let mut encoder = flate2::write::ZlibEncoder::new(Vec::new(), level);
        encoder.write_all(bytes).unwrap();
        let stream = encoder.finish().unwrap();
        [COMPRESSED.to_le_bytes().to_vec(), (stream.len() as u32).to_le_bytes().to_vec(), stream]
            .concat()
    };
    let values: Vec<u8> = (0..40_000u32).flat_map(|n| (n ^ n >> 3).to_le_bytes()).collect();
    let good = array(13, &[40_000, 1], "x", &[element(6, &values)]);
    let found = file(&[pack(&good), pack(&array(6, &[1, 1], "y", &[element(2, &[1])]))]).unwrap();
    let last = found.read("/x", &[0, 39_999], &[1, 1]).unwrap();
    assert_eq!(last, Samples::F64(vec![f64::from(39_999u32 ^ 39_999 >> 3)]));
    // A size that the stream cannot hold, and one that it does not.
    let mut lie = good.clone();
    lie[4..8].copy_from_slice(&u32::MAX.to_le_bytes());
    assert_eq!(file(&[pack(&lie)]).err().unwrap()[0].code, "mat-packed-size");
    let cut = file(&[pack(&good[..140_000])]).unwrap();
    assert_eq!(cut.read("/x", &[0, 39_999], &[1, 1]).unwrap_err().code, "mat-damaged");
    // Something else inside.
    let inner = file(&[pack(&element(9, &[0; 8]))]).err().unwrap();
    assert_eq!(
        (inner[0].code.as_str(), inner[0].place.path.as_deref()),
        ("mat-element", Some("byte 136"))
    );
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
    for round in 0..480 {
        for (name, base) in FILES {
            // Those that are broken already mostly stay so.
            if name.starts_with("broken") && round % 8 > 1 {
                continue;
            }
            let mut bytes = base.to_vec();
            // The first 128 bytes only say what the file is.
            let place = |n: usize| 128.min(n) + n / 50;
            match round % 4 {
                0 => bytes.truncate(dice(base.len())),
                1 => {
                    let (_, other) = FILES[dice(FILES.len())];
                    let from = 128 + dice(other.len().saturating_sub(128)) / 8 * 8;
                    let at = place(dice(bytes.len())) / 8 * 8;
                    bytes.splice(at.min(base.len()).., other.iter().skip(from).copied());
                }
                _ => {
                    for _ in 0..=dice(3) * (round % 2) {
                        let at = 128 + dice(bytes.len().saturating_sub(128));
                        let bit = dice(8);
                        if let Some(byte) = bytes.get_mut(at) {
                            *byte ^= 1 << bit;
                        }
                    }
                }
            }
            match open_bytes(&bytes) {
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
    assert!(opened > 200 && refused > 200, "{opened} {refused}");
}
