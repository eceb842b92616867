//! From a member or file with its header to listed arrays.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::header::{Header, bytes};
use super::kind::{Kind, text};
use crate::base::error::Problem;
use crate::formats::block::Block;
use crate::formats::container::{Access, ArrayInfo, NumberKind};
use crate::formats::element::Element;
use crate::formats::fault;
use crate::formats::listing::Listing;
use crate::formats::source::Source;

/// Longest text taken as an attribute, bytes.
const MAX_TEXT: u64 = 64 << 10;

/// An array that fills a source.
pub(super) struct Array {
    pub source: Arc<dyn Source>,
    pub access: Access,
    header: Header,
}

impl Array {
    /// Reads the header.
    ///
    /// # Errors
    /// As [`Header::read`]; `npy-short` where the numbers do not fit in the source.
    pub(super) fn open(source: Arc<dyn Source>, access: Access) -> Result<Self, Problem> {
        let header = Header::read(source.as_ref())?;
        let expected = header.size().unwrap_or(u64::MAX);
        let found = source.len().saturating_sub(header.data);
        if expected > found {
            return Err(fault::differs("npy-short", expected, found));
        }
        Ok(Self { source, access, header })
    }

    /// Adds it to a listing: as one array, two if complex, an attribute if it is a text.
    ///
    /// # Errors
    /// That of the listing where a path is taken; `npy-unreadable`.
    pub(super) fn list(&self, path: &str, listing: &mut Listing) -> Result<(), Problem> {
        let header = &self.header;
        let expected = header.size().unwrap_or(u64::MAX);
        let found = self.source.len().saturating_sub(header.data);
        if expected < found && !matches!(header.kind, Kind::Other(_)) {
            listing.note(fault::at(fault::differs("npy-longer", expected, found), path));
        }
        match &header.kind {
            Kind::Number { element, complex } => {
                let width = element.bytes() as u64;
                if !complex {
                    return self.insert(path, Ok((*element, 0, width)), listing);
                }
                for (part, offset) in [("real", 0), ("imag", width)] {
                    let path = format!("{path}/{part}");
                    self.insert(&path, Ok((*element, offset, 2 * width)), listing)?;
                }
                Ok(())
            }
            Kind::Text { bytes: n, wide } if header.one() && *n <= MAX_TEXT => {
                let bytes = bytes(self.source.as_ref(), header.data, *n)?;
                listing.insert_text(path, text(&bytes, *wide))
            }
            Kind::Text { .. } => self.insert(path, Err("U"), listing),
            Kind::Other(found) => self.insert(path, Err(found), listing),
        }
    }

    /// Lists numbers (element, offset of the first, spacing), or what is there instead.
    fn insert(
        &self,
        path: &str,
        content: Result<(Element, u64, u64), &str>,
        listing: &mut Listing,
    ) -> Result<(), Problem> {
        let shape = self.header.storage();
        let (kind, content) = match content {
            Ok((element, offset, spacing)) => {
                let block = Block {
                    source: self.source.clone(),
                    offset: self.header.data + offset,
                    element,
                    spacing,
                    shape: shape.clone(),
                };
                (element.kind, Ok(block))
            }
            Err(found) => {
                listing.note(fault::at(fault::text("npy-kind-skipped", found), path));
                (NumberKind::Other, Err(found.to_owned()))
            }
        };
        let array = ArrayInfo {
            path: path.to_owned(),
            shape,
            reversed: self.header.reversed(),
            kind,
            access: self.access,
            chunk: Vec::new(),
            scales: Vec::new(),
            attributes: BTreeMap::new(),
        };
        listing.insert(array, content)
    }
}
