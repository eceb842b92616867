//! Points and boxes on paper, in points, y downward; what lies inside a box of a line or an area.

/// A place on paper.
pub type Point = (f64, f64);

/// A box; `x0 <= x1`, `y0 <= y1`, y downward.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rect {
    pub x0: f64,
    pub y0: f64,
    pub x1: f64,
    pub y1: f64,
}

impl Rect {
    /// A box from its upper left corner and its size.
    pub fn new(x: f64, y: f64, width: f64, height: f64) -> Self {
        Self { x0: x, y0: y, x1: x + width.max(0.0), y1: y + height.max(0.0) }
    }

    pub fn width(&self) -> f64 {
        self.x1 - self.x0
    }

    pub fn height(&self) -> f64 {
        self.y1 - self.y0
    }

    /// The box grown by `by` on all sides.
    #[must_use]
    pub fn grown(&self, by: f64) -> Self {
        Self { x0: self.x0 - by, y0: self.y0 - by, x1: self.x1 + by, y1: self.y1 + by }
    }

    /// True when the insides of two boxes share ground.
    pub fn overlaps(&self, other: &Self) -> bool {
        self.x0 < other.x1 && other.x0 < self.x1 && self.y0 < other.y1 && other.y0 < self.y1
    }

    /// True when `other` lies wholly inside.
    pub fn holds(&self, other: &Self) -> bool {
        self.x0 <= other.x0 && other.x1 <= self.x1 && self.y0 <= other.y0 && other.y1 <= self.y1
    }

    /// True when the point lies inside or on the edge.
    pub fn has(&self, (x, y): Point) -> bool {
        (self.x0..=self.x1).contains(&x) && (self.y0..=self.y1).contains(&y)
    }

    /// Four corners, clockwise from the upper left.
    pub fn corners(&self) -> [Point; 4] {
        [(self.x0, self.y0), (self.x1, self.y0), (self.x1, self.y1), (self.x0, self.y1)]
    }
}

/// The part of a segment inside the box (Liang and Barsky), as fractions of its length.
fn inside_part(area: &Rect, from: Point, to: Point) -> Option<(f64, f64)> {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let mut part = (0.0f64, 1.0f64);
    for (step, room) in [
        (-dx, from.0 - area.x0),
        (dx, area.x1 - from.0),
        (-dy, from.1 - area.y0),
        (dy, area.y1 - from.1),
    ] {
        if step == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if step < 0.0 {
            part.0 = part.0.max(room / step);
        } else {
            part.1 = part.1.min(room / step);
        }
    }
    (part.0 <= part.1).then_some(part)
}

/// True when two segments cross, each from one side of the other to its other side.
pub fn cross((a, b): (Point, Point), (c, d): (Point, Point)) -> bool {
    let side = |from: Point, to: Point, p: Point| {
        (to.0 - from.0) * (p.1 - from.1) - (to.1 - from.1) * (p.0 - from.0)
    };
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

fn between(from: Point, to: Point, part: f64) -> Point {
    (from.0 + part * (to.0 - from.0), from.1 + part * (to.1 - from.1))
}

/// The pieces of a line that lie inside the box.
pub fn clip_line(area: &Rect, line: &[Point]) -> Vec<Vec<Point>> {
    let mut pieces: Vec<Vec<Point>> = Vec::new();
    let mut open = false;
    for pair in line.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        match inside_part(area, from, to) {
            None => open = false,
            Some((start, end)) => {
                match pieces.last_mut() {
                    Some(piece) if open && start == 0.0 => piece.push(between(from, to, end)),
                    _ => pieces.push(vec![between(from, to, start), between(from, to, end)]),
                }
                open = end == 1.0;
            }
        }
    }
    pieces
}

/// The pieces of a line that lie outside the box: a line broken for its label.
pub fn cut_out(hole: &Rect, line: &[Point]) -> Vec<Vec<Point>> {
    let mut pieces: Vec<Vec<Point>> = Vec::new();
    let mut piece: Vec<Point> =
        line.first().copied().filter(|p| !hole.has(*p)).into_iter().collect();
    for pair in line.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        match inside_part(hole, from, to) {
            Some((start, end)) if end > start => {
                if start > 0.0 {
                    piece.push(between(from, to, start));
                }
                pieces.push(std::mem::take(&mut piece));
                if end < 1.0 {
                    piece.extend([between(from, to, end), to]);
                }
            }
            _ => piece.push(to),
        }
    }
    pieces.push(piece);
    pieces.retain(|p| p.len() > 1);
    pieces
}

/// The part of an area inside the box (Sutherland and Hodgman).
pub fn clip_area(area: &Rect, outline: &[Point]) -> Vec<Point> {
    let mut points = outline.to_vec();
    let edges: [(bool, f64, bool); 4] = [
        (true, area.x0, true),
        (true, area.x1, false),
        (false, area.y0, true),
        (false, area.y1, false),
    ];
    for (vertical, edge, keep_above) in edges {
        let coordinate = |p: &Point| if vertical { p.0 } else { p.1 };
        let inside =
            |p: &Point| if keep_above { coordinate(p) >= edge } else { coordinate(p) <= edge };
        let mut kept = Vec::with_capacity(points.len() + 4);
        for (index, to) in points.iter().enumerate() {
            let from = &points[(index + points.len() - 1) % points.len()];
            if inside(from) != inside(to) {
                let part = (edge - coordinate(from)) / (coordinate(to) - coordinate(from));
                kept.push(between(*from, *to, part));
            }
            if inside(to) {
                kept.push(*to);
            }
        }
        points = kept;
    }
    points
}

#[cfg(test)]
mod tests {
    use super::*;

    fn unit() -> Rect {
        Rect::new(0.0, 0.0, 1.0, 1.0)
    }

    #[test]
    fn a_line_across_keeps_its_inside() {
        let pieces =
            clip_line(&unit(), &[(-1.0, 0.5), (0.5, 0.5), (2.0, 0.5), (2.0, 0.2), (-1.0, 0.2)]);
        assert_eq!(pieces.len(), 2);
        assert_eq!(pieces[0], vec![(0.0, 0.5), (0.5, 0.5), (1.0, 0.5)]);
        assert_eq!(clip_line(&unit(), &[(2.0, 2.0), (3.0, 2.0)]), Vec::<Vec<Point>>::new());
    }

    #[test]
    fn a_label_breaks_its_line() {
        let pieces = cut_out(&unit(), &[(-1.0, 0.5), (2.0, 0.5)]);
        assert_eq!(pieces, vec![vec![(-1.0, 0.5), (0.0, 0.5)], vec![(1.0, 0.5), (2.0, 0.5)]]);
        let through = cut_out(&unit(), &[(-1.0, 0.5), (0.5, 0.5), (0.6, 0.5), (2.0, 0.5)]);
        assert_eq!(through, pieces);
        assert_eq!(cut_out(&unit(), &[(2.0, 0.0), (2.0, 1.0)]).len(), 1);
    }

    #[test]
    fn segments_cross_or_only_touch() {
        let across = ((0.0, 0.0), (2.0, 2.0));
        assert!(cross(across, ((0.0, 2.0), (2.0, 0.0))));
        assert!(!cross(across, ((0.0, 2.0), (0.9, 1.1))));
        assert!(!cross(across, ((2.0, 2.0), (3.0, 0.0))) && !cross(across, across));
    }

    // Exact: a square turned by 45 degrees about the box's centre, clipped by the box.
    #[test]
    fn an_area_keeps_its_inside() {
        let diamond = [(0.5, -0.5), (1.5, 0.5), (0.5, 1.5), (-0.5, 0.5)];
        let inside = clip_area(&unit(), &diamond);
        let twice: f64 = inside
            .iter()
            .zip(inside.iter().cycle().skip(1))
            .map(|(a, b)| a.0 * b.1 - b.0 * a.1)
            .sum();
        assert!((twice.abs() / 2.0 - 1.0).abs() < 1e-12);
        assert!(clip_area(&unit(), &[(2.0, 2.0), (3.0, 2.0), (3.0, 3.0)]).is_empty());
        assert!(clip_area(&unit(), &[]).is_empty());
    }
}
