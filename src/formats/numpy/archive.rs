//! The directory of a ZIP archive (PKWARE APPNOTE.TXT 6.3, sections 4.3.7, 4.3.12 to 4.3.16 and
//! 4.5.3), ZIP64 included. Names, places and sizes only.

use std::ops::Range;

use super::header::bytes;
use crate::base::error::{Problem, Problems};
use crate::formats::fault;
use crate::formats::source::Source;

/// Most members.
const MAX_MEMBERS: u64 = 4096;
/// Largest directory, bytes.
const MAX_DIRECTORY: u64 = 8 << 20;
/// Problems reported for one file.
const MAX_PROBLEMS: usize = 20;

const END: u32 = 0x0605_4b50;
const END_BYTES: u64 = 22;
const END_64: u32 = 0x0606_4b50;
const END_64_BYTES: u64 = 56;
const LOCATOR_64: u32 = 0x0706_4b50;
const LOCATOR_64_BYTES: u64 = 20;
const ENTRY: u32 = 0x0201_4b50;
const ENTRY_BYTES: usize = 46;
const LOCAL: u32 = 0x0403_4b50;
const LOCAL_BYTES: u64 = 30;
/// Id of the extra field with sizes of 64 bits.
const EXTRA_64: u16 = 1;

/// One member of an archive.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Member {
    pub name: String,
    /// 0 stored, 8 deflated.
    pub method: u16,
    pub encrypted: bool,
    pub crc32: u32,
    /// Bytes as stored.
    pub data: Range<u64>,
    /// Bytes unpacked.
    pub size: u64,
}

/// Lists the members, in order of their place.
///
/// # Errors
/// `zip-no-directory`, `zip-parts`, `zip-directory`, `zip-directory-place`, `zip-member`,
/// `zip-member-short`, `zip-overlap` and `npz-too-many-members`; those of single members all at once.
pub(super) fn members(source: &dyn Source) -> Result<Vec<Member>, Problems> {
    let end = End::find(source).map_err(|problem| vec![problem])?;
    let directory = end.directory(source).map_err(|problem| vec![problem])?;
    let mut rest = directory.as_slice();
    let (mut members, mut problems) = (Vec::<Member>::new(), Vec::new());
    for number in 0..end.entries {
        let Some((entry, after)) = Entry::read(rest) else {
            problems.push(fault::differs("zip-directory", end.entries, number));
            break;
        };
        rest = after;
        match entry.member(source, end.at) {
            Ok(member) => {
                let place = (member.data.start, member.data.end);
                let at = members.partition_point(|m| (m.data.start, m.data.end) <= place);
                members.insert(at, member);
            }
            Err(problem) => problems.push(problem),
        }
    }
    for pair in members.windows(2) {
        let [before, after] = pair else { continue };
        // The header of the second stands between the two.
        if after.data.start < before.data.end.saturating_add(LOCAL_BYTES) {
            problems.push(fault::at(fault::text("zip-overlap", &before.name), &after.name));
        }
    }
    problems.truncate(MAX_PROBLEMS);
    if problems.is_empty() { Ok(members) } else { Err(problems) }
}

/// Where the directory lies.
struct End {
    entries: u64,
    at: u64,
    size: u64,
}

impl End {
    /// Finds the record at the end of the file, before a comment of up to 65 535 bytes.
    fn find(source: &dyn Source) -> Result<Self, Problem> {
        let len = source.len();
        let missing = || fault::number("zip-no-directory", len);
        let n = len.min(END_BYTES + u64::from(u16::MAX));
        let tail = bytes(source, len - n, n)?;
        let at = (0..tail.len().saturating_sub(END_BYTES as usize - 1))
            .rev()
            .find(|at| {
                let comment = u16_at(&tail, at + 20).map(usize::from);
                u32_at(&tail, *at) == Some(END)
                    && comment.is_some_and(|n| at + END_BYTES as usize + n <= tail.len())
            })
            .ok_or_else(missing)?;
        let field = |offset: usize| u16_at(&tail, at + offset).unwrap_or(0);
        let wide = |offset: usize| u32_at(&tail, at + offset).unwrap_or(0);
        let mut end = Self {
            entries: u64::from(field(10)),
            size: u64::from(wide(12)),
            at: u64::from(wide(16)),
        };
        let begin = len - n + at as u64;
        let single = match Self::find_64(source, begin)? {
            Some((end_64, single)) => {
                end = end_64;
                single
            }
            None => field(4) == 0 && field(6) == 0 && field(8) == field(10),
        };
        if !single {
            return Err(Problem::new("zip-parts"));
        }
        let fits = end.at.checked_add(end.size).is_some_and(|stop| stop <= begin);
        if !fits {
            let expected = end.at.saturating_add(end.size);
            return Err(fault::differs("zip-directory-place", expected, begin));
        }
        Ok(end)
    }

    /// The ZIP64 record, if its locator stands before the record at the end; and whether the
    /// archive is in one piece.
    fn find_64(source: &dyn Source, begin: u64) -> Result<Option<(Self, bool)>, Problem> {
        let Some(at) = begin.checked_sub(LOCATOR_64_BYTES) else { return Ok(None) };
        let locator = bytes(source, at, LOCATOR_64_BYTES)?;
        if u32_at(&locator, 0) != Some(LOCATOR_64) {
            return Ok(None);
        }
        let broken = || fault::number("zip-no-directory", source.len());
        let at = u64_at(&locator, 8)
            .filter(|at| at.checked_add(END_64_BYTES).is_some_and(|stop| stop <= begin))
            .ok_or_else(broken)?;
        let record = bytes(source, at, END_64_BYTES)?;
        if u32_at(&record, 0) != Some(END_64) {
            return Err(broken());
        }
        let field = |offset| u64_at(&record, offset).unwrap_or(0);
        let single = u32_at(&record, 16) == Some(0)
            && u32_at(&record, 20) == Some(0)
            && field(24) == field(32);
        Ok(Some((Self { entries: field(32), size: field(40), at: field(48) }, single)))
    }

    fn directory(&self, source: &dyn Source) -> Result<Vec<u8>, Problem> {
        for (found, limit) in [(self.entries, MAX_MEMBERS), (self.size, MAX_DIRECTORY)] {
            if found > limit {
                return Err(fault::beyond("npz-too-many-members", found, limit));
            }
        }
        bytes(source, self.at, self.size)
    }
}

/// One entry of the directory.
struct Entry {
    name: String,
    flags: u16,
    method: u16,
    crc32: u32,
    packed: u64,
    size: u64,
    local: u64,
}

impl Entry {
    /// The entry at the front, and what follows it.
    fn read(bytes: &[u8]) -> Option<(Self, &[u8])> {
        if u32_at(bytes, 0)? != ENTRY {
            return None;
        }
        let name_end = ENTRY_BYTES + usize::from(u16_at(bytes, 28)?);
        let extra_end = name_end + usize::from(u16_at(bytes, 30)?);
        let end = extra_end + usize::from(u16_at(bytes, 32)?);
        let mut entry = Self {
            name: String::from_utf8_lossy(bytes.get(ENTRY_BYTES..name_end)?).into_owned(),
            flags: u16_at(bytes, 8)?,
            method: u16_at(bytes, 10)?,
            crc32: u32_at(bytes, 16)?,
            packed: u64::from(u32_at(bytes, 20)?),
            size: u64::from(u32_at(bytes, 24)?),
            local: u64::from(u32_at(bytes, 42)?),
        };
        let mut wide = extra_64(bytes.get(name_end..extra_end)?);
        for field in [&mut entry.size, &mut entry.packed, &mut entry.local] {
            if *field == u64::from(u32::MAX)
                && let Some((value, rest)) = wide.split_first_chunk::<8>()
            {
                *field = u64::from_le_bytes(*value);
                wide = rest;
            }
        }
        Some((entry, bytes.get(end..)?))
    }

    /// Finds the data behind the local header; `limit` is where the directory begins.
    fn member(self, source: &dyn Source, limit: u64) -> Result<Member, Problem> {
        let head = self.local.checked_add(LOCAL_BYTES).filter(|head| *head <= limit);
        let missing = || fault::at(fault::number("zip-member", self.local), &self.name);
        let head = head.ok_or_else(missing)?;
        let local = bytes(source, self.local, LOCAL_BYTES)?;
        if u32_at(&local, 0) != Some(LOCAL) {
            return Err(missing());
        }
        let field = |offset| u64::from(u16_at(&local, offset).unwrap_or(0));
        let start = head + field(26) + field(28);
        let end = start.checked_add(self.packed).filter(|end| *end <= limit).ok_or_else(|| {
            let found = limit.saturating_sub(start);
            fault::at(fault::differs("zip-member-short", self.packed, found), &self.name)
        })?;
        Ok(Member {
            method: self.method,
            // Bit 0: encrypted; bit 13: the local header is masked (APPNOTE 4.4.4).
            encrypted: self.flags & 0x2001 != 0,
            crc32: self.crc32,
            data: start..end,
            size: self.size,
            name: self.name,
        })
    }
}

/// Contents of the extra field with sizes of 64 bits; empty if there is none.
fn extra_64(mut extra: &[u8]) -> &[u8] {
    while let (Some(id), Some(n)) = (u16_at(extra, 0), u16_at(extra, 2)) {
        let end = 4 + usize::from(n);
        if id == EXTRA_64 {
            return extra.get(4..end).unwrap_or_default();
        }
        extra = extra.get(end..).unwrap_or_default();
    }
    &[]
}

fn u16_at(bytes: &[u8], at: usize) -> Option<u16> {
    bytes.get(at..at.checked_add(2)?)?.try_into().ok().map(u16::from_le_bytes)
}

fn u32_at(bytes: &[u8], at: usize) -> Option<u32> {
    bytes.get(at..at.checked_add(4)?)?.try_into().ok().map(u32::from_le_bytes)
}

fn u64_at(bytes: &[u8], at: usize) -> Option<u64> {
    bytes.get(at..at.checked_add(8)?)?.try_into().ok().map(u64::from_le_bytes)
}
