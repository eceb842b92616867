//! Widths and areas before the offset of rows recorded on the fly was undone.

use super::widths;
use crate::base::quantity::Quantity;
use crate::field::comb::Comb;
use crate::field::{Scale, spatial_peak};

/// Name of the correction, and where its factor comes from.
const NAME: &str = "motion";
const SOURCE: &str = "row-offset";

/// Notes the correction on the widths and areas, with what they were before; `before` are the maps of
/// ppsi, pc and pr. A factor is as uncertain as the offset, re itself, times what it changes.
pub fn noted(
    quantities: Vec<Quantity>,
    axes: (&[f64], &[f64]),
    found: &Comb,
    before: &[Vec<f64>; 3],
) -> Vec<Quantity> {
    let earlier: Vec<Quantity> = [&widths::OF_ENERGY, &widths::OF_PC, &widths::OF_PR]
        .into_iter()
        .zip(before)
        .zip([Scale::Energy, Scale::Amplitude, Scale::Amplitude])
        .filter_map(|((ids, values), scale)| {
            let peak = spatial_peak::of_plane(axes.0, axes.1, values, scale)?;
            Some(widths::geometry(ids, axes, values, &peak, None).quantities)
        })
        .flatten()
        .filter(|q| q.id.starts_with("width_") || q.id.starts_with("area_"))
        .collect();
    let relative = found.u_m / found.offset_m.abs();
    quantities
        .into_iter()
        .map(|quantity| {
            let was = earlier.iter().find(|q| q.id == quantity.id);
            match (&quantity.outcome, was.map(|q| &q.outcome)) {
                (Ok(_), Some(Ok(was))) if *was > 0.0 => with_earlier(quantity, *was, relative),
                _ => quantity,
            }
        })
        .collect()
}

/// Puts the correction before those that the quantity already has.
fn with_earlier(quantity: Quantity, was: f64, relative: f64) -> Quantity {
    let Ok(now) = quantity.outcome else { return quantity };
    // What later corrections made of the value is not this one's doing.
    let unmoved = quantity.uncorrected.unwrap_or(now);
    let factor = unmoved / was;
    let later = quantity.corrections.clone();
    let noted = Quantity { corrections: Vec::new(), ..quantity };
    let mut noted = noted.corrected_from(was, NAME, SOURCE);
    if let Some(own) = noted.corrections.first_mut() {
        own.factor = factor;
        own.u = Some((factor - 1.0).abs() * relative);
    }
    noted.corrections.extend(later);
    noted
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: a width of 1.2 mm before, 1.0 mm with the rows moved, 0.99 mm after the sensor's averaging
    /// is undone: factors 1/1.2 and 0.99, the uncorrected value 1.2 mm.
    #[test]
    fn before_other_corrections() {
        let width = Quantity::value("width_x_6", 1.0).scaled(0.99, "spatial-averaging", "x", 0.003);
        let noted = with_earlier(width, 1.2, 0.1);
        assert_eq!(noted.uncorrected, Some(1.2));
        assert_eq!(noted.outcome, Ok(0.99));
        let factors: Vec<f64> = noted.corrections.iter().map(|c| c.factor).collect();
        assert!((factors[0] - 1.0 / 1.2).abs() < 1e-12 && (factors[1] - 0.99).abs() < 1e-12);
        assert_eq!(noted.corrections[1].name, "spatial-averaging");
        assert!((noted.corrections[0].u.expect("u") - 0.1 / 6.0).abs() < 1e-12);
    }
}
