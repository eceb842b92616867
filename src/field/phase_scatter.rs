//! How much the phases of neighbouring points scatter about a smooth course.

use rustfft::num_complex::Complex;

use crate::dsp::statistics::median;

/// Points below this fraction of the largest amplitude are left out: −6 dB.
const FLOOR: f64 = 0.5;
/// Fewest differences.
const FEWEST: usize = 12;
/// Root of the sum of the squares of 1, 4, 6, 4, 1.
const GAIN: f64 = 8.366_600_265_340_756;
/// Standard deviation of a normal distribution over the median of its magnitude.
const OF_MEDIAN: f64 = 1.482_602_218_505_602;

/// Standard deviation of the phase, rad, from fourth differences along the rows: a course up to the
/// third degree drops out, and with it a tilt or a curvature of the beam; the median keeps single bad
/// points out. Above some 0.15 rad the differences turn over and the result is too small. `None` with
/// fewer than twelve differences among points above −6 dB.
///
/// # Shape
/// `phasors`: (rows, columns), row-major.
pub fn phase_scatter(columns: usize, phasors: &[Complex<f64>]) -> Option<f64> {
    let top = phasors.iter().map(|c| c.norm()).fold(0.0, f64::max);
    let mut differences = Vec::new();
    for row in phasors.chunks(columns.max(1)) {
        for five in row.windows(5) {
            if five.iter().any(|c| c.norm() < FLOOR * top || c.norm() == 0.0) {
                continue;
            }
            let phase = |i: usize| five[i].arg();
            let turns = phase(0) - 4.0 * phase(1) + 6.0 * phase(2) - 4.0 * phase(3) + phase(4);
            let whole = 2.0 * std::f64::consts::PI;
            differences.push((turns - whole * (turns / whole).round()).abs());
        }
    }
    if differences.len() < FEWEST {
        return None;
    }
    median(&differences).map(|m| m * OF_MEDIAN / GAIN)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dsp::noise::Noise;

    fn plane(sigma: f64) -> Vec<Complex<f64>> {
        let mut noise = Noise::new(3);
        (0..900)
            .map(|i| {
                let (x, y) = (f64::from(i % 30) - 14.5, f64::from(i / 30) - 14.5);
                let amplitude = (-(x * x + y * y) / 90.0).exp();
                // Tilt and curvature of a beam, and the scatter.
                let phase = 0.8 * x - 0.3 * y + 0.01 * (x * x + y * y) + sigma * noise.next();
                Complex::from_polar(amplitude, phase)
            })
            .collect()
    }

    /// The scatter that was put in, within 15 % (some 60 independent differences); none without.
    #[test]
    fn scatter_of_a_tilted_curved_beam() {
        for sigma in [0.01, 0.05, 0.1] {
            let found = phase_scatter(30, &plane(sigma)).expect("enough");
            assert!((found / sigma - 1.0).abs() < 0.15, "{sigma} {found}");
        }
        assert!(phase_scatter(30, &plane(0.0)).expect("enough") < 1e-9);
        assert!(phase_scatter(3, &plane(0.0)).is_none());
    }
}
