//! Single chunks found in a version 1 B-tree (HDF5 File Format Specification, III.A.1): only the nodes
//! on the way to them are read, each once.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use hdf5_reader::Hdf5File;
use hdf5_reader::btree_v1::{BTreeV1Key, BTreeV1Node};
use hdf5_reader::error::Error;
use hdf5_reader::io::Cursor;

use super::index::{Grid, Place};

/// Nodes of one tree that were read so far.
#[derive(Default)]
pub struct Tree(Mutex<BTreeMap<u64, Arc<Node>>>);

struct Node {
    level: u8,
    /// Elements at which each child begins, and what follows the last. A last number counts bytes of
    /// an element: 0 for a chunk, more where nothing but the end follows.
    offsets: Vec<Vec<u64>>,
    /// Address, stored bytes and mask of each child; the last two speak of chunks only.
    children: Vec<(u64, u64, u32)>,
}

impl Tree {
    /// The chunks of the given cells of the grid as far as they are stored. `cells` are in order.
    ///
    /// # Errors
    /// What the structure reader says of a broken node.
    pub fn find(
        &self,
        file: &Hdf5File,
        grid: &Grid,
        cells: &[Vec<u64>],
    ) -> Result<Vec<(Place, Vec<u64>)>, Error> {
        let mut found = Vec::new();
        if !Cursor::is_undefined_offset(grid.address, file.superblock().offset_size) {
            let chunk = || grid.chunk.iter().map(|n| u64::from(*n));
            let offsets: Vec<Vec<u64>> = cells
                .iter()
                .map(|cell| {
                    let at = cell.iter().zip(chunk()).map(|(i, c)| i.saturating_mul(c));
                    at.chain([0]).collect()
                })
                .collect();
            self.descend(file, grid, grid.address, None, &offsets, &mut found)?;
        }
        Ok(found)
    }

    fn descend(
        &self,
        file: &Hdf5File,
        grid: &Grid,
        address: u64,
        above: Option<u8>,
        wanted: &[Vec<u64>],
        found: &mut Vec<(Place, Vec<u64>)>,
    ) -> Result<(), Error> {
        let node = self.node(file, grid, address)?;
        // Levels that fall on every way down also keep a damaged tree from going round.
        if above.is_some_and(|above| node.level >= above) {
            return Err(Error::InvalidBTreeSignature);
        }
        for (child, keys) in node.children.iter().zip(node.offsets.windows(2)) {
            let [key, next] = keys else { continue };
            let from = wanted.partition_point(|at| at < key);
            let to = wanted.partition_point(|at| at < next);
            let inside = wanted.get(from..to).unwrap_or(&[]);
            let (address, bytes, mask) = *child;
            if node.level > 0 && !inside.is_empty() {
                self.descend(file, grid, address, Some(node.level), inside, found)?;
            } else if let (0, Some(at)) = (node.level, inside.first().filter(|at| *at == key)) {
                let cell = grid.cell(at);
                let number = grid.cell_number(&cell);
                let bytes = if bytes > 0 { bytes } else { grid.chunk_bytes as u64 };
                found.push((Place { number, address, bytes, mask }, cell));
            }
        }
        Ok(())
    }

    fn node(&self, file: &Hdf5File, grid: &Grid, address: u64) -> Result<Arc<Node>, Error> {
        let lock = || self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(node) = lock().get(&address) {
            return Ok(node.clone());
        }
        let (storage, sizes) = (file.storage(), file.superblock());
        let rank = grid.shape.len();
        let head = storage.read_range(address, 8)?;
        let children = match *head.as_ref() {
            [b'T', b'R', b'E', b'E', 1, _, low, high] => {
                usize::from(u16::from_le_bytes([low, high]))
            }
            _ => return Err(Error::InvalidBTreeSignature),
        };
        let offset = usize::from(sizes.offset_size);
        let key = 8 + 8 * (rank + 1);
        let len = 8 + 2 * offset + children * (key + offset) + key;
        let bytes = storage.read_range(address, len)?;
        let rank = u32::try_from(rank).map_err(|_| Error::InvalidBTreeSignature)?;
        let mut cursor = Cursor::new(bytes.as_ref());
        let node =
            BTreeV1Node::parse(&mut cursor, sizes.offset_size, sizes.length_size, Some(rank))?;
        let mut stored = Vec::new();
        let mut begins = Vec::new();
        for key in &node.keys {
            let BTreeV1Key::RawData { chunk_size, filter_mask, offsets } = key else {
                return Err(Error::InvalidBTreeSignature);
            };
            stored.push((u64::from(*chunk_size), *filter_mask));
            begins.push(offsets.clone());
        }
        // Out of order, a chunk could be below many children, and the search take for ever.
        if !begins.is_sorted() {
            return Err(Error::InvalidBTreeSignature);
        }
        let children = node.children.iter().zip(stored);
        let children = children.map(|(address, (bytes, mask))| (*address, bytes, mask)).collect();
        let node = Arc::new(Node { level: node.level, offsets: begins, children });
        lock().insert(address, node.clone());
        Ok(node)
    }
}
