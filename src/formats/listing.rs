//! A container whose arrays lie in blocks: what a reader has found so far, in order of path.

use std::collections::BTreeMap;

use super::block::Block;
use super::container::{Access, ArrayInfo, Attribute, Container, NumberKind, Samples};
use super::fault;
use crate::base::error::{Problem, Problems};

/// Notes kept; of the rest only the number.
const MAX_NOTES: usize = 50;

/// Codes of the problems that a format words for itself.
pub struct Codes {
    /// A path that is taken.
    pub duplicate: &'static str,
    /// A packed array that cannot be unpacked.
    pub damaged: &'static str,
    /// How many more notes there are.
    pub more: &'static str,
}

/// The arrays of a file.
pub struct Listing {
    codes: &'static Codes,
    /// In order of path.
    arrays: Vec<ArrayInfo>,
    /// Where the numbers of each array lie, or what it holds instead of numbers.
    contents: Vec<Result<Block, String>>,
    /// Texts by path, in order of path.
    texts: Vec<(String, String)>,
    notes: Problems,
    more_notes: u64,
}

impl Listing {
    /// Nothing yet.
    pub fn new(codes: &'static Codes) -> Self {
        Self {
            codes,
            arrays: Vec::new(),
            contents: Vec::new(),
            texts: Vec::new(),
            notes: Vec::new(),
            more_notes: 0,
        }
    }

    /// Adds an array whose numbers lie in a block, or which is listed but not read. Its kind may be
    /// floating-point where the block stores small integers.
    ///
    /// # Errors
    /// The format's code for a path that is taken.
    pub fn insert(
        &mut self,
        array: ArrayInfo,
        content: Result<Block, String>,
    ) -> Result<(), Problem> {
        let (place, _) = self.free(&array.path)?;
        self.arrays.insert(place, array);
        self.contents.insert(place, content);
        Ok(())
    }

    /// Keeps a text as an attribute of the group in which its path stands.
    ///
    /// # Errors
    /// As [`Listing::insert`].
    pub fn insert_text(&mut self, path: &str, text: String) -> Result<(), Problem> {
        let (_, place) = self.free(path)?;
        self.texts.insert(place, (path.to_owned(), text));
        Ok(())
    }

    /// Where a path belongs among the arrays and among the texts.
    fn free(&self, path: &str) -> Result<(usize, usize), Problem> {
        let array = self.arrays.partition_point(|other| other.path.as_str() < path);
        let text = self.texts.partition_point(|(other, _)| other.as_str() < path);
        let taken = self.arrays.get(array).is_some_and(|other| other.path == path)
            || self.texts.get(text).is_some_and(|(other, _)| other == path);
        if taken {
            return Err(fault::at(Problem::new(self.codes.duplicate), path));
        }
        Ok((array, text))
    }

    /// Notes what was passed over.
    pub fn note(&mut self, note: Problem) {
        if self.notes.len() < MAX_NOTES {
            self.notes.push(note);
        } else {
            self.more_notes += 1;
        }
    }
}

/// Numbers of a floating-point kind that are stored as another are turned into it. Those stored for
/// 32 bits came from values of 32 bits, so that nothing is lost.
fn of_kind(kind: NumberKind, samples: Samples) -> Samples {
    match (kind, samples) {
        (NumberKind::Float { bits: 64 }, Samples::F64(v)) => Samples::F64(v),
        (NumberKind::Float { bits: 64 }, other) => Samples::F64(other.to_f64()),
        (NumberKind::Float { .. }, Samples::F32(v)) => Samples::F32(v),
        (NumberKind::Float { .. }, other) => {
            Samples::F32(other.to_f64().into_iter().map(|n| n as f32).collect())
        }
        (_, samples) => samples,
    }
}

impl Container for Listing {
    fn arrays(&self) -> &[ArrayInfo] {
        &self.arrays
    }

    fn group_attributes(&self, group: &str) -> BTreeMap<String, Attribute> {
        let mut attributes = BTreeMap::new();
        for (path, text) in &self.texts {
            if let Some((of, name)) = path.rsplit_once('/')
                && of == group
            {
                attributes.insert(name.to_owned(), Attribute::Text(text.clone()));
            }
        }
        attributes
    }

    fn read(&self, path: &str, start: &[u64], count: &[u64]) -> Result<Samples, Problem> {
        let found = self.arrays.iter().zip(&self.contents).find(|(array, _)| array.path == path);
        match found {
            None => Err(fault::at(Problem::new("array-missing"), path)),
            Some((_, Err(found))) => Err(fault::at(fault::text("array-not-numbers", found), path)),
            Some((array, Ok(block))) => match block.read(path, start, count) {
                Ok(samples) => Ok(of_kind(array.kind, samples)),
                Err(mut problem) => {
                    if problem.code == "file-short" && array.access == Access::Sequential {
                        problem.code = self.codes.damaged.to_owned();
                    }
                    Err(problem)
                }
            },
        }
    }

    fn notes(&self) -> Problems {
        let mut notes = self.notes.clone();
        if self.more_notes > 0 {
            notes.push(fault::number(self.codes.more, self.more_notes));
        }
        notes
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::super::element::{ByteOrder, Element};
    use super::super::source::Memory;
    use super::*;

    const CODES: Codes = Codes { duplicate: "twice", damaged: "damaged", more: "more" };

    fn array(path: &str, kind: NumberKind, access: Access) -> ArrayInfo {
        ArrayInfo {
            path: path.to_owned(),
            shape: vec![2],
            reversed: false,
            kind,
            access,
            chunk: Vec::new(),
            scales: Vec::new(),
            attributes: BTreeMap::new(),
        }
    }

    fn block(bytes: &[u8]) -> Block {
        let kind = NumberKind::Integer { bits: 8, signed: false };
        Block {
            source: Arc::new(Memory(Arc::from(bytes))),
            offset: 0,
            element: Element { kind, order: ByteOrder::Little },
            spacing: 1,
            shape: vec![2],
        }
    }

    #[test]
    fn paths_are_in_order_and_taken_once() {
        let mut listing = Listing::new(&CODES);
        let float = NumberKind::Float { bits: 32 };
        for path in ["/b", "/a", "/c"] {
            let new = array(path, float, Access::Random);
            assert_eq!(listing.insert(new, Ok(block(&[1, 255]))), Ok(()));
        }
        assert_eq!(listing.insert_text("/g/b", "x".to_owned()), Ok(()));
        assert_eq!(listing.insert_text("/g/a", "y".to_owned()), Ok(()));
        for path in ["/a", "/g/b"] {
            assert_eq!(listing.insert_text(path, String::new()).unwrap_err().code, "twice");
            let new = array(path, float, Access::Random);
            assert_eq!(listing.insert(new, Err(String::new())).unwrap_err().code, "twice");
        }
        let paths: Vec<&str> = listing.arrays().iter().map(|a| a.path.as_str()).collect();
        assert_eq!(paths, ["/a", "/b", "/c"]);
        assert_eq!(listing.read("/c", &[0], &[2]), Ok(Samples::F32(vec![1.0, 255.0])));
        assert_eq!(listing.group_attributes("/g").len(), 2);
        assert_eq!(listing.group_attributes("").len(), 0);
    }

    #[test]
    fn what_cannot_be_read_is_told() {
        let mut listing = Listing::new(&CODES);
        let other = array("/other", NumberKind::Other, Access::Random);
        assert_eq!(listing.insert(other, Err("dates".to_owned())), Ok(()));
        let packed = array("/packed", NumberKind::Float { bits: 64 }, Access::Sequential);
        assert_eq!(listing.insert(packed, Ok(block(&[1]))), Ok(()));
        let code = |path: &str| listing.read(path, &[0], &[2]).unwrap_err().code;
        assert_eq!(code("/other"), "array-not-numbers");
        assert_eq!(code("/packed"), "damaged");
        assert_eq!(code("/none"), "array-missing");
        for _ in 0..60 {
            listing.note(Problem::new("passed"));
        }
        let notes = listing.notes();
        assert_eq!((notes.len(), notes[50].args["found"].clone()), (51, 10u64.into()));
    }
}
