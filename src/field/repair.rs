//! Points that cannot be used: found by stated rules, replaced for maps and integrals.

use crate::dsp::statistics::median;

/// Peak below this many noise deviations: nothing but noise.
const NOISE_ONLY: f64 = 6.0;
/// Peak below this fraction of the neighbours' median: not the field.
const FAR_BELOW: f64 = 0.3;

/// Dead points of a map: their peak is no more than noise, or less than a tenth of the neighbours'
/// median, while the neighbours' median stands well above the noise.
///
/// # Shape
/// `peak_pa`: (rows, columns), row-major.
///
/// # References
/// Common practice, no source.
pub fn dead(columns: usize, peak_pa: &[f64], noise_rms_pa: f64) -> Vec<bool> {
    (0..peak_pa.len())
        .map(|cell| {
            let around: Vec<f64> =
                neighbours(columns, peak_pa.len(), cell).map(|i| peak_pa[i]).collect();
            let Some(typical) = median(&around) else { return false };
            let noise_only = peak_pa[cell] < NOISE_ONLY * noise_rms_pa;
            let lively = typical > 2.0 * NOISE_ONLY * noise_rms_pa;
            lively
                && ((noise_only && peak_pa[cell] < FAR_BELOW * typical)
                    || peak_pa[cell] < 0.1 * typical)
        })
        .collect()
}

/// Values with the excluded points replaced by the mean of their usable neighbours.
pub fn replaced(columns: usize, values: &[f64], excluded: &[bool]) -> Vec<f64> {
    let mut out = values.to_vec();
    for cell in (0..values.len()).filter(|cell| excluded[*cell]) {
        let good: Vec<f64> = neighbours(columns, values.len(), cell)
            .filter(|i| !excluded[*i])
            .map(|i| values[i])
            .collect();
        out[cell] =
            if good.is_empty() { 0.0 } else { good.iter().sum::<f64>() / good.len() as f64 };
    }
    out
}

/// Whether a neighbour of an excluded point stands above `level`, or the filled value does: the point
/// may have held the peak.
pub fn near_peak(columns: usize, filled: &[f64], excluded: &[bool], level: f64) -> bool {
    (0..filled.len()).filter(|cell| excluded[*cell]).any(|cell| {
        filled[cell] > level
            || neighbours(columns, filled.len(), cell).any(|i| !excluded[i] && filled[i] > level)
    })
}

/// The up to eight neighbours of a cell; along a line (one row) the up to two.
fn neighbours(columns: usize, cells: usize, cell: usize) -> impl Iterator<Item = usize> {
    let (row, column) = ((cell / columns) as i64, (cell % columns) as i64);
    let rows = (cells / columns) as i64;
    let columns = columns as i64;
    (-1..=1)
        .flat_map(move |dr| (-1..=1).map(move |dc| (dr, dc)))
        .filter(|step| *step != (0, 0))
        .map(move |(dr, dc)| (row + dr, column + dc))
        .filter(move |(r, c)| *r >= 0 && *c >= 0 && *r < rows && *c < columns)
        .map(move |(r, c)| (r * columns + c) as usize)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_dead_point_among_lively_ones() {
        let mut peaks = vec![100.0; 25];
        peaks[12] = 1.5;
        peaks[0] = 60.0;
        let dead = dead(5, &peaks, 1.0);
        assert_eq!(dead.iter().filter(|d| **d).count(), 1);
        assert!(dead[12]);
        let filled = replaced(5, &peaks, &dead);
        assert!((filled[12] - 100.0).abs() < 1e-12);
        assert!(near_peak(5, &filled, &dead, 70.0));
        assert!(!near_peak(5, &filled, &dead, 120.0));
    }

    #[test]
    fn quiet_edges_are_not_dead() {
        let peaks = vec![3.0, 4.0, 3.5, 2.0];
        assert!(!dead(2, &peaks, 1.0).iter().any(|d| *d));
    }
}
