//! Why a figure can't be drawn.

use std::fmt;

use crate::base::error::Problem;

/// What stops a drawing. Ugly data (all null, constant, one point) is drawn; only data that
/// contradicts itself is refused.
#[derive(Debug, Clone, PartialEq)]
pub enum DrawProblem {
    /// A list of the figure hasn't the length that its companions need.
    Length { what: &'static str, expected: usize, found: usize },
    /// Positions of an axis neither rise nor fall throughout, or aren't finite.
    NotMonotonic { what: &'static str, index: usize },
    /// The figure is too small to hold its words, in points.
    TooSmall { width_pt: f64, height_pt: f64 },
    /// The raster could not be written.
    Raster(String),
    /// The target refused a stroke.
    Backend(String),
}

impl fmt::Display for DrawProblem {
    /// A terse technical line for logs; the sentence for readers is made from the code.
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Length { what, expected, found } => {
                write!(out, "{what}: expected {expected} values, found {found}")
            }
            Self::NotMonotonic { what, index } => write!(out, "{what}: not monotonic at {index}"),
            Self::TooSmall { width_pt, height_pt } => {
                write!(out, "figure of {width_pt:.0} x {height_pt:.0} pt has no room")
            }
            Self::Raster(cause) | Self::Backend(cause) => out.write_str(cause),
        }
    }
}

impl std::error::Error for DrawProblem {}

impl From<DrawProblem> for Problem {
    fn from(problem: DrawProblem) -> Self {
        match problem {
            DrawProblem::Length { what, expected, found } => {
                Self::new("figure-length").at(what).with("expected", expected).with("found", found)
            }
            DrawProblem::NotMonotonic { what, index } => {
                Self::new("figure-not-monotonic").at(what).with("index", index)
            }
            DrawProblem::TooSmall { width_pt, height_pt } => Self::new("figure-too-small")
                .with("width_pt", width_pt)
                .with("height_pt", height_pt),
            DrawProblem::Raster(cause) => Self::new("figure-raster").with("cause", cause),
            DrawProblem::Backend(cause) => Self::new("figure-backend").with("cause", cause),
        }
    }
}
