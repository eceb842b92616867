//! Samples in another order: from time-slowest pieces to waveforms.

use crate::formats::container::Samples;

/// Columns moved together, so that neither side leaves the processor's cache.
const TILE: usize = 64;

impl Samples {
    /// As many zeros of the same kind.
    pub(super) fn zeros(&self, n: usize) -> Self {
        match self {
            Self::I16(_) => Self::I16(vec![0; n]),
            Self::I32(_) => Self::I32(vec![0; n]),
            Self::F32(_) => Self::F32(vec![0.0; n]),
            Self::F64(_) => Self::F64(vec![0.0; n]),
        }
    }

    /// The same numbers, those equal to `missing` as not a number.
    pub(super) fn without(self, missing: f64) -> Self {
        let there = |v: f64| v == missing;
        let f64s = |v: &[f64]| v.iter().map(|v| if there(*v) { f64::NAN } else { *v }).collect();
        match self {
            Self::I16(v) if v.iter().any(|v| there(f64::from(*v))) => Self::F32(
                v.iter()
                    .map(|v| if there(f64::from(*v)) { f32::NAN } else { f32::from(*v) })
                    .collect(),
            ),
            Self::F32(v) if v.iter().any(|v| there(f64::from(*v))) => Self::F32(
                v.iter().map(|v| if there(f64::from(*v)) { f32::NAN } else { *v }).collect(),
            ),
            Self::I32(v) if v.iter().any(|v| there(f64::from(*v))) => {
                Self::F64(f64s(&v.iter().map(|v| f64::from(*v)).collect::<Vec<_>>()))
            }
            Self::F64(v) if v.iter().any(|v| there(*v)) => Self::F64(f64s(&v)),
            other => other,
        }
    }

    /// A copy of a range; empty where it does not lie inside.
    pub(super) fn part(&self, from: usize, to: usize) -> Self {
        fn cut<T: Copy>(v: &[T], from: usize, to: usize) -> Vec<T> {
            v.get(from..to).map_or_else(Vec::new, <[T]>::to_vec)
        }
        match self {
            Self::I16(v) => Self::I16(cut(v, from, to)),
            Self::I32(v) => Self::I32(cut(v, from, to)),
            Self::F32(v) => Self::F32(cut(v, from, to)),
            Self::F64(v) => Self::F64(cut(v, from, to)),
        }
    }

    /// Puts a piece (slow, time, fast) into `self` (points, `samples`): point `first` + slow index ×
    /// fast count + fast index, from sample `t` on. `false` where kinds or sizes do not fit.
    pub(super) fn scatter(
        &mut self,
        piece: &Self,
        shape: (usize, usize, usize),
        first: usize,
        samples: usize,
        t: usize,
    ) -> bool {
        match (self, piece) {
            (Self::I16(a), Self::I16(b)) => scatter(a, b, shape, first, samples, t),
            (Self::I32(a), Self::I32(b)) => scatter(a, b, shape, first, samples, t),
            (Self::F32(a), Self::F32(b)) => scatter(a, b, shape, first, samples, t),
            (Self::F64(a), Self::F64(b)) => scatter(a, b, shape, first, samples, t),
            _ => false,
        }
    }

    /// Takes one column of a piece (time, columns) into `self` from sample `t` on; `column` is its
    /// index and how many there are.
    pub(super) fn pick(
        &mut self,
        piece: &Self,
        column: (usize, usize),
        length: usize,
        t: usize,
    ) -> bool {
        match (self, piece) {
            (Self::I16(a), Self::I16(b)) => pick(a, b, column, length, t),
            (Self::I32(a), Self::I32(b)) => pick(a, b, column, length, t),
            (Self::F32(a), Self::F32(b)) => pick(a, b, column, length, t),
            (Self::F64(a), Self::F64(b)) => pick(a, b, column, length, t),
            _ => false,
        }
    }
}

fn scatter<T: Copy>(
    to: &mut [T],
    from: &[T],
    (slow, length, fast): (usize, usize, usize),
    first: usize,
    samples: usize,
    t: usize,
) -> bool {
    if from.len() != slow * length * fast
        || (first + slow * fast) * samples > to.len()
        || t + length > samples
    {
        return false;
    }
    for s in 0..slow {
        let plane = &from[s * length * fast..(s + 1) * length * fast];
        for tile in (0..fast).step_by(TILE) {
            let end = fast.min(tile + TILE);
            for f in tile..end {
                let begin = (first + s * fast + f) * samples + t;
                let row = &mut to[begin..begin + length];
                for (i, slot) in row.iter_mut().enumerate() {
                    *slot = plane[i * fast + f];
                }
            }
        }
    }
    true
}

fn pick<T: Copy>(
    to: &mut [T],
    from: &[T],
    (index, columns): (usize, usize),
    length: usize,
    t: usize,
) -> bool {
    if from.len() != length * columns || t + length > to.len() || index >= columns {
        return false;
    }
    for (i, slot) in to[t..t + length].iter_mut().enumerate() {
        *slot = from[i * columns + index];
    }
    true
}
