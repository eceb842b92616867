//! Profiles of the peak pressures across the beam.

use super::drawings::Draughtsman;
use super::model::{Curve, CurveStyle, CurvesData, Figure, FigureBody};
use crate::analysis::{PlanePicture, PressureProfiles};

/// Ratio of −6 dB of a pressure.
const HALF: f64 = 0.501_187_233_627_272;

impl Draughtsman<'_> {
    /// Profiles of p_c and p_r along x and along y, each through its own peak, with dots at −6 dB.
    pub fn pressure_profiles(&self, plane: &PlanePicture) -> Vec<Figure> {
        let both: Vec<(&str, &PressureProfiles, CurveStyle)> = [
            ("p_{c}", &plane.profiles_pc, CurveStyle::Measured),
            ("p_{r}", &plane.profiles_pr, CurveStyle::Dashed),
        ]
        .into_iter()
        .filter_map(|(name, profiles, style)| Some((name, profiles.as_ref()?, style)))
        .collect();
        if both.is_empty() {
            return Vec::new();
        }
        ["x", "y"].into_iter().map(|axis| self.pressures_along(axis, plane, &both)).collect()
    }

    fn pressures_along(
        &self,
        axis: &str,
        plane: &PlanePicture,
        both: &[(&str, &PressureProfiles, CurveStyle)],
    ) -> Figure {
        let (unit, factor, label) = self.pressure();
        let along = if axis == "x" { &plane.x_m } else { &plane.y_m };
        let curve = |(name, profiles, style): &(&str, &PressureProfiles, CurveStyle)| Curve {
            label: (*name).to_owned(),
            x: along.iter().map(|m| m * 1e3).collect(),
            y: if axis == "x" { &profiles.x_pa } else { &profiles.y_pa }
                .iter()
                .map(|v| v.is_finite().then_some(v * factor))
                .collect(),
            band: Vec::new(),
            style: *style,
        };
        let points = both.iter().flat_map(|(_, profiles, _)| {
            let width = if axis == "x" { profiles.width_x } else { profiles.width_y };
            let level = profiles.peak_pa * HALF * factor;
            width
                .into_iter()
                .flat_map(move |(a, b)| [a, b].map(|at| (at * 1e3, level, String::new())))
        });
        let what = format!("pressures-{axis}");
        let caption = self.label(&format!("caption-{what}"));
        Figure {
            id: self.id(&what),
            caption: self.story(&caption, plane.z_m),
            alt: caption,
            body: FigureBody::Curves(CurvesData {
                x: self.axis(axis, "mm"),
                y: self.axis(&label, unit),
                curves: both.iter().map(curve).collect(),
                levels: Vec::new(),
                marks: Vec::new(),
                span: None,
                points: points.collect(),
                width: None,
            }),
        }
    }
}
