//! From the stored bytes of a chunk to its elements.

use hdf5_reader::FilterRegistry;
use hdf5_reader::error::Error;
use hdf5_reader::filters::FILTER_SHUFFLE;
use hdf5_reader::messages::filter_pipeline::FilterDescription;

use super::lzf;

/// Undoes the filters that were applied to a chunk of `expected` bytes, the last first.
///
/// Bit `i` of `mask` says that filter `i` was left out for this chunk.
///
/// # Errors
/// An unknown filter, a broken stream, or another number of bytes than expected.
pub fn decode(
    registry: &FilterRegistry,
    filters: &[FilterDescription],
    mask: u32,
    packed: &[u8],
    element_bytes: usize,
    expected: usize,
) -> Result<Vec<u8>, Error> {
    // A stage in between may be a little longer than the chunk.
    let limit = expected.saturating_add(expected / 64).saturating_add(64 << 10);
    let mut bytes: Option<Vec<u8>> = None;
    for (i, filter) in filters.iter().enumerate().rev() {
        if i < 32 && mask & (1 << i) != 0 {
            continue;
        }
        let input = bytes.as_deref().unwrap_or(packed);
        bytes = Some(match filter.id {
            lzf::FILTER => lzf::decompress(input, limit)
                .ok_or_else(|| Error::DecompressionError("LZF stream is broken".to_owned()))?,
            FILTER_SHUFFLE => {
                let width = filter.client_data.first().map_or(element_bytes, |n| *n as usize);
                registry.apply_with_limit(filter, input, width, Some(limit))?
            }
            _ => registry.apply_with_limit(filter, input, element_bytes, Some(limit))?,
        });
    }
    let bytes = bytes.unwrap_or_else(|| packed.to_vec());
    if bytes.len() != expected {
        return Err(Error::InvalidData(format!(
            "a chunk has {} bytes instead of {expected}",
            bytes.len()
        )));
    }
    Ok(bytes)
}
