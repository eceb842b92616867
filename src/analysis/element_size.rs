//! Correction of lines and points for the sensor's size: by the factors of a plane through the same
//! focus, else by the published relation for a membrane.

use super::assemble::ScanInput;
use super::plane::element_size::{Factors, SMALLEST, radius_at};
use crate::base::budget::source::SPATIAL_AVERAGING;
use crate::base::quantity::{Quantity, is_safety};
use crate::field::disc_average::DiscFactors;
use crate::field::spatial_average_relation::{Propagation, membrane};
use crate::record::SensorKind;
use crate::scan::Grid;

/// A second harmonic above this part of the fundamental is taken for nonlinear propagation. Common
/// practice, no source.
const NONLINEAR: f64 = 0.05;

/// A plane whose field is known.
pub struct KnownPlane {
    pub level: Option<f64>,
    pub z_m: Option<f64>,
    /// −6 dB width across it, m.
    pub width_m: f64,
    pub factors: Factors,
}

impl KnownPlane {
    /// How far along the axis the beam is about as wide: w²/λ, the distance over which a Gaussian beam
    /// of that width between the −6 dB points of its energy widens by a fifth.
    fn reach_m(&self, wavelength_m: f64) -> f64 {
        self.width_m * self.width_m / wavelength_m
    }
}

/// Corrects the values at the peak of a line or a point, and those at the z where derated energy is
/// largest, each by a plane near its place.
pub fn corrected(
    input: &ScanInput<'_>,
    planes: &[KnownPlane],
    derated_m: Option<f64>,
    quantities: Vec<Quantity>,
) -> Vec<Quantity> {
    let Some(f) = input.setting.frequency_hz else { return quantities };
    let Some(radius_m) = radius_at(input, f) else { return quantities };
    let wavelength_m = input.plan.sound_speed_m_per_s / f;
    let z_m = place(input, &quantities);
    let level = input.setting.level;
    let near = |z_m: Option<f64>| {
        let own = planes.iter().filter(|plane| plane.level == level);
        let near = own.filter_map(|plane| {
            let away = (plane.z_m? - z_m?).abs();
            (away <= plane.reach_m(wavelength_m)).then_some((plane, away))
        });
        near.min_by(|a, b| a.1.total_cmp(&b.1)).map(|(plane, _)| plane)
    };
    if let Some(plane) = near(z_m) {
        let derated = near(derated_m);
        return apply(quantities, "disc-average-of-plane", |id| {
            let plane = if is_safety(id) { derated? } else { plane };
            let factor = plane.factors.at_peak(id)?;
            Some((factor, DiscFactors::uncertainty(factor)))
        });
    }
    let Some(relation) = relation(input, radius_m, wavelength_m, &quantities) else {
        return quantities;
    };
    apply(quantities, "membrane-relation", |id| match id {
        "pc" | "pr" | "pc_ss" | "pr_ss" | "p1" | "pr_derated" | "mi" => {
            Some((relation.value, relation.u))
        }
        "ppsi" | "pii" | "isppa" | "i_on" | "ispta" | "isppa_derated" | "ispta_derated" => {
            Some((relation.value.powi(2), 2.0 * relation.value * relation.u))
        }
        _ => None,
    })
}

fn apply(
    quantities: Vec<Quantity>,
    from: &str,
    factor: impl Fn(&str) -> Option<(f64, f64)>,
) -> Vec<Quantity> {
    let one = |quantity: Quantity| match factor(quantity.id) {
        Some((factor, u)) if (factor - 1.0).abs() >= SMALLEST && !quantity.lower_bound => {
            quantity.scaled(factor, SPATIAL_AVERAGING, from, u)
        }
        _ => quantity,
    };
    quantities.into_iter().map(one).collect()
}

/// z of the peak.
fn place(input: &ScanInput<'_>, quantities: &[Quantity]) -> Option<f64> {
    let along = quantities.iter().find(|q| q.id == "z_peak").and_then(|q| q.outcome.clone().ok());
    along.or_else(|| match &input.part.scan.grid {
        Grid::Point { position_m, .. } => position_m[2],
        grid => grid.z_m(0),
    })
}

/// The published relation, where it covers sensor and head; the scan is taken to be at the focus.
fn relation(
    input: &ScanInput<'_>,
    radius_m: f64,
    wavelength_m: f64,
    quantities: &[Quantity],
) -> Option<crate::field::spatial_average_relation::Factor> {
    let record = input.setting.record;
    if record.sensor.kind != Some(SensorKind::Membrane) {
        return None;
    }
    let device = &record.device;
    let f_number = device.radius_of_curvature_m? / (2.0 * device.aperture_radius_m?);
    let h2 = quantities.iter().find(|q| q.id == "h2").and_then(|q| q.outcome.clone().ok());
    let propagation = match h2 {
        Some(h2) if h2 > NONLINEAR => Propagation::Nonlinear,
        _ => Propagation::Linear,
    };
    membrane(2.0 * radius_m, wavelength_m, f_number, propagation).map(|factors| factors.pressure)
}
