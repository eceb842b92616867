//! Incremental SHA-256 for the hash worker.

use sha2::{Digest, Sha256};
use wasm_bindgen::prelude::wasm_bindgen;

/// A running hash.
#[wasm_bindgen]
#[derive(Default)]
pub struct Hasher {
    state: Sha256,
}

#[wasm_bindgen]
impl Hasher {
    /// An empty hash.
    #[wasm_bindgen(constructor)]
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds bytes.
    pub fn update(&mut self, bytes: &[u8]) {
        self.state.update(bytes);
    }

    /// Lower-case hexadecimal of all bytes so far.
    pub fn hex(&self) -> String {
        hex(&self.state.clone().finalize())
    }
}

/// Lower-case hexadecimal.
pub fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// SHA-256 of bytes in memory, lower-case hexadecimal.
pub fn of(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes))
}
