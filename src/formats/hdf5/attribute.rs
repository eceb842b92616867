//! Attributes of an object, as stored and as numbers or a text.

use hdf5_reader::btree_v2::BTreeV2Record;
use hdf5_reader::error::Error;
use hdf5_reader::io::Cursor;
use hdf5_reader::messages::HdfMessage;
use hdf5_reader::messages::attribute::{self, AttributeMessage};
use hdf5_reader::messages::attribute_info::AttributeInfoMessage;
use hdf5_reader::messages::dataspace::DataspaceType;
use hdf5_reader::object_header::ObjectHeader;
use hdf5_reader::{Datatype, Hdf5File};

use super::dense;
use super::number;
use super::text::Heaps;
use crate::formats::container::Attribute;

/// Attributes with more values are passed over.
const MAX_VALUES: usize = 1024;

/// All attributes of an object.
///
/// # Errors
/// What the structure reader says of a broken index or heap.
pub fn stored(file: &Hdf5File, header: &ObjectHeader) -> Result<Vec<AttributeMessage>, Error> {
    let mut all = Vec::new();
    for message in &header.messages {
        match message {
            HdfMessage::Attribute(attribute) => all.push(attribute.clone()),
            HdfMessage::AttributeInfo(info) => all.extend(from_heap(file, info)?),
            _ => {}
        }
    }
    Ok(all)
}

fn from_heap(file: &Hdf5File, info: &AttributeInfoMessage) -> Result<Vec<AttributeMessage>, Error> {
    let (storage, sizes) = (file.storage(), file.superblock());
    let (offset_size, length_size) = (sizes.offset_size, sizes.length_size);
    let found = dense::records(file, info.fractal_heap_address, info.btree_name_index_address)?;
    let Some((heap, records)) = found else { return Ok(Vec::new()) };
    let mut all = Vec::new();
    for record in records {
        let (BTreeV2Record::AttributeNameHash { heap_id, .. }
        | BTreeV2Record::AttributeCreationOrder { heap_id, .. }) = record
        else {
            continue;
        };
        let bytes = heap.get_object_storage(&heap_id, storage, offset_size, length_size)?;
        let message =
            attribute::parse(&mut Cursor::new(&bytes), offset_size, length_size, bytes.len())?;
        all.push(message);
    }
    Ok(all)
}

/// The attribute as numbers or a text; `None` for any other kind, and for very many values.
pub fn value(file: &Hdf5File, heaps: &mut Heaps, message: &AttributeMessage) -> Option<Attribute> {
    let values = usize::try_from(message.dataspace.num_elements().ok()?).ok()?;
    if values > MAX_VALUES || message.dataspace.dataspace_type == DataspaceType::Null {
        return None;
    }
    if let Some(numbers) = numbers(message, values) {
        return Some(Attribute::Numbers(numbers));
    }
    if values != 1 {
        return None;
    }
    heaps.text(file, &message.datatype, &message.raw_data).map(Attribute::Text)
}

fn numbers(message: &AttributeMessage, values: usize) -> Option<Vec<f64>> {
    let size = message.raw_data.len().checked_div(values)?;
    let parts = number::parts(&message.datatype, u32::try_from(size).ok()?);
    let [part] = parts.as_slice() else { return None };
    if part.name.is_some() {
        return None;
    }
    Some(part.element.decode(&message.raw_data).to_f64())
}

/// Addresses of the objects to which an attribute refers, a list for each of its values.
pub fn references(
    file: &Hdf5File,
    heaps: &mut Heaps,
    message: &AttributeMessage,
) -> Option<Vec<Vec<u64>>> {
    let offset_size = usize::from(file.superblock().offset_size);
    let Datatype::VarLen { base, .. } = &message.datatype else { return None };
    if !matches!(**base, Datatype::Reference { .. }) {
        return None;
    }
    let values = usize::try_from(message.dataspace.num_elements().ok()?).ok()?;
    let size = message.raw_data.len().checked_div(values)?;
    if values > MAX_VALUES || size < offset_size + 8 {
        return None;
    }
    message
        .raw_data
        .chunks_exact(size)
        .map(|reference| {
            let bytes = heaps.resolve(file, reference)?;
            let mut cursor = Cursor::new(&bytes);
            let mut addresses = Vec::new();
            while let Ok(address) = cursor.read_offset(file.superblock().offset_size) {
                addresses.push(address);
            }
            Some(addresses)
        })
        .collect()
}
