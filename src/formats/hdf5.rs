//! HDF5 files, through a seekable source.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use hdf5_reader::{
    BlockCacheStorage, Datatype, H5Type, Hdf5File, OpenOptions, SliceInfo, SliceInfoElem, Storage,
    StorageBuffer, error::Error, group::Group,
};

use super::container::{Access, ArrayInfo, Attribute, Container, NumberKind, Samples};
use super::source::Source;
use crate::base::error::{Problem, Problems};

/// Largest decoded chunk, bytes: a declared size beyond it is refused before anything is allocated.
const MAX_CHUNK_BYTES: usize = 64 << 20;
/// Largest box read at once, bytes.
const MAX_READ_BYTES: usize = 128 << 20;
/// Chunks kept decoded, bytes.
const CHUNK_CACHE_BYTES: usize = 24 << 20;
/// Small reads (headers, index nodes) go through blocks of this size.
const SMALL_READ: usize = 32 << 10;
const BLOCK: usize = 64 << 10;
const BLOCKS: usize = 32;
/// Groups deeper than this, or more arrays than this, are refused.
const MAX_DEPTH: usize = 16;
const MAX_ARRAYS: usize = 4096;

/// An HDF5 file.
pub struct Hdf5 {
    file: Hdf5File,
    arrays: Vec<ArrayInfo>,
    groups: BTreeMap<String, BTreeMap<String, Attribute>>,
    notes: Problems,
}

struct Bytes(Arc<dyn Source>);

impl Storage for Bytes {
    fn len(&self) -> u64 {
        self.0.len()
    }

    fn read_range(&self, offset: u64, len: usize) -> Result<StorageBuffer, Error> {
        if offset.saturating_add(len as u64) > self.0.len() {
            return Err(Error::OffsetOutOfBounds(offset));
        }
        let mut bytes = vec![0u8; len];
        self.0
            .read_at(offset, &mut bytes)
            .map_err(|error| Error::Io(std::io::Error::other(error.to_string())))?;
        Ok(StorageBuffer::from_vec(bytes))
    }
}

/// Small reads through a block cache, large ones straight from the source.
struct TwoWay {
    small: BlockCacheStorage,
    large: Arc<Bytes>,
}

impl Storage for TwoWay {
    fn len(&self) -> u64 {
        self.large.len()
    }

    fn read_range(&self, offset: u64, len: usize) -> Result<StorageBuffer, Error> {
        if len <= SMALL_READ {
            self.small.read_range(offset, len)
        } else {
            self.large.read_range(offset, len)
        }
    }
}

fn broken(path: &str, error: &Error) -> Problem {
    let found = error.to_string();
    if found.to_lowercase().contains("filter") {
        return Problem::new("hdf5-filter").at(path).with("found", found);
    }
    Problem::new("hdf5-broken").at(path).with("found", found)
}

impl Hdf5 {
    /// Opens a file and lists its arrays.
    ///
    /// # Errors
    /// `hdf5-broken` where the structure cannot be read.
    pub fn open(source: Arc<dyn Source>) -> Result<Self, Problems> {
        let large = Arc::new(Bytes(source));
        let small = BlockCacheStorage::new(large.clone(), BLOCK, BLOCKS);
        let options = OpenOptions::default()
            .with_max_chunk_bytes(MAX_CHUNK_BYTES)
            .with_max_read_bytes(MAX_READ_BYTES)
            .with_chunk_cache_bytes(CHUNK_CACHE_BYTES);
        let file = Hdf5File::from_storage_with_options(Arc::new(TwoWay { small, large }), options)
            .map_err(|error| vec![broken("/", &error)])?;
        let root = file.root_group().map_err(|error| vec![broken("/", &error)])?;
        let mut this =
            Self { file, arrays: Vec::new(), groups: BTreeMap::new(), notes: Vec::new() };
        this.walk(&root, "", 0, &mut BTreeSet::new()).map_err(|problem| vec![problem])?;
        this.arrays.sort_by(|a, b| a.path.cmp(&b.path));
        Ok(this)
    }

    fn walk(
        &mut self,
        group: &Group,
        path: &str,
        depth: usize,
        seen: &mut BTreeSet<u64>,
    ) -> Result<(), Problem> {
        if !seen.insert(group.address()) {
            return Ok(());
        }
        if depth > MAX_DEPTH {
            return Err(Problem::new("file-too-deep").at(path).with("limit", MAX_DEPTH));
        }
        let attributes = group.attributes().map_err(|error| broken(path, &error))?;
        self.groups.insert(path.to_owned(), attributes.iter().filter_map(attribute).collect());
        let (groups, datasets) = group.members().map_err(|error| broken(path, &error))?;
        for dataset in &datasets {
            if self.arrays.len() >= MAX_ARRAYS {
                return Err(Problem::new("file-too-many-arrays")
                    .at(path)
                    .with("limit", MAX_ARRAYS));
            }
            let chunk =
                dataset.chunks().map(|c| c.iter().map(|n| u64::from(*n)).collect::<Vec<_>>());
            self.arrays.push(ArrayInfo {
                path: format!("{path}/{}", last(dataset.name())),
                shape: dataset.shape().to_vec(),
                kind: kind(dataset.dtype()),
                access: Access::Random,
                chunk: chunk.unwrap_or_default(),
                attributes: dataset.attributes().iter().filter_map(attribute).collect(),
            });
        }
        for child in &groups {
            self.walk(child, &format!("{path}/{}", last(child.name())), depth + 1, seen)?;
        }
        Ok(())
    }
}

fn last(name: &str) -> &str {
    name.rsplit('/').next().unwrap_or(name)
}

fn kind(datatype: &Datatype) -> NumberKind {
    match datatype {
        Datatype::FixedPoint { size, signed, .. } => {
            NumberKind::Integer { bits: size.saturating_mul(8), signed: *signed }
        }
        Datatype::FloatingPoint { size, .. } => NumberKind::Float { bits: size.saturating_mul(8) },
        _ => NumberKind::Other,
    }
}

fn attribute(attribute: &hdf5_reader::Attribute) -> Option<(String, Attribute)> {
    let name = attribute.name.clone();
    if attribute.num_elements().ok()? > 1024 {
        return None;
    }
    if let Ok(number) = attribute.read_as_f64() {
        return Some((name, Attribute::Numbers(vec![number])));
    }
    if let Ok(text) = attribute.read_string() {
        return Some((name, Attribute::Text(text)));
    }
    let numbers = match kind(&attribute.datatype) {
        NumberKind::Float { bits: 32 } => {
            attribute.read_1d::<f32>().ok()?.into_iter().map(f64::from).collect()
        }
        NumberKind::Float { .. } => attribute.read_1d::<f64>().ok()?,
        NumberKind::Integer { bits: 64, .. } => {
            attribute.read_1d::<i64>().ok()?.into_iter().map(|n| n as f64).collect()
        }
        NumberKind::Integer { .. } => {
            attribute.read_1d::<i32>().ok()?.into_iter().map(f64::from).collect()
        }
        NumberKind::Other => return None,
    };
    Some((name, Attribute::Numbers(numbers)))
}

impl Container for Hdf5 {
    fn arrays(&self) -> &[ArrayInfo] {
        &self.arrays
    }

    fn group_attributes(&self, group: &str) -> BTreeMap<String, Attribute> {
        self.groups.get(group).cloned().unwrap_or_default()
    }

    fn read(&self, path: &str, start: &[u64], count: &[u64]) -> Result<Samples, Problem> {
        let dataset = self.file.dataset(path).map_err(|error| broken(path, &error))?;
        let shape = dataset.shape();
        let inside = start.len() == shape.len()
            && count.len() == shape.len()
            && start
                .iter()
                .zip(count)
                .zip(shape)
                .all(|((s, c), n)| s.checked_add(*c).is_some_and(|end| end <= *n));
        if !inside {
            return Err(Problem::new("box-outside-array").at(path));
        }
        let selections = start
            .iter()
            .zip(count)
            .map(|(s, c)| SliceInfoElem::Slice { start: *s, end: s + c, step: 1 })
            .collect();
        let slice = SliceInfo { selections };
        let values = Values { dataset: &dataset, slice: &slice, path };
        match kind(dataset.dtype()) {
            NumberKind::Integer { bits: 8, signed: true } => {
                Ok(Samples::I16(values.read::<i8>()?.into_iter().map(i16::from).collect()))
            }
            NumberKind::Integer { bits: 8, .. } => {
                Ok(Samples::I16(values.read::<u8>()?.into_iter().map(i16::from).collect()))
            }
            NumberKind::Integer { bits: 16, signed: true } => Ok(Samples::I16(values.read()?)),
            NumberKind::Integer { bits: 16, .. } => {
                Ok(Samples::I32(values.read::<u16>()?.into_iter().map(i32::from).collect()))
            }
            NumberKind::Integer { bits: 32, signed: true } => Ok(Samples::I32(values.read()?)),
            NumberKind::Integer { bits: 32, .. } => {
                Ok(Samples::F64(values.read::<u32>()?.into_iter().map(f64::from).collect()))
            }
            NumberKind::Integer { bits: 64, signed: true } => {
                Ok(Samples::F64(values.read::<i64>()?.into_iter().map(|n| n as f64).collect()))
            }
            NumberKind::Integer { bits: 64, .. } => {
                Ok(Samples::F64(values.read::<u64>()?.into_iter().map(|n| n as f64).collect()))
            }
            NumberKind::Float { bits: 32 } => Ok(Samples::F32(values.read()?)),
            NumberKind::Float { bits: 64 } => Ok(Samples::F64(values.read()?)),
            _ => Err(Problem::new("array-not-numbers")
                .at(path)
                .with("found", format!("{:?}", dataset.dtype()))),
        }
    }

    fn notes(&self) -> Problems {
        self.notes.clone()
    }
}

struct Values<'a> {
    dataset: &'a hdf5_reader::Dataset,
    slice: &'a SliceInfo,
    path: &'a str,
}

impl Values<'_> {
    fn read<T: H5Type>(&self) -> Result<Vec<T>, Problem> {
        let array = if self.dataset.ndim() == 0 {
            self.dataset.read_array::<T>()
        } else {
            self.dataset.read_slice::<T>(self.slice)
        }
        .map_err(|error| broken(self.path, &error))?;
        let (values, offset) = array.into_raw_vec_and_offset();
        if offset.unwrap_or(0) != 0 {
            return Err(Problem::new("hdf5-broken").at(self.path).with("found", "offset"));
        }
        Ok(values)
    }
}
