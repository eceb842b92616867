//! Which array holds the coordinates of which dimension (HDF5 Dimension Scales specification; the
//! fallbacks after the netCDF-4 library's attributes).

use std::collections::BTreeMap;

use hdf5_reader::Hdf5File;
use hdf5_reader::messages::attribute::AttributeMessage;

use super::attribute;
use super::text::Heaps;
use crate::formats::container::{ArrayInfo, Attribute};

/// Beginning of the name of a dimension that has no coordinates.
const PLACEHOLDER: &str = "This is a netCDF dimension but not a netCDF variable";

/// What a dataset says of scales.
#[derive(Debug, Clone, Default)]
pub struct Facts {
    /// Address of its header.
    pub address: u64,
    /// Headers of the scales of each dimension.
    list: Vec<Vec<u64>>,
    /// Numbers of its dimensions in a netCDF file.
    coordinates: Vec<f64>,
    /// Number of the dimension whose coordinates it holds.
    dimension: Option<f64>,
    is_scale: bool,
}

/// Whether a dataset is but the name and length of a dimension.
pub fn is_placeholder(attributes: &BTreeMap<String, Attribute>) -> bool {
    matches!(attributes.get("NAME"), Some(Attribute::Text(name)) if name.starts_with(PLACEHOLDER))
}

impl Facts {
    /// Takes what the attributes say.
    pub fn new(
        file: &Hdf5File,
        heaps: &mut Heaps,
        address: u64,
        stored: &[AttributeMessage],
        attributes: &BTreeMap<String, Attribute>,
    ) -> Self {
        let list = stored
            .iter()
            .find(|message| message.name == "DIMENSION_LIST")
            .and_then(|message| attribute::references(file, heaps, message));
        let numbers = |name: &str| match attributes.get(name) {
            Some(Attribute::Numbers(numbers)) => numbers.clone(),
            _ => Vec::new(),
        };
        let class = attributes.get("CLASS");
        Self {
            address,
            list: list.unwrap_or_default(),
            coordinates: numbers("_Netcdf4Coordinates"),
            dimension: numbers("_Netcdf4Dimid").first().copied(),
            is_scale: matches!(class, Some(Attribute::Text(c)) if c == "DIMENSION_SCALE"),
        }
    }
}

/// Fills in the scales of all arrays. `facts` are by path.
pub fn assign(arrays: &mut [ArrayInfo], facts: &BTreeMap<String, Facts>) {
    let mut by_address = BTreeMap::new();
    for (path, fact) in facts {
        by_address.entry(fact.address).or_insert_with(|| path.clone());
    }
    let scales: Vec<(String, String, u64, Option<f64>)> = arrays
        .iter()
        .filter_map(|array| {
            let fact = facts.get(&array.path).filter(|fact| fact.is_scale)?;
            let [length] = *array.shape.as_slice() else { return None };
            Some((array.path.clone(), array.group().to_owned(), length, fact.dimension))
        })
        .collect();
    for array in arrays.iter_mut() {
        let Some(fact) = facts.get(&array.path).filter(|fact| !fact.is_scale) else { continue };
        let group = array.group().to_owned();
        let near = |other: &str| other.is_empty() || group == other || inside(&group, other);
        let found: Vec<Option<String>> = (0..array.shape.len())
            .map(|d| {
                let listed = fact.list.get(d).into_iter().flatten();
                let mut listed = listed.filter_map(|address| by_address.get(address));
                if !fact.list.is_empty() {
                    return listed.next().cloned();
                }
                let mut fitting = scales.iter().filter(|(_, at, length, dimension)| {
                    let same = fact.coordinates.get(d).is_none_or(|n| *dimension == Some(*n));
                    near(at) && *length == array.shape[d] && same
                });
                match (fitting.next(), fitting.next()) {
                    (Some((path, ..)), None) => Some(path.clone()),
                    _ => None,
                }
            })
            .collect();
        if found.iter().any(Option::is_some) {
            array.scales = found;
        }
    }
}

fn inside(group: &str, other: &str) -> bool {
    group.strip_prefix(other).is_some_and(|rest| rest.starts_with('/'))
}
