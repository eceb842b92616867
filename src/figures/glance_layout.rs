//! Where the parts of the glance stand: the map with its profiles, the waveform beside or below.

use super::axes::{GAP_PT, LINE_PT};
use super::field::Field;
use super::geometry::Rect;
use super::problem::DrawProblem;

/// Between the map and the profile beside it, and above it, where the title of y stands.
pub const GUTTER_PT: f64 = 11.0;
const TITLE_GUTTER_PT: f64 = 15.0;
/// Depth of the profile above the map, and of the one beside it where the waveform follows.
const PROFILE_PT: f64 = 38.0;
const SIDE_PT: f64 = 56.0;
/// A waveform stands beside the map in a figure at least this wide.
const BESIDE_FROM_PT: f64 = 320.0;
/// Between the profile and the waveform beside it.
const WAVE_GAP_PT: f64 = 20.0;
/// Height of a waveform below the map; least height of one beside it.
const WAVE_PT: f64 = 112.0;
/// Above every part: a line for a title.
pub const ABOVE_PT: f64 = LINE_PT + 2.0;
/// Below every part: numbers and a title.
const BELOW_PT: f64 = GAP_PT + 2.0 * LINE_PT;
const LEAST_WIDTH_PT: f64 = 220.0;
const LEAST_MAP_PT: f64 = 20.0;

/// Share of the width that a map may take, and its greatest height.
struct Most {
    share: f64,
    height: f64,
}

const BESIDE: Most = Most { share: 0.34, height: 100.0 };
const STACKED: Most = Most { share: 0.44, height: 184.0 };

/// What the parts need.
pub struct Needs {
    /// Room for numbers left of the map and of the profile above it.
    pub numbers: f64,
    /// Room above the panel of the waveform; none without a waveform.
    pub waveform: Option<f64>,
}

/// The parts on paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layout {
    pub map: Rect,
    pub top: Rect,
    pub side: Rect,
    /// Right end of what belongs to the profile at the side and the scale bar above it.
    pub side_end: f64,
    /// Paper of the waveform with its words.
    pub waveform: Option<Rect>,
    /// True when the waveform shares its left edge with the map.
    pub stacked: bool,
    pub height: f64,
}

impl Layout {
    /// Lays the parts out in a width, and in a height when it is given.
    pub fn new(
        field: &mut Field<'_>,
        needs: &Needs,
        width: f64,
        height: Option<f64>,
    ) -> Result<Self, DrawProblem> {
        let stacked = needs.waveform.is_none() || width < BESIDE_FROM_PT;
        let most = if stacked { STACKED } else { BESIDE };
        let over = ABOVE_PT + PROFILE_PT + TITLE_GUTTER_PT;
        let under = match needs.waveform {
            Some(_) if stacked => BELOW_PT + 6.0 + WAVE_PT,
            _ => BELOW_PT,
        };
        let tall = height.map_or(most.height, |h| (h - over - under).min(most.height));
        if width < LEAST_WIDTH_PT || tall < LEAST_MAP_PT {
            return Err(DrawProblem::TooSmall {
                width_pt: width,
                height_pt: height.unwrap_or(tall),
            });
        }
        let (wide, tall) = field.fit((most.share * width, tall));
        let map = Rect::new(needs.numbers, over, wide, tall);
        let top = Rect::new(map.x0, ABOVE_PT, wide, PROFILE_PT);
        let foot = map.y1 + BELOW_PT;
        let side = |end: f64| Rect { x0: map.x1 + GUTTER_PT, x1: end, y0: map.y0, y1: map.y1 };
        let Some(above) = needs.waveform.filter(|_| !stacked) else {
            let waveform = needs.waveform.map(|_| Rect::new(0.0, foot + 6.0, width, WAVE_PT));
            let height = waveform.map_or(foot, |paper| paper.y1);
            let side = side(width - 10.0);
            return Ok(Self { map, top, side, side_end: width, waveform, stacked, height });
        };
        let side = side(map.x1 + GUTTER_PT + SIDE_PT);
        // The panels of waveform and profile begin on one line where the waveform has no marks;
        // those of waveform and map end on one line.
        let from = (top.y0 - above).max(0.0);
        let paper = Rect {
            x0: side.x1 + WAVE_GAP_PT,
            x1: width,
            y0: from,
            y1: foot.max(ABOVE_PT + WAVE_PT),
        };
        Ok(Self {
            map,
            top,
            side,
            side_end: paper.x0 - 5.0,
            waveform: Some(paper),
            stacked,
            height: paper.y1,
        })
    }
}
