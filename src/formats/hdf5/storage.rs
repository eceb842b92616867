//! The bytes of a file as the structure reader wants them: small reads from blocks, large ones direct.

use std::sync::Arc;

use hdf5_reader::error::Error;
use hdf5_reader::{BlockCacheStorage, Storage, StorageBuffer};

use crate::formats::source::Source;

/// Reads up to this size (headers, index nodes, small chunks) go through blocks.
const SMALL_READ: usize = 32 << 10;
const BLOCK: usize = 64 << 10;
const BLOCKS: usize = 32;
/// More than this is never read at once: a length that a file declares is not believed beyond it.
const MAX_RANGE: usize = 80 << 20;

struct Direct(Arc<dyn Source>);

impl Storage for Direct {
    fn len(&self) -> u64 {
        self.0.len()
    }

    fn read_range(&self, offset: u64, len: usize) -> Result<StorageBuffer, Error> {
        let end = offset.checked_add(len as u64).filter(|end| *end <= self.0.len());
        if end.is_none() || len > MAX_RANGE {
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
pub struct TwoWay {
    small: BlockCacheStorage,
    large: Arc<Direct>,
}

impl TwoWay {
    /// Both ways to a source.
    pub fn new(source: Arc<dyn Source>) -> Self {
        let large = Arc::new(Direct(source));
        Self { small: BlockCacheStorage::new(large.clone(), BLOCK, BLOCKS), large }
    }
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
