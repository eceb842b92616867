//! The walk over the groups of a file.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use hdf5_reader::messages::link::LinkTarget;
use hdf5_reader::object_header::ObjectHeader;

use super::chunked::Chunks;
use super::dataset::{Dataset, Stored};
use super::matlab::{self, Class};
use super::number::{self, Part};
use super::problem::broken;
use super::scales::{self, Facts};
use super::text::{self, Heaps, MAX_TEXT};
use super::tree::{self, Link, ObjectKind};
use super::{attribute, readable::Readable};
use crate::base::error::{Problem, Problems};
use crate::formats::container::{Access, ArrayInfo, Attribute, NumberKind};
use crate::formats::source::Source;

/// Groups deeper than this are not entered.
const MAX_DEPTH: usize = 16;
/// A file with more arrays, or more groups, is refused.
const MAX_ARRAYS: usize = 4096;
const MAX_GROUPS: usize = 16384;

/// What was found so far.
pub struct Listing<'a> {
    pub chunks: &'a Chunks,
    pub source: Arc<dyn Source>,
    pub is_matlab: bool,
    pub arrays: Vec<ArrayInfo>,
    pub readable: BTreeMap<String, Readable>,
    pub groups: BTreeMap<String, BTreeMap<String, Attribute>>,
    /// Other paths of a group, and the one under which it is listed.
    pub aliases: BTreeMap<String, String>,
    /// Worth knowing.
    pub notes: Problems,
    /// Parts of the file that cannot be read.
    pub faults: Problems,
    heaps: Heaps,
    facts: BTreeMap<String, Facts>,
    /// Path of each group by the address of its header.
    seen: BTreeMap<u64, String>,
    soft: Vec<(String, u64, String)>,
    texts: Vec<(String, String, String)>,
}

impl<'a> Listing<'a> {
    /// Lists a whole file.
    ///
    /// # Errors
    /// `hdf5-broken` where not even the root can be read, `file-too-many-arrays`.
    pub fn new(chunks: &'a Chunks, source: Arc<dyn Source>) -> Result<Self, Problem> {
        let mut this = Self {
            chunks,
            is_matlab: matlab::is_matlab(source.as_ref()),
            source,
            arrays: Vec::new(),
            readable: BTreeMap::new(),
            groups: BTreeMap::new(),
            aliases: BTreeMap::new(),
            notes: Vec::new(),
            faults: Vec::new(),
            heaps: Heaps::default(),
            facts: BTreeMap::new(),
            seen: BTreeMap::new(),
            soft: Vec::new(),
            texts: Vec::new(),
        };
        let file = &chunks.file;
        let root = file.superblock().root_object_header_address().map_err(|e| broken("", &e))?;
        let header = file.get_or_parse_header(root).map_err(|e| broken("", &e))?;
        this.group(&header, root, "", 0)?;
        this.follow(root)?;
        for (group, name, text) in std::mem::take(&mut this.texts) {
            this.groups.entry(group).or_default().entry(name).or_insert(Attribute::Text(text));
        }
        this.arrays.sort_by(|a, b| a.path.cmp(&b.path));
        scales::assign(&mut this.arrays, &this.facts);
        Ok(this)
    }

    fn group(
        &mut self,
        header: &ObjectHeader,
        address: u64,
        path: &str,
        depth: usize,
    ) -> Result<(), Problem> {
        self.seen.insert(address, path.to_owned());
        if self.seen.len() > MAX_GROUPS {
            return Err(Problem::new("file-too-many-arrays").at(path).with("limit", MAX_ARRAYS));
        }
        if depth > MAX_DEPTH {
            self.faults.push(Problem::new("file-too-deep").at(path).with("limit", MAX_DEPTH));
            return Ok(());
        }
        let file = &self.chunks.file;
        let attributes = match attribute::stored(file, header) {
            Ok(stored) => stored
                .iter()
                .filter_map(|m| Some((m.name.clone(), attribute::value(file, &mut self.heaps, m)?)))
                .collect(),
            Err(error) => {
                self.faults.push(broken(path, &error));
                BTreeMap::new()
            }
        };
        self.groups.insert(path.to_owned(), attributes);
        let links = match tree::links(file, header) {
            Ok(links) => links,
            Err(error) => {
                self.faults.push(broken(path, &error));
                return Ok(());
            }
        };
        for Link { name, target } in links {
            let child = format!("{path}/{name}");
            match target {
                LinkTarget::Hard { address: at } => self.object(at, &child, depth)?,
                LinkTarget::Soft { path: target } => self.soft.push((child, address, target)),
                LinkTarget::External { filename, path: inside } => self.notes.push(
                    Problem::new("hdf5-elsewhere")
                        .at(child)
                        .with("found", format!("{filename}{inside}")),
                ),
            }
        }
        Ok(())
    }

    fn object(&mut self, address: u64, path: &str, depth: usize) -> Result<(), Problem> {
        if let Some(first) = self.seen.get(&address) {
            self.aliases.insert(path.to_owned(), first.clone());
            return Ok(());
        }
        if self.is_matlab && depth == 0 && matlab::INNER_GROUPS.contains(&&path[1..]) {
            self.notes.push(Problem::new("hdf5-cells").at(path));
            return Ok(());
        }
        let header = match self.chunks.file.get_or_parse_header(address) {
            Ok(header) => header,
            Err(error) => {
                self.faults.push(broken(path, &error));
                return Ok(());
            }
        };
        match tree::object_kind(&header) {
            ObjectKind::Group => self.group(&header, address, path, depth + 1),
            ObjectKind::Dataset => self.dataset(&header, address, path),
            ObjectKind::Other => Ok(()),
        }
    }

    /// Soft links: further names of what was found through hard links.
    fn follow(&mut self, root: u64) -> Result<(), Problem> {
        for (path, group, target) in std::mem::take(&mut self.soft) {
            let Some(address) = tree::resolve(&self.chunks.file, root, group, &target) else {
                self.notes.push(Problem::new("hdf5-link-lost").at(path).with("found", target));
                continue;
            };
            self.object(address, &path, 0)?;
        }
        Ok(())
    }

    fn dataset(&mut self, header: &ObjectHeader, address: u64, path: &str) -> Result<(), Problem> {
        let file = &self.chunks.file;
        let stored = attribute::stored(file, header).unwrap_or_else(|error| {
            self.faults.push(broken(path, &error));
            Vec::new()
        });
        let attributes: BTreeMap<String, Attribute> = stored
            .iter()
            .filter_map(|m| Some((m.name.clone(), attribute::value(file, &mut self.heaps, m)?)))
            .collect();
        if scales::is_placeholder(&attributes) {
            return Ok(());
        }
        let class = if self.is_matlab { matlab::class(&attributes) } else { Class::Numbers };
        if class == Class::Cells {
            self.notes.push(Problem::new("hdf5-cells").at(path));
            return Ok(());
        }
        let dataset = Dataset::new(header, address, path, &self.source, file);
        let mut dataset = match dataset {
            Ok(dataset) => dataset,
            Err(problem) => {
                self.faults.push(problem);
                return Ok(());
            }
        };
        if self.is_text(&dataset, class, path, &attributes) {
            return Ok(());
        }
        let mut parts = number::parts(&dataset.datatype.datatype, dataset.datatype.size);
        let alone = matches!(parts.as_slice(), [part] if part.name.is_none());
        if alone && !self.is_plain(path) {
            parts.clear();
        }
        if self.is_matlab && matlab::is_empty(&attributes) {
            let dimensions = self.all(&dataset, parts.first(), path);
            dataset.shape = matlab::empty_shape(&dimensions);
            dataset.stored = Stored::Nowhere;
        }
        let kind = number::word(&dataset.datatype.datatype);
        if parts.is_empty() && kind != "text" {
            self.notes.push(Problem::new("hdf5-not-numbers").at(path).with("found", kind));
        }
        let facts = Facts::new(file, &mut self.heaps, address, &stored, &attributes);
        let dataset = Arc::new(dataset);
        let info = |path: String, part: Option<&Part>| ArrayInfo {
            path,
            shape: part.map_or_else(|| dataset.shape.clone(), |part| dataset.shape_of(part)),
            reversed: self.is_matlab,
            kind: part.map_or(NumberKind::Other, |part| part.element.kind),
            access: Access::Random,
            chunk: match (dataset.chunk(), part) {
                (chunk, Some(part)) if !chunk.is_empty() => {
                    chunk.into_iter().chain(part.inner.iter().copied()).collect()
                }
                (chunk, _) => chunk,
            },
            scales: Vec::new(),
            attributes: attributes.clone(),
        };
        let mut listed = Vec::new();
        let mut names = BTreeSet::new();
        for part in &parts {
            let path = part.name.as_ref().map_or(path.to_owned(), |name| format!("{path}/{name}"));
            if names.insert(path.clone()) {
                listed.push((info(path, Some(part)), Readable::numbers(&dataset, part)));
            }
        }
        if parts.is_empty() {
            listed.push((info(path.to_owned(), None), Readable::other(kind)));
        }
        for (info, readable) in listed {
            self.facts.insert(info.path.clone(), facts.clone());
            self.readable.insert(info.path.clone(), readable);
            self.arrays.push(info);
        }
        if self.arrays.len() > MAX_ARRAYS {
            return Err(Problem::new("file-too-many-arrays").at(path).with("limit", MAX_ARRAYS));
        }
        Ok(())
    }

    /// Takes a dataset that is a single text over as an attribute of its group.
    fn is_text(
        &mut self,
        dataset: &Dataset,
        class: Class,
        path: &str,
        attributes: &BTreeMap<String, Attribute>,
    ) -> bool {
        let elements = dataset.shape.iter().fold(1u64, |n, d| n.saturating_mul(*d));
        let datatype = &dataset.datatype;
        let text = if class == Class::Text {
            let parts = number::parts(&datatype.datatype, datatype.size);
            if matlab::is_empty(attributes) || elements == 0 {
                Some(String::new())
            } else if elements <= MAX_TEXT {
                Some(text::from_codes(&self.all(dataset, parts.first(), path), &dataset.shape))
            } else {
                None
            }
        } else if text::is_text(&datatype.datatype)
            && elements == 1
            && u64::from(datatype.size) <= MAX_TEXT
        {
            let bytes = dataset.first(self.chunks, path);
            bytes.ok().and_then(|b| self.heaps.text(&self.chunks.file, &datatype.datatype, &b))
        } else {
            None
        };
        let (Some(text), Some((group, name))) = (text, path.rsplit_once('/')) else { return false };
        self.texts.push((group.to_owned(), name.to_owned(), text));
        true
    }

    /// All numbers of a small dataset; none if it is not small or broken.
    fn all(&self, dataset: &Dataset, part: Option<&Part>, path: &str) -> Vec<f64> {
        let elements = dataset.shape.iter().fold(1u64, |n, d| n.saturating_mul(*d));
        let Some(part) = part.filter(|part| part.inner.is_empty() && elements <= MAX_TEXT) else {
            return Vec::new();
        };
        let start = vec![0; dataset.shape.len()];
        dataset
            .read(self.chunks, path, part, &start, &dataset.shape)
            .map_or_else(|_| Vec::new(), |samples| samples.to_f64())
    }

    /// Whether the numbers of a dataset fill their bytes as usual. A type of which the stored form
    /// cannot be had counts as usual.
    fn is_plain(&self, path: &str) -> bool {
        let dataset = self.chunks.file.dataset(path);
        dataset
            .and_then(|dataset| dataset.raw_datatype())
            .map_or(true, |raw| number::is_plain(&raw))
    }
}
