//! HDF5 files, also those of netCDF-4 and of MAT version 7.3, through a seekable source.
//!
//! The crate `hdf5-reader` reads the structure (headers, indexes, heaps); where the numbers lie and
//! how they are read is decided here: datasets in one piece as a [`super::block::Block`], chunks in
//! few reads, each decoded once a box.

mod attribute;
mod cache;
mod chunked;
mod dataset;
mod dense;
mod filters;
mod index;
mod listing;
mod lookup;
mod lzf;
mod matlab;
mod number;
mod old_layout;
mod problem;
mod readable;
mod scales;
mod storage;
#[cfg(test)]
mod tests;
mod text;
mod tree;

use std::collections::BTreeMap;
use std::sync::Arc;

use hdf5_reader::{FilterRegistry, Hdf5File, OpenOptions};

use self::cache::ChunkCache;
use self::chunked::Chunks;
use self::listing::Listing;
use self::problem::broken;
use self::readable::Readable;
use self::storage::TwoWay;
use super::container::{ArrayInfo, Attribute, Container, NumberKind, Samples};
use super::source::Source;
use crate::base::error::{Problem, Problems};

/// Largest header of an object, bytes.
const MAX_HEADER_BYTES: usize = 8 << 20;
/// Names of links put in place of each other in one path.
const MAX_ALIASES: usize = 32;

/// An HDF5 file.
pub struct Hdf5 {
    chunks: Chunks,
    arrays: Vec<ArrayInfo>,
    readable: BTreeMap<String, Readable>,
    groups: BTreeMap<String, BTreeMap<String, Attribute>>,
    aliases: BTreeMap<String, String>,
    notes: Problems,
}

impl Hdf5 {
    /// Opens a file and lists its arrays. What cannot be read is noted as long as any array of
    /// numbers can.
    ///
    /// # Errors
    /// All that cannot be read, if no array can: `hdf5-broken`, `hdf5-short`, `hdf5-elsewhere`,
    /// `hdf5-virtual`, `hdf5-filter`, `file-too-deep`; `file-too-many-arrays`; `hdf5-short` for the
    /// whole file where it is shorter than it was when it was closed.
    pub fn open(source: Arc<dyn Source>) -> Result<Self, Problems> {
        let options = OpenOptions::default()
            .with_max_object_header_bytes(MAX_HEADER_BYTES)
            .with_chunk_cache_bytes(0);
        let storage = Arc::new(TwoWay::new(source.clone()));
        let file = Hdf5File::from_storage_with_options(storage, options)
            .map_err(|error| vec![broken("", &error)])?;
        let end = file.superblock().eof_address;
        let chunks = Chunks { file, registry: FilterRegistry::new(), cache: ChunkCache::default() };
        let listing = Listing::new(&chunks, source.clone());
        let mut problems = Vec::new();
        if end > source.len() {
            let short = Problem::new("hdf5-short").at("/");
            problems.push(short.with("expected", end).with("found", source.len()));
        }
        let listing = match listing {
            Ok(listing) => listing,
            Err(problem) => {
                problems.push(problem);
                return Err(problems);
            }
        };
        let any = listing.arrays.iter().any(|array| array.kind != NumberKind::Other);
        if !problems.is_empty() || (!any && !listing.faults.is_empty()) {
            problems.extend(listing.faults);
            return Err(problems);
        }
        let Listing { arrays, readable, groups, aliases, notes, faults, .. } = listing;
        let notes = faults.into_iter().chain(notes).collect();
        Ok(Self { chunks, arrays, readable, groups, aliases, notes })
    }

    /// The path under which an object is listed.
    fn listed(&self, path: &str) -> String {
        let mut path = path.to_owned();
        for _ in 0..MAX_ALIASES {
            let alias = self.aliases.iter().find_map(|(alias, first)| {
                let rest = path.strip_prefix(alias.as_str())?;
                (rest.is_empty() || rest.starts_with('/')).then(|| format!("{first}{rest}"))
            });
            match alias {
                Some(next) => path = next,
                None => break,
            }
        }
        path
    }
}

impl Container for Hdf5 {
    fn arrays(&self) -> &[ArrayInfo] {
        &self.arrays
    }

    fn group_attributes(&self, group: &str) -> BTreeMap<String, Attribute> {
        self.groups.get(&self.listed(group)).cloned().unwrap_or_default()
    }

    fn read(&self, path: &str, start: &[u64], count: &[u64]) -> Result<Samples, Problem> {
        let readable = self.readable.get(path).or_else(|| self.readable.get(&self.listed(path)));
        let readable = readable.ok_or_else(|| Problem::new("array-missing").at(path))?;
        readable.read(&self.chunks, path, start, count)
    }

    fn notes(&self) -> Problems {
        self.notes.clone()
    }

    fn array(&self, path: &str) -> Option<&ArrayInfo> {
        let find = |path: &str| self.arrays.iter().find(|array| array.path == path);
        find(path).or_else(|| find(&self.listed(path)))
    }
}
