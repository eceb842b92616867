//! How a text looks, as the drawing target asks for it.

use std::convert::Infallible;

use plotters_backend::text_anchor::{HPos, Pos, VPos};
use plotters_backend::{BackendColor, BackendCoord, BackendTextStyle, FontFamily, FontStyle};

use super::palette::Rgb;
use super::text;

/// Faces of all figures: the reader's own sans.
pub const FAMILY: &str = "system-ui, 'Segoe UI', 'Helvetica Neue', Arial, sans-serif";

/// Which point of a text stands at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    Start,
    Middle,
    End,
}

/// Size, colour, slant and anchor of a text; sizes in units of the target.
///
/// Needs no font and no page: its extent comes from the width table.
#[derive(Debug, Clone, Copy)]
pub struct Lettering {
    pub size: f64,
    pub colour: Rgb,
    pub italic: bool,
    pub anchor: Anchor,
}

impl BackendTextStyle for Lettering {
    type FontError = Infallible;

    fn color(&self) -> BackendColor {
        BackendColor { alpha: 1.0, rgb: self.colour }
    }

    fn size(&self) -> f64 {
        self.size
    }

    fn style(&self) -> FontStyle {
        if self.italic { FontStyle::Italic } else { FontStyle::Normal }
    }

    fn anchor(&self) -> Pos {
        let horizontal = match self.anchor {
            Anchor::Start => HPos::Left,
            Anchor::Middle => HPos::Center,
            Anchor::End => HPos::Right,
        };
        Pos::new(horizontal, VPos::Bottom)
    }

    fn family(&self) -> FontFamily<'_> {
        FontFamily::Name(FAMILY)
    }

    fn layout_box(&self, words: &str) -> Result<((i32, i32), (i32, i32)), Infallible> {
        let width = text::runs_width(&text::runs(words), self.size);
        Ok(((0, 0), (width.ceil() as i32, self.size.ceil() as i32)))
    }

    /// Targets that paint glyph by glyph have none here; all ours set text themselves.
    fn draw<E, F: FnMut(i32, i32, BackendColor) -> Result<(), E>>(
        &self,
        _: &str,
        _: BackendCoord,
        _: F,
    ) -> Result<Result<(), E>, Infallible> {
        Ok(Ok(()))
    }
}
