//! How one number is stored, and from bytes to [`Samples`].

use super::container::{NumberKind, Samples};

/// Order of the bytes of a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ByteOrder {
    Little,
    Big,
}

/// One stored number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Element {
    pub kind: NumberKind,
    pub order: ByteOrder,
}

impl Element {
    /// Bytes of one number; 0 where it is none that is read.
    pub fn bytes(&self) -> usize {
        match self.kind {
            NumberKind::Integer { bits: bits @ (8 | 16 | 32 | 64), .. }
            | NumberKind::Float { bits: bits @ (16 | 32 | 64) } => usize::from(bits / 8),
            _ => 0,
        }
    }

    /// All whole numbers of `bytes`, widened where [`Samples`] has no such kind. Integers of 64 bits
    /// keep 53 of them.
    pub fn decode(&self, bytes: &[u8]) -> Samples {
        use NumberKind::{Float, Integer};
        let big = self.order == ByteOrder::Big;
        macro_rules! each {
            ($number:ty, $convert:expr) => {{
                const N: usize = size_of::<$number>();
                let convert = $convert;
                let (numbers, _) = bytes.as_chunks::<N>();
                if big {
                    numbers.iter().map(|b| convert(<$number>::from_be_bytes(*b))).collect()
                } else {
                    numbers.iter().map(|b| convert(<$number>::from_le_bytes(*b))).collect()
                }
            }};
        }
        match self.kind {
            Integer { bits: 8, signed: true } => Samples::I16(each!(i8, i16::from)),
            Integer { bits: 8, .. } => Samples::I16(each!(u8, i16::from)),
            Integer { bits: 16, signed: true } => Samples::I16(each!(i16, |v: i16| v)),
            Integer { bits: 16, .. } => Samples::I32(each!(u16, i32::from)),
            Integer { bits: 32, signed: true } => Samples::I32(each!(i32, |v: i32| v)),
            Integer { bits: 32, .. } => Samples::F64(each!(u32, f64::from)),
            Integer { bits: 64, signed: true } => Samples::F64(each!(i64, |v: i64| v as f64)),
            Integer { bits: 64, .. } => Samples::F64(each!(u64, |v: u64| v as f64)),
            Float { bits: 16 } => Samples::F32(each!(u16, half)),
            Float { bits: 32 } => Samples::F32(each!(f32, |v: f32| v)),
            Float { bits: 64 } => Samples::F64(each!(f64, |v: f64| v)),
            _ => Samples::F64(Vec::new()),
        }
    }
}

/// A binary16 of IEEE 754 as `f32`.
fn half(bits: u16) -> f32 {
    let sign = if bits & 0x8000 == 0 { 1.0 } else { -1.0 };
    let exponent = i32::from((bits >> 10) & 0x1f);
    let fraction = f32::from(bits & 0x3ff);
    match exponent {
        0 => sign * fraction * 2f32.powi(-24),
        31 if fraction == 0.0 => sign * f32::INFINITY,
        31 => f32::NAN,
        _ => sign * (1024.0 + fraction) * 2f32.powi(exponent - 25),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_byte_orders() {
        let of = |kind, order| Element { kind, order };
        let i16 = NumberKind::Integer { bits: 16, signed: true };
        assert_eq!(of(i16, ByteOrder::Little).decode(&[1, 0, 0xff]), Samples::I16(vec![1]));
        assert_eq!(
            of(i16, ByteOrder::Big).decode(&[1, 0, 0xff, 0xfe]),
            Samples::I16(vec![256, -2])
        );
        let u64 = NumberKind::Integer { bits: 64, signed: false };
        let bytes = (1u64 << 60).to_be_bytes();
        assert_eq!(of(u64, ByteOrder::Big).decode(&bytes), Samples::F64(vec![2f64.powi(60)]));
    }

    /// Values of the binary16 format (IEEE 754-2019, table 3.5 and clause 3.4).
    #[test]
    fn halves() {
        for (bits, value) in [
            (0x3c00, 1.0),
            (0xc000, -2.0),
            (0x7bff, 65504.0),
            (0x0400, 6.103_515_6e-5),
            (0x0001, 5.960_464_5e-8),
            (0x3555, 0.333_251_95),
            (0x7c00, f32::INFINITY),
            (0x0000, 0.0),
        ] {
            assert_eq!(half(bits), value);
        }
        assert!(half(0x7e00).is_nan());
    }
}
