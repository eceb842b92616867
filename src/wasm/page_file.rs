//! A file dropped on the page as a source, read synchronously inside a worker.

use std::cell::RefCell;

use js_sys::Uint8Array;
use web_sys::{File, FileReaderSync};

use crate::formats::source::{Source, SourceError};

thread_local! {
    /// Files of this worker; sources hold an index, since a `File` cannot be shared between threads.
    static FILES: RefCell<Vec<File>> = const { RefCell::new(Vec::new()) };
}

/// A dropped file.
pub struct PageFile {
    index: usize,
    len: u64,
}

impl PageFile {
    /// Keeps a file for this worker.
    pub fn new(file: File) -> Self {
        let len = file.size() as u64;
        let index = FILES.with(|files| {
            let mut files = files.borrow_mut();
            files.push(file);
            files.len() - 1
        });
        Self { index, len }
    }

    /// Forgets all files of this worker.
    pub fn forget_all() {
        FILES.with(|files| files.borrow_mut().clear());
    }
}

impl Source for PageFile {
    fn len(&self) -> u64 {
        self.len
    }

    fn read_at(&self, offset: u64, buffer: &mut [u8]) -> Result<(), SourceError> {
        let wanted = buffer.len() as u64;
        let error =
            |detail: &str| SourceError { offset, wanted, len: self.len, detail: detail.to_owned() };
        let end =
            offset.checked_add(wanted).filter(|end| *end <= self.len).ok_or_else(|| error(""))?;
        let bytes = FILES.with(|files| {
            let files = files.borrow();
            let file = files.get(self.index).ok_or("no such file")?;
            let slice = file
                .slice_with_f64_and_f64(offset as f64, end as f64)
                .map_err(|_| "slice failed")?;
            let reader = FileReaderSync::new().map_err(|_| "only workers can read")?;
            let data = reader
                .read_as_array_buffer(&slice)
                .map_err(|_| "the file changed or cannot be read")?;
            Ok::<Uint8Array, &str>(Uint8Array::new(&data))
        });
        let bytes = bytes.map_err(error)?;
        if u64::from(bytes.length()) != wanted {
            return Err(error("fewer bytes than asked for"));
        }
        bytes.copy_to(buffer);
        Ok(())
    }
}
