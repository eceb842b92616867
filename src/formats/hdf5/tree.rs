//! The links of a group (HDF5 File Format Specification, III.A, III.D and IV.A.2).

use hdf5_reader::Hdf5File;
use hdf5_reader::btree_v1::collect_btree_v1_leaves_storage;
use hdf5_reader::btree_v2::BTreeV2Record;
use hdf5_reader::error::Error;
use hdf5_reader::fractal_heap::FractalHeapDirectBlockCache;
use hdf5_reader::io::Cursor;
use hdf5_reader::local_heap::LocalHeap;
use hdf5_reader::messages::HdfMessage;
use hdf5_reader::messages::link::{self, LinkTarget};
use hdf5_reader::messages::link_info::LinkInfoMessage;
use hdf5_reader::messages::symbol_table_msg::SymbolTableMessage;
use hdf5_reader::object_header::ObjectHeader;
use hdf5_reader::symbol_table::SymbolTableNode;

use super::dense;

/// Soft links followed one after another, and parts of paths walked for one of them.
const MAX_STEPS: usize = 256;

/// A name in a group and what it stands for.
#[derive(Debug, Clone)]
pub struct Link {
    pub name: String,
    pub target: LinkTarget,
}

/// What an object header describes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ObjectKind {
    Group,
    Dataset,
    /// A named type, or nothing that is known.
    Other,
}

/// Tells groups from datasets by the messages of the header.
pub fn object_kind(header: &ObjectHeader) -> ObjectKind {
    let has = |test: fn(&HdfMessage) -> bool| header.messages.iter().any(test);
    if has(|m| {
        matches!(
            m,
            HdfMessage::SymbolTable(_)
                | HdfMessage::Link(_)
                | HdfMessage::LinkInfo(_)
                | HdfMessage::GroupInfo(_)
        )
    }) {
        ObjectKind::Group
    } else if has(|m| matches!(m, HdfMessage::Dataspace(_) | HdfMessage::DataLayout(_))) {
        ObjectKind::Dataset
    } else if has(|m| matches!(m, HdfMessage::Datatype(_))) {
        ObjectKind::Other
    } else {
        // A group of the newer form that holds nothing but attributes.
        ObjectKind::Group
    }
}

/// All links of a group, in order of name.
///
/// # Errors
/// What the structure reader says of a broken index or heap.
pub fn links(file: &Hdf5File, header: &ObjectHeader) -> Result<Vec<Link>, Error> {
    let mut links = Vec::new();
    for message in &header.messages {
        match message {
            HdfMessage::SymbolTable(table) => links.extend(symbol_table(file, table)?),
            HdfMessage::Link(link) => {
                links.push(Link { name: link.name.clone(), target: link.target.clone() });
            }
            HdfMessage::LinkInfo(info) => links.extend(from_heap(file, info)?),
            _ => {}
        }
    }
    links.sort_by(|a, b| a.name.cmp(&b.name));
    links.dedup_by(|a, b| a.name == b.name);
    Ok(links)
}

fn symbol_table(file: &Hdf5File, table: &SymbolTableMessage) -> Result<Vec<Link>, Error> {
    let (storage, sizes) = (file.storage(), file.superblock());
    let (offset_size, length_size) = (sizes.offset_size, sizes.length_size);
    let heap = LocalHeap::parse_at_storage(storage, table.heap_address, offset_size, length_size)?;
    let nodes = collect_btree_v1_leaves_storage(
        storage,
        table.btree_address,
        offset_size,
        length_size,
        None,
        &[],
        None,
    )?;
    let mut names: Option<Vec<u8>> = None;
    let mut links = Vec::new();
    for (_, address) in nodes {
        let head = storage.read_range(address, 8)?;
        let symbols = match *head.as_ref() {
            [b'S', b'N', b'O', b'D', _, _, low, high] => u16::from_le_bytes([low, high]),
            _ => return Err(Error::InvalidSymbolTableNodeSignature),
        };
        let len = 8 + usize::from(symbols) * (2 * usize::from(offset_size) + 24);
        let bytes = storage.read_range(address, len)?;
        let node =
            SymbolTableNode::parse(&mut Cursor::new(bytes.as_ref()), offset_size, length_size)?;
        for entry in &node.entries {
            let segment = match &mut names {
                Some(segment) => segment,
                None => {
                    let len = usize::try_from(heap.data_segment_size)
                        .map_err(|_| Error::InvalidLocalHeapSignature)?;
                    let bytes = storage.read_range(heap.data_segment_address, len)?;
                    names.insert(bytes.as_ref().to_vec())
                }
            };
            let text = |at: u64| -> Result<String, Error> {
                usize::try_from(at)
                    .ok()
                    .and_then(|at| segment.get(at..))
                    .and_then(|rest| rest.split(|b| *b == 0).next())
                    .map(|bytes| String::from_utf8_lossy(bytes).into_owned())
                    .ok_or(Error::OffsetOutOfBounds(at))
            };
            let name = text(entry.link_name_offset)?;
            let target = if entry.cache_type == 2 {
                let [a, b, c, d, ..] = entry.scratch;
                LinkTarget::Soft { path: text(u64::from(u32::from_le_bytes([a, b, c, d])))? }
            } else {
                LinkTarget::Hard { address: entry.object_header_address }
            };
            links.push(Link { name, target });
        }
    }
    Ok(links)
}

fn from_heap(file: &Hdf5File, info: &LinkInfoMessage) -> Result<Vec<Link>, Error> {
    let (storage, sizes) = (file.storage(), file.superblock());
    let (offset_size, length_size) = (sizes.offset_size, sizes.length_size);
    let found = dense::records(file, info.fractal_heap_address, info.btree_name_index_address)?;
    let Some((heap, records)) = found else { return Ok(Vec::new()) };
    let mut blocks = FractalHeapDirectBlockCache::default();
    let mut links = Vec::new();
    for record in &records {
        let (BTreeV2Record::LinkNameHash { heap_id, .. }
        | BTreeV2Record::CreationOrder { heap_id, .. }) = record
        else {
            continue;
        };
        let bytes = heap.get_object_storage_cached(
            heap_id,
            storage,
            offset_size,
            length_size,
            &mut blocks,
        )?;
        let message = link::parse(&mut Cursor::new(&bytes), offset_size, length_size, bytes.len())?;
        links.push(Link { name: message.name, target: message.target });
    }
    Ok(links)
}

/// Address of the object that a soft link stands for; `None` if there is none in this file.
///
/// `group` is the address of the group in which the link stands, `root` that of the root.
pub fn resolve(file: &Hdf5File, root: u64, group: u64, path: &str) -> Option<u64> {
    let mut at = if path.starts_with('/') { root } else { group };
    let mut parts: Vec<String> = split(path);
    for _ in 0..MAX_STEPS {
        let Some(part) = parts.pop() else { return Some(at) };
        let header = file.get_or_parse_header(at).ok()?;
        let link = links(file, &header).ok()?.into_iter().find(|link| link.name == part)?;
        match link.target {
            LinkTarget::Hard { address } => at = address,
            LinkTarget::Soft { path } => {
                if path.starts_with('/') {
                    at = root;
                }
                parts.extend(split(&path));
            }
            LinkTarget::External { .. } => return None,
        }
        if parts.len() > MAX_STEPS {
            return None;
        }
    }
    None
}

/// Parts of a path, the last first.
fn split(path: &str) -> Vec<String> {
    path.split('/')
        .filter(|part| !part.is_empty() && *part != ".")
        .rev()
        .map(str::to_owned)
        .collect()
}
