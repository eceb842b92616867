//! How noise and the positions of single points spread what is read from a map: by drawing.

mod line;
mod plane;

use std::collections::BTreeMap;

pub use line::of_line;
pub use plane::of_plane;

use super::assemble::ScanInput;
use super::focal_wave::Waveform;
use super::kept::{Deviations, SpreadFrom};
use crate::base::budget::source;
use crate::base::quantity::Quantity;
use crate::dsp::noise::Noise;
use crate::dsp::statistics::standard_deviation;

/// Draws for each source: a standard deviation from so many is good to 9 %.
const DRAWS: usize = 60;
/// The same map gives the same draws.
const SEED: u64 = 62127;
/// Part of the map that is drawn: where the energy reaches this level, and a margin of cells.
const LEVEL_DB: f64 = 20.0;
const MARGIN: usize = 3;

/// Maps of pc, pr and ppsi, in this order.
type Three = [Vec<f64>; 3];

/// Maps with their slopes along each axis, and what is read from them.
struct Drawn<'a> {
    maps: Three,
    /// ∂/∂axis of each map, an entry for each axis.
    slopes: [Vec<Vec<f64>>; 3],
    read: &'a dyn Fn(&Three) -> Vec<(&'static str, f64)>,
}

impl Drawn<'_> {
    /// Gives the quantities that are read from maps their sensitivities: the standard deviation over
    /// maps drawn with noise of each map's own level, and with every point's value moved along the
    /// map's slope by an error of its position.
    fn note(&self, input: &ScanInput<'_>, wave: &Waveform, quantities: &mut [Quantity]) {
        let features = wave.wave.uncertainty.as_ref().map(|u| &u.summary.features);
        let noise_of = |i: usize| {
            let feature = features.and_then(|features| features.get(i))?;
            Some((*feature.u.get(source::NOISE)?, feature.value))
        };
        if let (Some(pc), Some(pr), Some(ppsi)) = (noise_of(0), noise_of(1), noise_of(2)) {
            let top = ppsi.1.max(f64::MIN_POSITIVE);
            let u = |map: usize, value: f64| match map {
                0 => pc.0,
                1 => pr.0,
                // Energy errs with the root of the energy: noise times signal.
                _ => ppsi.0 * (value.max(0.0) / top).sqrt(),
            };
            let levels = vec![pc.0, pr.0, ppsi.0, top];
            let deviations = self.kept(input, source::NOISE, levels, |noise, maps| {
                for (map, values) in self.maps.iter().enumerate() {
                    for (slot, value) in maps[map].iter_mut().zip(values) {
                        *slot = value + u(map, *value) * noise.next();
                    }
                }
            });
            add(quantities, source::NOISE, &deviations, 1.0);
        }
        let position = input.sources.of(source::POSITION).map(|source| source.u);
        let Some(u) = position.filter(|u| *u > 0.0) else { return };
        let deviations = self.kept(input, source::POSITION, vec![u], |noise, maps| {
            for cell in 0..self.maps[0].len() {
                let errors: Vec<f64> = self.slopes[0].iter().map(|_| u * noise.next()).collect();
                for (map, values) in self.maps.iter().enumerate() {
                    let moved = self.slopes[map].iter().zip(&errors).map(|(s, e)| s[cell] * e);
                    maps[map][cell] = values[cell] + moved.sum::<f64>();
                }
            }
        });
        add(quantities, source::POSITION, &deviations, u);
    }

    /// As [`Drawn::deviations`], or what an earlier assembly found from the same maps and levels.
    fn kept(
        &self,
        input: &ScanInput<'_>,
        source: &'static str,
        levels: Vec<f64>,
        fill: impl Fn(&mut Noise, &mut Three),
    ) -> Deviations {
        let from = SpreadFrom { maps: self.maps.clone(), slopes: self.slopes.clone(), levels };
        input.kept.spread(&input.part.scan.id, source, from, || self.deviations(fill))
    }

    /// Standard deviations of what is read from drawn maps.
    fn deviations(&self, fill: impl Fn(&mut Noise, &mut Three)) -> Deviations {
        let mut noise = Noise::new(SEED);
        let mut maps = self.maps.clone();
        let mut found: BTreeMap<&'static str, Vec<f64>> = BTreeMap::new();
        for _ in 0..DRAWS {
            fill(&mut noise, &mut maps);
            for (id, value) in (self.read)(&maps) {
                found.entry(id).or_default().push(value);
            }
        }
        let enough = found.into_iter().filter(|(_, values)| 2 * values.len() > DRAWS);
        enough.filter_map(|(id, values)| Some((id, standard_deviation(&values)?))).collect()
    }
}

fn add(quantities: &mut [Quantity], source: &str, deviations: &Deviations, unit: f64) {
    for quantity in quantities.iter_mut().filter(|q| q.outcome.is_ok()) {
        if let Some(deviation) = deviations.get(quantity.id) {
            quantity.sensitivities.insert(source.to_owned(), deviation / unit);
        }
    }
}

/// The cells along one axis that are drawn: from the first to the last that is loud, with a margin.
fn range(loud: impl Iterator<Item = usize>, cells: usize) -> std::ops::Range<usize> {
    let (low, high) =
        loud.fold((usize::MAX, 0), |(low, high), cell| (low.min(cell), high.max(cell)));
    let low = if low == usize::MAX { 0 } else { low };
    low.saturating_sub(MARGIN)..(high + MARGIN + 1).min(cells)
}

/// Central difference over an axis; zero where it has one place.
fn slope(axis: &[f64], at: usize, value: impl Fn(usize) -> f64) -> f64 {
    let (before, after) = (at.saturating_sub(1), (at + 1).min(axis.len() - 1));
    let step = axis[after] - axis[before];
    if step == 0.0 { 0.0 } else { (value(after) - value(before)) / step }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A map that is read as its sum: noise of u in each of n points gives u √n, and an error of position
    /// the slope's root sum of squares, within what 60 draws tell (9 %, three times).
    #[test]
    fn a_sum_spreads_as_its_terms_do() {
        let along: Vec<f64> = (0..50).map(f64::from).collect();
        let ramp: Vec<f64> = along.iter().map(|x| 3.0 * x).collect();
        let slopes: Vec<f64> = (0..50).map(|i| slope(&along, i, |j| ramp[j])).collect();
        assert!(slopes.iter().all(|s| (s - 3.0).abs() < 1e-12));
        let read = |maps: &Three| vec![("pc", maps[0].iter().sum::<f64>())];
        let drawn = Drawn {
            maps: [ramp.clone(), ramp.clone(), ramp.clone()],
            slopes: [vec![slopes.clone()], vec![slopes.clone()], vec![slopes]],
            read: &read,
        };
        let found = drawn.deviations(|noise, maps| {
            for (slot, value) in maps[0].iter_mut().zip(&ramp) {
                *slot = value + 0.2 * noise.next();
            }
        });
        let expected = 0.2 * 50f64.sqrt();
        assert!((found["pc"] / expected - 1.0).abs() < 0.27, "{found:?}");
    }

    #[test]
    fn the_loud_part_with_its_margin() {
        assert_eq!(range([10, 12, 11].into_iter(), 40), 7..16);
        assert_eq!(range([1, 38].into_iter(), 40), 0..40);
        assert_eq!(range(std::iter::empty(), 5), 0..4);
    }
}
