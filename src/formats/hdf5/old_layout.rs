//! Where data lie by layout messages of versions 1 and 2 (HDF5 File Format Specification 3.0,
//! IV.A.2.i), as the HDF5 library wrote them up to 1.6.2; MAT files of version 7.3 of that time hold
//! them.
//!
//! The structure reader takes two reserved bytes less for version 2 than there are and an address
//! for compact data, where there is none: what it makes of such a message is another place.

use hdf5_reader::Storage;
use hdf5_reader::messages::layout::DataLayout;

/// Types of header messages (IV.A.2).
const LAYOUT: u16 = 0x08;
const CONTINUATION: u16 = 0x10;
/// Most runs of messages of one header, and the longest run, bytes.
const MAX_RUNS: usize = 64;
const MAX_RUN: u64 = 1 << 20;

/// The layout that the header at an address holds in one of the old versions; `None` where it holds
/// a newer one, or none that is whole.
pub fn find(storage: &dyn Storage, address: u64, offset_size: u8) -> Option<DataLayout> {
    let prefix = storage.read_range(address, 16).ok()?;
    let prefix = prefix.as_ref();
    // Version 1 of the header: the old layouts came before version 2 of it.
    if prefix.first() != Some(&1) {
        return None;
    }
    let mut runs = vec![(address.checked_add(16)?, number(prefix, 8, 4)?)];
    let mut next = 0;
    while let Some((at, len)) = runs.get(next).copied().filter(|_| next < MAX_RUNS) {
        next += 1;
        let run = storage.read_range(at, usize::try_from(len.min(MAX_RUN)).ok()?).ok()?;
        let mut rest = run.as_ref();
        while let (Some(kind), Some(size)) = (number(rest, 0, 2), number(rest, 2, 2)) {
            let Some(body) = rest.get(8..8 + size as usize) else { break };
            match kind as u16 {
                LAYOUT => return read(body, offset_size),
                CONTINUATION => {
                    let len = body.get(usize::from(offset_size)..)?;
                    runs.push((number(body, 0, offset_size)?, number(len, 0, 8)?));
                }
                _ => {}
            }
            rest = rest.get(8 + size as usize..).unwrap_or_default();
        }
    }
    None
}

fn read(body: &[u8], offset_size: u8) -> Option<DataLayout> {
    let [version, rank, class, ..] = *body else { return None };
    if !matches!(version, 1 | 2) {
        return None;
    }
    // Five reserved bytes in both versions.
    let mut rest = body.get(8..)?;
    let mut take = |size: u8| {
        let value = number(rest, 0, size)?;
        rest = rest.get(usize::from(size)..)?;
        Some(value)
    };
    let address = if class == 0 { 0 } else { take(offset_size)? };
    let mut dims = Vec::new();
    for _ in 0..rank {
        dims.push(take(4)? as u32);
    }
    match class {
        0 => {
            let size = take(4)? as usize;
            Some(DataLayout::Compact { data: rest.get(..size)?.to_vec() })
        }
        1 => {
            let size = dims.iter().fold(1u64, |n, d| n.saturating_mul(u64::from(*d)));
            Some(DataLayout::Contiguous { address, size })
        }
        2 => {
            // The last dimension is the bytes of an element.
            let element_size = dims.pop()?;
            Some(DataLayout::Chunked { address, dims, element_size, chunk_indexing: None })
        }
        _ => None,
    }
}

/// A number of `size` bytes, the smallest first.
fn number(bytes: &[u8], at: usize, size: u8) -> Option<u64> {
    let bytes = bytes.get(at..at + usize::from(size).min(8))?;
    Some(bytes.iter().rev().fold(0, |n, b| n << 8 | u64::from(*b)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use hdf5_reader::BytesStorage;

    /// The layout message that MATLAB 7.4 wrote into a file which SciPy ships for its tests
    /// (`testhdf5_7.4_GLNX86.mat`): h5py finds the data at byte 0xe00 behind the user block.
    const WRITTEN: [u8; 32] = [
        2, 3, 1, 0, 0, 0, 0, 0, 0, 0x0e, 0, 0, 0, 0, 0, 0, 9, 0, 0, 0, 1, 0, 0, 0, 8, 0, 0, 0, 0,
        0, 0, 0,
    ];

    #[test]
    fn an_old_message_as_written() {
        let expected = DataLayout::Contiguous { address: 0xe00, size: 72 };
        assert_eq!(read(&WRITTEN, 8), Some(expected));
    }

    /// By the specification; no file at hand holds these.
    #[test]
    fn old_chunks_and_compact_data() {
        let mut chunked = WRITTEN;
        chunked[2] = 2;
        let expected = DataLayout::Chunked {
            address: 0xe00,
            dims: vec![9, 1],
            element_size: 8,
            chunk_indexing: None,
        };
        assert_eq!(read(&chunked, 8), Some(expected));
        let compact = [1, 1, 0, 0, 0, 0, 0, 0, 2, 0, 0, 0, 2, 0, 0, 0, 7, 8];
        assert_eq!(read(&compact, 8), Some(DataLayout::Compact { data: vec![7, 8] }));
        for n in 0..compact.len() {
            assert_eq!(read(&compact[..n], 8), None, "{n} bytes");
        }
    }

    /// A header that goes on elsewhere, and one that goes on at itself.
    #[test]
    fn continued_headers() {
        for (goes_on_at, found) in [(40u8, true), (16, false)] {
            let mut file = vec![0u8; 40];
            file[..12].copy_from_slice(&[1, 0, 2, 0, 1, 0, 0, 0, 24, 0, 0, 0]);
            file[16..20].copy_from_slice(&[0x10, 0, 16, 0]);
            (file[24], file[32]) = (goes_on_at, if found { 40 } else { 24 });
            file.extend([8, 0, 32, 0, 0, 0, 0, 0]);
            file.extend(WRITTEN);
            let storage = BytesStorage::new(file);
            assert_eq!(find(&storage, 0, 8).is_some(), found);
        }
    }
}
