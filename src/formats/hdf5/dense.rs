//! Dense storage of attributes and links: a fractal heap with an index over it (HDF5 File Format
//! Specification, III.A.2, III.G).

use hdf5_reader::Hdf5File;
use hdf5_reader::btree_v2::{BTreeV2Header, BTreeV2Record, collect_btree_v2_records_storage};
use hdf5_reader::error::Error;
use hdf5_reader::fractal_heap::FractalHeap;
use hdf5_reader::io::Cursor;

/// The heap at an address and the records of its index; `None` where there is no heap.
///
/// # Errors
/// What the structure reader says of a broken index or heap.
pub fn records(
    file: &Hdf5File,
    heap_address: u64,
    index_address: u64,
) -> Result<Option<(FractalHeap, Vec<BTreeV2Record>)>, Error> {
    let (storage, sizes) = (file.storage(), file.superblock());
    let (offset_size, length_size) = (sizes.offset_size, sizes.length_size);
    if Cursor::is_undefined_offset(heap_address, offset_size) {
        return Ok(None);
    }
    let heap = FractalHeap::parse_at_storage(storage, heap_address, offset_size, length_size)?;
    let index = BTreeV2Header::parse_at_storage(storage, index_address, offset_size, length_size)?;
    let records = collect_btree_v2_records_storage(
        storage,
        &index,
        offset_size,
        length_size,
        None,
        &[],
        None,
    )?;
    Ok(Some((heap, records)))
}
