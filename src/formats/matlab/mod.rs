//! MAT files of level 5 (MATLAB 5 to 7.2), compressed elements included.
//!
//! Written from memory of the published layout: "MAT-File Format", The MathWorks, chapter "Level 5
//! MAT-File Format". Variables are arrays at the root; fields of structs stand below the name of
//! the struct, `/s/field`, those of struct arrays below each element, `/s(2)/field`. Complex arrays
//! are two, `…/real` and `…/imag`. Character arrays are attributes of their group. Cell arrays,
//! objects, function handles and sparse matrices are passed over with a note.

mod cursor;
mod header;
mod matrix;
mod tag;
#[cfg(test)]
mod tests;
mod text;
mod walk;

use std::sync::Arc;

use super::container::Access;
use super::element::ByteOrder;
use super::fault;
use super::inflate::{Packed, Streams, Wrapper};
use super::listing::{Codes, Listing};
use super::source::Source;
use crate::base::error::{Problem, Problems};
use cursor::Cursor;
use tag::{COMPRESSED, MATRIX, Tag};
use walk::{Found, Walk};

/// Codes of the listing's problems.
const CODES: Codes =
    Codes { duplicate: "mat-duplicate", damaged: "mat-damaged", more: "mat-more-skipped" };
/// Problems reported for one file.
const MAX_PROBLEMS: usize = 20;
/// Most bytes that compressed elements may say they unpack to, all together: structs are unpacked
/// once to find what is in them.
const MAX_UNPACKED: u64 = 64 << 30;

/// Reader of MAT files.
pub struct Mat;

impl Mat {
    /// Whether a file that begins with these bytes (128 at least) is one, of level 4 or 5. Files of
    /// version 7.3 are HDF5 files, whose signature stands farther on: look for that first.
    pub fn looks_like(head: &[u8]) -> bool {
        header::level(head).is_some()
    }

    /// Opens a file and lists its arrays.
    ///
    /// # Errors
    /// All that is wrong with its elements; `mat-level-4` and `mat-version` for other levels.
    pub fn open(source: Arc<dyn Source>) -> Result<Listing, Problems> {
        let order = header::read(source.as_ref()).map_err(|problem| vec![problem])?;
        let mut found = Found::new(Listing::new(&CODES));
        let mut problems = Vec::new();
        let mut file = File { source: source.clone(), order, streams: Arc::default(), unpacked: 0 };
        let mut cursor = Cursor::new(source, order, header::HEADER_BYTES);
        while cursor.at < cursor.end && problems.len() < MAX_PROBLEMS && !found.is_full() {
            let place = format!("byte {}", cursor.at);
            let tag = match cursor.tag() {
                Ok(tag) => tag,
                Err(problem) => {
                    problems.push(fault::at(problem, &place));
                    break;
                }
            };
            let result = match tag.kind {
                MATRIX => {
                    let mut walk = Walk { cursor, access: Access::Random, found: &mut found };
                    let result = walk.top(tag);
                    cursor = walk.cursor;
                    result
                }
                COMPRESSED => file.compressed(tag, &mut found),
                kind => {
                    let note = fault::number("mat-element-skipped", u64::from(kind));
                    found.listing.note(fault::at(note, &place));
                    found.count()
                }
            };
            cursor.at = tag.next;
            problems.extend(result.err().map(|problem| fault::at(problem, &place)));
        }
        if problems.is_empty() { Ok(found.listing) } else { Err(problems) }
    }
}

/// The file around compressed elements.
struct File {
    source: Arc<dyn Source>,
    order: ByteOrder,
    streams: Arc<Streams>,
    unpacked: u64,
}

impl File {
    /// One compressed element: an array behind a zlib wrapper.
    fn compressed(&mut self, tag: Tag, found: &mut Found) -> Result<(), Problem> {
        let place = format!("byte {}", tag.data);
        let packed = Packed {
            source: self.source.clone(),
            range: tag.data..tag.data + tag.size,
            wrapper: Wrapper::Zlib,
            streams: self.streams.clone(),
        };
        let mut head = [0; 8];
        packed.first(&mut head).map_err(|error| {
            fault::at(fault::text("mat-unreadable", &error.to_string()), &place)
        })?;
        let at_most = packed.at_most();
        // Its own tag says how long it is.
        let inside = Tag::read(head, self.order, 0);
        let len = inside.data + inside.size;
        self.unpacked = self.unpacked.saturating_add(len);
        if len > at_most || self.unpacked > MAX_UNPACKED {
            let expected = at_most.min(MAX_UNPACKED);
            return Err(fault::at(fault::differs("mat-packed-size", expected, len), &place));
        }
        let cursor = Cursor::new(Arc::new(packed.unpacked(len)), self.order, inside.data);
        Walk { cursor, access: Access::Sequential, found }.top(inside).map_err(|problem| {
            match &problem.place.path {
                // Offsets in unpacked bytes say nothing to anyone.
                Some(path) if path.starts_with("byte ") => problem.at(place),
                _ => problem,
            }
        })
    }
}
