//! Bands computed, handed in and put together.

use js_sys::{Float32Array, Float64Array, Int16Array, Int32Array};
use wasm_bindgen::prelude::wasm_bindgen;
use wasm_bindgen::{JsCast, JsValue};

use super::Session;
use super::answers::refuse;
use super::language::words;
use super::page_file::PageFile;
use crate::analysis::{self, Prepared};
use crate::base::error::Problem;
use crate::formats::container::Samples;
use crate::report;

#[wasm_bindgen]
impl Session {
    /// Computes one band.
    ///
    /// # Errors
    /// Throws `{problems}`.
    pub fn band(&mut self, scan: usize, index: usize) -> Result<Float64Array, JsValue> {
        let (Some(prepared), Some(plan)) = (&self.prepared, &self.plan) else {
            return Err(refuse(&[Problem::new("band-missing")]));
        };
        let rows = self.runner.band(prepared, plan, scan, index).map_err(|p| refuse(&[p]))?;
        Ok(Float64Array::from(rows.as_slice()))
    }

    /// The waveforms of a band, for a worker that does not read the file itself: a typed array of the
    /// kind of number that is stored.
    ///
    /// # Errors
    /// Throws `{problems}`.
    pub fn raw(&self, scan: usize, index: usize) -> Result<JsValue, JsValue> {
        PageFile::begin();
        let (prepared, _) = self.ready()?;
        let samples = analysis::raw_band(prepared, scan, index).map_err(|p| refuse(&[p]))?;
        Ok(match samples {
            Samples::I16(v) => Int16Array::from(v.as_slice()).into(),
            Samples::I32(v) => Int32Array::from(v.as_slice()).into(),
            Samples::F32(v) => Float32Array::from(v.as_slice()).into(),
            Samples::F64(v) => Float64Array::from(v.as_slice()).into(),
        })
    }

    /// Computes one band from waveforms that were handed over.
    ///
    /// # Errors
    /// Throws `{problems}`.
    pub fn band_of(
        &mut self,
        scan: usize,
        index: usize,
        raw: &JsValue,
    ) -> Result<Float64Array, JsValue> {
        let (Some(prepared), Some(plan)) = (&self.prepared, &self.plan) else {
            return Err(refuse(&[Problem::new("band-missing")]));
        };
        let samples = if let Some(v) = raw.dyn_ref::<Int16Array>() {
            Samples::I16(v.to_vec())
        } else if let Some(v) = raw.dyn_ref::<Int32Array>() {
            Samples::I32(v.to_vec())
        } else if let Some(v) = raw.dyn_ref::<Float32Array>() {
            Samples::F32(v.to_vec())
        } else if let Some(v) = raw.dyn_ref::<Float64Array>() {
            Samples::F64(v.to_vec())
        } else {
            return Err(refuse(&[Problem::new("band-missing")]));
        };
        let rows = self.runner.band_of(prepared, plan, scan, index, &samples);
        let rows = rows.map_err(|p| refuse(&[p]))?;
        Ok(Float64Array::from(rows.as_slice()))
    }

    /// Hands a band's result in.
    pub fn accept(&mut self, scan: usize, index: usize, rows: &Float64Array) {
        self.results = None;
        self.bands.insert((scan, index), rows.to_vec());
    }

    /// A band that could not be computed becomes a finding.
    ///
    /// # Errors
    /// Throws `{problems}` when nothing was opened.
    pub fn skip(&mut self, scan: usize, index: usize) -> Result<(), JsValue> {
        let rows = analysis::skipped_band(self.ready()?.0, scan, index);
        self.results = None;
        self.bands.insert((scan, index), rows);
        Ok(())
    }

    /// The progress line, worded.
    pub fn progress(&self, done: f64, all: f64, seconds: f64) -> String {
        report::progress(done, all, seconds, words())
    }
}

impl Session {
    pub(super) fn tables(&self, prepared: &Prepared) -> Vec<Vec<f64>> {
        let bands_of = |scan: usize| self.bands.range((scan, 0)..(scan + 1, 0));
        (0..prepared.scans.len())
            .map(|scan| bands_of(scan).flat_map(|(_, rows)| rows.iter().copied()).collect())
            .collect()
    }
}
