//! A dataset: what its header says, and boxes of its numbers.

use std::sync::Arc;

use hdf5_reader::Hdf5File;
use hdf5_reader::error::Error;
use hdf5_reader::io::Cursor;
use hdf5_reader::messages::HdfMessage;
use hdf5_reader::messages::dataspace::{DataspaceMessage, DataspaceType};
use hdf5_reader::messages::datatype::DatatypeMessage;
use hdf5_reader::messages::layout::DataLayout;
use hdf5_reader::object_header::ObjectHeader;

use super::chunked::{Chunked, Chunks, Request};
use super::index::Grid;
use super::number::Part;
use super::old_layout;
use super::problem::broken;
use crate::base::error::Problem;
use crate::formats::block::Block;
use crate::formats::container::Samples;
use crate::formats::source::{Memory, Source};

/// Largest box read at once, bytes.
const MAX_READ_BYTES: u64 = 128 << 20;

/// A dataset as its header describes it.
#[derive(Clone)]
pub struct Dataset {
    pub shape: Vec<u64>,
    pub datatype: DatatypeMessage,
    pub stored: Stored,
    /// Bytes of an element that was never written; empty for zeros.
    pub fill: Vec<u8>,
}

/// Where the elements are.
#[derive(Clone)]
pub enum Stored {
    /// In one piece from this byte of the source on.
    Flat {
        source: Arc<dyn Source>,
        offset: u64,
    },
    Chunked(Arc<Chunked>),
    /// Never written.
    Nowhere,
}

impl Dataset {
    /// Puts together the messages of a header of that file.
    ///
    /// # Errors
    /// `hdf5-elsewhere` where the data are in other files, `hdf5-short` where the source ends before
    /// the data do, `hdf5-broken` where messages are missing or contradict each other.
    pub fn new(
        header: &ObjectHeader,
        address: u64,
        path: &str,
        source: &Arc<dyn Source>,
        file: &Hdf5File,
    ) -> Result<Self, Problem> {
        let (base, offset_size) = (file.superblock().base_address, file.superblock().offset_size);
        let missing = |what: &str| broken(path, &Error::InvalidData(format!("{what} missing")));
        let (mut space, mut datatype, mut layout) = (None, None, None);
        let (mut fill, mut filters) = (Vec::new(), Vec::new());
        for message in &header.messages {
            match message {
                HdfMessage::Dataspace(found) => space = Some(found),
                HdfMessage::Datatype(found) => datatype = Some(found),
                HdfMessage::DataLayout(found) => layout = Some(&found.layout),
                HdfMessage::FillValue(found) => fill = found.value.clone().unwrap_or_default(),
                HdfMessage::FilterPipeline(found) => filters.clone_from(&found.filters),
                HdfMessage::ExternalFiles(_) => {
                    return Err(Problem::new("hdf5-elsewhere").at(path));
                }
                _ => {}
            }
        }
        let space: &DataspaceMessage = space.ok_or_else(|| missing("dataspace"))?;
        let datatype: &DatatypeMessage = datatype.ok_or_else(|| missing("datatype"))?;
        let old = (header.version == 1)
            .then(|| old_layout::find(file.storage(), address, offset_size))
            .flatten();
        let layout = old.as_ref().or(layout).ok_or_else(|| missing("layout"))?;
        let shape =
            if space.dataspace_type == DataspaceType::Null { vec![0] } else { space.dims.clone() };
        let bytes = shape.iter().try_fold(u64::from(datatype.size), |n, d| n.checked_mul(*d));
        let short = |expected: Option<u64>, found: u64| {
            Problem::new("hdf5-short")
                .at(path)
                .with("expected", expected.unwrap_or(u64::MAX))
                .with("found", found)
        };
        let stored = match layout {
            _ if bytes == Some(0) => Stored::Nowhere,
            DataLayout::Compact { data } => {
                let len = data.len() as u64;
                bytes.filter(|n| *n <= len).ok_or_else(|| short(bytes, len))?;
                let source: Arc<dyn Source> = Arc::new(Memory(Arc::from(data.as_slice())));
                Stored::Flat { source, offset: 0 }
            }
            DataLayout::Contiguous { address, .. }
                if Cursor::is_undefined_offset(*address, offset_size) =>
            {
                Stored::Nowhere
            }
            DataLayout::Contiguous { address, .. } => {
                let offset = base.checked_add(*address);
                let end = offset.zip(bytes).and_then(|(offset, n)| offset.checked_add(n));
                let offset = offset.filter(|_| end.is_some_and(|end| end <= source.len()));
                let offset = offset.ok_or_else(|| short(end, source.len()))?;
                Stored::Flat { source: source.clone(), offset }
            }
            DataLayout::Chunked { address: index, dims, chunk_indexing, .. } => {
                // Newer layouts list the bytes of an element as a last dimension.
                let chunk = dims.get(..shape.len()).unwrap_or(&[]).to_vec();
                if shape.is_empty() || chunk.len() != shape.len() || chunk.contains(&0) {
                    return Err(missing("shape of the chunks"));
                }
                let element_bytes = datatype.size as usize;
                let chunk_bytes =
                    chunk.iter().fold(element_bytes, |n, c| n.saturating_mul(*c as usize));
                let grid = Grid {
                    address: *index,
                    indexing: chunk_indexing.clone(),
                    shape: shape.clone(),
                    max_shape: space.max_dims.clone(),
                    chunk,
                    chunk_bytes,
                };
                Stored::Chunked(Arc::new(Chunked::new(address, grid, filters, element_bytes)))
            }
        };
        Ok(Self { shape, datatype: datatype.clone(), stored, fill })
    }

    /// Shape of a chunk; empty if the dataset is in one piece.
    pub fn chunk(&self) -> Vec<u64> {
        match &self.stored {
            Stored::Chunked(chunked) => chunked.grid.chunk.iter().map(|n| u64::from(*n)).collect(),
            _ => Vec::new(),
        }
    }

    /// The bytes of the first element.
    ///
    /// # Errors
    /// Where the source cannot be read there, or is broken.
    pub fn first(&self, chunks: &Chunks, path: &str) -> Result<Vec<u8>, Problem> {
        let width = self.datatype.size as usize;
        let mut bytes = self.fill.clone();
        bytes.resize(width, 0);
        match &self.stored {
            Stored::Nowhere => {}
            Stored::Flat { source, offset } => {
                source.read_at(*offset, &mut bytes).map_err(|error| {
                    Problem::new("hdf5-broken").at(path).with("found", error.to_string())
                })?;
            }
            Stored::Chunked(chunked) => {
                let zeros = vec![0; self.shape.len()];
                let ones = vec![1; self.shape.len()];
                let request = Request {
                    chunk: &self.chunk(),
                    start: &zeros,
                    count: &ones,
                    at: 0,
                    width,
                    spacing: width,
                };
                chunked.read(chunks, path, &request, &mut bytes)?;
            }
        }
        Ok(bytes)
    }

    /// Reads a box of one part of the elements, row-major. `start` and `count` also cover the
    /// dimensions inside of an element.
    ///
    /// # Errors
    /// `box-outside-array`, `box-too-large`, and those of reading chunks.
    pub fn read(
        &self,
        chunks: &Chunks,
        path: &str,
        part: &Part,
        start: &[u64],
        count: &[u64],
    ) -> Result<Samples, Problem> {
        let shape = self.shape_of(part);
        let width = part.element.bytes();
        let spacing = if part.inner.is_empty() { self.datatype.size as usize } else { width };
        if let Stored::Flat { source, offset } = &self.stored {
            let block = Block {
                source: source.clone(),
                offset: offset + u64::from(part.at),
                element: part.element,
                spacing: spacing as u64,
                shape,
            };
            return block.read(path, start, count);
        }
        let inside = start.len() == shape.len()
            && count.len() == shape.len()
            && (start.iter().zip(count).zip(&shape))
                .all(|((s, c), n)| s.checked_add(*c).is_some_and(|end| end <= *n));
        if !inside {
            return Err(Problem::new("box-outside-array").at(path));
        }
        let wanted = count.iter().fold(width as u64, |n, c| n.saturating_mul(*c));
        if wanted > MAX_READ_BYTES {
            return Err(Problem::new("box-too-large")
                .at(path)
                .with("found", wanted)
                .with("limit", MAX_READ_BYTES));
        }
        let mut out = self.filled(part, wanted as usize);
        if let (Stored::Chunked(chunked), false) = (&self.stored, out.is_empty()) {
            let mut chunk = self.chunk();
            chunk.extend(&part.inner);
            let request =
                Request { chunk: &chunk, start, count, at: part.at as usize, width, spacing };
            chunked.read(chunks, path, &request, &mut out)?;
        }
        Ok(part.element.decode(&out))
    }

    /// Bytes of numbers that were never written.
    fn filled(&self, part: &Part, bytes: usize) -> Vec<u8> {
        let at = part.at as usize;
        let mut out = vec![0; bytes];
        let fill = self.fill.get(at..at + part.element.bytes()).unwrap_or(&[]);
        if fill.iter().any(|b| *b != 0) {
            for number in out.chunks_exact_mut(fill.len()) {
                number.copy_from_slice(fill);
            }
        }
        out
    }

    /// Shape with the dimensions inside of an element.
    pub fn shape_of(&self, part: &Part) -> Vec<u64> {
        self.shape.iter().chain(&part.inner).copied().collect()
    }
}
