use super::*;
use crate::formats::container::{NumberKind, Samples};

#[test]
fn integers_and_floats_of_both_byte_orders() {
    let file = open(KINDS);
    for name in ["i1", "be_i2", "le_i4", "le_f2", "be_f4"] {
        assert_eq!(all(&file, &format!("/n_{name}")), ramp(6), "{name}");
    }
    // Unsigned ones hold the magnitudes.
    let magnitudes: Vec<f64> = ramp(6).iter().map(|v| v.abs()).collect();
    for name in ["le_u2", "be_u4", "be_u8"] {
        assert_eq!(all(&file, &format!("/n_{name}")), magnitudes, "{name}");
    }
    let info = file.array("/n_be_i2").unwrap();
    assert_eq!(info.kind, NumberKind::Integer { bits: 16, signed: true });
    assert_eq!((info.shape.as_slice(), info.reversed), ([2, 3].as_slice(), false));
    assert_eq!(file.read("/n_be_i2", &[1, 1], &[1, 2]), Ok(Samples::I16(vec![7, 10])));
}

#[test]
fn other_kinds() {
    let file = open(KINDS);
    assert_eq!(all(&file, "/bool"), [1.0, 0.0, 1.0]);
    assert_eq!(all(&file, "/complex/real"), [1.0, 3.0]);
    assert_eq!(all(&file, "/complex/imag"), [2.0, -4.0]);
    assert_eq!(all(&file, "/records/x"), [1.5, 2.5]);
    assert_eq!(all(&file, "/records/n"), [2.0, 3.0]);
    assert_eq!(all(&file, "/one"), [2.5]);
    assert!(file.array("/one").unwrap().shape.is_empty());
    assert_eq!(file.array("/null").unwrap().shape, [0]);
    assert!(all(&file, "/null").is_empty());
    assert_eq!(all(&file, "/unwritten"), [1.5; 4]);
    // Integers of 12 bits in two bytes are not read as if they were of 16.
    assert_eq!(file.array("/twelve").unwrap().kind, NumberKind::Other);
    assert_eq!(file.read("/twelve", &[0], &[1]).unwrap_err().code, "array-not-numbers");
    assert_eq!(
        codes(&file.notes()),
        [("hdf5-not-numbers", "/references"), ("hdf5-not-numbers", "/twelve")]
    );
}

#[test]
fn groups_links_and_attributes() {
    let file = open(GROUPS);
    let paths: Vec<&str> = file.arrays().iter().map(|array| array.path.as_str()).collect();
    assert_eq!(paths, ["/same", "/scan/p", "/scan/twin"]);
    for path in ["/scan/p", "/same", "/latest/p", "/scan/up/scan/up/latest/p"] {
        assert_eq!(all(&file, path), ramp(16), "{path}");
        assert_eq!(file.array(path).unwrap().shape, [2, 2, 4]);
    }
    let attributes = &file.array("/scan/p").unwrap().attributes;
    assert_eq!(attributes["units"], text("kPa"));
    assert_eq!(attributes["fixed"], text("abc"));
    assert_eq!(attributes["latin"], text("µs"));
    assert_eq!(attributes["gain"], number(0.5));
    assert_eq!(attributes["list"], Attribute::Numbers(vec![0.0, 1.0, 2.0]));
    let group = file.group_attributes("/scan");
    assert_eq!(group["fixed"], text("mm"));
    assert_eq!(file.group_attributes("/latest"), group);
    assert_eq!(
        codes(&file.notes()),
        [("hdf5-link-lost", "/c1"), ("hdf5-link-lost", "/c2"), ("hdf5-link-lost", "/lost")]
    );
}

#[test]
fn links_and_attributes_in_heaps() {
    let file = open(DENSE);
    for i in 0..9 {
        assert_eq!(all(&file, &format!("/d{i:02}")), [7.0]);
        assert_eq!(file.group_attributes("")[&format!("a{i:02}")], number(f64::from(i)));
    }
}
