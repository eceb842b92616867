//! The spectra from which the pressure was made, over the full padded length.

use rustfft::num_complex::Complex;

use crate::calibration::{Conditioning, LowPassShape, Response, lowpass_at, response_at_bins};
use crate::dsp::filter::spectrum;

/// Bins whose pressure is below this fraction of the largest are left out of sums over bins.
const NEGLIGIBLE: f64 = 1e-9;

/// One-sided spectra (bins 0 … n/2, forward transform without factor) of one waveform's conversion.
pub struct Spectra {
    /// Length of the transform.
    pub n: usize,
    /// Length of the record.
    pub samples: usize,
    pub interval_s: f64,
    /// Volts as they go into the filter.
    pub volts: Vec<Complex<f64>>,
    /// Response as used, V/Pa.
    pub response: Vec<Complex<f64>>,
    /// Low-pass over response, Pa/V; zero where the response is.
    pub inverse: Vec<Complex<f64>>,
    /// Pressure before it was cut to the record's length.
    pub pressure: Vec<Complex<f64>>,
    /// Bins from here on hold next to no pressure.
    pub active: usize,
}

impl Spectra {
    /// Of volts less their baseline, tapered.
    pub fn new(
        volts: &[f64],
        conditioning: &Conditioning,
        response: &Response,
        interval_s: f64,
    ) -> Self {
        let n = conditioning.padded;
        let mut half = spectrum(volts, n);
        half.truncate(n / 2 + 1);
        let response = response_at_bins(n, response, conditioning.narrowband_hz, interval_s);
        let inverse = over(&response, &conditioning.lowpass, n, interval_s);
        let pressure: Vec<Complex<f64>> = half.iter().zip(&inverse).map(|(v, h)| v * h).collect();
        let top = pressure.iter().map(|p| p.norm_sqr()).fold(0.0, f64::max);
        let least = NEGLIGIBLE * NEGLIGIBLE * top;
        let active = pressure.iter().rposition(|p| p.norm_sqr() > least).map_or(0, |k| k + 1);
        Self {
            n,
            samples: volts.len(),
            interval_s,
            volts: half,
            response,
            inverse,
            pressure,
            active,
        }
    }

    /// Frequency of a bin, Hz.
    pub fn frequency_hz(&self, bin: usize) -> f64 {
        bin as f64 / (self.n as f64 * self.interval_s)
    }

    /// How often a bin of the one-sided spectrum stands in the whole one.
    pub fn weight(&self, bin: usize) -> f64 {
        if bin == 0 || 2 * bin == self.n { 1.0 } else { 2.0 }
    }

    /// Pressure spectrum with another low-pass.
    pub fn with_lowpass(&self, lowpass: &LowPassShape) -> Vec<Complex<f64>> {
        let inverse = over(&self.response, lowpass, self.n, self.interval_s);
        self.volts.iter().zip(&inverse).map(|(v, h)| v * h).collect()
    }

    /// Mean over both sides of the spectrum of |L/M|^power: for power 2, the variance of pressure over
    /// that of white noise in volts.
    pub fn mean_gain(&self, power: i32) -> f64 {
        let of = |(k, h): (usize, &Complex<f64>)| self.weight(k) * h.norm().powi(power);
        self.inverse.iter().enumerate().map(of).sum::<f64>() / self.n as f64
    }
}

/// Low-pass over a response at the bins.
pub fn over(
    response: &[Complex<f64>],
    lowpass: &LowPassShape,
    n: usize,
    interval_s: f64,
) -> Vec<Complex<f64>> {
    let value = |(k, m): (usize, &Complex<f64>)| {
        let f = k as f64 / (n as f64 * interval_s);
        if m.norm_sqr() > 0.0 { lowpass_at(lowpass, f) / m } else { Complex::default() }
    };
    response.iter().enumerate().map(value).collect()
}
