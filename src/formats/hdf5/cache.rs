//! Decoded chunks that are kept for the next box.

use std::collections::{BTreeMap, VecDeque};
use std::sync::{Arc, Mutex, PoisonError};

/// Chunks kept decoded, bytes. A single larger chunk is kept alone.
pub const KEPT_BYTES: usize = 24 << 20;

/// A dataset (address of its header) and the number of a chunk in it.
pub type Key = (u64, u64);

#[derive(Default)]
struct State {
    chunks: BTreeMap<Key, Arc<Vec<u8>>>,
    /// Oldest first.
    order: VecDeque<Key>,
    bytes: usize,
}

/// Chunks by dataset and number, the longest kept leave first.
#[derive(Default)]
pub struct ChunkCache(Mutex<State>);

impl ChunkCache {
    /// A chunk, if it is kept.
    pub fn get(&self, key: Key) -> Option<Arc<Vec<u8>>> {
        let state = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        state.chunks.get(&key).cloned()
    }

    /// Keeps a chunk.
    pub fn put(&self, key: Key, chunk: Arc<Vec<u8>>) {
        let mut state = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if state.chunks.contains_key(&key) {
            return;
        }
        while state.bytes + chunk.len() > KEPT_BYTES {
            let Some(oldest) = state.order.pop_front() else { break };
            let freed = state.chunks.remove(&oldest).map_or(0, |chunk| chunk.len());
            state.bytes = state.bytes.saturating_sub(freed);
        }
        state.bytes += chunk.len();
        state.order.push_back(key);
        state.chunks.insert(key, chunk);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stays_bounded() {
        let cache = ChunkCache::default();
        for i in 0..100 {
            cache.put((1, i), Arc::new(vec![0; 1 << 20]));
        }
        let kept = (0..100).filter(|i| cache.get((1, *i)).is_some()).count();
        assert_eq!(kept, 24);
        assert!(cache.get((1, 99)).is_some());
        cache.put((2, 0), Arc::new(vec![0; KEPT_BYTES + 1]));
        assert!(cache.get((2, 0)).is_some() && cache.get((1, 99)).is_none());
    }
}
