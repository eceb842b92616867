//! Pointing at figures: what stands there, and its waveform.

use js_sys::{Array, Reflect};
use wasm_bindgen::prelude::wasm_bindgen;
use wasm_bindgen::{JsCast, JsValue};

use super::answers::{PointLine, WaveLine, refuse, to_js};
use super::language::words;
use super::page_file::PageFile;
use super::picture::picture;
use super::session::Session;
use crate::figures::{self, Pointed, Step};
use crate::report::model::Figure;
use crate::{analysis, report};

#[wasm_bindgen]
impl Session {
    /// The SVG of a figure, as the sheet has it.
    pub fn figure_svg(&self, figure: &str) -> Option<String> {
        self.drawings.finished(figure).map(str::to_owned)
    }

    /// The point of a figure nearest to a place in shares of its width and height; null where there
    /// is none.
    ///
    /// # Errors
    /// When it cannot be handed over.
    pub fn point_at(&self, figure: &str, u: f64, v: f64) -> Result<JsValue, JsValue> {
        let found = self
            .drawings
            .figure(figure)
            .and_then(|(figure, look)| figures::nearest(figure, &look, (u, v)));
        self.point_line(figure, found)
    }

    /// The point a step (across, up, panels) away from `[panel, curve, index]`; without a place the
    /// one to begin with.
    ///
    /// # Errors
    /// When it cannot be handed over.
    pub fn point_from(
        &self,
        figure: &str,
        place: &[u32],
        step: &[i32],
    ) -> Result<JsValue, JsValue> {
        let found = self.drawings.figure(figure).and_then(|(figure, look)| match (place, step) {
            (&[panel, curve, index], &[across, up, panels]) => {
                let step =
                    Step { across: across as isize, up: up as isize, panels: panels as isize };
                let place = (panel as usize, curve as usize, index as usize);
                figures::stepped(figure, &look, place, step)
            }
            _ => figures::home(figure, &look, 0),
        });
        self.point_line(figure, found)
    }

    /// Waveform and spectrum of the point that a place of a figure stands for, read from the file:
    /// `{heading, text, pictures}` with images of a width in device pixels; null where it stands for
    /// none.
    ///
    /// # Errors
    /// Throws `{problems}`.
    pub fn point_wave(&self, figure: &str, place: &[u32], width: u32) -> Result<JsValue, JsValue> {
        PageFile::begin();
        let (prepared, plan) = self.ready()?;
        let (Some(results), Some((figure, _)), &[panel, curve, index]) =
            (&self.results, self.drawings.figure(figure), place)
        else {
            return Ok(JsValue::NULL);
        };
        let place = (panel as usize, curve as usize, index as usize);
        let Some(at) = report::wave_at(results, figure, place) else { return Ok(JsValue::NULL) };
        let scan = &results.scans[at.scan];
        let wave = match at.cell {
            Some(cell) => analysis::point_wave(prepared, plan, &scan.id, cell),
            None => Ok(scan.focal.clone()),
        };
        let made = wave
            .map_err(|p| refuse(&[p]))?
            .and_then(|wave| report::point_wave(results, at, &wave, words()));
        let Some(made) = made else { return Ok(JsValue::NULL) };
        let mark = words().marks().decimal;
        let pictures: Array = made
            .figures
            .iter()
            .filter_map(|figure| picture(figure, width.clamp(200, 4000), mark))
            .map(JsValue::from)
            .collect();
        let out = to_js(&WaveLine { heading: made.heading, text: made.text })?;
        Reflect::set(&out, &JsValue::from_str("pictures"), pictures.unchecked_ref())?;
        Ok(out)
    }
}

impl Session {
    fn point_line(&self, figure: &str, found: Option<Pointed>) -> Result<JsValue, JsValue> {
        let line = found.zip(self.drawings.figure(figure)).and_then(|(point, (figure, _))| {
            let Pointed { panel, curve, index, at } = point;
            let text = report::point_text(figure, (panel, curve, index), words())?;
            let wave = self.has_wave(figure, (panel, curve, index));
            Some(PointLine { place: (panel, curve, index), at, text, wave })
        });
        line.map_or(Ok(JsValue::NULL), |line| to_js(&line))
    }

    /// Whether a point of a figure has a waveform that can be shown.
    fn has_wave(&self, figure: &Figure, place: (usize, usize, usize)) -> bool {
        let (Some(results), Ok((prepared, _))) = (&self.results, self.ready()) else {
            return false;
        };
        report::wave_at(results, figure, place).is_some_and(|at| {
            at.cell
                .is_none_or(|cell| analysis::has_point(prepared, &results.scans[at.scan].id, cell))
        })
    }
}
