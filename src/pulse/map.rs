//! What every point of a raster gives, gathered in one pass over a band.

use rustfft::FftNum;
use rustfft::num_complex::Complex;

use super::{Windows, peak_pressure, pulse_pressure_squared_integral as ppsi};
use crate::calibration::{PressureMaker, RawWave};
use crate::dsp::energy::square_integral;
use crate::dsp::extremum::Interpolator;
use crate::dsp::tones::Tones;
use crate::dsp::{onset, tone};
use crate::formats::container::Samples;
use crate::scan::Volts;

/// Harmonics kept for every point.
pub const MAP_HARMONICS: usize = 10;
/// Numbers a point takes in a band's table.
pub const WIDTH: usize = 8 + 2 * MAP_HARMONICS;

const CLIPPED: u32 = 1;
const HAS_NOISE: u32 = 2;
const HAS_STEADY: u32 = 4;
const SKIPPED: u32 = 8;
const HAS_ONSET: u32 = 16;

/// One point of a scan.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Point {
    pub pc_pa: f64,
    pub pr_pa: f64,
    /// ∫p² over the whole-pulse window, noise included, Pa² s.
    pub ppsi_pa2_s: f64,
    /// Mean square of the part before the arrival, Pa².
    pub noise_pa2: Option<f64>,
    /// Mean square over the steady window, noise included, Pa².
    pub steady_pa2: Option<f64>,
    /// Complex amplitudes of the harmonics 1 … over the steady window, else transforms of the whole
    /// pulse; the phase refers to the first sample.
    pub harmonics: [Complex<f64>; MAP_HARMONICS],
    /// Half-amplitude point of the rise, s after the record's first sample; `None` without a drive
    /// frequency.
    pub onset_s: Option<f64>,
    /// Whether raw samples stood at the digitiser's end.
    pub clipped: bool,
    /// Samples that were not finite numbers.
    pub broken: usize,
    /// The band could not be computed.
    pub skipped: bool,
}

impl Point {
    /// As a row of a band's table.
    pub fn to_row(&self) -> [f64; WIDTH] {
        let mut flags = 0;
        if self.clipped {
            flags |= CLIPPED
        }
        if self.noise_pa2.is_some() {
            flags |= HAS_NOISE
        }
        if self.steady_pa2.is_some() {
            flags |= HAS_STEADY
        }
        if self.skipped {
            flags |= SKIPPED
        }
        if self.onset_s.is_some() {
            flags |= HAS_ONSET
        }
        let mut row = [0.0; WIDTH];
        row[0] = self.pc_pa;
        row[1] = self.pr_pa;
        row[2] = self.ppsi_pa2_s;
        row[3] = self.noise_pa2.unwrap_or(0.0);
        row[4] = self.steady_pa2.unwrap_or(0.0);
        row[5] = f64::from(flags);
        row[6] = self.broken as f64;
        row[7] = self.onset_s.unwrap_or(0.0);
        for (k, h) in self.harmonics.iter().enumerate() {
            row[8 + 2 * k] = h.re;
            row[9 + 2 * k] = h.im;
        }
        row
    }

    /// From a row of a band's table; `None` unless it has the right length.
    pub fn from_row(row: &[f64]) -> Option<Self> {
        if row.len() != WIDTH {
            return None;
        }
        let flags = row[5] as u32;
        let has = |bit: u32| flags & bit != 0;
        let mut harmonics = [Complex::default(); MAP_HARMONICS];
        for (k, h) in harmonics.iter_mut().enumerate() {
            *h = Complex::new(row[8 + 2 * k], row[9 + 2 * k]);
        }
        Some(Self {
            pc_pa: row[0],
            pr_pa: row[1],
            ppsi_pa2_s: row[2],
            noise_pa2: has(HAS_NOISE).then_some(row[3]),
            steady_pa2: has(HAS_STEADY).then_some(row[4]),
            harmonics,
            onset_s: has(HAS_ONSET).then_some(row[7]),
            clipped: has(CLIPPED),
            broken: row[6] as usize,
            skipped: has(SKIPPED),
        })
    }

    /// A point whose band could not be computed.
    pub fn skipped() -> Self {
        Self { skipped: true, ..Self::default() }
    }
}

/// Computes the points of a band, two waveforms at a time.
pub struct BandWorker<T: FftNum> {
    maker: PressureMaker<T>,
    between: Interpolator,
    volts: Volts,
    samples: usize,
    interval_s: f64,
    tones: Option<Tones<T>>,
    /// Samples in a period of the drive.
    period: Option<f64>,
    a: Vec<T>,
    b: Vec<T>,
}

impl<T: FftNum + Into<f64>> BandWorker<T> {
    /// Prepares for waveforms of a fixed length.
    pub fn new(
        maker: PressureMaker<T>,
        volts: Volts,
        samples: usize,
        interval_s: f64,
        frequency_hz: Option<f64>,
    ) -> Self {
        Self {
            maker,
            between: Interpolator::new(),
            volts,
            samples,
            interval_s,
            tones: frequency_hz
                .map(|f| Tones::new((1..=MAP_HARMONICS).map(|n| n as f64 * f * interval_s))),
            period: frequency_hz.map(|f| 1.0 / (f * interval_s)),
            a: vec![T::zero(); samples],
            b: vec![T::zero(); samples],
        }
    }

    /// The points of `raw` (row-major, points × samples); `windows_of` gives the windows of each.
    pub fn run(&mut self, raw: &Samples, windows_of: impl Fn(usize) -> Windows) -> Vec<Point> {
        let n = self.samples;
        let points = raw.len() / n.max(1);
        let mut out = Vec::with_capacity(points);
        let mut i = 0;
        while i < points {
            let windows = (windows_of(i), windows_of(i + 1));
            let first = RawWave { start: i * n, baseline: windows.0.baseline };
            let second = (i + 1 < points)
                .then_some(RawWave { start: (i + 1) * n, baseline: windows.1.baseline });
            let broken = self.maker.run(raw, first, second, (&mut self.a, &mut self.b));
            out.push(self.point(&self.a, raw, i, broken.0, &windows.0));
            if second.is_some() {
                out.push(self.point(&self.b, raw, i + 1, broken.1, &windows.1));
            }
            i += 2;
        }
        out
    }

    fn point(
        &self,
        p: &[T],
        raw: &Samples,
        index: usize,
        broken: usize,
        windows: &Windows,
    ) -> Point {
        let pulse = windows.pulse;
        let top = |found: Option<(f64, f64)>| found.map_or(0.0, |(value, _)| value);
        let mean_square = |(a, b): (usize, usize)| square_integral(p, a, b, 1.0) / (b - a) as f64;
        let mut harmonics = [Complex::default(); MAP_HARMONICS];
        if let Some(tones) = &self.tones {
            let found = match windows.steady {
                Some((a, b)) => tones.amplitudes(p, a, b).unwrap_or_default(),
                None => {
                    let mut sums = tones.transforms(p, pulse.0, pulse.1);
                    sums.iter_mut().for_each(|sum| *sum *= 2.0 * self.interval_s);
                    sums
                }
            };
            harmonics.iter_mut().zip(found).for_each(|(slot, value)| *slot = value);
        }
        let onset = self.period.and_then(|period| onset::half_rise(p, pulse.0, pulse.1, period));
        Point {
            pc_pa: top(peak_pressure::compressional(p, pulse, &self.between)),
            pr_pa: top(peak_pressure::rarefactional(p, pulse, &self.between)),
            ppsi_pa2_s: ppsi::ppsi(p, pulse, self.interval_s),
            noise_pa2: windows.noise.map(mean_square),
            steady_pa2: windows.steady.and_then(|(a, b)| tone::mean_square(p, a, b)),
            harmonics,
            onset_s: onset.map(|sample| sample * self.interval_s),
            clipped: self.volts.clipped(raw, index * self.samples, (index + 1) * self.samples),
            broken,
            skipped: false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_keep_points() {
        let point = Point {
            pc_pa: 2.0,
            noise_pa2: Some(0.5),
            clipped: true,
            broken: 3,
            harmonics: [Complex::new(1.0, -2.0); MAP_HARMONICS],
            onset_s: Some(2e-6),
            ..Point::default()
        };
        assert_eq!(Point::from_row(&point.to_row()), Some(point));
        assert_eq!(Point::from_row(&[0.0; 3]), None);
    }
}
