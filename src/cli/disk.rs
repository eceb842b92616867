//! Files on disk as sources, with their hashes.

use std::fs::File;
use std::io::{Read, Seek, SeekFrom};
use std::path::Path;
use std::sync::{Arc, Mutex};

use sha2::{Digest, Sha256};

use crate::base::error::Problem;
use crate::formats::source::{Source, SourceError};

/// Bytes hashed at a time.
const BLOCK: usize = 1 << 20;

/// A file on disk.
pub struct DiskFile {
    file: Mutex<File>,
    len: u64,
}

impl DiskFile {
    /// Opens a file.
    ///
    /// # Errors
    /// `file-unreadable`, also for folders.
    pub fn open(path: &Path) -> Result<Arc<Self>, Problem> {
        let name = path.display().to_string();
        let unreadable =
            |found: String| Problem::new("file-unreadable").in_file(&name).with("found", found);
        let file = File::open(path).map_err(|error| unreadable(error.to_string()))?;
        let about = file.metadata().map_err(|error| unreadable(error.to_string()))?;
        if !about.is_file() {
            return Err(unreadable("it is not a file".to_owned()));
        }
        Ok(Arc::new(Self { file: Mutex::new(file), len: about.len() }))
    }
}

impl Source for DiskFile {
    fn len(&self) -> u64 {
        self.len
    }

    fn read_at(&self, offset: u64, buffer: &mut [u8]) -> Result<(), SourceError> {
        let error = |detail: String| SourceError {
            offset,
            wanted: buffer.len() as u64,
            len: self.len,
            detail,
        };
        let mut file = self.file.lock().map_err(|e| error(e.to_string()))?;
        file.seek(SeekFrom::Start(offset)).map_err(|e| error(e.to_string()))?;
        let result = file.read_exact(buffer);
        result.map_err(|e| SourceError {
            offset,
            wanted: buffer.len() as u64,
            len: self.len,
            detail: e.to_string(),
        })
    }
}

/// SHA-256 of a source, lower-case hexadecimal.
///
/// # Errors
/// When it cannot be read to its end.
pub fn sha256(source: &dyn Source) -> Result<String, SourceError> {
    let mut hasher = Sha256::new();
    let mut buffer = vec![0u8; BLOCK];
    let mut at = 0;
    while at < source.len() {
        let n = usize::try_from((source.len() - at).min(BLOCK as u64)).unwrap_or(BLOCK);
        source.read_at(at, &mut buffer[..n])?;
        hasher.update(&buffer[..n]);
        at += n as u64;
    }
    Ok(hasher.finalize().iter().map(|byte| format!("{byte:02x}")).collect())
}
