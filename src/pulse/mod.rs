//! One waveform in, per-point quantities out; one file a quantity.
//!
//! [`map`] gathers what every point of a raster needs (f32 transforms, f64 sums); the other files
//! define the quantities of a single waveform, in f64.

pub mod bandwidth;
pub mod harmonics;
pub mod map;
pub mod noise_equivalent;
pub mod on_intensity;
pub mod peak_bias;
pub mod peak_pressure;
pub mod pulse_average_intensity;
pub mod pulse_duration;
pub mod pulse_intensity_integral;
pub mod pulse_pressure_squared_integral;
pub mod repeat_average;
pub mod steady_peaks;
pub mod temporal_average_intensity;
pub mod uncertainty;
pub mod working_frequency;

use serde::{Deserialize, Serialize};

/// Windows of a scan as the survey froze them, in samples of the reference point; a point whose
/// arrival is shifted by geometry uses them shifted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Windows {
    /// Whole pulse: from before the arrival to after the ring-down.
    pub pulse: (usize, usize),
    /// Whole cycles of the steady part, fractional samples; none for short pulses or where no whole
    /// cycle remains.
    pub steady: Option<(f64, f64)>,
    /// Part before the arrival whose mean is the baseline, without the drive feed-through.
    pub baseline: Option<(usize, usize)>,
    /// Part before the arrival in which noise is measured.
    pub noise: Option<(usize, usize)>,
    /// Whether the record holds the burst to its end.
    pub holds_burst: bool,
}

impl Windows {
    /// The windows of a point whose arrival comes `shift` samples later, cut to the record.
    #[must_use]
    pub fn shifted(&self, shift: i64, samples: usize) -> Self {
        let whole =
            |i: usize| usize::try_from((i as i64 + shift).clamp(0, samples as i64)).unwrap_or(0);
        let part = |range: Option<(usize, usize)>| {
            range.map(|(a, b)| (whole(a), whole(b))).filter(|(a, b)| b > a)
        };
        let steady = self
            .steady
            .map(|(a, b)| (a + shift as f64, b + shift as f64))
            .filter(|(a, b)| *a >= 0.0 && *b <= samples as f64 - 1.0);
        Self {
            pulse: (whole(self.pulse.0), whole(self.pulse.1)),
            steady,
            baseline: part(self.baseline),
            noise: part(self.noise),
            holds_burst: self.holds_burst,
        }
    }
}
