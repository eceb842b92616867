//! Where bytes come from: a file on disk, a dropped file in a worker, bytes in memory.

use std::collections::BTreeMap;
use std::sync::Arc;

/// Bytes that can be read anywhere.
pub trait Source: Send + Sync {
    /// Length in bytes.
    fn len(&self) -> u64;

    /// Whether there is nothing to read.
    fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// Fills `buffer` from `offset` on.
    ///
    /// # Errors
    /// When the range does not lie in the source or the medium fails.
    fn read_at(&self, offset: u64, buffer: &mut [u8]) -> Result<(), SourceError>;
}

/// A range of bytes that could not be read.
#[derive(Debug, Clone, PartialEq)]
pub struct SourceError {
    pub offset: u64,
    pub wanted: u64,
    pub len: u64,
    /// What the medium said, if it was not just the end of the source.
    pub detail: String,
}

impl std::fmt::Display for SourceError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            f,
            "bytes {}..{} of {} {}",
            self.offset,
            self.offset.saturating_add(self.wanted),
            self.len,
            self.detail
        )
    }
}

impl std::error::Error for SourceError {}

/// Bytes in memory.
pub struct Memory(pub Arc<[u8]>);

impl Source for Memory {
    fn len(&self) -> u64 {
        self.0.len() as u64
    }

    fn read_at(&self, offset: u64, buffer: &mut [u8]) -> Result<(), SourceError> {
        let error = || SourceError {
            offset,
            wanted: buffer.len() as u64,
            len: self.0.len() as u64,
            detail: String::new(),
        };
        let start = usize::try_from(offset).map_err(|_| error())?;
        let end = start.checked_add(buffer.len()).ok_or_else(error)?;
        let bytes = self.0.get(start..end).ok_or_else(error)?;
        buffer.copy_from_slice(bytes);
        Ok(())
    }
}

/// Reads a whole source, refusing more than `limit` bytes.
///
/// # Errors
/// The source's own, or one that says the limit was exceeded.
pub fn read_all(source: &dyn Source, limit: u64) -> Result<Vec<u8>, SourceError> {
    let len = source.len();
    let error =
        |detail: &str| SourceError { offset: 0, wanted: len, len, detail: detail.to_owned() };
    if len > limit {
        return Err(error("too large"));
    }
    let mut bytes = vec![0u8; usize::try_from(len).map_err(|_| error("too large"))?];
    source.read_at(0, &mut bytes)?;
    Ok(bytes)
}

/// The files at hand, by the name under which the record speaks of them.
#[derive(Clone, Default)]
pub struct FileSet {
    files: BTreeMap<String, Arc<dyn Source>>,
}

impl FileSet {
    /// Adds a file, replacing one of the same name.
    pub fn insert(&mut self, name: &str, source: Arc<dyn Source>) {
        self.files.insert(name.to_owned(), source);
    }

    /// The file that a record names: the exact name, else the same last path part.
    pub fn get(&self, name: &str) -> Option<Arc<dyn Source>> {
        let last = |path: &str| path.rsplit(['/', '\\']).next().unwrap_or(path).to_owned();
        self.files
            .get(name)
            .or_else(|| self.files.iter().find(|(key, _)| last(key) == last(name)).map(|(_, s)| s))
            .cloned()
    }

    /// Names in order.
    pub fn names(&self) -> Vec<String> {
        self.files.keys().cloned().collect()
    }

    /// All files in order of name.
    pub fn iter(&self) -> impl Iterator<Item = (&String, &Arc<dyn Source>)> {
        self.files.iter()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn memory_refuses_ranges_outside() {
        let memory = Memory(Arc::from([1u8, 2, 3].as_slice()));
        let mut two = [0u8; 2];
        assert!(memory.read_at(1, &mut two).is_ok());
        assert_eq!(two, [2, 3]);
        assert!(memory.read_at(2, &mut two).is_err());
        assert!(memory.read_at(u64::MAX, &mut two).is_err());
    }

    #[test]
    fn files_are_found_by_their_last_part() {
        let mut files = FileSet::default();
        files.insert("folder/plane.h5", Arc::new(Memory(Arc::from([0u8].as_slice()))));
        assert!(files.get("plane.h5").is_some());
        assert!(files.get("lane.h5").is_none());
    }
}
