//! Several tones at once in many waveforms: tables made once, sums in blocks.

use rustfft::FftNum;
use rustfft::num_complex::Complex;

use super::tone::integral;

/// Samples over which one table of phasors serves.
const BLOCK: usize = 64;
/// Independent partial sums, so that several samples are taken at once.
const LANES: usize = 8;

/// Transforms at fixed frequencies. Products and the sums over 64 samples are in `T`, all others in
/// `f64`.
pub struct Tones<T> {
    tables: Vec<Table<T>>,
}

struct Table<T> {
    cos: [T; BLOCK],
    sin: [T; BLOCK],
    /// Phase from one sample to the next, rad.
    angle: f64,
}

impl<T: FftNum + Into<f64>> Tones<T> {
    /// Tables for frequencies in cycles a sample.
    pub fn new(frequencies: impl IntoIterator<Item = f64>) -> Self {
        let to = |v: f64| T::from_f64(v).unwrap_or_else(T::zero);
        let tables = frequencies
            .into_iter()
            .map(|frequency| {
                let angle = -2.0 * std::f64::consts::PI * frequency;
                Table {
                    cos: std::array::from_fn(|i| to((angle * i as f64).cos())),
                    sin: std::array::from_fn(|i| to((angle * i as f64).sin())),
                    angle,
                }
            })
            .collect();
        Self { tables }
    }

    /// Σ x(n) exp(−jω n) over the samples `start .. stop` at each frequency.
    pub fn transforms(&self, waveform: &[T], start: usize, stop: usize) -> Vec<Complex<f64>> {
        let stop = stop.min(waveform.len());
        let part = waveform.get(start.min(stop)..stop).unwrap_or(&[]);
        let mut sums: Vec<Complex<f64>> = vec![Complex::new(0.0, 0.0); self.tables.len()];
        for (block, samples) in part.chunks(BLOCK).enumerate() {
            for (sum, table) in sums.iter_mut().zip(&self.tables) {
                let inner = Complex::new(dot(samples, &table.cos), dot(samples, &table.sin));
                *sum += inner * Complex::cis(table.angle * (start + block * BLOCK) as f64);
            }
        }
        sums
    }

    /// Complex amplitudes A of A exp(jωn) in a window of whole cycles with fractional ends, as
    /// [`super::tone::amplitude`] gives them one by one. `None` outside the waveform.
    pub fn amplitudes(&self, waveform: &[T], a: f64, b: f64) -> Option<Vec<Complex<f64>>> {
        if !(a >= 0.0 && b > a && b <= waveform.len() as f64 - 1.0) {
            return None;
        }
        let sums = self.transforms(waveform, a.ceil() as usize, b.floor() as usize + 1);
        let each = sums.into_iter().zip(&self.tables).map(|(sum, table)| {
            let product = |i: usize| Complex::cis(table.angle * i as f64) * waveform[i].into();
            integral(product, a, b, sum) * (2.0 / (b - a))
        });
        Some(each.collect())
    }
}

fn dot<T: FftNum + Into<f64>>(samples: &[T], weights: &[T; BLOCK]) -> f64 {
    let mut lanes = [T::zero(); LANES];
    let whole = samples.len() / LANES * LANES;
    for (x, w) in samples.chunks_exact(LANES).zip(weights.chunks_exact(LANES)) {
        for ((lane, x), w) in lanes.iter_mut().zip(x).zip(w) {
            *lane = *lane + *x * *w;
        }
    }
    let rest = samples.iter().zip(weights).skip(whole).map(|(x, w)| (*x * *w).into());
    lanes.into_iter().map(Into::into).sum::<f64>() + rest.sum::<f64>()
}

#[cfg(test)]
mod tests {
    use super::super::tone;
    use super::*;

    fn wave() -> Vec<f64> {
        (0..1500)
            .map(|i| {
                let th = 0.17 * f64::from(i);
                th.cos() + 0.3 * (2.0 * th + 0.4).cos() + 1e-3 * (10.0 * th).sin()
            })
            .collect()
    }

    /// In double precision as the tones one by one; in single within 10⁻⁶ of the fundamental.
    #[test]
    fn together_as_one_by_one() {
        let (w, f) = (wave(), 0.17 / (2.0 * std::f64::consts::PI));
        let single: Vec<f32> = w.iter().map(|v| *v as f32).collect();
        let frequencies = || (1..=10).map(|n| f64::from(n) * f);
        let (double, float) = (Tones::<f64>::new(frequencies()), Tones::<f32>::new(frequencies()));
        let (a, b) = (100.3, 100.3 + 30.0 / f);
        let (all, coarse) = (
            double.amplitudes(&w, a, b).expect("inside"),
            float.amplitudes(&single, a, b).expect("inside"),
        );
        for (k, g) in frequencies().enumerate() {
            let one = tone::amplitude(&w, a, b, 1.0, g).expect("inside");
            assert!((all[k] - one).norm() < 1e-12, "{k}");
            assert!((coarse[k] - one).norm() < 1e-6, "{k}");
            let sum = tone::transform_at(&w, 7, 1411, 1.0, g);
            assert!((double.transforms(&w, 7, 1411)[k] - sum).norm() < 1e-9);
        }
        assert!(double.amplitudes(&w, 1400.0, 1600.0).is_none());
    }
}
