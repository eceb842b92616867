//! Covariances of the features, source by source.

use std::collections::BTreeMap;

use super::features::COUNT;
use crate::calibration::{ErrorRows, Missing};

/// Pairs of features between which correlations are told.
const PAIRS: [(usize, usize); COUNT] = [(0, 1), (0, 2), (1, 2)];

/// Covariances of the features by source.
#[derive(Default)]
pub struct Sources {
    covariance: BTreeMap<String, [[f64; COUNT]; COUNT]>,
    /// What one standard error does to each feature, of sources that are one common error.
    pub signed: BTreeMap<String, [f64; COUNT]>,
    /// Sources that were not evaluated, with the reason.
    pub left_out: BTreeMap<String, String>,
}

impl Sources {
    /// A source by its covariances.
    pub fn add(&mut self, source: &str, covariance: [[f64; COUNT]; COUNT]) {
        self.covariance.insert(source.to_owned(), covariance);
    }

    /// Says why a source is not evaluated.
    pub fn leave_out(&mut self, source: &str, reason: &str) {
        self.left_out.insert(source.to_owned(), reason.to_owned());
    }

    /// A source by what the rows of the response do to each feature; `derivatives` as many as rows.
    pub fn add_rows(
        &mut self,
        source: &str,
        rows: &Result<ErrorRows, Missing>,
        derivatives: [&[f64]; COUNT],
    ) {
        match rows {
            Ok(rows) => {
                let of = |a: &[f64]| derivatives.map(|b| rows.covariance(a, b));
                self.add(source, derivatives.map(of));
                let [pc, pr, ppsi] = derivatives.map(|d| rows.together(d));
                if let (Some(pc), Some(pr), Some(ppsi)) = (pc, pr, ppsi) {
                    self.signed.insert(source.to_owned(), [pc, pr, ppsi]);
                }
            }
            Err(missing) => self.leave_out(source, missing.code()),
        }
    }

    /// Variance of a feature over all sources.
    pub fn variance(&self, i: usize) -> f64 {
        self.covariance.values().map(|c| c[i][i]).sum()
    }

    /// Standard uncertainties of a feature.
    pub fn u(&self, i: usize) -> BTreeMap<String, f64> {
        let root = |c: &[[f64; COUNT]; COUNT]| c[i][i].max(0.0).sqrt();
        self.covariance.iter().map(|(source, c)| (source.clone(), root(c))).collect()
    }

    /// Correlation coefficients by source, in the order of [`PAIRS`].
    pub fn correlations(&self) -> BTreeMap<String, [f64; COUNT]> {
        let of = |c: &[[f64; COUNT]; COUNT]| {
            PAIRS.map(|(i, j)| {
                let scale = (c[i][i] * c[j][j]).max(0.0).sqrt();
                if scale > 0.0 { (c[i][j] / scale).clamp(-1.0, 1.0) } else { 0.0 }
            })
        };
        self.covariance.iter().map(|(source, c)| (source.clone(), of(c))).collect()
    }
}
