//! The scale bar of a map: colours, round ticks, unit.

use plotters_backend::DrawingBackend;

use super::axes::{self, Axis, Run};
use super::geometry::{Point, Rect};
use super::grid::Grid;
use super::lettering::Anchor;
use super::look::Look;
use super::palette::{self, Rgb};
use super::pen::Pen;
use super::problem::DrawProblem;
use super::ranges::usable;
use super::raster::Raster;
use super::ticks::sane_range;
use crate::report::model::{ColourScale, MapData};

/// Thickness of a scale bar, in points.
pub const BAR_PT: f64 = 7.0;
/// Colours along a bar; more than the eye tells apart.
const SHADES: usize = 128;

/// Values at the two ends of a map's colour scale.
///
/// A sequential scale starts at zero unless the least value lies above half of the greatest; a
/// diverging one is even about zero; a phase covers one turn.
pub fn value_range(map: &MapData, grid: &Grid) -> (f64, f64) {
    if let Some(limits) = usable(map.value.limits) {
        return limits;
    }
    let (low, high) = grid.value_range().unwrap_or((0.0, 1.0));
    match map.scale {
        ColourScale::Cyclic => turn(map).unwrap_or_else(|| sane_range(low, high)),
        ColourScale::Diverging => {
            let most = low.abs().max(high.abs());
            if most > 0.0 { sane_range(-most, most) } else { (-1.0, 1.0) }
        }
        ColourScale::Sequential if low >= 0.0 && low <= 0.5 * high => sane_range(0.0, high),
        ColourScale::Sequential => sane_range(low, high),
    }
}

/// One turn in the unit of a phase, about zero.
fn turn(map: &MapData) -> Option<(f64, f64)> {
    match map.value.unit.as_str() {
        "rad" => Some((-std::f64::consts::PI, std::f64::consts::PI)),
        "°" | "deg" => Some((-180.0, 180.0)),
        _ => None,
    }
}

/// Colour of a value.
pub fn colour(scale: ColourScale, (low, high): (f64, f64), value: f64) -> Rgb {
    palette::colour(scale, (value / 2.0 - low / 2.0) / (high / 2.0 - low / 2.0))
}

/// The axis of a bar, with quarter turns where the map shows a phase over a full turn.
pub fn axis(map: &MapData, range: (f64, f64), paper: (f64, f64), run: Run, look: &Look) -> Axis {
    let axis = Axis::new(range, paper, run, look);
    if map.scale != ColourScale::Cyclic || turn(map) != Some(range) {
        return axis;
    }
    let quarters = if map.value.unit == "rad" {
        ["\u{2212}π", "\u{2212}π/2", "0", "π/2", "π"]
    } else {
        ["\u{2212}180", "\u{2212}90", "0", "90", "180"]
    };
    let step = (range.1 - range.0) / 4.0;
    let named = quarters
        .iter()
        .enumerate()
        .map(|(n, words)| (range.0 + step * n as f64, (*words).to_owned()));
    axis.with_ticks(named.collect())
}

/// An upright bar with its numbers to the right.
pub fn upright<DB: DrawingBackend>(
    pen: &mut Pen<DB>,
    map: &MapData,
    area: Rect,
    axis: &Axis,
) -> Result<(), DrawProblem> {
    let raster = Raster::from_cells(1, SHADES, |_, row| Some(shade(map, SHADES - 1 - row)));
    pen.picture(area, raster)?;
    axes::frame(pen, &area)?;
    let ink = |at: Point| {
        palette::readable_on(palette::colour(map.scale, (area.y1 - at.1) / area.height()))
    };
    axes::ticks_up(pen, axis, area.x0, 2.0, ink)?;
    axes::ticks_up(pen, axis, area.x1, -2.0, ink)?;
    for (y, words) in axis.marks() {
        let at = (area.x1 + axes::GAP_PT, super::place::baseline(y, axes::TEXT_PT));
        axes::words_at(pen, words, at, Anchor::Start, palette::INK)?;
    }
    Ok(())
}

/// A lying bar with its numbers below, held within `room`.
pub fn lying<DB: DrawingBackend>(
    pen: &mut Pen<DB>,
    map: &MapData,
    area: Rect,
    axis: &Axis,
    room: (f64, f64),
) -> Result<(), DrawProblem> {
    pen.picture(area, Raster::from_cells(SHADES, 1, |column, _| Some(shade(map, column))))?;
    axes::frame(pen, &area)?;
    let ink = |at: Point| {
        palette::readable_on(palette::colour(map.scale, (at.0 - area.x0) / area.width()))
    };
    axes::ticks_across(pen, axis, area.y0, -2.0, ink)?;
    axes::ticks_across(pen, axis, area.y1, 2.0, ink)?;
    axes::numbers_across(pen, axis, area.y1, room)
}

fn shade(map: &MapData, index: usize) -> Rgb {
    palette::colour(map.scale, (index as f64 + 0.5) / SHADES as f64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::grid::tests::map;

    fn range(values: [f64; 2], scale: ColourScale, unit: &str) -> (f64, f64) {
        let mut data = map(vec![0.0, 1.0], vec![0.0], values.iter().map(|v| Some(*v)).collect());
        data.scale = scale;
        data.value.unit = unit.to_owned();
        value_range(&data, &Grid::new(&data).unwrap())
    }

    #[test]
    fn scales_start_where_they_should() {
        assert_eq!(range([0.2, 5.0], ColourScale::Sequential, "MPa"), (0.0, 5.0));
        assert_eq!(range([4.0, 5.0], ColourScale::Sequential, "MPa"), (4.0, 5.0));
        assert_eq!(range([-40.0, 0.0], ColourScale::Sequential, "dB"), (-40.0, 0.0));
        assert_eq!(range([-1.0, 3.0], ColourScale::Diverging, "%"), (-3.0, 3.0));
        assert_eq!(range([-1.0, 3.0], ColourScale::Cyclic, "°"), (-180.0, 180.0));
    }

    #[test]
    fn ends_of_a_scale_have_its_end_colours() {
        let ends = (-2.0, 2.0);
        let scale = ColourScale::Sequential;
        assert_eq!(colour(scale, ends, -2.0), palette::colour(scale, 0.0));
        assert_eq!(colour(scale, ends, 7.0), palette::colour(scale, 1.0));
    }
}
