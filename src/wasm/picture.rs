//! A figure drawn by plotters-canvas, in a worker.

use js_sys::Reflect;
use plotters_canvas::CanvasBackend;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{ImageBitmap, OffscreenCanvas};

use crate::figures::{self, Look, Target};
use crate::report::model::Figure;

/// Width on paper at which the words of such a figure have their size.
const WIDTH_MM: f64 = 84.0;
/// Names of the drawing context in a page and in a worker.
const PAGE_CONTEXT: &str = "CanvasRenderingContext2D";
const WORKER_CONTEXT: &str = "OffscreenCanvasRenderingContext2D";

/// The figure as an image of a width in device pixels; none where it cannot be drawn.
pub fn picture(figure: &Figure, width_px: u32, decimal_mark: char) -> Option<ImageBitmap> {
    let look = Look { width_mm: Some(WIDTH_MM), decimal_mark };
    let (width_pt, height_pt) = figures::size_pt(figure, &look).ok()?;
    let units_per_pt = f64::from(width_px) / width_pt;
    let height_px = (height_pt * units_per_pt).ceil() as u32;
    know_the_context();
    let canvas = OffscreenCanvas::new(width_px, height_px).ok()?;
    // plotters-canvas uses of its canvas only what both kinds have: size and drawing context.
    let target = CanvasBackend::with_canvas_object(canvas.clone().unchecked_into())?;
    figures::draw(figure, target, Target::Pixels, units_per_pt, &look).ok()?;
    canvas.transfer_to_image_bitmap().ok()
}

/// plotters-canvas asks for the drawing context by its name in a page; a worker has it by another.
fn know_the_context() {
    let scope = js_sys::global();
    let has = Reflect::has(&scope, &JsValue::from_str(PAGE_CONTEXT)).unwrap_or(false);
    if let Ok(own) = Reflect::get(&scope, &JsValue::from_str(WORKER_CONTEXT))
        && !has
    {
        // Without it nothing is drawn, and the numbers stand alone.
        let _ = Reflect::set(&scope, &JsValue::from_str(PAGE_CONTEXT), &own);
    }
}
