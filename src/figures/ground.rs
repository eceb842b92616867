//! Where the points of a figure's panels lie on its paper.

use super::curves::{self, Place};
use super::figure::size_pt;
use super::geometry::{Point, Rect};
use super::glance::GlanceFigure;
use super::look::Look;
use super::map::MapFigure;
use super::plot::Plot;
use super::problem::DrawProblem;
use super::scale::Scale;
use crate::report::model::{Curve, Figure, FigureBody, MapData};

/// One panel with its points, in points of the paper.
pub enum Ground<'a> {
    Map { map: &'a MapData, area: Rect, x: Scale, y: Scale },
    Curves(Plot<'a>),
}

impl Ground<'_> {
    /// The box of the panel.
    pub fn area(&self) -> Rect {
        match self {
            Self::Map { area, .. } => *area,
            Self::Curves(plot) => plot.area,
        }
    }

    /// Place of a point; none where it is not shown.
    pub fn spot(&self, curve: usize, index: usize) -> Option<Point> {
        match self {
            Self::Map { map, x, y, .. } => {
                let columns = map.x_values.len().max(1);
                let px = map.x_values.get(index % columns)?;
                let py = map.y_values.get(index / columns)?;
                Some((x.at(*px), y.at(*py)))
            }
            Self::Curves(plot) => spot(plot, plot.data.curves.get(curve)?, index),
        }
    }
}

/// Place of a point of a curve within the panel.
pub fn spot(plot: &Plot<'_>, curve: &Curve, index: usize) -> Option<Point> {
    let at = plot.spot(*curve.x.get(index)?, *curve.y.get(index)?)?;
    plot.area.grown(0.5).has(at).then_some(at)
}

/// The panels of a figure as its SVG shows them, with the size of the paper.
///
/// # Errors
/// As [`size_pt`].
pub fn grounds<'a>(
    figure: &'a Figure,
    look: &Look,
) -> Result<((f64, f64), Vec<Ground<'a>>), DrawProblem> {
    let (width, height) = size_pt(figure, look)?;
    let panels = match &figure.body {
        FigureBody::Map(map) => vec![MapFigure::new(map, width, Some(height), look)?.ground()],
        FigureBody::Glance { map, x_profile, y_profile, waveform } => {
            let parts = (x_profile, y_profile, waveform);
            GlanceFigure::new(map, parts, width, Some(height), look)?.grounds()?
        }
        FigureBody::Curves(data) => {
            let place = Place::alone(Rect::new(0.0, 0.0, width, height));
            vec![Ground::Curves(curves::plot(data, &place, look)?)]
        }
    };
    Ok(((width, height), panels))
}
