//! Revisits of one point. Part of `sheet.json`.

use serde::{Deserialize, Serialize};

/// Peak values at each revisit of one point, in the order of the file; noise is in them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Revisits {
    pub scan: String,
    pub pc_pa: Vec<f64>,
    pub pr_pa: Vec<f64>,
    pub ppsi_pa2_s: Vec<f64>,
}
