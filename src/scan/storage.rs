//! Where the waveforms of a scan lie in a file, and how runs of points are read from there.
//!
//! Three ways of access: waveforms that lie one after another are read as they are; an array whose
//! fastest dimension is not time is *transposed* and read in slabs of as many points as memory allows,
//! each in one pass over the file; what can only be decoded from the front is read by one reader in
//! order.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex};

use crate::base::error::Problem;
use crate::formats::container::{
    Access, ArrayInfo, Attribute, Container, NumberKind, Samples, boxes,
};

/// Waveforms of a slab, bytes: what a transposed scan keeps in memory.
const SLAB_BYTES: u64 = 96 << 20;
/// What is read at once while a slab is filled, bytes.
const PIECE_BYTES: u64 = 4 << 20;
/// A storage chunk row up to this size is read whole, bytes.
const ROW_BYTES: u64 = 24 << 20;
/// Most passes over a file.
const MAX_PASSES: u64 = 40;

/// The waveform array of a scan.
#[derive(Clone)]
pub struct Storage {
    pub container: Arc<dyn Container>,
    pub path: String,
    shape: Vec<u64>,
    chunk: Vec<u64>,
    bytes: u64,
    /// Dimension of time.
    time: usize,
    /// Index along the dimensions that are not this scan's own (another level, repeat, gain, depth).
    fixed: Vec<Option<u64>>,
    sequential: bool,
    /// Stored number that means: no value (CF conventions, `_FillValue`).
    missing: Option<f64>,
    kept: Arc<Mutex<Kept>>,
}

/// What was read and may be asked for again.
#[derive(Default)]
struct Kept {
    /// Single waveforms by point.
    waveforms: BTreeMap<usize, Samples>,
    /// First point and waveforms of a slab.
    slab: Option<(usize, Samples)>,
}

impl Storage {
    /// The storage of the points of `array` at the given fixed indices.
    pub fn new(
        container: Arc<dyn Container>,
        array: &ArrayInfo,
        time: usize,
        fixed: Vec<Option<u64>>,
    ) -> Self {
        let bytes = match array.kind {
            NumberKind::Integer { bits, .. } | NumberKind::Float { bits } => u64::from(bits / 8),
            NumberKind::Other => 8,
        };
        Self {
            container,
            path: array.path.clone(),
            shape: array.shape.clone(),
            chunk: array.chunk.clone(),
            bytes: bytes.max(1),
            time,
            fixed,
            sequential: array.access == Access::Sequential,
            missing: match array.attributes.get("_FillValue") {
                Some(Attribute::Numbers(numbers)) => {
                    numbers.first().copied().filter(|n| numbers.len() == 1 && n.is_finite())
                }
                _ => None,
            },
            kept: Arc::default(),
        }
    }

    /// Dimensions of the points, storage order.
    fn free(&self) -> Vec<usize> {
        (0..self.shape.len()).filter(|d| *d != self.time && self.fixed[*d].is_none()).collect()
    }

    /// Sizes of the dimensions of the points, storage order.
    pub fn leading(&self) -> Vec<u64> {
        self.free().iter().map(|d| self.shape[*d]).collect()
    }

    fn samples(&self) -> u64 {
        self.shape[self.time]
    }

    /// Bytes of this scan's waveforms in storage.
    pub fn total_bytes(&self) -> u64 {
        self.leading().iter().fold(self.samples() * self.bytes, |n, d| n.saturating_mul(*d))
    }

    /// Whether time is not the fastest dimension.
    pub fn transposed(&self) -> bool {
        self.shape[self.time + 1..].iter().any(|n| *n > 1)
    }

    /// Whether one reader should read for all workers.
    pub fn one_reader(&self) -> bool {
        self.sequential || self.transposed()
    }

    /// Points that storage keeps together along the slowest dimension.
    pub fn chunk_rows(&self) -> usize {
        match (self.transposed(), self.free().first()) {
            (false, Some(slowest)) => self.chunk.get(*slowest).map_or(1, |n| *n as usize).max(1),
            _ => 1,
        }
    }

    /// Points of a slab: whole rows of storage chunks where memory allows it.
    fn slab_points(&self) -> usize {
        let room = (SLAB_BYTES / (self.samples() * self.bytes)).max(1);
        let (leading, free) = (self.leading(), self.free());
        let whole: u64 = leading.iter().product();
        if whole <= room {
            return whole as usize;
        }
        // Finer and finer units: rows of chunks along the slowest dimension, along the next, …
        for (i, d) in free.iter().enumerate() {
            let inner: u64 = leading[i + 1..].iter().product();
            let unit = self.chunk.get(*d).copied().unwrap_or(1).clamp(1, leading[i]) * inner;
            if unit <= room {
                return (room / unit * unit) as usize;
            }
            if self.chunk.get(*d).copied().unwrap_or(1) > 1 {
                break;
            }
        }
        room as usize
    }

    /// How often the file is gone through to read every point once.
    pub fn passes(&self) -> u64 {
        if !self.transposed() {
            return 1;
        }
        let whole: u64 = self.leading().iter().product();
        whole.div_ceil(self.slab_points().max(1) as u64)
    }

    /// Refuses what would need too many passes.
    ///
    /// # Errors
    /// `scan-too-many-passes`, with the memory that one pass in forty would need.
    pub fn check(&self) -> Result<(), Problem> {
        let passes = self.passes();
        if passes <= MAX_PASSES {
            return Ok(());
        }
        Err(Problem::new("scan-too-many-passes")
            .at(self.path.clone())
            .with("found", passes)
            .with("limit", MAX_PASSES)
            .with("megabytes", (self.total_bytes() / MAX_PASSES) >> 20))
    }

    /// Raw samples of the points `first .. first + count`, storage order, row-major (count, samples).
    ///
    /// # Errors
    /// The container's own, and `scan-short-read`.
    pub fn read(&self, first: usize, count: usize) -> Result<Samples, Problem> {
        let wanted = count * self.samples() as usize;
        let all = if let Some(kept) = self.kept(first, count) {
            kept
        } else if self.transposed() {
            self.by_slabs(first, count)?
        } else {
            self.in_order(first, count)?
        };
        if all.len() != wanted {
            return Err(Problem::new("scan-short-read"));
        }
        Ok(match self.missing {
            Some(missing) => all.without(missing),
            None => all,
        })
    }

    fn kept(&self, first: usize, count: usize) -> Option<Samples> {
        if count != 1 {
            return None;
        }
        self.kept.lock().ok()?.waveforms.get(&first).cloned()
    }

    /// A box of the points' dimensions, over a range of time.
    fn box_of(&self, start: &[u64], count: &[u64], time: (u64, u64)) -> Result<Samples, Problem> {
        let mut from: Vec<u64> = self.fixed.iter().map(|index| index.unwrap_or(0)).collect();
        let mut size = vec![1; self.shape.len()];
        for (i, d) in self.free().into_iter().enumerate() {
            (from[d], size[d]) = (start[i], count[i]);
        }
        (from[self.time], size[self.time]) = time;
        self.container.read(&self.path, &from, &size)
    }

    fn in_order(&self, first: usize, count: usize) -> Result<Samples, Problem> {
        let mut all: Option<Samples> = None;
        for (start, size) in boxes(&self.leading(), first as u64, count as u64) {
            let part = self.box_of(&start, &size, (0, self.samples()))?;
            match &mut all {
                Some(all) => all.append(part),
                None => all = Some(part),
            }
        }
        Ok(all.unwrap_or(Samples::F64(Vec::new())))
    }

    fn by_slabs(&self, first: usize, count: usize) -> Result<Samples, Problem> {
        let points: u64 = self.leading().iter().product();
        let size = self.slab_points().max(1);
        let n = self.samples() as usize;
        let mut kept = self.kept.lock().map_err(|_| Problem::new("scan-short-read"))?;
        let mut all: Option<Samples> = None;
        let (mut at, end) = (first, first + count);
        while at < end {
            let begin = at / size * size;
            if kept.slab.as_ref().is_none_or(|(held, _)| *held != begin) {
                // Gone before the next one comes: memory holds one slab.
                kept.slab = None;
                let held = size.min((points as usize).saturating_sub(begin));
                kept.slab = Some((begin, self.slab(begin, held)?));
            }
            let Some((_, slab)) = &kept.slab else { break };
            let stop = end.min(begin + size);
            let part = slab.part((at - begin) * n, (stop - begin) * n);
            match &mut all {
                Some(all) => all.append(part),
                None => all = Some(part),
            }
            at = stop;
        }
        Ok(all.unwrap_or(Samples::F64(Vec::new())))
    }

    /// The points `first .. first + count` of a transposed array, waveform after waveform, in one pass.
    fn slab(&self, first: usize, count: usize) -> Result<Samples, Problem> {
        let n = self.samples() as usize;
        let mut slab: Option<Samples> = None;
        let mut done = 0;
        for (start, size) in boxes(&self.leading(), first as u64, count as u64) {
            let points: u64 = size.iter().product();
            // How many of the points' dimensions are slower than time.
            let slower = self.free().iter().filter(|d| **d < self.time).count();
            let fast: u64 = size[slower..].iter().product();
            let slow = (points / fast.max(1)) as usize;
            let step = self.time_step(points * self.bytes);
            let mut t = 0;
            while t < self.samples() {
                let length = step.min(self.samples() - t);
                let part = self.box_of(&start, &size, (t, length))?;
                let slab = slab.get_or_insert_with(|| part.zeros(count * n));
                let shape = (slow, length as usize, fast as usize);
                if !slab.scatter(&part, shape, done, n, t as usize) {
                    return Err(Problem::new("scan-short-read"));
                }
                t += length;
            }
            done += points as usize;
        }
        Ok(slab.unwrap_or(Samples::F64(Vec::new())))
    }

    /// Samples of time that are read at once: whole chunks where they fit.
    fn time_step(&self, bytes_per_sample: u64) -> u64 {
        let chunk = self.chunk.get(self.time).copied().unwrap_or(1).max(1);
        let fitting = (PIECE_BYTES / bytes_per_sample.max(1)).max(1);
        if fitting >= chunk {
            fitting / chunk * chunk
        } else if chunk * bytes_per_sample <= ROW_BYTES {
            chunk
        } else {
            fitting
        }
    }

    /// Reads single waveforms ahead, in as few passes as possible, and keeps them until the next call.
    /// Only where single reads would be dear; results are the same without it.
    ///
    /// # Errors
    /// As [`Storage::read`].
    pub fn prefetch(&self, points: &[usize]) -> Result<(), Problem> {
        if !self.one_reader() {
            return Ok(());
        }
        let mut wanted: Vec<usize> = points.to_vec();
        wanted.sort_unstable();
        wanted.dedup();
        if let Ok(kept) = self.kept.lock() {
            wanted.retain(|point| !kept.waveforms.contains_key(point));
        }
        let n = self.samples() as usize;
        let all: u64 = self.leading().iter().product();
        let mut found: BTreeMap<usize, Samples> = BTreeMap::new();
        if !self.transposed() || all as usize <= self.slab_points() {
            for point in wanted {
                found.insert(point, self.read(point, 1)?);
            }
        } else if !wanted.is_empty() {
            let slower = self.free().iter().filter(|d| **d < self.time).count();
            let leading = self.leading();
            let fast: u64 = leading[slower..].iter().product();
            let slow: u64 = leading[..slower].iter().product();
            let start_of = |row: u64| -> (Vec<u64>, Vec<u64>) {
                let mut start = vec![0; leading.len()];
                let mut size = leading.clone();
                let mut rest = row;
                for d in (0..slower).rev() {
                    (start[d], size[d]) = (rest % leading[d], 1);
                    rest /= leading[d];
                }
                (start, size)
            };
            for row in 0..slow {
                let range = (row * fast) as usize..((row + 1) * fast) as usize;
                let here: Vec<usize> =
                    wanted.iter().copied().filter(|p| range.contains(p)).collect();
                if here.is_empty() {
                    continue;
                }
                let (start, size) = start_of(row);
                let step = self.time_step(fast * self.bytes);
                let mut t = 0;
                while t < self.samples() {
                    let length = step.min(self.samples() - t);
                    let part = self.box_of(&start, &size, (t, length))?;
                    for point in &here {
                        let slot = found.entry(*point).or_insert_with(|| part.zeros(n));
                        let column = (point - range.start, fast as usize);
                        if !slot.pick(&part, column, length as usize, t as usize) {
                            return Err(Problem::new("scan-short-read"));
                        }
                    }
                    t += length;
                }
            }
        }
        if let Ok(mut kept) = self.kept.lock() {
            kept.waveforms.extend(found);
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;

    /// An array whose element at flat index i is i.
    struct Counted(Vec<ArrayInfo>);

    impl Container for Counted {
        fn arrays(&self) -> &[ArrayInfo] {
            &self.0
        }

        fn group_attributes(&self, _: &str) -> BTreeMap<String, Attribute> {
            BTreeMap::new()
        }

        fn read(&self, _: &str, start: &[u64], count: &[u64]) -> Result<Samples, Problem> {
            let shape = &self.0[0].shape;
            let mut out = vec![0u64];
            for d in 0..shape.len() {
                let steps: Vec<u64> = (start[d]..start[d] + count[d]).collect();
                out =
                    out.iter().flat_map(|f| steps.iter().map(move |s| f * shape[d] + s)).collect();
            }
            Ok(Samples::F64(out.into_iter().map(|v| v as f64).collect()))
        }
    }

    fn counted(shape: &[u64], chunk: &[u64], access: Access) -> (Arc<dyn Container>, ArrayInfo) {
        let array = ArrayInfo {
            path: "/w".to_owned(),
            shape: shape.to_vec(),
            reversed: false,
            kind: NumberKind::Float { bits: 64 },
            access,
            chunk: chunk.to_vec(),
            scales: Vec::new(),
            attributes: BTreeMap::new(),
        };
        (Arc::new(Counted(vec![array.clone()])), array)
    }

    /// Wherever time stands and whatever is fixed, waveforms are those of the array.
    #[test]
    fn waveforms_are_those_of_the_array() {
        let shape = [3u64, 4, 5];
        for time in 0..3 {
            for level in (0..3).filter(|d| *d != time) {
                for fixed_at in [None, Some(2)] {
                    let (container, array) = counted(&shape, &[2, 2, 2], Access::Random);
                    let mut fixed = vec![None; 3];
                    fixed[level] = fixed_at;
                    let storage = Storage::new(container, &array, time, fixed.clone());
                    let free: Vec<usize> =
                        (0..3).filter(|d| *d != time && fixed[*d].is_none()).collect();
                    let points: u64 = free.iter().map(|d| shape[*d]).product();
                    let mut expected = Vec::new();
                    for point in 0..points {
                        let mut index = [0u64; 3];
                        let mut rest = point;
                        for d in free.iter().rev() {
                            index[*d] = rest % shape[*d];
                            rest /= shape[*d];
                        }
                        for t in 0..shape[time] {
                            index[time] = t;
                            if let Some(at) = fixed_at {
                                index[level] = at;
                            }
                            expected.push((index[0] * 20 + index[1] * 5 + index[2]) as f64);
                        }
                    }
                    let n = shape[time] as usize;
                    let all = storage.read(0, points as usize).expect("reads");
                    assert_eq!(all.to_f64(), expected, "time {time} level {level} {fixed_at:?}");
                    let wanted: Vec<usize> = (0..points as usize).step_by(2).collect();
                    storage.prefetch(&wanted).expect("reads");
                    for point in 0..points as usize {
                        let one = storage.read(point, 1).expect("reads").to_f64();
                        assert_eq!(one, expected[point * n..(point + 1) * n]);
                    }
                }
            }
        }
    }

    /// A transposed array larger than a slab is read in slabs of whole chunk rows; the file is gone
    /// through as often as there are slabs, and ahead of time in one pass.
    #[test]
    fn large_transposed_arrays_are_read_in_slabs() {
        let shape = [6000u64, 60, 60];
        let (container, array) = counted(&shape, &[100, 8, 60], Access::Random);
        let storage = Storage::new(container, &array, 0, vec![None; 3]);
        assert!(storage.transposed() && storage.one_reader());
        let slab = storage.slab_points();
        assert_eq!(slab % (8 * 60), 0);
        assert_eq!(storage.passes(), 3600u64.div_ceil(slab as u64));
        let at = |point: u64, t: u64| (t * 3600 + point) as f64;
        let points = [0usize, slab - 1, slab, 3599];
        storage.prefetch(&points).expect("reads");
        for point in points {
            let wave = storage.read(point, 1).expect("reads").to_f64();
            assert_eq!((wave[0], wave[5999]), (at(point as u64, 0), at(point as u64, 5999)));
        }
        let across = storage.read(slab - 1, 2).expect("reads").to_f64();
        assert_eq!((across[7], across[6007]), (at(slab as u64 - 1, 7), at(slab as u64, 7)));
    }

    #[test]
    fn too_many_passes_are_refused_with_the_figure() {
        let (container, array) = counted(&[1 << 20, 100, 100], &[], Access::Random);
        let storage = Storage::new(container, &array, 0, vec![None; 3]);
        let problem = storage.check().expect_err("refused");
        assert_eq!(problem.code, "scan-too-many-passes");
        let (container, array) = counted(&[100, 100, 1 << 20], &[], Access::Random);
        assert!(Storage::new(container, &array, 2, vec![None; 3]).check().is_ok());
    }
}
