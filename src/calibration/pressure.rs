//! From raw samples to pressure.

use rustfft::FftNum;
use rustfft::num_complex::Complex;
use serde::{Deserialize, Serialize};

use super::lowpass::{LowPassShape, lowpass_at};
use super::response::Response;
use crate::dsp::filter::{PairFilter, fast_length, impulse_response};
use crate::formats::container::Samples;
use crate::scan::Volts;

/// Everything about the conversion that the survey freezes for a scan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Conditioning {
    /// Lengths of the cosine tapers at the start and the end, samples.
    pub taper: (usize, usize),
    /// Transform length, samples.
    pub padded: usize,
    pub lowpass: LowPassShape,
    /// The response is taken constant, at this frequency: narrowband scaling.
    pub narrowband_hz: Option<f64>,
}

/// Where one waveform stands in raw samples.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RawWave {
    /// Its first sample.
    pub start: usize,
    /// Its own samples whose mean is the baseline: before the arrival, without the drive feed-through.
    pub baseline: Option<(usize, usize)>,
}

/// Response at the bins 0 … n/2 of a transform of length `n`, V/Pa: complex, or the magnitude at the
/// fixed frequency throughout.
pub fn response_at_bins(
    n: usize,
    response: &Response,
    narrowband_hz: Option<f64>,
    interval_s: f64,
) -> Vec<Complex<f64>> {
    match narrowband_hz {
        Some(fixed) => vec![Complex::new(response.at(fixed).norm(), 0.0); n / 2 + 1],
        None => (0..=n / 2).map(|k| response.at(k as f64 / (n as f64 * interval_s))).collect(),
    }
}

/// Low-pass over response at the bins 0 … n/2 of a transform of length `n`, Pa/V; zero where the
/// response is.
fn inverse_response(
    n: usize,
    response: &Response,
    lowpass: &LowPassShape,
    narrowband_hz: Option<f64>,
    interval_s: f64,
) -> Vec<Complex<f64>> {
    let at_bins = response_at_bins(n, response, narrowband_hz, interval_s);
    let inverse = |(k, m): (usize, Complex<f64>)| {
        let f = k as f64 / (n as f64 * interval_s);
        if m.norm_sqr() > 0.0 { lowpass_at(lowpass, f) / m } else { Complex::default() }
    };
    at_bins.into_iter().enumerate().map(inverse).collect()
}

/// Zero padding, as fractions of the record, that is tried for rasters; single waveforms get the last.
const PADDINGS: [f64; 5] = [0.1, 0.25, 0.5, 1.0, 3.0];
/// Energy of the inverse response's memory beyond the padding that is let wrap around.
const WRAPPED_ENERGY: f64 = 1e-6;

/// Transform length against wrap-around: the shortest padding beyond which the impulse response of
/// low-pass over response holds less than 10⁻⁶ of its energy. The many points of a raster are worth
/// the search; a single waveform (`generous`) is padded to four times its length at once.
pub fn padded_length(
    samples: usize,
    response: &Response,
    lowpass: &LowPassShape,
    narrowband_hz: Option<f64>,
    interval_s: f64,
    generous: bool,
) -> usize {
    let length = |padding: f64| fast_length((samples as f64 * (1.0 + padding)).ceil() as usize);
    let longest = length(PADDINGS[PADDINGS.len() - 1]);
    if generous {
        return longest;
    }
    let half = inverse_response(longest, response, lowpass, narrowband_hz, interval_s);
    let impulse = impulse_response(longest, &half);
    let total: f64 = impulse.iter().map(|h| h * h).sum();
    // Memory reaches to both sides of the instant: late samples, and early ones wrapped to the end.
    let beyond = |memory: usize| -> f64 {
        let stop = longest.saturating_sub(memory);
        impulse.get(memory..stop).unwrap_or(&[]).iter().map(|h| h * h).sum()
    };
    PADDINGS
        .iter()
        .map(|padding| length(*padding))
        .find(|n| beyond(n - samples) <= WRAPPED_ENERGY * total)
        .unwrap_or(longest)
}

/// Turns pairs of raw waveforms into pressure.
pub struct PressureMaker<T: FftNum> {
    filter: PairFilter<T>,
    volts: Volts,
    head: Vec<f64>,
    tail: Vec<f64>,
}

impl<T: FftNum + Into<f64>> PressureMaker<T> {
    /// Prepares the filter low-pass / response on the bins of the padded transform.
    ///
    /// A response of zero at a bin gives zero there.
    pub fn new(
        conditioning: &Conditioning,
        response: &Response,
        volts: Volts,
        interval_s: f64,
    ) -> Self {
        let n = conditioning.padded;
        let inverse = inverse_response(
            n,
            response,
            &conditioning.lowpass,
            conditioning.narrowband_hz,
            interval_s,
        );
        let ramp = |len: usize| -> Vec<f64> {
            (0..len)
                .map(|i| 0.5 * (1.0 - (std::f64::consts::PI * (i as f64 + 0.5) / len as f64).cos()))
                .collect()
        };
        Self {
            filter: PairFilter::new(n, &inverse),
            volts,
            head: ramp(conditioning.taper.0),
            tail: ramp(conditioning.taper.1),
        }
    }

    /// Pressure of one waveform or two. Samples that are not finite count as zero; their number is
    /// returned for each waveform.
    pub fn run(
        &mut self,
        raw: &Samples,
        first: RawWave,
        second: Option<RawWave>,
        out: (&mut [T], &mut [T]),
    ) -> (usize, usize) {
        let a = self.volts_of(raw, first, out.0);
        let b = match second {
            Some(second) => self.volts_of(raw, second, out.1),
            None => {
                out.1.fill(T::zero());
                0
            }
        };
        self.filter.run(out.0, out.1);
        (a, b)
    }

    /// Factors of the tapers over a record of that length.
    pub fn taper_weights(&self, samples: usize) -> Vec<f64> {
        let mut weights = vec![1.0; samples];
        for (slot, w) in weights.iter_mut().zip(&self.head) {
            *slot *= w;
        }
        for (slot, w) in weights.iter_mut().rev().zip(&self.tail) {
            *slot *= w;
        }
        weights
    }

    /// Volts of one waveform as they go into the filter: less the baseline, tapered. Returns the
    /// number of samples that are not finite; they count as zero.
    pub fn volts_of(&self, raw: &Samples, wave: RawWave, out: &mut [T]) -> usize {
        let (start, stop) = (wave.start, wave.start + out.len());
        match raw {
            Samples::I16(v) => self.convert(&v[start..stop], wave.baseline, out),
            Samples::I32(v) => self.convert(&v[start..stop], wave.baseline, out),
            Samples::F32(v) => self.convert(&v[start..stop], wave.baseline, out),
            Samples::F64(v) => self.convert(&v[start..stop], wave.baseline, out),
        }
    }

    /// Counts to volts less the baseline, tapered. The baseline takes the offset with it, where there
    /// is one.
    fn convert<S: Copy + Into<f64>>(
        &self,
        raw: &[S],
        baseline: Option<(usize, usize)>,
        out: &mut [T],
    ) -> usize {
        let scale = self.volts.volts_per_count;
        let mut broken = 0;
        let base = match baseline {
            Some((from, to)) if to > from && to <= raw.len() => {
                let part = &raw[from..to];
                let sum: f64 =
                    part.iter().map(|s| (*s).into()).filter(|s: &f64| s.is_finite()).sum();
                sum / part.len() as f64
            }
            _ => -self.volts.offset_v / scale,
        };
        for (slot, s) in out.iter_mut().zip(raw) {
            let v: f64 = (*s).into();
            let v = if v.is_finite() {
                (v - base) * scale
            } else {
                broken += 1;
                0.0
            };
            *slot = T::from_f64(v).unwrap_or_else(T::zero);
        }
        let n = out.len();
        for (i, w) in self.head.iter().enumerate().take(n) {
            out[i] = T::from_f64(w * out[i].into()).unwrap_or_else(T::zero);
        }
        for (i, w) in self.tail.iter().enumerate().take(n) {
            out[n - 1 - i] = T::from_f64(w * out[n - 1 - i].into()).unwrap_or_else(T::zero);
        }
        broken
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::LowPassKind;

    /// Two one-pole sections of 10 samples' time constant (impulse response t exp(−t/τ)) are forgotten
    /// to 10⁻⁶ of their energy after less than 110 samples: the smallest padding of a record of 1000
    /// holds them. Sections of 200 samples need some 1900, more than the record's own length.
    #[test]
    fn padding_follows_the_memory() {
        let dt = 1e-8;
        let pole = |time_constant: f64| LowPassShape {
            kind: LowPassKind::OnePole,
            order: 2,
            cutoff_hz: 1.0 / (2.0 * std::f64::consts::PI * time_constant * dt),
        };
        let length = |tau| padded_length(1000, &Response::flat(1.0), &pole(tau), None, dt, false);
        assert_eq!(length(10.0), fast_length(1100));
        assert_eq!(length(200.0), fast_length(4000));
    }
}
