//! Counts to volts, and when the digitiser was at its end.

use serde::{Deserialize, Serialize};

use crate::formats::container::{NumberKind, Samples};

/// How raw samples become volts.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Volts {
    pub volts_per_count: f64,
    pub offset_v: f64,
    /// Raw values at or beyond which a sample is clipped; `None` where no full scale is known.
    pub clip_low_high: Option<(f64, f64)>,
    /// Volts of one count of the digitiser, where known.
    pub count_v: Option<f64>,
}

impl Volts {
    /// From what the file and the record state.
    ///
    /// The clip levels come from the stated full scale (± volts about zero, less one count), else
    /// from the stated bits of a signed digitiser, else from the integer type itself.
    pub fn new(
        volts_per_count: f64,
        offset_v: f64,
        kind: NumberKind,
        full_scale_v: Option<f64>,
        bits: Option<u32>,
    ) -> Self {
        let integer = matches!(kind, NumberKind::Integer { .. });
        let from_volts = full_scale_v.map(|full| {
            let count = match (integer, bits) {
                (true, _) => volts_per_count.abs(),
                (false, Some(bits)) => 2.0 * full / 2f64.powi(bits as i32),
                (false, None) => 0.0,
            };
            let raw = |volts: f64| (volts - offset_v) / volts_per_count;
            let (a, b) = (raw(-(full - 1.01 * count)), raw(full - 1.01 * count));
            (a.min(b), a.max(b))
        });
        let from_bits = || match (kind, bits) {
            (NumberKind::Integer { .. }, Some(bits)) if bits > 1 => {
                let half = 2f64.powi(bits as i32 - 1);
                Some((-half, half - 1.0))
            }
            _ => None,
        };
        let from_type = || match kind {
            NumberKind::Integer { bits: bits @ (8 | 16), signed } => {
                let span = 2f64.powi(i32::from(bits));
                Some(if signed { (-0.5 * span, 0.5 * span - 1.0) } else { (0.0, span - 1.0) })
            }
            _ => None,
        };
        Self {
            volts_per_count,
            offset_v,
            count_v: match (integer, full_scale_v, bits) {
                (true, ..) => Some(volts_per_count.abs()),
                (false, Some(full), Some(bits)) => Some(2.0 * full / 2f64.powi(bits as i32)),
                _ => None,
            },
            clip_low_high: from_volts.or_else(from_bits).or_else(from_type),
        }
    }

    /// Whether at least two neighbouring raw samples stand at or beyond a clip level.
    pub fn clipped(&self, raw: &Samples, start: usize, stop: usize) -> bool {
        let Some((low, high)) = self.clip_low_high else { return false };
        let beyond = |v: f64| v <= low || v >= high;
        fn pair<T: Copy + Into<f64>>(v: &[T], beyond: impl Fn(f64) -> bool) -> bool {
            v.windows(2).any(|w| beyond(w[0].into()) && beyond(w[1].into()))
        }
        match raw {
            Samples::I16(v) => pair(&v[start..stop], beyond),
            Samples::I32(v) => pair(&v[start..stop], beyond),
            Samples::F32(v) => pair(&v[start..stop], beyond),
            Samples::F64(v) => pair(&v[start..stop], beyond),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn clip_levels() {
        let i16 = NumberKind::Integer { bits: 16, signed: true };
        let v = Volts::new(1e-3, 0.0, i16, Some(2.048), Some(12));
        assert!(v.clipped(&Samples::I16(vec![0, 2047, 2047, 0]), 0, 4));
        assert!(!v.clipped(&Samples::I16(vec![0, 2047, 2040, 2047]), 0, 4));
        let v = Volts::new(1e-3, 0.0, i16, None, Some(12));
        assert_eq!(v.clip_low_high, Some((-2048.0, 2047.0)));
        let float = Volts::new(1.0, 0.0, NumberKind::Float { bits: 32 }, None, None);
        assert!(!float.clipped(&Samples::F32(vec![9.0; 4]), 0, 4));
    }
}
