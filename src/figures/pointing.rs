//! Pointing at a figure: which of its points is nearest, and which is the next one.

use super::geometry::Point;
use super::ground::{Ground, grounds, spot};
use super::look::Look;
use super::plot::Plot;
use crate::report::model::{Figure, MapData};

/// How far outside a panel still counts as pointing at it, in points.
const MARGIN_PT: f64 = 3.0;

/// A point of a figure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pointed {
    /// Index of the panel, as `FigureBody::panels` counts them.
    pub panel: usize,
    /// Index of the curve; 0 in a map.
    pub curve: usize,
    /// Index of the point: in a map row-major (y, x).
    pub index: usize,
    /// Its place as shares of the figure's width and height, from the upper left.
    pub at: (f64, f64),
}

/// A step from a point to another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Step {
    /// Points to the right.
    pub across: isize,
    /// Points upward.
    pub up: isize,
    /// Panels onward.
    pub panels: isize,
}

/// The point nearest to a place of a figure, in a map by the grid's own steps, in curves along the
/// abscissa; none outside the panels. The place is in shares of width and height.
pub fn nearest(figure: &Figure, look: &Look, (u, v): (f64, f64)) -> Option<Pointed> {
    let (size, panels) = grounds(figure, look).ok()?;
    let at = (u * size.0, v * size.1);
    if !(at.0.is_finite() && at.1.is_finite()) {
        return None;
    }
    let panel = panels.iter().position(|panel| panel.area().grown(MARGIN_PT).has(at))?;
    let (curve, index) = match &panels[panel] {
        Ground::Map { map, x, y, .. } => {
            let column = closest(&map.x_values, x.value(at.0))?;
            (0, closest(&map.y_values, y.value(at.1))? * map.x_values.len() + column)
        }
        Ground::Curves(plot) => (0..plot.data.curves.len())
            .filter_map(|curve| along(plot, curve, at).map(|found| (curve, found)))
            .min_by(|a, b| a.1.1.total_cmp(&b.1.1))
            .map(|(curve, (index, _))| (curve, index))?,
    };
    pointed(size, &panels, panel, curve, index)
}

/// The point of a panel with which a reader without a pointer begins: the greatest.
pub fn home(figure: &Figure, look: &Look, panel: usize) -> Option<Pointed> {
    let (size, panels) = grounds(figure, look).ok()?;
    begin(size, &panels, panel)
}

/// The point a step away from another; at an edge the same.
pub fn stepped(
    figure: &Figure,
    look: &Look,
    (panel, curve, index): (usize, usize, usize),
    step: Step,
) -> Option<Pointed> {
    let (size, panels) = grounds(figure, look).ok()?;
    if step.panels != 0 {
        let next = (panel as isize + step.panels).rem_euclid(panels.len().max(1) as isize);
        return begin(size, &panels, next as usize);
    }
    let (curve, index) = match panels.get(panel)? {
        Ground::Map { map, .. } if index >= map.values.len() => return None,
        Ground::Map { map, .. } => (0, map_step(map, index, step)),
        Ground::Curves(plot) => curve_step(plot, curve, index, step),
    };
    pointed(size, &panels, panel, curve, index)
}

fn begin(size: (f64, f64), panels: &[Ground<'_>], panel: usize) -> Option<Pointed> {
    let values = match panels.get(panel)? {
        Ground::Map { map, .. } => &map.values,
        Ground::Curves(plot) => &plot.data.curves.first()?.y,
    };
    let shown = |index: &usize| panels[panel].spot(0, *index).is_some();
    let value = |index: &usize| values[*index].unwrap_or(f64::NEG_INFINITY);
    let most = (0..values.len()).filter(shown).max_by(|a, b| value(a).total_cmp(&value(b)))?;
    pointed(size, panels, panel, 0, most)
}

fn pointed(
    size: (f64, f64),
    panels: &[Ground<'_>],
    panel: usize,
    curve: usize,
    index: usize,
) -> Option<Pointed> {
    let (x, y) = panels.get(panel)?.spot(curve, index)?;
    Some(Pointed { panel, curve, index, at: (x / size.0, y / size.1) })
}

fn closest(values: &[f64], wanted: f64) -> Option<usize> {
    let far = |index: &usize| (values[*index] - wanted).abs();
    (0..values.len()).min_by(|a, b| far(a).total_cmp(&far(b)))
}

/// The shown point of a curve that is nearest along the abscissa, and its distance on paper.
fn along(plot: &Plot<'_>, curve: usize, at: Point) -> Option<(usize, f64)> {
    let data = plot.data.curves.get(curve)?;
    let far = |spot: &Point| if plot.turned { spot.1 - at.1 } else { spot.0 - at.0 }.abs();
    let spots = (0..data.x.len()).filter_map(|index| Some((index, spot(plot, data, index)?)));
    let (index, spot) = spots.min_by(|a, b| far(&a.1).total_cmp(&far(&b.1)))?;
    Some((index, (spot.0 - at.0).hypot(spot.1 - at.1)))
}

fn map_step(map: &MapData, index: usize, step: Step) -> usize {
    let columns = map.x_values.len().max(1);
    let moved = |values: &[f64], from: usize, by: isize| {
        let falls = values.len() > 1 && values[1] < values[0];
        let last = values.len().saturating_sub(1) as isize;
        (from as isize + if falls { -by } else { by }).clamp(0, last) as usize
    };
    moved(&map.y_values, index / columns, step.up) * columns
        + moved(&map.x_values, index % columns, step.across)
}

/// Along the curve, past points that are not shown, or over to the next curve.
fn curve_step(plot: &Plot<'_>, curve: usize, index: usize, step: Step) -> (usize, usize) {
    let (by, over) = if plot.turned { (step.up, step.across) } else { (step.across, step.up) };
    let Some(data) = plot.data.curves.get(curve) else { return (curve, index) };
    if over != 0 {
        let count = plot.data.curves.len() as isize;
        let other = (curve as isize - over).rem_euclid(count) as usize;
        let here = spot(plot, data, index).and_then(|at| along(plot, other, at));
        return here.map_or((curve, index), |(found, _)| (other, found));
    }
    let falls = data.x.len() > 1 && data.x[1] < data.x[0];
    let forward = (by > 0) != falls;
    let mut left = by.unsigned_abs();
    let (mut at, mut last) = (index, index);
    while left > 0 {
        let next = if forward { at.checked_add(1) } else { at.checked_sub(1) };
        let Some(next) = next.filter(|next| *next < data.x.len()) else { break };
        at = next;
        if spot(plot, data, at).is_some() {
            last = at;
            left -= 1;
        }
    }
    (curve, last)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::{gallery, size_pt, svg_with};
    use crate::report::model::FigureBody;

    fn figure(body: FigureBody) -> Figure {
        Figure { id: "f".into(), caption: String::new(), alt: String::new(), body }
    }

    fn glance() -> Figure {
        figure(FigureBody::Glance {
            map: gallery::focal_plane(41),
            x_profile: gallery::profile(),
            y_profile: gallery::profile(),
            waveform: gallery::burst(4000),
        })
    }

    const NONE: Step = Step { across: 0, up: 0, panels: 0 };

    // By definition: the place of a point is nearest to that point.
    #[test]
    fn every_point_is_found_at_its_own_place() {
        for figure in [figure(FigureBody::Map(gallery::focal_plane(41))), glance()] {
            for width in [Some(82.0), Some(170.0)] {
                let look = Look { width_mm: width, decimal_mark: ',' };
                for index in (0..41 * 41).step_by(37) {
                    let Some(there) = stepped(&figure, &look, (0, 0, index), NONE) else {
                        continue;
                    };
                    assert_eq!(nearest(&figure, &look, there.at), Some(there));
                }
            }
        }
    }

    // Where the points lie is checked by the drawing itself: the raster's box in the SVG holds the
    // outermost points half a step inside its edges.
    #[test]
    fn points_lie_where_the_svg_has_its_raster() {
        let figure = glance();
        let look = Look { width_mm: Some(170.0), decimal_mark: '.' };
        let svg = svg_with(&figure, &look).unwrap();
        let image = svg.split("<image ").nth(1).unwrap();
        let number = |name: &str| -> f64 {
            let text = image.split(&format!("{name}=\"")).nth(1).unwrap();
            text.split('"').next().unwrap().parse().unwrap()
        };
        let (width, height) = size_pt(&figure, &look).unwrap();
        let units = super::super::svg::UNITS_PER_PT;
        let at = |index| stepped(&figure, &look, (0, 0, index), NONE).unwrap().at;
        let (first, last) = (at(0), at(41 * 41 - 1));
        let step = number("width") / 41.0;
        assert!((first.0 * width * units - number("x") - step / 2.0).abs() < 1.0);
        assert!((last.1 * height * units - number("y") - step / 2.0).abs() < 1.0);
        assert!(last.0 > first.0 && last.1 < first.1);
    }

    #[test]
    fn steps_go_point_by_point_and_stop_at_the_edge() {
        let (figure, look) = (glance(), Look::default());
        let home = home(&figure, &look, 0).unwrap();
        let go = |from: Pointed, across, up| {
            let from = (from.panel, from.curve, from.index);
            stepped(&figure, &look, from, Step { across, up, panels: 0 }).unwrap()
        };
        assert_eq!(go(home, 1, 0).index, home.index + 1);
        assert_eq!(go(home, 0, 1).index, home.index + 41);
        assert!(go(home, 0, 1).at.1 < home.at.1 && go(home, 1, 0).at.0 > home.at.0);
        let corner = go(home, -1000, -1000);
        assert_eq!(corner.index, 0);
        assert_eq!(go(corner, -1, -1), corner);
        let onward = Step { panels: 1, ..NONE };
        let turned = stepped(&figure, &look, (1, 0, 3), onward).unwrap();
        assert_eq!(turned.panel, 2);
        let above = go(turned, 0, 1);
        assert!(above.index == turned.index + 1 && above.at.1 < turned.at.1);
    }

    #[test]
    fn beside_the_panels_is_no_point() {
        let (figure, look) = (glance(), Look::default());
        assert_eq!(nearest(&figure, &look, (0.001, 0.999)), None);
        assert_eq!(nearest(&figure, &look, (f64::NAN, 0.5)), None);
        assert_eq!(stepped(&figure, &look, (0, 0, 41 * 41), NONE), None);
        assert_eq!(stepped(&figure, &look, (9, 0, 0), NONE), None);
    }
}
