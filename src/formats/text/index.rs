//! Where rows begin: a sparse index, and rows found from it.

use super::super::source::Source;
use super::dialect::Dialect;
use super::lines::{BLOCK_BYTES, Lines, is_blank};
use crate::base::error::Problem;

/// A row is noted every so many rows …
const EVERY_ROWS: u64 = 16;
/// … and after so many bytes.
const EVERY_BYTES: u64 = 64 << 10;

/// Byte offsets of some rows: 12 bytes every 16 rows, 48 MiB for the largest table.
#[derive(Debug, Default)]
pub struct Index {
    rows: Vec<u32>,
    offsets: Vec<u64>,
}

impl Index {
    /// Notes that a row begins at an offset; rows come in order.
    pub fn push(&mut self, row: u64, offset: u64) {
        if let (Some(last), Some(at)) = (self.rows.last(), self.offsets.last())
            && row - u64::from(*last) < EVERY_ROWS
            && offset - at < EVERY_BYTES
        {
            return;
        }
        if let Ok(row) = u32::try_from(row) {
            self.rows.push(row);
            self.offsets.push(offset);
        }
    }

    /// The last noted row not after `row`, and its offset.
    fn before(&self, row: u64) -> Option<(u64, u64)> {
        let at = self.rows.partition_point(|noted| u64::from(*noted) <= row).checked_sub(1)?;
        Some((u64::from(*self.rows.get(at)?), *self.offsets.get(at)?))
    }

    /// Offset of the first noted row not before `row`.
    fn after(&self, row: u64) -> Option<u64> {
        self.offsets.get(self.rows.partition_point(|noted| u64::from(*noted) < row)).copied()
    }

    /// Calls `each` with the rows `first .. first + count`, in order.
    ///
    /// # Errors
    /// Those of `each`; `text-broken` where the source cannot be read or ends before the rows do.
    pub fn rows(
        &self,
        source: &dyn Source,
        (dialect, terminator): (&Dialect, u8),
        (first, count): (u64, u64),
        mut each: impl FnMut(u64, &[u8]) -> Result<(), Problem>,
    ) -> Result<(), Problem> {
        if count == 0 {
            return Ok(());
        }
        let broken = |row: u64| {
            Problem::new("text-broken").at(format!("row {}", row + 1)).with("found", "no row")
        };
        let (mut row, offset) = self.before(first).ok_or_else(|| broken(first))?;
        let end = self.after(first + count).unwrap_or(source.len());
        let block = usize::try_from(end.saturating_sub(offset)).unwrap_or(BLOCK_BYTES);
        let mut lines = Lines::new(source, offset, terminator, block);
        while row < first + count {
            let line = lines.next_line()?.ok_or_else(|| broken(row))?;
            if is_blank(line.bytes) || dialect.is_comment(line.bytes) {
                continue;
            }
            if row >= first {
                each(row, line.bytes)?;
            }
            row += 1;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::super::super::source::Memory;
    use super::*;

    #[test]
    fn every_range_of_rows() {
        let text: String = (0..100).map(|i| format!("{i},0\n# remark\n")).collect();
        let source = Memory(Arc::from(text.as_bytes()));
        let dialect = Dialect::of(&[b"0,0"]);
        let mut index = Index::default();
        let mut offset = 0;
        for i in 0..100u64 {
            index.push(i, offset);
            offset += format!("{i},0\n# remark\n").len() as u64;
        }
        assert_eq!(index.rows.len(), 7);
        for first in 0..100 {
            for count in 0..=(100 - first) {
                let mut found = Vec::new();
                index
                    .rows(&source, (&dialect, b'\n'), (first, count), |row, line| {
                        assert_eq!(line, format!("{row},0").as_bytes());
                        found.push(row);
                        Ok(())
                    })
                    .expect("reads");
                assert_eq!(found, (first..first + count).collect::<Vec<_>>());
            }
        }
        let past = index.rows(&source, (&dialect, b'\n'), (90, 11), |_, _| Ok(()));
        assert_eq!(past.map_err(|p| p.code), Err("text-broken".to_owned()));
    }
}
