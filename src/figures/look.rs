//! What the sheet decides about a figure: its width on paper and the language of its numbers.

/// Points in a millimetre.
///
/// # References
/// ISO 216 paper in DTP points of 1/72 inch; common practice, no source.
pub const PT_PER_MM: f64 = 72.0 / 25.4;

/// Options of a drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Look {
    /// Width on paper; otherwise the figure's own: 174 mm, for a map 82 mm.
    pub width_mm: Option<f64>,
    /// `.` or `,`.
    pub decimal_mark: char,
}

impl Default for Look {
    fn default() -> Self {
        Self { width_mm: None, decimal_mark: '.' }
    }
}
