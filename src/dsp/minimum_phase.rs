//! Phase of the minimum-phase function of a given magnitude.

use rustfft::FftPlanner;
use rustfft::num_complex::Complex;

use super::interpolate::interval;

/// The phase that belongs to a magnitude if it has no more delay than it must.
///
/// A function of frequency without zeros and poles in the right half of the s-plane has a phase that
/// follows from its magnitude: the Hilbert transform of ln|H|. Here it is taken through the real
/// cepstrum, on the grid f(k) = c tan(πk/n), k = 0 … n/2. The bilinear map s = 2πc (1 − z⁻¹)/(1 + z⁻¹)
/// takes the half-plane to the unit disc and leaves the relation as it is, so that the grid reaches
/// from zero to infinity and nothing is cut off or folded back.
///
/// # References
/// A. V. Oppenheim, R. W. Schafer, Discrete-Time Signal Processing, chapters on the Hilbert transform
/// and the cepstrum (fold of the real cepstrum; bilinear transform).
#[derive(Debug, Clone, PartialEq)]
pub struct MinimumPhase {
    centre_hz: f64,
    /// At f(k), k = 0 … n/2, rad.
    phase_rad: Vec<f64>,
}

impl MinimumPhase {
    /// From ln|H| at a frequency in Hz, asked for from zero to (practically) infinity, on `n` points
    /// (even) about `centre_hz`. The step of the grid is (1 + (f/c)²) πc/n.
    pub fn new(log_magnitude: impl Fn(f64) -> f64, centre_hz: f64, n: usize) -> Self {
        let half = n / 2;
        let at: Vec<f64> = (0..=half)
            .map(|k| {
                log_magnitude(centre_hz * (std::f64::consts::PI * k as f64 / n as f64).tan().abs())
            })
            .collect();
        let mut work: Vec<Complex<f64>> =
            (0..n).map(|k| Complex::new(at[if k > half { n - k } else { k }], 0.0)).collect();
        let mut planner = FftPlanner::new();
        planner.plan_fft_inverse(n).process(&mut work);
        // The cepstrum is real and even; its causal part, doubled, is that of ln H.
        for (i, value) in work.iter_mut().enumerate() {
            let fold = match i {
                0 => 1.0,
                _ if i == half => 1.0,
                _ if i < half => 2.0,
                _ => 0.0,
            };
            *value = Complex::new(fold * value.re / n as f64, 0.0);
        }
        planner.plan_fft_forward(n).process(&mut work);
        Self { centre_hz, phase_rad: work[..=half].iter().map(|value| value.im).collect() }
    }

    /// Phase at a frequency, rad, linear between the points of the grid; odd in frequency.
    pub fn at(&self, frequency_hz: f64) -> f64 {
        let half = self.phase_rad.len() - 1;
        let place =
            (frequency_hz.abs() / self.centre_hz).atan() * 2.0 * half as f64 / std::f64::consts::PI;
        let k = (place.floor() as usize).min(half.saturating_sub(1));
        let (a, b) = (self.phase_rad[k], self.phase_rad[(k + 1).min(half)]);
        let phase = a + (place - k as f64) * (b - a);
        if frequency_hz < 0.0 { -phase } else { phase }
    }

    /// Number of points up to infinity.
    pub fn points(&self) -> usize {
        self.phase_rad.len()
    }
}

/// Most points of the grid from which a table's phase is computed, and fewest.
const POINTS: (usize, usize) = (1 << 15, 1 << 17);
/// Steps of the grid in a step of the table.
const STEPS_WITHIN: f64 = 4.0;

/// Centre and number of points for a magnitude given at rising frequencies: about the geometric mean
/// of the lowest (above zero) and the highest, not below a hundredth of the highest, and as many
/// points, from 2¹⁵ to 2¹⁷, as put four into every step of the table.
pub fn grid_for(frequency_hz: &[f64]) -> (f64, usize) {
    let positive = frequency_hz.iter().copied().find(|f| *f > 0.0).unwrap_or(1.0);
    let highest = frequency_hz.last().copied().filter(|f| *f > 0.0).unwrap_or(positive);
    let centre = (positive * highest).sqrt().max(0.01 * highest);
    let finest = |n: usize| {
        frequency_hz.windows(2).all(|w| {
            let step = (1.0 + (w[1] / centre).powi(2)) * std::f64::consts::PI * centre / n as f64;
            step * STEPS_WITHIN <= w[1] - w[0]
        })
    };
    let mut n = POINTS.0;
    while n < POINTS.1 && !finest(n) {
        n *= 2;
    }
    (centre, n)
}

/// Minimum phase of a magnitude given at rising frequencies, linear between them and constant beyond.
/// `None` with fewer than two frequencies or a magnitude that is not above zero.
pub fn of_table(frequency_hz: &[f64], magnitude: &[f64]) -> Option<MinimumPhase> {
    if frequency_hz.len() != magnitude.len() || !magnitude.iter().all(|m| *m > 0.0) {
        return None;
    }
    interval(frequency_hz, 0.0)?;
    let (centre, n) = grid_for(frequency_hz);
    let log = |f: f64| super::interpolate::linear(frequency_hz, magnitude, f).map_or(0.0, f64::ln);
    Some(MinimumPhase::new(log, centre, n))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    fn worst(phase: &MinimumPhase, exact: impl Fn(f64) -> f64, low: f64, high: f64) -> f64 {
        (0..400)
            .map(|i| low * (high / low).powf(f64::from(i) / 399.0))
            .map(|f| (phase.at(f) - exact(f)).abs())
            .fold(0.0, f64::max)
    }

    /// Closed forms. A resonance 1/(1 − (f/f₀)² + jf/(Qf₀)) has the phase −atan2(f/(Qf₀), 1 − (f/f₀)²);
    /// a first-order high-pass jf/(f₁ + jf) has π/2 − atan(f/f₁); both are of minimum phase.
    #[test]
    fn a_resonance_and_a_high_pass() {
        let (f0, q) = (10e6, 4.0);
        // Constant from 100 GHz on, and up to 30 Hz: a logarithm has no values at infinity and zero.
        let resonance = |f: f64| (1.0 - (f / f0).powi(2)).hypot(f / (q * f0)).ln();
        let phase = MinimumPhase::new(|f| -resonance(f.min(1e11)), 3e6, 1 << 18);
        let exact = |f: f64| -(f / (q * f0)).atan2(1.0 - (f / f0).powi(2));
        let off = worst(&phase, exact, 1e4, 50e6);
        assert!(off < 1e-3, "{off}");

        let f1 = 0.3e6;
        let high_pass = |f: f64| (f / f1).ln() - 0.5 * (f / f1).powi(2).ln_1p();
        let phase = MinimumPhase::new(|f| high_pass(f.max(30.0)), 3e6, 1 << 18);
        let off = worst(&phase, |f| PI / 2.0 - (f / f1).atan(), 1e5, 100e6);
        assert!(off < 1e-3, "{off}");
        assert!((phase.at(-2e6) + phase.at(2e6)).abs() < 1e-15);
    }

    /// SciPy 1.17.1: phases of `signal.freqs` for `signal.cheby1(3, 1.0, 2π·15 MHz, analog=True)`, whose
    /// squared magnitude is 1/(1 + ε² T₃²(f/15 MHz)), ε² = 10^0.1 − 1, and which has no zeros.
    #[test]
    fn a_chebyshev_low_pass_of_scipy() {
        let ripple = 10f64.powf(0.1) - 1.0;
        let log = |f: f64| {
            let x = f.min(1e11) / 15e6;
            -0.5 * (ripple * (x * (4.0 * x * x - 3.0)).powi(2)).ln_1p()
        };
        let phase = MinimumPhase::new(log, 3e6, 1 << 18);
        for (f, expected) in [
            (0.5e6, -0.083_936_454_901_9),
            (2e6, -0.330_914_918_414_7),
            (5e6, -0.777_838_164_460_7),
            (10e6, -1.472_787_235_391_7),
            (15e6, -2.694_346_444_118_8),
            (30e6, -4.152_479_705_293_6),
        ] {
            assert!((phase.at(f) - expected).abs() < 1e-3, "{f} {}", phase.at(f));
        }
    }

    /// SciPy 1.17.1: −Im `signal.hilbert` of the logarithm of a table of seven rows, linear between them
    /// and constant beyond, on an even grid up to 8 GHz (to 4 GHz it differs by 1.1·10⁻⁵ at most).
    #[test]
    fn a_table_against_the_hilbert_transform_of_scipy() {
        let f = [1e6, 2e6, 4e6, 7e6, 11e6, 16e6, 20e6];
        let m = [40.0, 42.0, 47.0, 60.0, 38.0, 20.0, 12.0];
        let phase = of_table(&f, &m).expect("a table");
        for (f, expected) in [
            (0.5e6, -0.001_491_053_5),
            (2.5e6, -0.009_007_202_4),
            (6.5e6, -0.353_945_337_0),
            (9e6, -0.830_629_808_2),
            (15e6, -1.223_847_576_9),
            (22e6, -0.770_853_875_2),
        ] {
            assert!((phase.at(f) - expected).abs() < 5e-5, "{f} {}", phase.at(f));
        }
    }

    /// The same from tables of 60 rows a decade that reach far beyond the band.
    #[test]
    fn closed_forms_from_tables() {
        let f: Vec<f64> = (0..=600).map(|i| 10f64.powf(2.0 + f64::from(i) / 60.0)).collect();
        let (f0, q) = (10e6, 1.0);
        let m: Vec<f64> =
            f.iter().map(|f| 1.0 / (1.0 - (f / f0).powi(2)).hypot(f / (q * f0))).collect();
        let phase = of_table(&f, &m).expect("a table");
        let exact = |f: f64| -(f / (q * f0)).atan2(1.0 - (f / f0).powi(2));
        let off = worst(&phase, exact, 1e5, 50e6);
        assert!(off < 5e-3, "{off}");
    }

    /// A piecewise linear ln|H|, constant beyond its ends, has in closed form (integration by parts of
    /// the dispersion relation; H. W. Bode, Network Analysis and Feedback Amplifier Design, 1945)
    /// φ(f) = (1/π) Σ s(i) [g(x) from x(i) to x(i+1)], g(x) = (x + f) ln|x + f| − (x − f) ln|x − f|,
    /// s the slopes.
    #[test]
    fn straight_pieces_have_a_closed_form() {
        let x = [1e6, 4e6, 9e6, 20e6];
        let y = [0.0f64, 0.4, -0.3, -1.5];
        let log = |f: f64| super::super::interpolate::linear(&x, &y, f).expect("inside");
        let phase = MinimumPhase::new(log, 4e6, 1 << 16);
        let exact = |f: f64| {
            let part = |d: f64| if d == 0.0 { 0.0 } else { d * d.abs().ln() };
            let g = |x: f64| part(x + f) - part(x - f);
            (0..3)
                .map(|i| (y[i + 1] - y[i]) / (x[i + 1] - x[i]) * (g(x[i + 1]) - g(x[i])))
                .sum::<f64>()
                / PI
        };
        let off = worst(&phase, exact, 1e5, 100e6);
        assert!(off < 1e-4, "{off}");
    }

    #[test]
    fn what_is_no_table() {
        assert!(of_table(&[1e6], &[1.0]).is_none());
        assert!(of_table(&[1e6, 2e6], &[1.0, 0.0]).is_none());
        let flat = of_table(&[0.0, 2e6], &[3.0, 3.0]).expect("a table");
        assert!(flat.at(1e6).abs() < 1e-12 && flat.points() == POINTS.0 / 2 + 1);
    }
}
