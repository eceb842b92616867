//! The envelope of one band of a spectrum.

use rustfft::FftPlanner;
use rustfft::num_complex::Complex;

use super::filter::fast_length;

/// Instants of the envelope per period of the band's width.
const OVERSAMPLING: usize = 4;

/// Largest envelope over the samples `window` of the part of a waveform that lies in a band: bins in a
/// row of its one-sided spectrum (a transform of length `n`, without factor), wherever they begin. The
/// largest |(2/n) Σ X(k) exp(2πi kt/n)|.
///
/// The band is brought down to zero frequency and transformed back at its own width: the envelope at
/// four instants per reciprocal of that width. `None` for an empty band or window.
///
/// # References
/// Envelope of the analytic signal: A. V. Oppenheim and R. W. Schafer, Discrete-Time Signal Processing.
pub fn largest(part: &[Complex<f64>], n: usize, window: (usize, usize)) -> Option<f64> {
    if part.is_empty() || window.1 <= window.0 {
        return None;
    }
    let m = fast_length(OVERSAMPLING * part.len()).min(n);
    let mut work: Vec<Complex<f64>> = part.iter().copied().take(m).collect();
    work.resize(m, Complex::default());
    FftPlanner::new().plan_fft_inverse(m).process(&mut work);
    let step = n as f64 / m as f64;
    let inside = |i: usize| {
        let t = i as f64 * step;
        t >= window.0 as f64 && t < window.1 as f64
    };
    let values = work.iter().enumerate().filter(|(i, _)| inside(*i)).map(|(_, v)| v.norm());
    let top = values.fold(0.0, f64::max);
    Some(2.0 * top / n as f64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dsp::filter::spectrum;
    use std::f64::consts::PI;

    /// A burst under a Gaussian of height 3 in a band, beside a stronger tone in another.
    #[test]
    fn of_a_gaussian_burst() {
        let n = 1024;
        let w: Vec<f64> = (0..n)
            .map(|i| {
                let t = i as f64;
                3.0 * (-((t - 400.0) / 60.0).powi(2)).exp() * (2.0 * PI * 0.2 * t).sin()
                    + 10.0 * (2.0 * PI * 0.0625 * t).cos()
            })
            .collect();
        let x = spectrum(&w, n);
        let top = largest(&x[154..256], n, (100, 900)).expect("a band");
        assert!((top - 3.0).abs() < 0.02, "{top}");
        // Away from the burst there is little of it.
        let rest = largest(&x[154..256], n, (600, 900)).expect("a band");
        assert!(rest < 0.01, "{rest}");
        assert_eq!(largest(&[], n, (0, 9)), None);
    }
}
