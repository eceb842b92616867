//! What a MAT file of version 7.3 writes beyond plain HDF5: attributes that name the class of a value.
//! Conventions seen in such files; they are not part of the HDF5 specification.

use std::collections::BTreeMap;

use crate::formats::container::Attribute;
use crate::formats::source::Source;

/// Beginning of the user block. The first programs that wrote such files put their own version there.
const SIGNATURE: &[u8] = b"MATLAB 7.";

/// Groups of the root that hold the parts of cells and objects.
pub const INNER_GROUPS: [&str; 2] = ["#refs#", "#subsystem#"];

/// How a dataset of such a file is to be taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Class {
    Numbers,
    /// Codes of characters.
    Text,
    /// References or the inside of an object.
    Cells,
}

/// Whether the user block says that the file is one.
pub fn is_matlab(source: &dyn Source) -> bool {
    let mut head = [0u8; SIGNATURE.len()];
    source.len() > head.len() as u64 && source.read_at(0, &mut head).is_ok() && head == SIGNATURE
}

/// Class by the attributes.
pub fn class(attributes: &BTreeMap<String, Attribute>) -> Class {
    let name = match attributes.get("MATLAB_class") {
        Some(Attribute::Text(name)) => name.as_str(),
        _ => "",
    };
    match name {
        "cell" | "string" | "function_handle" | "table" | "datetime" | "duration" => Class::Cells,
        _ if attributes.contains_key("MATLAB_object_decode") => Class::Cells,
        "char" => Class::Text,
        _ => Class::Numbers,
    }
}

/// Whether the dataset stands for an array without elements and holds its dimensions instead.
pub fn is_empty(attributes: &BTreeMap<String, Attribute>) -> bool {
    match attributes.get("MATLAB_empty") {
        Some(Attribute::Numbers(numbers)) => numbers.first().is_some_and(|n| *n != 0.0),
        _ => false,
    }
}

/// Storage shape (slowest first) of an empty array from its dimensions as the program shows them.
pub fn empty_shape(dimensions: &[f64]) -> Vec<u64> {
    let mut shape: Vec<u64> = dimensions.iter().rev().map(|n| n.max(0.0) as u64).collect();
    if !shape.contains(&0) {
        shape.push(0);
    }
    shape
}
