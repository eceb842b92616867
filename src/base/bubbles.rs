//! Signs of bubbles in the shots of a scan. Part of `sheet.json`.

use serde::{Deserialize, Serialize};

/// Signs of bubbles in the shots of one scan, from a passive detector beside it or from its own traces.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BubbleSigns {
    /// The scan whose shots they are.
    pub scan: String,
    /// Id of the monitor's scan; null where the sensor's own traces were looked at.
    pub monitor: Option<String>,
    pub level: Option<f64>,
    /// In the order of the scan's shots or points.
    pub shots: Vec<ShotSigns>,
    /// Lowest and highest frequency looked at, Hz.
    pub band_hz: (f64, f64),
    /// Level over the baseline from which a shot is marked, dB.
    pub threshold_db: f64,
    /// Scans whose shots gave the baseline.
    pub baseline: Vec<String>,
}

/// Signs of bubbles in one shot.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct ShotSigns {
    /// Noise between the harmonics over its baseline, dB.
    pub noise_db: f64,
    /// Lines at odd halves of the drive frequency over their baseline, dB.
    pub lines_db: f64,
    /// One of the two reaches the threshold.
    pub marked: bool,
}

impl BubbleSigns {
    /// Part of the shots that are marked, 0 to 1; 0 without shots.
    pub fn fraction(&self) -> f64 {
        let marked = self.shots.iter().filter(|shot| shot.marked).count();
        marked as f64 / self.shots.len().max(1) as f64
    }
}
