//! A drawing target that measures text by our table and sets subscripts.
//!
//! Every other call is forwarded. plotters' own estimate counts bytes natively and asks the page
//! on wasm, where a worker has none.

use plotters_backend::text_anchor::{HPos, Pos, VPos};
use plotters_backend::{
    BackendColor, BackendCoord, BackendStyle, BackendTextStyle, DrawingBackend, DrawingErrorKind,
    FontFamily, FontStyle, FontTransform,
};

use super::text::{self, Run};

/// What becomes of `_{}` marks and of rasters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Target {
    /// Text goes through with its marks, rasters are noted: a later step sets both.
    Document,
    /// Runs are placed one by one, rasters painted cell by cell.
    Pixels,
}

/// The wrapper.
pub struct Measured<DB> {
    inner: DB,
    target: Target,
}

impl<DB: DrawingBackend> Measured<DB> {
    /// Wraps a drawing target.
    pub fn new(inner: DB, target: Target) -> Self {
        Self { inner, target }
    }

    /// What the target is.
    pub fn target(&self) -> Target {
        self.target
    }
}

impl<DB: DrawingBackend> DrawingBackend for Measured<DB> {
    type ErrorType = DB::ErrorType;

    fn get_size(&self) -> (u32, u32) {
        self.inner.get_size()
    }

    fn ensure_prepared(&mut self) -> Result<(), DrawingErrorKind<Self::ErrorType>> {
        self.inner.ensure_prepared()
    }

    fn present(&mut self) -> Result<(), DrawingErrorKind<Self::ErrorType>> {
        self.inner.present()
    }

    fn draw_pixel(
        &mut self,
        point: BackendCoord,
        color: BackendColor,
    ) -> Result<(), DrawingErrorKind<Self::ErrorType>> {
        self.inner.draw_pixel(point, color)
    }

    fn draw_line<S: BackendStyle>(
        &mut self,
        from: BackendCoord,
        to: BackendCoord,
        style: &S,
    ) -> Result<(), DrawingErrorKind<Self::ErrorType>> {
        self.inner.draw_line(from, to, style)
    }

    fn draw_rect<S: BackendStyle>(
        &mut self,
        upper_left: BackendCoord,
        bottom_right: BackendCoord,
        style: &S,
        fill: bool,
    ) -> Result<(), DrawingErrorKind<Self::ErrorType>> {
        self.inner.draw_rect(upper_left, bottom_right, style, fill)
    }

    fn draw_path<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        path: I,
        style: &S,
    ) -> Result<(), DrawingErrorKind<Self::ErrorType>> {
        self.inner.draw_path(path, style)
    }

    fn draw_circle<S: BackendStyle>(
        &mut self,
        center: BackendCoord,
        radius: u32,
        style: &S,
        fill: bool,
    ) -> Result<(), DrawingErrorKind<Self::ErrorType>> {
        self.inner.draw_circle(center, radius, style, fill)
    }

    fn fill_polygon<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        vert: I,
        style: &S,
    ) -> Result<(), DrawingErrorKind<Self::ErrorType>> {
        self.inner.fill_polygon(vert, style)
    }

    fn draw_text<S: BackendTextStyle>(
        &mut self,
        words: &str,
        style: &S,
        pos: BackendCoord,
    ) -> Result<(), DrawingErrorKind<Self::ErrorType>> {
        if self.target == Target::Document {
            return self.inner.draw_text(words, style, pos);
        }
        let runs = text::runs(words);
        let whole: f64 = runs.iter().map(|run| run_width(run, style.size())).sum();
        let anchor = style.anchor();
        let mut x = f64::from(pos.0)
            - match anchor.h_pos {
                HPos::Left => 0.0,
                HPos::Center => whole / 2.0,
                HPos::Right => whole,
            };
        for run in &runs {
            let drop = if run.subscript { text::SUBSCRIPT_DROP * style.size() } else { 0.0 };
            let at = (x.round() as i32, pos.1 + drop.round() as i32);
            self.inner.draw_text(
                &run.text,
                &RunStyle { line: style, run, v_pos: anchor.v_pos },
                at,
            )?;
            x += run_width(run, style.size());
        }
        Ok(())
    }

    fn estimate_text_size<S: BackendTextStyle>(
        &self,
        words: &str,
        style: &S,
    ) -> Result<(u32, u32), DrawingErrorKind<Self::ErrorType>> {
        let width = text::runs_width(&text::runs(words), style.size());
        Ok((width.ceil() as u32, style.size().ceil() as u32))
    }

    fn blit_bitmap(
        &mut self,
        pos: BackendCoord,
        size: (u32, u32),
        src: &[u8],
    ) -> Result<(), DrawingErrorKind<Self::ErrorType>> {
        self.inner.blit_bitmap(pos, size, src)
    }
}

fn run_width(run: &Run, size: f64) -> f64 {
    text::plain_width(&run.text, if run.subscript { size * text::SUBSCRIPT_SIZE } else { size })
}

/// The face of one run within a line.
struct RunStyle<'a, S> {
    line: &'a S,
    run: &'a Run,
    v_pos: VPos,
}

impl<S: BackendTextStyle> BackendTextStyle for RunStyle<'_, S> {
    type FontError = S::FontError;

    fn color(&self) -> BackendColor {
        self.line.color()
    }

    fn size(&self) -> f64 {
        self.line.size() * if self.run.subscript { text::SUBSCRIPT_SIZE } else { 1.0 }
    }

    fn transform(&self) -> FontTransform {
        self.line.transform()
    }

    fn style(&self) -> FontStyle {
        if self.run.italic { FontStyle::Italic } else { self.line.style() }
    }

    fn anchor(&self) -> Pos {
        Pos::new(HPos::Left, self.v_pos)
    }

    fn family(&self) -> FontFamily<'_> {
        self.line.family()
    }

    fn layout_box(&self, words: &str) -> Result<((i32, i32), (i32, i32)), Self::FontError> {
        self.line.layout_box(words)
    }

    fn draw<E, F: FnMut(i32, i32, BackendColor) -> Result<(), E>>(
        &self,
        words: &str,
        pos: BackendCoord,
        draw: F,
    ) -> Result<Result<(), E>, Self::FontError> {
        self.line.draw(words, pos, draw)
    }
}

#[cfg(test)]
mod tests {
    use plotters::prelude::SVGBackend;

    use super::*;
    use crate::figures::lettering::{Anchor, Lettering};

    fn lettering() -> Lettering {
        Lettering { size: 100.0, colour: (0, 0, 0), italic: false, anchor: Anchor::Start }
    }

    // Adobe Helvetica metrics (value from memory): a digit is 0.556 of the size; plotters' own
    // estimate is 0.7 of the size for each byte.
    #[test]
    fn text_is_measured_by_characters_not_bytes() {
        let mut svg = String::new();
        let backend = Measured::new(SVGBackend::with_string(&mut svg, (10, 10)), Target::Document);
        let (micro, _) = backend.estimate_text_size("µ", &lettering()).unwrap();
        let (digit, _) = backend.estimate_text_size("0", &lettering()).unwrap();
        assert!(micro.abs_diff(digit) <= 3, "{micro} {digit}");
        assert!((55..=67).contains(&digit));
    }

    #[test]
    fn pixels_get_one_text_a_run() {
        let mut svg = String::new();
        let mut backend =
            Measured::new(SVGBackend::with_string(&mut svg, (10, 10)), Target::Pixels);
        backend.draw_text("p_{c} / MPa", &lettering(), (0, 0)).unwrap();
        backend.present().unwrap();
        drop(backend);
        assert_eq!(svg.matches("<text").count(), 3);
        assert_eq!(svg.matches("italic").count(), 1);
    }
}
