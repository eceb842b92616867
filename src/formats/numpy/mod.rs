//! NPY files (one array) and NPZ files (a ZIP archive of them).
//!
//! A lone array is `/array`; the member `a/b.npy` of an archive is `/a/b`. Complex arrays are two,
//! `…/real` and `…/imag`. A text of one element is an attribute of its group. Structured values,
//! objects and lists of text are listed but not read.

mod archive;
mod arrays;
mod header;
mod kind;
mod literal;
#[cfg(test)]
mod tests;

use std::sync::Arc;

use super::container::Access;
use super::fault;
use super::inflate::{Packed, Streams, Wrapper};
use super::listing::{Codes, Listing};
use super::source::{Source, SourceError};
use crate::base::error::{Problem, Problems};
use archive::{Member, members};
use arrays::Array;

/// First bytes of a ZIP archive: a member, or the end of an empty one (APPNOTE 4.3.7, 4.3.16).
const ZIP: [[u8; 4]; 2] = [*b"PK\x03\x04", *b"PK\x05\x06"];
/// Codes of the listing's problems.
const CODES: Codes =
    Codes { duplicate: "npz-duplicate", damaged: "npz-damaged", more: "npz-more-skipped" };
/// Problems reported for one file.
const MAX_PROBLEMS: usize = 20;

/// Reader of single arrays.
pub struct Npy;

impl Npy {
    /// Whether a file that begins with these bytes is one.
    pub fn looks_like(head: &[u8]) -> bool {
        head.starts_with(&header::MAGIC)
    }

    /// Opens a file of one array.
    ///
    /// # Errors
    /// What is wrong with its header, or that its numbers are not all there.
    pub fn open(source: Arc<dyn Source>) -> Result<Listing, Problems> {
        let mut listing = Listing::new(&CODES);
        Array::open(source, Access::Random)
            .and_then(|array| array.list("/array", &mut listing))
            .map_err(|problem| vec![fault::at(problem, "/array")])?;
        Ok(listing)
    }
}

/// Reader of archives of arrays.
pub struct Npz;

impl Npz {
    /// Whether a file that begins with these bytes is an archive; of what, its members say.
    pub fn looks_like(head: &[u8]) -> bool {
        ZIP.iter().any(|signature| head.starts_with(signature))
    }

    /// Opens an archive and lists the arrays in it.
    ///
    /// # Errors
    /// All that is wrong with the directory or with members; `npz-no-arrays` where there is none,
    /// `npz-method` or `npz-encrypted` where none can be read.
    pub fn open(source: Arc<dyn Source>) -> Result<Listing, Problems> {
        let members = members(source.as_ref())?;
        let streams = Arc::new(Streams::default());
        let (mut listing, mut problems) = (Listing::new(&CODES), Vec::new());
        let (mut found, mut other) = (0, Vec::new());
        for member in members.iter().filter(|member| !member.name.ends_with('/')) {
            let path = path(&member.name);
            let listed = match content(&source, member, &streams) {
                // Of one that cannot be unpacked nobody knows whether it is an array.
                Err(problem) if matches!(problem.code.as_str(), "npz-method" | "npz-encrypted") => {
                    other.push(fault::at(problem, &member.name));
                    continue;
                }
                Err(problem) => Err(problem),
                Ok((content, access)) => match is_array(content.as_ref(), member) {
                    Ok(true) => {
                        found += 1;
                        Array::open(content, access)
                            .and_then(|array| array.list(&path, &mut listing))
                    }
                    Ok(false) => {
                        listing.note(fault::at(Problem::new("npz-member-skipped"), &member.name));
                        continue;
                    }
                    Err(problem) => Err(problem),
                },
            };
            if let Err(problem) = listed {
                problems.push(fault::at(problem, &path));
            }
        }
        if found == 0 && problems.is_empty() {
            // What keeps arrays from being read says more than that there are none.
            problems = other;
            if problems.is_empty() {
                let names: Vec<String> = members.iter().map(|m| m.name.clone()).collect();
                problems.push(fault::text("npz-no-arrays", &names.join(", ")));
            }
        } else {
            other.into_iter().for_each(|note| listing.note(note));
        }
        problems.truncate(MAX_PROBLEMS);
        if problems.is_empty() { Ok(listing) } else { Err(problems) }
    }
}

/// Whether a member is an array: it begins like one, or its name promises one.
fn is_array(content: &dyn Source, member: &Member) -> Result<bool, Problem> {
    if member.name.ends_with(".npy") {
        return Ok(true);
    }
    let n = content.len().min(header::MAGIC.len() as u64);
    Ok(Npy::looks_like(&header::bytes(content, 0, n)?))
}

/// `a/b.npy` → `/a/b`.
fn path(name: &str) -> String {
    let name = name.strip_suffix(".npy").unwrap_or(name);
    let parts: Vec<&str> = name.split('/').filter(|part| !part.is_empty()).collect();
    format!("/{}", parts.join("/"))
}

/// The bytes of a member.
fn content(
    source: &Arc<dyn Source>,
    member: &Member,
    streams: &Arc<Streams>,
) -> Result<(Arc<dyn Source>, Access), Problem> {
    if member.encrypted {
        return Err(Problem::new("npz-encrypted"));
    }
    let source = source.clone();
    let stored = member.data.end - member.data.start;
    let sizes = |expected: u64| Err(fault::differs("npz-size", expected, member.size));
    match member.method {
        0 if stored != member.size => sizes(stored),
        0 => {
            Ok((Arc::new(Stored { source, from: member.data.start, len: stored }), Access::Random))
        }
        8 => {
            let packed = Packed {
                source,
                range: member.data.clone(),
                wrapper: Wrapper::Raw { crc32: Some(member.crc32) },
                streams: streams.clone(),
            };
            if member.size > packed.at_most() {
                return sizes(packed.at_most());
            }
            Ok((Arc::new(packed.unpacked(member.size)), Access::Sequential))
        }
        method => Err(fault::number("npz-method", u64::from(method))),
    }
}

/// A member that is stored as it is.
struct Stored {
    source: Arc<dyn Source>,
    from: u64,
    len: u64,
}

impl Source for Stored {
    fn len(&self) -> u64 {
        self.len
    }

    fn read_at(&self, offset: u64, buffer: &mut [u8]) -> Result<(), SourceError> {
        let wanted = buffer.len() as u64;
        if offset.checked_add(wanted).is_none_or(|end| end > self.len) {
            let (len, detail) = (self.len, String::new());
            return Err(SourceError { offset, wanted, len, detail });
        }
        self.source.read_at(self.from + offset, buffer)
    }
}
