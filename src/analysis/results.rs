//! What an analysis gives: quantities, findings, and the data that the figures show. SI.

use std::collections::BTreeMap;

use super::safety::along::Along;
use crate::base::bubbles::BubbleSigns;
use crate::base::depths::Stack;
use crate::base::drive::{DriveCurve, LevelFields};
use crate::base::finding::{Finding, Severity};
use crate::base::quantity::{Quantity, Window};
use crate::base::range_noise::RangeNoise;
use crate::base::revisits::Revisits;
use crate::base::safety::SafetyBasis;
use crate::base::sheet::Conditions;
use crate::base::transfer::Transfer;
use crate::base::verdict::{Repeats, VerdictEntry};
use crate::pulse::uncertainty::WaveUncertainty;
use crate::record::{Record, Role};

/// All results of a record.
#[derive(Debug, Clone, PartialEq)]
pub struct Results {
    pub record: Record,
    pub conditions: Conditions,
    pub scans: Vec<ScanResult>,
    pub findings: Vec<Finding>,
    /// Factors that check sources gave.
    pub transfers: Vec<Transfer>,
    /// Planes at several depths.
    pub depths: Vec<Stack>,
    pub revisits: Vec<Revisits>,
    /// Verdicts on the stated values, in the order of the record.
    pub verdicts: Vec<VerdictEntry>,
    /// Repeats of planes and points.
    pub repeats: Vec<Repeats>,
    /// Signs of bubbles, of sweeps and of scans with a monitor beside them.
    pub bubbles: Vec<BubbleSigns>,
    /// Planes and lines at several levels.
    pub level_fields: Vec<LevelFields>,
    /// Noise and largest pressure of each gain range.
    pub ranges: Vec<RangeNoise>,
    /// On what the safety values rest; empty where the record does not ask for them.
    pub safety: Vec<SafetyBasis>,
    /// Layouts that were proposed and used, by the index of the scan in the record.
    pub layouts: std::collections::BTreeMap<usize, crate::record::Layout>,
    pub unused_files: Vec<String>,
}

/// Results of one scan.
#[derive(Debug, Clone, PartialEq)]
pub struct ScanResult {
    pub id: String,
    pub role: Role,
    pub file: String,
    pub range: Option<String>,
    pub level: Option<f64>,
    pub points: usize,
    pub samples: usize,
    pub interval_s: f64,
    /// Whether values are pascals; otherwise the record states no response and they are volts.
    pub calibrated: bool,
    /// Codes of how volts became pascals, with their values.
    pub calibration: BTreeMap<String, String>,
    pub fitness: Severity,
    pub quantities: Vec<Quantity>,
    /// Cells that were excluded, row-major.
    pub excluded: Vec<usize>,
    pub picture: Picture,
    pub focal: Option<FocalWave>,
    /// The axis along which values were derated; none where they were not asked for.
    pub along: Option<Along>,
    /// Response and signal against frequency, for the calibration's figure.
    pub response: Option<ResponseCurve>,
}

/// Field data of a scan.
#[derive(Debug, Clone, PartialEq)]
pub enum Picture {
    Plane(Box<PlanePicture>),
    Line(Box<LinePicture>),
    /// A sweep as a whole.
    Drive(Box<DriveCurve>),
    None,
}

/// Maps of a plane, row-major (y, x), excluded points replaced.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanePicture {
    pub x_m: Vec<f64>,
    pub y_m: Vec<f64>,
    pub z_m: Option<f64>,
    pub pc_pa: Vec<f64>,
    pub pr_pa: Vec<f64>,
    pub ppsi_pa2_s: Vec<f64>,
    /// Amplitudes, Pa, of the harmonics that stand out, by their number; the fundamental first. Empty
    /// without a drive frequency.
    pub harmonics: Vec<(u32, Vec<f64>)>,
    /// Phase of the fundamental re that at the peak, rad.
    pub phase_rad: Vec<f64>,
    /// Half-amplitude point of the rise re that at the peak, s.
    pub arrival_s: Option<Vec<f64>>,
    pub replaced: Vec<usize>,
    /// Peak of ppsi, (x, y), m.
    pub peak_m: (f64, f64),
    /// Peak value of ppsi.
    pub peak_ppsi: f64,
    /// Profiles of ppsi through the peak.
    pub profile_x: Vec<f64>,
    pub profile_y: Vec<f64>,
    /// −6 dB limits along x and y, m.
    pub width_x: Option<(f64, f64)>,
    pub width_y: Option<(f64, f64)>,
    /// Profiles of the peak pressures, each through its own peak.
    pub profiles_pc: Option<PressureProfiles>,
    pub profiles_pr: Option<PressureProfiles>,
}

/// Profiles of a peak pressure along x and y through its own peak.
#[derive(Debug, Clone, PartialEq)]
pub struct PressureProfiles {
    pub peak_pa: f64,
    /// Peak (x, y), m.
    pub peak_m: (f64, f64),
    pub x_pa: Vec<f64>,
    pub y_pa: Vec<f64>,
    /// −6 dB limits along x and y, m.
    pub width_x: Option<(f64, f64)>,
    pub width_y: Option<(f64, f64)>,
}

/// Values along a line.
#[derive(Debug, Clone, PartialEq)]
pub struct LinePicture {
    /// `x`, `y` or `z`.
    pub axis: &'static str,
    pub along_m: Vec<f64>,
    pub pc_pa: Vec<f64>,
    pub pr_pa: Vec<f64>,
    pub ppsi_pa2_s: Vec<f64>,
    pub peak_m: f64,
    pub peak_ppsi: f64,
    pub extent_6: Option<(f64, f64)>,
    pub replaced: Vec<usize>,
}

/// The waveform at (the grid point nearest to) the spatial peak, and its spectrum.
#[derive(Debug, Clone, PartialEq)]
pub struct FocalWave {
    /// Position (x, y, z), m, where stated.
    pub position_m: [Option<f64>; 3],
    pub t0_s: f64,
    pub interval_s: f64,
    pub p_pa: Vec<f64>,
    /// Peak values with their instants, s.
    pub pc: (f64, f64),
    pub pr: (f64, f64),
    pub pulse: Window,
    pub steady: Option<Window>,
    /// Step of the amplitude spectrum, Hz.
    pub spectrum_step_hz: f64,
    /// Amplitude spectrum of the window, dB re its maximum.
    pub spectrum_db: Vec<f64>,
    pub frequency_hz: Option<f64>,
    pub lowpass_cutoff_hz: f64,
    /// Uncertainty of its peaks and its ∫p², and of the pressure at instants; none for volts.
    pub uncertainty: Option<WaveUncertainty>,
}

/// Response of the chain as used.
#[derive(Debug, Clone, PartialEq)]
pub struct ResponseCurve {
    pub frequency_hz: Vec<f64>,
    pub v_per_pa: Vec<f64>,
    /// Relative standard uncertainty at each row, where the table has it.
    pub u_relative: Option<Vec<f64>>,
    pub cutoff_hz: f64,
}

impl FocalWave {
    /// Standard uncertainty of the pressure at an instant, Pa, between the instants at which it was
    /// computed; the nearest one's beyond them.
    pub fn u_at(&self, t_s: f64) -> Option<f64> {
        let instants = &self.uncertainty.as_ref()?.instants;
        let sample = (t_s - self.t0_s) / self.interval_s;
        let after = instants.partition_point(|i| (i.sample as f64) < sample);
        match (after.checked_sub(1).and_then(|i| instants.get(i)), instants.get(after)) {
            (Some(a), Some(b)) => {
                let part = (sample - a.sample as f64) / (b.sample - a.sample) as f64;
                Some(a.u_pa + part * (b.u_pa - a.u_pa))
            }
            (Some(one), None) | (None, Some(one)) => Some(one.u_pa),
            (None, None) => None,
        }
    }
}
