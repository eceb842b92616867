//! Figures of the sheet, drawn from the report model.
//!
//! One drawing serves all targets: `draw` takes any plotters target, in a browser worker without a
//! page as well as on the command line; `svg` draws into a text that is the figure on screen, in
//! print and in the saved sheet. Nothing is measured from a screen, no clock is read: the same
//! figure is always the same bytes.
//!
//! Paper coordinates are points (1/72 inch), y downward. Maps: x to the right, y upward, both on one
//! scale.

mod annotate;
mod arrow;
mod axes;
mod backend;
mod bar;
mod contour;
mod curves;
mod decades;
mod decimate;
mod field;
mod figure;
#[cfg(test)]
mod gallery;
#[cfg(test)]
mod gallery_log;
mod geometry;
mod glance;
mod glance_layout;
mod grid;
mod ground;
mod hatch;
mod isolines;
mod lettering;
mod look;
mod map;
mod palette;
mod panel;
mod pen;
mod place;
mod plot;
mod pointing;
mod points;
mod problem;
mod ranges;
mod raster;
mod scale;
mod svg;
mod text;
mod ticks;
mod title;

pub use backend::{Measured, Target};
pub use figure::{draw, size_pt, svg, svg_with};
pub use geometry::Rect;
pub use lettering::Anchor;
pub use look::Look;
pub use pen::{Notes, Picture, SetText};
pub use pointing::{Pointed, Step, home, nearest, stepped};
pub use problem::DrawProblem;
pub use raster::Raster;
pub use text::Run;
