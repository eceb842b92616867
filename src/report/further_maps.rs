//! Maps of the harmonics, of the fundamental's phase and of the arrival.

use super::drawings::Draughtsman;
use super::model::{AxisData, ColourScale, Figure, FigureBody, MapData};
use crate::analysis::PlanePicture;

/// Amplitude of the fundamental, re its largest, below which phase and arrival are not shown: −20 dB.
const FLOOR: f64 = 0.1;

impl Draughtsman<'_> {
    /// Maps of the harmonics that the scan has.
    pub fn harmonic_maps(&self, plane: &PlanePicture) -> Vec<Figure> {
        let (unit, factor, _) = self.pressure();
        plane
            .harmonics
            .iter()
            .map(|(n, values)| {
                let what = format!("harmonic-{n}");
                let symbol = format!("p_{{{n}}}");
                let caption = format!("{} {n}", self.label("caption-harmonic"));
                Figure {
                    id: self.id(&what),
                    caption: self.story(&caption, plane.z_m),
                    alt: caption,
                    body: FigureBody::Map(self.map(
                        plane,
                        values,
                        factor,
                        self.axis(&symbol, unit),
                        false,
                    )),
                }
            })
            .collect()
    }

    /// Maps of phase and arrival, where the scan has them.
    pub fn timing_maps(&self, plane: &PlanePicture) -> Vec<Figure> {
        let mut out = Vec::new();
        let Some((_, fundamental)) = plane.harmonics.first() else { return out };
        let floor = FLOOR * fundamental.iter().copied().fold(0.0, f64::max);
        let shown = |values: &[f64], factor: f64| -> Vec<Option<f64>> {
            values
                .iter()
                .zip(fundamental)
                .map(|(v, a)| (*a >= floor && v.is_finite()).then_some(v * factor))
                .collect()
        };
        let mut add =
            |what: &str, values: Vec<Option<f64>>, value: AxisData, scale: ColourScale| {
                let caption = self.label(&format!("caption-{what}"));
                let body = self.masked_map(plane, values, value, scale);
                out.push(Figure {
                    id: self.id(what),
                    caption: self.story(&caption, plane.z_m),
                    alt: caption,
                    body: FigureBody::Map(body),
                });
            };
        let degrees = 180.0 / std::f64::consts::PI;
        let phase = AxisData {
            limits: Some((-180.0, 180.0)),
            ..self.axis(&self.label("axis-phase"), "°")
        };
        add("phase", shown(&plane.phase_rad, degrees), phase, ColourScale::Cyclic);
        if let Some(arrival) = &plane.arrival_s {
            let axis = self.axis(&self.label("axis-arrival"), "µs");
            add("arrival", shown(arrival, 1e6), axis, ColourScale::Sequential);
        }
        out
    }

    fn masked_map(
        &self,
        plane: &PlanePicture,
        values: Vec<Option<f64>>,
        value: AxisData,
        scale: ColourScale,
    ) -> MapData {
        let mm = |v: &[f64]| v.iter().map(|m| m * 1e3).collect::<Vec<f64>>();
        MapData {
            x: self.axis("x", "mm"),
            y: self.axis("y", "mm"),
            x_values: mm(&plane.x_m),
            y_values: mm(&plane.y_m),
            values,
            value,
            scale,
            contours: Vec::new(),
            peak: Some((plane.peak_m.0 * 1e3, plane.peak_m.1 * 1e3)),
            replaced: plane.replaced.clone(),
        }
    }
}
