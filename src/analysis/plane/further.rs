//! Maps beside those of the peaks and the energy: harmonics, phase, arrival.

use super::maps::Maps;
use crate::analysis::assemble::ScanInput;
use crate::analysis::focal_wave::Waveform;
use crate::field::repair;

/// Largest amplitude of a harmonic, re the fundamental's, from which its map is shown.
const SHOWN: f64 = 0.03;

/// Amplitudes of the harmonics that stand out, Pa.
pub fn harmonics(input: &ScanInput<'_>, map: &Maps, wave: &Waveform) -> Vec<(u32, Vec<f64>)> {
    let Some(f) = input.setting.frequency_hz else { return Vec::new() };
    // Without a steady window the rows hold transforms of the whole pulse: over t_d they are amplitudes.
    let factor = match (wave.windows.steady, wave.td_s) {
        (Some(_), _) => 1.0,
        (None, Some(td)) => 1.0 / td,
        (None, None) => return Vec::new(),
    };
    let top = |values: &[f64]| values.iter().copied().fold(0.0, f64::max);
    let one = top(&map.harmonics[0]);
    (1u32..)
        .zip(&map.harmonics)
        .filter(|(n, values)| {
            let within = *n == 1 || f64::from(*n) * f <= wave.wave.lowpass_cutoff_hz;
            within && top(values) >= SHOWN * one && one > 0.0
        })
        .map(|(n, values)| (n, values.iter().map(|v| v * factor).collect()))
        .collect()
}

/// Phase of the fundamental re that at a cell, rad, between −π and π.
pub fn phase_rad(map: &Maps, cell: usize) -> Vec<f64> {
    let Some(peak) = map.phasors[0].get(cell) else { return Vec::new() };
    map.phasors[0].iter().map(|c| (c * peak.conj()).arg()).collect()
}

/// Half-amplitude point of the rise re that at a cell, s; excluded points replaced.
pub fn arrival_s(input: &ScanInput<'_>, map: &Maps, cell: usize) -> Option<Vec<f64>> {
    let scan = &input.part.scan;
    let mut arrival: Vec<Option<f64>> = input.points.iter().map(|p| p.onset_s).collect();
    for point in 0..scan.points() {
        if let Some(Some(value)) = arrival.get_mut(scan.grid.cell(point)) {
            *value += scan.t0(point);
        }
    }
    let own = (*arrival.get(cell)?)?;
    let missing: Vec<bool> =
        arrival.iter().zip(&map.excluded).map(|(a, e)| a.is_none() || *e).collect();
    let values: Vec<f64> = arrival.iter().map(|a| a.unwrap_or(own) - own).collect();
    Some(repair::replaced(map.columns(), &values, &missing))
}
