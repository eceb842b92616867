//! Correction of a plane's values for the averaging over the sensor's face.

use super::maps::Maps;
use crate::analysis::assemble::ScanInput;
use crate::base::budget::source::SPATIAL_AVERAGING;
use crate::base::quantity::Quantity;
use crate::field::Scale;
use crate::field::disc_average::{DiscFactors, disc_factors, disc_ratio};
use crate::field::spatial_peak::SpatialPeak;
use crate::pulse::map::MAP_HARMONICS;

/// Corrections smaller than this are not made.
pub const SMALLEST: f64 = 1e-4;
/// Where its factor comes from.
const SOURCE: &str = "disc-average";

/// Effective radius of the sensor at a frequency, m, where the record states it and asks for the
/// correction.
pub fn radius_at(input: &ScanInput<'_>, frequency_hz: f64) -> Option<f64> {
    let record = input.setting.record;
    let radius = record.sensor.effective_radius_m.as_ref()?.at(frequency_hz);
    radius.filter(|_| record.analysis.corrections.spatial_averaging)
}

/// Corrects powers by a factor from their spectrum.
pub fn of_power(quantities: Vec<Quantity>, factor: f64) -> Vec<Quantity> {
    if (factor - 1.0).abs() < SMALLEST {
        return quantities;
    }
    let u = DiscFactors::uncertainty(factor);
    quantities
        .into_iter()
        .map(|quantity| quantity.scaled(factor, SPATIAL_AVERAGING, SOURCE, u))
        .collect()
}

/// Corrects the quantities of a plane where the record states the sensor's radius and asks for it.
pub fn corrected(
    input: &ScanInput<'_>,
    axes: (&[f64], &[f64]),
    map: &Maps,
    peak: &SpatialPeak,
    quantities: Vec<Quantity>,
) -> (Vec<Quantity>, Option<Factors>) {
    let radius_at = |f: f64| radius_at(input, f);
    let Some((f, radius)) = input.setting.frequency_hz.and_then(|f| Some((f, radius_at(f)?)))
    else {
        return (quantities, None);
    };
    if !peak.fitted {
        return (quantities, None);
    }
    let of = |values: &[f64], scale| disc_factors(axes.0, axes.1, values, scale, radius);
    let factors = Factors {
        energy: of(&map.ppsi, Scale::Energy),
        pc: of(&map.pc, Scale::Amplitude),
        pr: of(&map.pr, Scale::Amplitude),
        harmonics: std::array::from_fn(|k| {
            let radius = radius_at((k + 1) as f64 * f)?;
            let at = (peak.x_m, peak.y_m);
            disc_ratio(axes.0, axes.1, &map.harmonics[k], at, radius).map(f64::recip)
        }),
    };
    let one = |quantity: Quantity| match factors.of(quantity.id) {
        Some(factor) if (factor - 1.0).abs() >= SMALLEST => {
            quantity.scaled(factor, SPATIAL_AVERAGING, SOURCE, DiscFactors::uncertainty(factor))
        }
        _ => quantity,
    };
    let corrected = quantities.into_iter().map(one).collect();
    (corrected, Some(factors))
}

/// Factors of a plane's quantities.
pub struct Factors {
    energy: Option<DiscFactors>,
    pc: Option<DiscFactors>,
    pr: Option<DiscFactors>,
    /// Of the amplitudes of the harmonics 1 ….
    harmonics: [Option<f64>; MAP_HARMONICS],
}

impl Factors {
    /// Of a quantity at the peak; none of widths and areas.
    pub fn at_peak(&self, id: &str) -> Option<f64> {
        if id.starts_with("width") || id.starts_with("area") { None } else { self.of(id) }
    }

    fn of(&self, id: &str) -> Option<f64> {
        let area = |f: &DiscFactors| Some(f.width_x? * f.width_y?);
        match id {
            "pc" | "pc_ss" => self.pc.map(|f| f.peak),
            "pr" | "pr_ss" | "pr_derated" | "mi" => self.pr.map(|f| f.peak),
            "ppsi" | "pii" | "isppa" | "i_on" | "ispta" | "isppa_derated" | "ispta_derated" => {
                self.energy.map(|f| f.peak)
            }
            "p1" => self.harmonics[0],
            "width_x_6" => self.energy?.width_x,
            "width_y_6" => self.energy?.width_y,
            "width_x_6_pc" => self.pc?.width_x,
            "width_y_6_pc" => self.pc?.width_y,
            "width_x_6_pr" => self.pr?.width_x,
            "width_y_6_pr" => self.pr?.width_y,
            "area_6" => area(&self.energy?),
            "area_6_pc" => area(&self.pc?),
            "area_6_pr" => area(&self.pr?),
            _ => {
                let n: usize = id.strip_prefix('h')?.parse().ok()?;
                Some((*self.harmonics.get(n.checked_sub(1)?)?)? / self.harmonics[0]?)
            }
        }
    }
}
