//! Where the chunks of a dataset lie in the file.

use hdf5_reader::Hdf5File;
use hdf5_reader::btree_v1::{BTreeV1Key, collect_btree_v1_leaves_storage};
use hdf5_reader::chunk_index::{ChunkEntry, collect_v2_chunk_entries_storage, single_chunk_entry};
use hdf5_reader::error::Error;
use hdf5_reader::extensible_array::collect_extensible_array_chunk_entries_storage;
use hdf5_reader::fixed_array::collect_fixed_array_chunk_entries_storage;
use hdf5_reader::io::Cursor;
use hdf5_reader::messages::layout::ChunkIndexing;

/// What the layout message and the dataspace say of the chunks.
#[derive(Debug, Clone)]
pub struct Grid {
    /// Address of the index, in the file's own count.
    pub address: u64,
    pub indexing: Option<ChunkIndexing>,
    /// Shape of the dataset and of a chunk; same number of dimensions.
    pub shape: Vec<u64>,
    pub max_shape: Option<Vec<u64>>,
    pub chunk: Vec<u32>,
    /// Decoded bytes of a chunk.
    pub chunk_bytes: usize,
}

/// A chunk in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    /// Number of the chunk, counted row-major over the grid.
    pub number: u64,
    pub address: u64,
    /// Stored bytes.
    pub bytes: u64,
    pub mask: u32,
}

impl Grid {
    /// Chunks along each dimension.
    pub fn counts(&self) -> Vec<u64> {
        self.shape.iter().zip(&self.chunk).map(|(n, c)| n.div_ceil(u64::from(*c).max(1))).collect()
    }

    /// Cell of the grid in which an offset of elements lies.
    pub fn cell(&self, offsets: &[u64]) -> Vec<u64> {
        offsets.iter().zip(&self.chunk).map(|(at, c)| at / u64::from(*c).max(1)).collect()
    }

    /// Number of a cell of the grid, counted row-major.
    pub fn cell_number(&self, cell: &[u64]) -> u64 {
        let counts = self.counts();
        cell.iter().zip(&counts).fold(0u64, |n, (i, count)| n.wrapping_mul(*count).wrapping_add(*i))
    }

    /// All chunks that are stored, in order of number. The whole index is read at once.
    ///
    /// # Errors
    /// What the structure reader says of a broken index.
    pub fn places(&self, file: &Hdf5File) -> Result<Vec<Place>, Error> {
        let (storage, sizes) = (file.storage(), file.superblock());
        let (offset_size, length_size) = (sizes.offset_size, sizes.length_size);
        let counts = self.counts();
        let total = counts.iter().try_fold(1u64, |n, c| n.checked_mul(*c));
        let total = total.ok_or_else(|| Error::InvalidData("too many chunks".to_owned()))?;
        if total == 0 || Cursor::is_undefined_offset(self.address, offset_size) {
            return Ok(Vec::new());
        }
        let rank = self.shape.len();
        let entries = match &self.indexing {
            None => btree_v1(
                collect_btree_v1_leaves_storage(
                    storage,
                    self.address,
                    offset_size,
                    length_size,
                    Some(u32::try_from(rank).unwrap_or(u32::MAX)),
                    &self.chunk,
                    None,
                )?,
                rank,
            )?,
            Some(ChunkIndexing::SingleChunk { filtered_size, filters }) => {
                vec![single_chunk_entry(self.address, *filtered_size, *filters, rank)]
            }
            Some(ChunkIndexing::Implicit) => return self.in_one_piece(total, storage.len()),
            Some(ChunkIndexing::BTreeV2) => collect_v2_chunk_entries_storage(
                storage,
                self.address,
                offset_size,
                length_size,
                u32::try_from(rank).unwrap_or(u32::MAX),
                &self.chunk,
                None,
            )?,
            Some(ChunkIndexing::FixedArray { .. }) => collect_fixed_array_chunk_entries_storage(
                storage,
                self.address,
                offset_size,
                length_size,
                &self.shape,
                &self.chunk,
                None,
            )?,
            Some(ChunkIndexing::ExtensibleArray { .. }) => {
                collect_extensible_array_chunk_entries_storage(
                    storage,
                    self.address,
                    offset_size,
                    length_size,
                    &self.shape,
                    self.max_shape.as_deref(),
                    &self.chunk,
                    None,
                )?
            }
        };
        let mut places: Vec<Place> = entries
            .iter()
            .filter(|entry| !Cursor::is_undefined_offset(entry.address, offset_size))
            .filter_map(|entry| {
                let bytes = if entry.size > 0 { entry.size } else { self.chunk_bytes as u64 };
                let number = self.number(&entry.offsets, &counts)?;
                Some(Place { number, address: entry.address, bytes, mask: entry.filter_mask })
            })
            .collect();
        places.sort_by_key(|place| place.number);
        places.dedup_by_key(|place| place.number);
        Ok(places)
    }

    /// Chunks of an early-allocated dataset without filters lie one after another.
    fn in_one_piece(&self, total: u64, len: u64) -> Result<Vec<Place>, Error> {
        let bytes = self.chunk_bytes as u64;
        let end = total.checked_mul(bytes).and_then(|n| n.checked_add(self.address));
        if bytes == 0 || end.is_none_or(|end| end > len) {
            return Err(Error::OffsetOutOfBounds(self.address));
        }
        Ok((0..total)
            .map(|number| Place { number, address: self.address + number * bytes, bytes, mask: 0 })
            .collect())
    }

    /// Number of the chunk at an offset of elements; `None` outside of the dataset (left over after
    /// it shrank).
    fn number(&self, offsets: &[u64], counts: &[u64]) -> Option<u64> {
        let mut number = 0u64;
        for (d, count) in counts.iter().enumerate() {
            let chunk = u64::from(*self.chunk.get(d)?).max(1);
            let i = offsets.get(d)? / chunk;
            if i >= *count {
                return None;
            }
            number = number.checked_mul(*count)?.checked_add(i)?;
        }
        Some(number)
    }
}

fn btree_v1(leaves: Vec<(BTreeV1Key, u64)>, rank: usize) -> Result<Vec<ChunkEntry>, Error> {
    leaves
        .into_iter()
        .map(|(key, address)| match key {
            BTreeV1Key::RawData { chunk_size, filter_mask, mut offsets } => {
                offsets.truncate(rank);
                let size = u64::from(chunk_size);
                Ok(ChunkEntry { address, size, filter_mask, offsets })
            }
            BTreeV1Key::Group { .. } => Err(Error::InvalidBTreeSignature),
        })
        .collect()
}
