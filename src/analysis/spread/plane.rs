//! Spread of what is read from a plane.

use super::{Drawn, LEVEL_DB, Three, range, slope};
use crate::analysis::assemble::ScanInput;
use crate::analysis::focal_wave::Waveform;
use crate::analysis::plane::maps::Maps;
use crate::analysis::plane::widths::{self, OF_ENERGY, OF_PC, OF_PR};
use crate::base::quantity::Quantity;
use crate::field::spatial_peak::SpatialPeak;
use crate::field::{Scale, principal_axes, spatial_peak};

/// Adds the sensitivities to noise and positions of a plane's peaks, positions, widths and areas.
pub fn of_plane(
    input: &ScanInput<'_>,
    (x_m, y_m): (&[f64], &[f64]),
    map: &Maps,
    wave: &Waveform,
    quantities: &mut [Quantity],
) {
    let columns = x_m.len();
    let top = map.ppsi.iter().copied().fold(0.0, f64::max);
    let level = top * Scale::Energy.ratio(LEVEL_DB);
    let loud = || (0..map.ppsi.len()).filter(|cell| map.ppsi[*cell] >= level);
    let rows = range(loud().map(|cell| cell / columns), y_m.len());
    let cols = range(loud().map(|cell| cell % columns), columns);
    let take = |values: &[f64]| -> Vec<f64> {
        rows.clone().flat_map(|r| values[r * columns..][cols.clone()].iter().copied()).collect()
    };
    let (x_m, y_m) = (&x_m[cols.clone()], &y_m[rows.clone()]);
    let maps = [take(&map.pc), take(&map.pr), take(&map.ppsi)];
    let n = x_m.len();
    let slopes = maps.each_ref().map(|values| {
        let along_x = |cell: usize| slope(x_m, cell % n, |c| values[cell / n * n + c]);
        let along_y = |cell: usize| slope(y_m, cell / n, |r| values[r * n + cell % n]);
        vec![
            (0..values.len()).map(along_x).collect::<Vec<f64>>(),
            (0..values.len()).map(along_y).collect(),
        ]
    });
    let read = |maps: &Three| read((x_m, y_m), maps);
    Drawn { maps, slopes, read: &read }.note(input, wave, quantities);
}

fn read(axes: (&[f64], &[f64]), maps: &Three) -> Vec<(&'static str, f64)> {
    let mut out = Vec::new();
    let all = [
        ("pc", &OF_PC, Scale::Amplitude),
        ("pr", &OF_PR, Scale::Amplitude),
        ("ppsi", &OF_ENERGY, Scale::Energy),
    ];
    for ((id, ids, scale), values) in all.into_iter().zip(maps) {
        let Some(peak) = spatial_peak::of_plane(axes.0, axes.1, values, scale) else { continue };
        out.push((id, peak.value));
        let geometry = widths::geometry(ids, axes, values, &peak, None);
        let found = geometry.quantities.iter();
        out.extend(found.filter_map(|q| Some((q.id, q.outcome.clone().ok()?))));
        if id == "ppsi" {
            out.extend(own_axes(axes, values, &peak));
        }
    }
    out
}

fn own_axes(
    (x, y): (&[f64], &[f64]),
    values: &[f64],
    peak: &SpatialPeak,
) -> Vec<(&'static str, f64)> {
    let found = principal_axes::principal_axes(x, y, values, peak, Scale::Energy, 6.0);
    found.map_or_else(Vec::new, |axes| {
        vec![("width_major_6", axes.major_m), ("width_minor_6", axes.minor_m)]
    })
}
