//! The largest value of a sampled waveform between its samples.

/// Taps on each side of the interpolated instant.
const HALF_TAPS: usize = 16;
/// Instants per sample at which the interpolator is tabulated.
const PHASES: usize = 32;
/// Kaiser window parameter: side lobes about −81 dB, flat up to 0.83 of the Nyquist frequency.
const KAISER_BETA: f64 = 8.0;

/// Samples whose top is found at once.
const CHUNK: usize = 32;
/// Independent partial results, so that several samples are taken at once.
const LANES: usize = 8;
/// Local maxima of the samples below this fraction of the largest sample are not followed.
const CANDIDATE: f64 = 0.75;

/// Band-limited interpolation (windowed sinc) of a waveform, tabulated at 1/32 of a sample.
///
/// # References
/// Kaiser-windowed sinc: A. V. Oppenheim and R. W. Schafer, Discrete-Time Signal Processing.
pub struct Interpolator {
    /// `PHASES + 1` rows of `2 HALF_TAPS` weights, each row with unit sum.
    weights: Vec<f64>,
}

impl Default for Interpolator {
    fn default() -> Self {
        Self::new()
    }
}

impl Interpolator {
    /// Tabulates the weights.
    pub fn new() -> Self {
        let mut weights = Vec::with_capacity((PHASES + 1) * 2 * HALF_TAPS);
        for phase in 0..=PHASES {
            let shift = phase as f64 / PHASES as f64;
            let row: Vec<f64> = (0..2 * HALF_TAPS)
                .map(|tap| {
                    let x = tap as f64 - (HALF_TAPS as f64 - 1.0) - shift;
                    let u = x / HALF_TAPS as f64;
                    let window = if u.abs() < 1.0 {
                        bessel_i0(KAISER_BETA * (1.0 - u * u).sqrt()) / bessel_i0(KAISER_BETA)
                    } else {
                        0.0
                    };
                    sinc(x) * window
                })
                .collect();
            let sum: f64 = row.iter().sum();
            weights.extend(row.iter().map(|w| w / sum));
        }
        Self { weights }
    }

    /// Value at `index + phase/32`; beyond the ends the waveform is zero.
    fn at<T: Copy + Into<f64>>(&self, waveform: &[T], index: usize, phase: usize) -> f64 {
        let taps = 2 * HALF_TAPS;
        let row = &self.weights[phase * taps..(phase + 1) * taps];
        if index + 1 >= HALF_TAPS && index + HALF_TAPS < waveform.len() {
            let start = index + 1 - HALF_TAPS;
            let part = &waveform[start..start + taps];
            return lane_dot(part, row);
        }
        row.iter()
            .enumerate()
            .filter_map(|(tap, w)| {
                let i = (index + 1 + tap).checked_sub(HALF_TAPS)?;
                waveform.get(i).map(|s| (*s).into() * w)
            })
            .sum()
    }

    /// Largest value of `sign · waveform` over `start .. stop`, and its position in samples from the
    /// start of the waveform.
    ///
    /// Local maxima of the samples that could hold it are refined on the interpolated waveform until
    /// a step of 1/32 sample changes nothing, then by a parabola through three such instants. Of a
    /// waveform with fewer than five samples in the cycle of its strongest tone, a neighbour of the
    /// largest cycle may be taken, since its samples need not show which one is the largest.
    /// `None` when the range holds no sample.
    pub fn maximum<T: Copy + Into<f64>>(
        &self,
        waveform: &[T],
        start: usize,
        stop: usize,
        sign: f64,
    ) -> Option<(f64, f64)> {
        let stop = stop.min(waveform.len());
        let sample = |i: usize| sign * waveform[i].into();
        let part = waveform.get(start.min(stop)..stop).unwrap_or(&[]);
        let tops: Vec<f64> = part.chunks(CHUNK).map(|chunk| lane_top(chunk, sign)).collect();
        let top = tops.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        if !top.is_finite() {
            return None;
        }
        let mut best: Option<(f64, f64)> = None;
        let mut most_promising = f64::NEG_INFINITY;
        let mut candidates = Vec::new();
        // Only chunks whose own top comes near can hold a candidate.
        let near = tops.iter().enumerate().filter(|(_, own)| **own >= CANDIDATE * top);
        let samples = near.flat_map(|(chunk, _)| {
            let first = start + chunk * CHUNK;
            first..(first + CHUNK).min(stop)
        });
        for i in samples {
            let here = sample(i);
            let before = if i > 0 { sample(i - 1) } else { 0.0 };
            let after = if i + 1 < waveform.len() { sample(i + 1) } else { 0.0 };
            if here < before || here <= after || here < CANDIDATE * top {
                continue;
            }
            let bend = before - 2.0 * here + after;
            let offset = if bend < 0.0 { 0.5 * (before - after) / bend } else { 0.0 };
            let promise = here - 0.25 * (before - after) * offset;
            most_promising = most_promising.max(promise);
            candidates.push((i, offset, promise));
        }
        for (i, offset, promise) in candidates {
            if promise < most_promising - 0.06 * most_promising.abs() {
                continue;
            }
            let (value, at) = self.climb(waveform, i, offset, sign);
            if best.is_none_or(|(top, _)| value > top) {
                best = Some((value, at));
            }
        }
        // A monotonic stretch has its maximum at an end.
        best.or_else(|| (start..stop).find(|i| sample(*i) == top).map(|i| (top, i as f64)))
    }

    fn climb<T: Copy + Into<f64>>(
        &self,
        waveform: &[T],
        index: usize,
        offset: f64,
        sign: f64,
    ) -> (f64, f64) {
        let phases = PHASES as i64;
        let value = |ticks: i64| {
            let index = usize::try_from(ticks.div_euclid(phases)).unwrap_or(0);
            let phase = usize::try_from(ticks.rem_euclid(phases)).unwrap_or(0);
            sign * self.at(waveform, index, phase)
        };
        let origin = index as i64 * phases;
        let mut ticks = origin + (offset.clamp(-0.5, 0.5) * PHASES as f64).round() as i64;
        ticks = ticks.max(1);
        let (mut left, mut here, mut right) = (value(ticks - 1), value(ticks), value(ticks + 1));
        let limit = ((index + 1) as i64 * phases, (index as i64 - 1).max(0) * phases + 1);
        while right > here && ticks < limit.0 {
            ticks += 1;
            (left, here, right) = (here, right, value(ticks + 1));
        }
        while left > here && ticks > limit.1 {
            ticks -= 1;
            (left, here, right) = (value(ticks - 1), left, here);
        }
        let bend = left - 2.0 * here + right;
        let shift = if bend < 0.0 { (0.5 * (left - right) / bend).clamp(-1.0, 1.0) } else { 0.0 };
        (here - 0.25 * (left - right) * shift, (ticks as f64 + shift) / PHASES as f64)
    }
}

/// Σ s·w in independent partial sums; both lengths are multiples of the lanes.
fn lane_dot<T: Copy + Into<f64>>(samples: &[T], weights: &[f64]) -> f64 {
    let mut lanes = [0.0f64; LANES];
    for (s, w) in samples.chunks_exact(LANES).zip(weights.chunks_exact(LANES)) {
        for ((lane, s), w) in lanes.iter_mut().zip(s).zip(w) {
            *lane += (*s).into() * w;
        }
    }
    lanes.iter().sum()
}

/// Largest of `sign`·x.
fn lane_top<T: Copy + Into<f64>>(samples: &[T], sign: f64) -> f64 {
    let mut lanes = [f64::NEG_INFINITY; LANES];
    for chunk in samples.chunks(LANES) {
        for (lane, x) in lanes.iter_mut().zip(chunk) {
            let x = sign * (*x).into();
            *lane = if x > *lane { x } else { *lane };
        }
    }
    lanes.iter().copied().fold(f64::NEG_INFINITY, f64::max)
}

fn sinc(x: f64) -> f64 {
    if x == 0.0 { 1.0 } else { (std::f64::consts::PI * x).sin() / (std::f64::consts::PI * x) }
}

/// Modified Bessel function of the first kind, order 0, by its power series (converges for all x).
fn bessel_i0(x: f64) -> f64 {
    let quarter = 0.25 * x * x;
    let (mut term, mut sum, mut k) = (1.0, 1.0, 1.0);
    while term > 1e-17 * sum {
        term *= quarter / (k * k);
        sum += term;
        k += 1.0;
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    /// A sine of amplitude 1 peaks at 1 wherever its samples fall, up to 0.8 of Nyquist.
    #[test]
    fn sine_of_any_phase() {
        let interpolator = Interpolator::new();
        for fraction in [0.05, 0.3, 0.5, 0.8] {
            for shift in 0..17 {
                let w: Vec<f64> = (0..400)
                    .map(|i| (PI * fraction * i as f64 + shift as f64 * 0.37).sin())
                    .collect();
                let (top, _) = interpolator.maximum(&w, 40, 360, 1.0).expect("has samples");
                assert!((top - 1.0).abs() < 1e-3, "{fraction} {shift}: {top}");
            }
        }
    }

    /// Position of a Gaussian's top, half a sample off the grid.
    #[test]
    fn position_between_samples() {
        let w: Vec<f64> = (0..200).map(|i| (-((i as f64 - 90.3) / 6.0).powi(2)).exp()).collect();
        let (top, at) = Interpolator::new().maximum(&w, 0, 200, 1.0).expect("has samples");
        assert!((top - 1.0).abs() < 5e-5 && (at - 90.3).abs() < 2e-3, "{top} {at}");
    }

    #[test]
    fn ends_and_constants_do_not_break() {
        let interpolator = Interpolator::new();
        assert_eq!(interpolator.maximum::<f64>(&[], 0, 10, 1.0), None);
        assert!(interpolator.maximum(&[1.0, 1.0, 1.0], 0, 3, 1.0).is_some());
        let rising: Vec<f64> = (0..50).map(f64::from).collect();
        assert!(interpolator.maximum(&rising, 0, 50, 1.0).is_some());
    }
}
