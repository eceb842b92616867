//! Spread of what is read from a line.

use super::{Drawn, LEVEL_DB, Three, range, slope};
use crate::analysis::assemble::ScanInput;
use crate::analysis::focal_wave::Waveform;
use crate::analysis::line::extents_along;
use crate::analysis::plane::maps::Maps;
use crate::base::quantity::Quantity;
use crate::field::{Scale, spatial_peak};
use crate::scan::Axis;

/// Adds the sensitivities to noise and positions of a line's peaks, positions and extents.
pub fn of_line(
    input: &ScanInput<'_>,
    (axis, along_m): (Axis, &[f64]),
    map: &Maps,
    wave: &Waveform,
    quantities: &mut [Quantity],
) {
    let top = map.ppsi.iter().copied().fold(0.0, f64::max);
    let level = top * Scale::Energy.ratio(LEVEL_DB);
    let cells = range((0..map.ppsi.len()).filter(|i| map.ppsi[*i] >= level), along_m.len());
    let along_m = &along_m[cells.clone()];
    let maps = [&map.pc, &map.pr, &map.ppsi].map(|values| values[cells.clone()].to_vec());
    let slopes = maps.each_ref().map(|values| {
        vec![(0..values.len()).map(|i| slope(along_m, i, |j| values[j])).collect::<Vec<f64>>()]
    });
    let read = |maps: &Three| {
        let mut out = Vec::new();
        for (which, id, scale) in
            [(1, "pc", Scale::Amplitude), (2, "pr", Scale::Amplitude), (0, "ppsi", Scale::Energy)]
        {
            let values = &maps[(which + 2) % 3];
            let Some(peak) = spatial_peak::of_line(along_m, values, scale) else { continue };
            out.push((id, peak.value));
            let found = extents_along(axis, which, along_m, values, Some(&peak), None);
            out.extend(found.iter().filter_map(|q| Some((q.id, q.outcome.clone().ok()?))));
        }
        out
    };
    Drawn { maps, slopes, read: &read }.note(input, wave, quantities);
}
