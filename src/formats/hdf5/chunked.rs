//! Boxes of a dataset that is stored in chunks: each chunk is read and decoded once a box.

use std::sync::{Arc, OnceLock};

use hdf5_reader::messages::filter_pipeline::FilterDescription;
use hdf5_reader::{FilterRegistry, Hdf5File};

use super::cache::ChunkCache;
use super::filters;
use super::index::{Grid, Place};
use super::lookup::Tree;
use super::problem::broken;
use crate::base::error::Problem;

/// Largest decoded chunk, bytes: a declared size beyond it is refused before anything is allocated.
pub const MAX_CHUNK_BYTES: usize = 64 << 20;
/// Chunks that lie near each other are read at once, up to this many bytes.
const WINDOW: u64 = 4 << 20;
/// A gap up to this size is read over rather than skipped: a read of its own costs as much.
const SKIP: u64 = 256 << 10;

/// For so few chunks a B-tree is searched; for more, and in other indexes, all of it is read.
const FEW: u64 = 4096;

/// What all datasets of a file share for reading chunks.
pub struct Chunks {
    pub file: Hdf5File,
    pub registry: FilterRegistry,
    pub cache: ChunkCache,
}

/// A dataset in chunks.
pub struct Chunked {
    /// Address of the dataset's header: its name in the cache.
    pub key: u64,
    pub grid: Grid,
    pub filters: Vec<FilterDescription>,
    /// Bytes of one element, all parts together.
    pub element_bytes: usize,
    tree: Tree,
    places: OnceLock<Result<Vec<Place>, Problem>>,
}

/// A box in elements, and which bytes of each element are wanted.
pub struct Request<'a> {
    /// Shape of a chunk, with the dimensions inside of an element if it has any.
    pub chunk: &'a [u64],
    pub start: &'a [u64],
    pub count: &'a [u64],
    /// Byte of the element at which the number begins, bytes of the number, bytes to the next one.
    pub at: usize,
    pub width: usize,
    pub spacing: usize,
}

impl Chunked {
    /// A dataset of the given grid; the index is not read yet.
    pub fn new(
        key: u64,
        grid: Grid,
        filters: Vec<FilterDescription>,
        element_bytes: usize,
    ) -> Self {
        Self { key, grid, filters, element_bytes, tree: Tree::default(), places: OnceLock::new() }
    }

    fn places(&self, chunks: &Chunks, path: &str) -> Result<&[Place], Problem> {
        self.places
            .get_or_init(|| self.grid.places(&chunks.file).map_err(|error| broken(path, &error)))
            .as_deref()
            .map_err(Clone::clone)
    }

    /// Copies the stored part of a box into `out`, row-major; the rest of `out` stays as it is.
    ///
    /// # Errors
    /// `hdf5-chunk-too-large`, `hdf5-short`, `hdf5-filter`, `hdf5-broken`.
    pub fn read(
        &self,
        chunks: &Chunks,
        path: &str,
        request: &Request<'_>,
        out: &mut [u8],
    ) -> Result<(), Problem> {
        if self.grid.chunk_bytes > MAX_CHUNK_BYTES {
            return Err(Problem::new("hdf5-chunk-too-large")
                .at(path)
                .with("found", self.grid.chunk_bytes)
                .with("limit", MAX_CHUNK_BYTES));
        }
        let mut missing = Vec::new();
        for (place, index) in self.wanted(chunks, path, request)? {
            match chunks.cache.get((self.key, place.number)) {
                Some(chunk) => copy(&chunk, &index, request, out),
                None => missing.push((place, index)),
            }
        }
        missing.sort_by_key(|(place, _)| place.address);
        let storage = chunks.file.storage();
        let mut rest = missing.as_slice();
        while let Some((first, _)) = rest.first() {
            let mut end = first.address.saturating_add(first.bytes);
            let mut n = 1;
            while let Some((next, _)) = rest.get(n) {
                let next_end = next.address.saturating_add(next.bytes).max(end);
                if next.address > end.saturating_add(SKIP) || next_end - first.address > WINDOW {
                    break;
                }
                (end, n) = (next_end, n + 1);
            }
            if end > storage.len() {
                return Err(Problem::new("hdf5-short")
                    .at(path)
                    .with("expected", end)
                    .with("found", storage.len()));
            }
            let len = usize::try_from(end - first.address).unwrap_or(usize::MAX);
            let bytes =
                storage.read_range(first.address, len).map_err(|error| broken(path, &error))?;
            let (window, later) = rest.split_at(n);
            for (place, index) in window {
                let from = usize::try_from(place.address - first.address).unwrap_or(usize::MAX);
                let to = from.saturating_add(usize::try_from(place.bytes).unwrap_or(usize::MAX));
                let packed = bytes.as_ref().get(from..to).unwrap_or(&[]);
                let chunk = filters::decode(
                    &chunks.registry,
                    &self.filters,
                    place.mask,
                    packed,
                    self.element_bytes,
                    self.grid.chunk_bytes,
                )
                .map_err(|error| broken(path, &error))?;
                copy(&chunk, index, request, out);
                if !self.covered(index, request) {
                    chunks.cache.put((self.key, place.number), Arc::new(chunk));
                }
            }
            rest = later;
        }
        Ok(())
    }

    /// The stored chunks that a box touches, with their cell of the grid.
    fn wanted(
        &self,
        chunks: &Chunks,
        path: &str,
        request: &Request<'_>,
    ) -> Result<Vec<(Place, Vec<u64>)>, Problem> {
        let rank = self.grid.shape.len();
        let first = self.grid.cell(request.start);
        let ends: Vec<u64> = request
            .start
            .iter()
            .zip(request.count)
            .map(|(start, count)| start + count - 1)
            .collect();
        let last = self.grid.cell(&ends);
        let number = first.iter().zip(&last).fold(1u64, |n, (a, b)| n.saturating_mul(b - a + 1));
        if number <= FEW && self.grid.indexing.is_none() && self.places.get().is_none() {
            let found = self.tree.find(&chunks.file, &self.grid, &cells(&first, &last));
            // A tree out of order is read as a whole, which finds what there is or says what is wrong.
            if let Ok(found) = found {
                return Ok(found);
            }
        }
        let places = self.places(chunks, path)?;
        if number > places.len() as u64 {
            // Sparse: fewer chunks are stored than the box has room for.
            let counts = self.grid.counts();
            return Ok(places
                .iter()
                .map(|place| (*place, unravel(place.number, &counts)))
                .filter(|(_, cell)| (0..rank).all(|d| first[d] <= cell[d] && cell[d] <= last[d]))
                .collect());
        }
        Ok(cells(&first, &last)
            .into_iter()
            .filter_map(|cell| {
                let number = self.grid.cell_number(&cell);
                let at = places.binary_search_by_key(&number, |place| place.number).ok()?;
                Some((places[at], cell))
            })
            .collect())
    }

    /// Whether all of a chunk that lies in the dataset lies in the box: no later box wants it.
    fn covered(&self, index: &[u64], request: &Request<'_>) -> bool {
        index.iter().enumerate().all(|(d, i)| {
            let from = i * request.chunk[d];
            let to = (from + request.chunk[d]).min(self.grid.shape[d]);
            request.start[d] <= from && to <= request.start[d] + request.count[d]
        })
    }
}

/// All cells from `first` to `last`, both included, row-major.
fn cells(first: &[u64], last: &[u64]) -> Vec<Vec<u64>> {
    let mut out = Vec::new();
    let mut cell = first.to_vec();
    loop {
        out.push(cell.clone());
        let Some(d) = (0..cell.len()).rev().find(|d| cell[*d] < last[*d]) else { return out };
        cell[d] += 1;
        cell[d + 1..].copy_from_slice(&first[d + 1..]);
    }
}

/// Index of a cell of the grid by its number.
fn unravel(number: u64, counts: &[u64]) -> Vec<u64> {
    let mut rest = number;
    let mut index: Vec<u64> = counts
        .iter()
        .rev()
        .map(|count| {
            let i = rest % (*count).max(1);
            rest /= (*count).max(1);
            i
        })
        .collect();
    index.reverse();
    index
}

/// Copies what a chunk and a box have in common.
fn copy(chunk: &[u8], index: &[u64], request: &Request<'_>, out: &mut [u8]) {
    let rank = request.count.len();
    // Dimensions inside of an element are not part of the grid: its single chunk begins at 0.
    let origin = |d: usize| index.get(d).map_or(0, |i| i * request.chunk[d]);
    let low: Vec<u64> = (0..rank).map(|d| request.start[d].max(origin(d))).collect();
    let high: Vec<u64> = (0..rank)
        .map(|d| (request.start[d] + request.count[d]).min(origin(d) + request.chunk[d]))
        .collect();
    if low.iter().zip(&high).any(|(a, b)| a >= b) {
        return;
    }
    let (mut of_chunk, mut of_out) = (vec![1u64; rank], vec![1u64; rank]);
    for d in (1..rank).rev() {
        of_chunk[d - 1] = of_chunk[d] * request.chunk[d];
        of_out[d - 1] = of_out[d] * request.count[d];
    }
    let Some(end) = rank.checked_sub(1) else { return };
    let run = (high[end] - low[end]) as usize;
    let mut at = low.clone();
    loop {
        let from: u64 = (0..rank).map(|d| (at[d] - origin(d)) * of_chunk[d]).sum();
        let to: u64 = (0..rank).map(|d| (at[d] - request.start[d]) * of_out[d]).sum();
        let from = from as usize * request.spacing + request.at;
        let to = to as usize * request.width;
        let target = &mut out[to..to + run * request.width];
        if request.spacing == request.width {
            target.copy_from_slice(&chunk[from..from + run * request.width]);
        } else {
            for (i, number) in target.chunks_exact_mut(request.width).enumerate() {
                let from = from + i * request.spacing;
                number.copy_from_slice(&chunk[from..from + request.width]);
            }
        }
        let Some(d) = (0..end).rev().find(|d| at[*d] + 1 < high[*d]) else { return };
        at[d] += 1;
        at[d + 1..].copy_from_slice(&low[d + 1..]);
    }
}
