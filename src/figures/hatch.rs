//! Hatching of cells: slanted strokes over flagged ground.

use super::geometry::{Point, Rect};

/// Step along a stroke at which the ground is asked, in points.
const STEP_PT: f64 = 0.4;

/// Strokes at 45 degrees, `distance` apart along the horizontal, over the flagged ground of an
/// area; they rise to the right or fall.
pub fn hatch(
    area: &Rect,
    distance: f64,
    rises: bool,
    flagged: impl Fn(Point) -> bool,
) -> Vec<[Point; 2]> {
    let mut out = Vec::new();
    let (width, height) = (area.width(), area.height());
    let lines = ((width + height) / distance).ceil().clamp(0.0, 4000.0) as usize;
    let steps = (height / STEP_PT).ceil().clamp(1.0, 4000.0) as usize;
    for line in 0..lines {
        let foot = (line as f64 + 0.5) * distance - height;
        let point = |step: f64| {
            let down = height * step / steps as f64;
            let x = if rises { foot + height - down } else { foot + down };
            (area.x0 + x, area.y0 + down)
        };
        let mut start: Option<usize> = None;
        for step in 0..=steps {
            let middle = point(step as f64 + 0.5);
            let on = step < steps && area.has(middle) && flagged(middle);
            match (on, start) {
                (true, None) => start = Some(step),
                (false, Some(from)) => {
                    out.push([point(from as f64), point(step as f64)]);
                    start = None;
                }
                _ => {}
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strokes_stay_on_flagged_ground() {
        let area = Rect::new(10.0, 10.0, 100.0, 50.0);
        let cell = Rect::new(40.0, 30.0, 8.0, 8.0);
        for rises in [true, false] {
            let strokes = hatch(&area, 3.0, rises, |p| cell.has(p));
            assert!(strokes.len() >= 4, "{}", strokes.len());
            assert!(strokes.iter().flatten().all(|p| cell.grown(0.5).has(*p)));
        }
        assert!(hatch(&area, 3.0, true, |_| false).is_empty());
    }
}
