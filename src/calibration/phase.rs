//! The phase of a table: whole turns, and the sign convention.

use std::f64::consts::PI;

use crate::dsp::minimum_phase::MinimumPhase;

const TURN: f64 = 2.0 * PI;

/// Phase steps between rows beyond which the number of whole turns is a guess, rad: three quarters of
/// half a turn. Common practice, no source.
const SAFE_STEP: f64 = 0.75 * PI;

/// Adds whole turns so that neighbouring phases differ by at most half a turn.
pub fn unwrap(phase_rad: &[f64]) -> Vec<f64> {
    let mut out: Vec<f64> = Vec::with_capacity(phase_rad.len());
    for p in phase_rad {
        let turns = out.last().map_or(0.0, |last| ((last - p) / TURN).round());
        out.push(p + turns * TURN);
    }
    out
}

/// Rows from whose predecessor the phase steps by so much that whole turns cannot be told: more than
/// three eighths of a turn after unwrapping, or, in a phase that was stated unwrapped (it spans more
/// than a turn), more than half a turn as stated.
pub fn ambiguous_rows(phase_rad: &[f64]) -> Vec<usize> {
    let low = phase_rad.iter().copied().fold(f64::INFINITY, f64::min);
    let high = phase_rad.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let stated_unwrapped = high - low > TURN * (1.0 + 1e-6);
    phase_rad
        .windows(2)
        .enumerate()
        .filter(|(_, w)| {
            let step = w[1] - w[0];
            let rest = step - (step / TURN).round() * TURN;
            rest.abs() > SAFE_STEP || (stated_unwrapped && step.abs() > PI)
        })
        .map(|(i, _)| i + 1)
        .collect()
}

/// How well a phase fits a minimum phase.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SignFit {
    /// Rms of the phase as stated less the minimum phase and the best delay, rad.
    pub stated_rad: f64,
    /// The same with the sign of the phase changed.
    pub opposite_rad: f64,
}

/// Rms difference of measured from minimum phase that calibrations show, rad: 1.8° to 3.4°.
///
/// # References
/// K. A. Wear et al., on the phase of hydrophone sensitivities, PMC6931153.
const USUAL_RMS: f64 = 3.4 * PI / 180.0;

impl SignFit {
    /// Fits both signs. `None` with fewer than four rows.
    pub fn of(frequency_hz: &[f64], unwrapped_rad: &[f64], minimum: &MinimumPhase) -> Option<Self> {
        if frequency_hz.len() < 4 || frequency_hz.len() != unwrapped_rad.len() {
            return None;
        }
        let least: Vec<f64> = frequency_hz.iter().map(|f| minimum.at(*f)).collect();
        let rms = |sign: f64| {
            let rest: Vec<f64> =
                unwrapped_rad.iter().zip(&least).map(|(p, m)| sign * p - m).collect();
            rms_beside_delay(frequency_hz, &rest)
        };
        Some(Self { stated_rad: rms(1.0), opposite_rad: rms(-1.0) })
    }

    /// Whether the opposite sign fits much better: less than half the rms, and the stated sign worse
    /// than calibrations usually show.
    pub fn suspicious(&self) -> bool {
        self.opposite_rad < 0.5 * self.stated_rad && self.stated_rad > USUAL_RMS
    }
}

/// Rms of what is left beside the best line, whose value at zero frequency is a whole number of half
/// turns: delay, and polarity.
fn rms_beside_delay(frequency_hz: &[f64], phase_rad: &[f64]) -> f64 {
    let n = frequency_hz.len() as f64;
    let (mf, mp) = (frequency_hz.iter().sum::<f64>() / n, phase_rad.iter().sum::<f64>() / n);
    let (mut ff, mut fp) = (0.0, 0.0);
    for (f, p) in frequency_hz.iter().zip(phase_rad) {
        ff += (f - mf) * (f - mf);
        fp += (f - mf) * (p - mp);
    }
    let free = mp - if ff > 0.0 { fp / ff } else { 0.0 } * mf;
    let start = (free / PI).round() * PI;
    let (mut ff, mut fp) = (0.0, 0.0);
    for (f, p) in frequency_hz.iter().zip(phase_rad) {
        ff += f * f;
        fp += f * (p - start);
    }
    let slope = if ff > 0.0 { fp / ff } else { 0.0 };
    let square: f64 =
        frequency_hz.iter().zip(phase_rad).map(|(f, p)| (p - start - slope * f).powi(2)).sum();
    (square / n).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dsp::minimum_phase::of_table;

    #[test]
    fn steps_that_are_a_guess() {
        let rad = |degrees: &[f64]| degrees.iter().map(|d| d.to_radians()).collect::<Vec<f64>>();
        assert_eq!(ambiguous_rows(&rad(&[-170.0, 170.0, 150.0])), [0usize; 0]);
        assert_eq!(ambiguous_rows(&rad(&[0.0, 150.0, 160.0])), [1]);
        // Stated unwrapped: a step of 350° would be taken for one of −10°.
        assert_eq!(ambiguous_rows(&rad(&[0.0, -100.0, -450.0])), [2]);
    }

    /// A resonance at 20 MHz with a delay of 30 ns and scatter of 2°, and the same with the other sign.
    #[test]
    fn the_sign_shows() {
        let f: Vec<f64> = (1..=120).map(|i| f64::from(i) * 0.25e6).collect();
        let (f0, q) = (20e6, 2.0);
        let m: Vec<f64> =
            f.iter().map(|f| 1.0 / (1.0 - (f / f0).powi(2)).hypot(f / (q * f0))).collect();
        let minimum = of_table(&f, &m).expect("a table");
        let phase: Vec<f64> = f
            .iter()
            .enumerate()
            .map(|(i, f)| {
                -(f / (q * f0)).atan2(1.0 - (f / f0).powi(2)) - TURN * f * 30e-9
                    + 0.05 * (i as f64 * 2.4).sin()
            })
            .collect();
        let right = SignFit::of(&f, &phase, &minimum).expect("fits");
        assert!(!right.suspicious(), "{right:?}");
        let turned: Vec<f64> = phase.iter().map(|p| -p).collect();
        let wrong = SignFit::of(&f, &turned, &minimum).expect("fits");
        assert!(wrong.suspicious(), "{wrong:?}");
        assert_eq!((right.stated_rad, right.opposite_rad), (wrong.opposite_rad, wrong.stated_rad));
        // A pure delay says nothing of a sign.
        let delay: Vec<f64> = f.iter().map(|f| 1e-7 * f).collect();
        let flat = of_table(&f, &vec![1.0; f.len()]).expect("a table");
        assert!(!SignFit::of(&f, &delay, &flat).expect("fits").suspicious());
    }
}
