//! From raw samples to pressure.

use rustfft::FftNum;
use rustfft::num_complex::Complex;
use serde::{Deserialize, Serialize};

use super::lowpass::{LowPassShape, lowpass_at};
use super::response::Response;
use crate::dsp::filter::PairFilter;
use crate::formats::container::Samples;
use crate::scan::Volts;

/// Everything about the conversion that the survey freezes for a scan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Conditioning {
    /// Samples whose mean is the baseline: before the arrival, without the drive feed-through.
    pub baseline: Option<(usize, usize)>,
    /// Lengths of the cosine tapers at the start and the end, samples.
    pub taper: (usize, usize),
    /// Transform length, samples.
    pub padded: usize,
    pub lowpass: LowPassShape,
    /// The response is taken constant, at this frequency: narrowband scaling.
    pub narrowband_hz: Option<f64>,
}

/// Turns pairs of raw waveforms into pressure.
pub struct PressureMaker<T: FftNum> {
    filter: PairFilter<T>,
    volts: Volts,
    baseline: Option<(usize, usize)>,
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
        let inverse: Vec<Complex<f64>> = (0..=n / 2)
            .map(|k| {
                let f = k as f64 / (n as f64 * interval_s);
                let m = match conditioning.narrowband_hz {
                    Some(fixed) => Complex::new(response.at(fixed).norm(), 0.0),
                    None => response.at(f),
                };
                if m.norm_sqr() > 0.0 {
                    lowpass_at(&conditioning.lowpass, f) / m
                } else {
                    Complex::default()
                }
            })
            .collect();
        let ramp = |len: usize| -> Vec<f64> {
            (0..len)
                .map(|i| 0.5 * (1.0 - (std::f64::consts::PI * (i as f64 + 0.5) / len as f64).cos()))
                .collect()
        };
        Self {
            filter: PairFilter::new(n, &inverse),
            volts,
            baseline: conditioning.baseline,
            head: ramp(conditioning.taper.0),
            tail: ramp(conditioning.taper.1),
        }
    }

    /// Pressure of the waveforms that start at `first` and, if given, `second` in the raw samples.
    /// Samples that are not finite count as zero; their number is returned for each waveform.
    pub fn run(
        &mut self,
        raw: &Samples,
        first: usize,
        second: Option<usize>,
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

    fn volts_of(&self, raw: &Samples, start: usize, out: &mut [T]) -> usize {
        match raw {
            Samples::I16(v) => self.convert(&v[start..start + out.len()], out),
            Samples::I32(v) => self.convert(&v[start..start + out.len()], out),
            Samples::F32(v) => self.convert(&v[start..start + out.len()], out),
            Samples::F64(v) => self.convert(&v[start..start + out.len()], out),
        }
    }

    /// Counts to volts less the baseline, tapered. The baseline takes the offset with it, where there
    /// is one.
    fn convert<S: Copy + Into<f64>>(&self, raw: &[S], out: &mut [T]) -> usize {
        let scale = self.volts.volts_per_count;
        let mut broken = 0;
        let base = match self.baseline {
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
