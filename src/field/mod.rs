//! From per-point quantities to the field: where its peak is, how wide, how large, how strong.
//!
//! One concept a file. Maps are row-major (y, x) with rising coordinates in metres; values are the
//! quantity's SI values after the noise energy was subtracted.

pub mod angular_power;
pub mod beam_area;
pub mod beam_axis;
pub mod beam_half_angle;
pub mod beam_width;
pub mod beyond_window;
pub mod comb;
pub mod disc_average;
pub mod disc_directivity;
pub mod drift;
pub mod effective_area;
pub mod focal_volume;
pub mod head_distance;
pub mod local_distortion;
pub mod mean_intensity;
pub mod phase_scatter;
pub mod power;
pub mod principal_axes;
pub mod repair;
pub mod side_lobe;
pub mod source_area;
pub mod spatial_average_relation;
pub mod spatial_peak;
pub mod spikes;
pub mod tilt;

/// How a level in decibels becomes a ratio.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scale {
    /// ppsi, intensities: 10^(−x/10).
    Energy,
    /// pc, pr, harmonics: 10^(−x/20).
    Amplitude,
}

impl Scale {
    /// Ratio of a level `db` below the peak.
    ///
    /// # References
    /// IEC 62127-3 as quoted in open glossaries: levels of beam widths are ratios of the
    /// pulse-pressure-squared integral, 10 log10.
    pub fn ratio(self, db: f64) -> f64 {
        match self {
            Self::Energy => 10f64.powf(-db / 10.0),
            Self::Amplitude => 10f64.powf(-db / 20.0),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Scale;

    /// −3, −6, −12 dB: energy 0.5011872, 0.2511886, 0.06309573; pressure 0.7079458, 0.5011872,
    /// 0.2511886 (definition of the decibel; −6 dB is not exactly half).
    #[test]
    fn decibels() {
        for (db, energy, amplitude) in [
            (3.0, 0.501_187_2, 0.707_945_8),
            (6.0, 0.251_188_6, 0.501_187_2),
            (12.0, 0.063_095_73, 0.251_188_6),
        ] {
            assert!((Scale::Energy.ratio(db) - energy).abs() < 1e-7);
            assert!((Scale::Amplitude.ratio(db) - amplitude).abs() < 1e-7);
        }
    }
}
