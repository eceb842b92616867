//! A file dropped on the page as a source, read synchronously inside a worker.

use std::cell::{Cell, RefCell};

use js_sys::{Object, Reflect, Uint8Array};
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{DedicatedWorkerGlobalScope, File, FileReaderSync};

use super::language::words;
use crate::formats::source::{Source, SourceError};
use crate::report;

/// After so many bytes the page is told how far reading is.
const TOLD_EVERY: u64 = 64 << 20;

thread_local! {
    /// Bytes read since [`PageFile::begin`].
    static READ: Cell<u64> = const { Cell::new(0) };
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

    /// A new call begins: reading counts from nothing.
    pub fn begin() {
        READ.set(0);
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
        count(wanted);
        Ok(())
    }
}

/// Tells the page every now and then how much one call has read: the call itself answers only when it
/// is done.
fn count(bytes: u64) {
    let before = READ.get();
    READ.set(before + bytes);
    if before / TOLD_EVERY == (before + bytes) / TOLD_EVERY {
        return;
    }
    let text = report::reading(before + bytes, words());
    let message = Object::new();
    let set = Reflect::set(&message, &JsValue::from_str("step"), &JsValue::from_str(&text));
    if let (Ok(true), Ok(scope)) = (set, js_sys::global().dyn_into::<DedicatedWorkerGlobalScope>())
    {
        // Nothing depends on it.
        let _ = scope.post_message(&message);
    }
}
