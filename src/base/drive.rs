//! Quantities against the drive level. Part of `sheet.json`.

use serde::{Deserialize, Serialize};

/// A sweep of drive levels at one place.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct DriveCurve {
    pub id: String,
    /// Unit of the levels as stated; empty where it is not.
    pub unit: String,
    /// What the pressure is drawn against: `level`, `root-of-level`; null where the kind of the levels is
    /// not known.
    pub against: Option<String>,
    /// In the order of time.
    pub rows: Vec<DriveRow>,
    pub pc_line: Option<DriveLine>,
    pub pr_line: Option<DriveLine>,
    /// Acoustic power of the level aimed at re that of a linear level, by which linear values are scaled.
    pub scaling: Option<Scaling>,
}

/// One level of a sweep.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct DriveRow {
    pub scan: String,
    pub level: f64,
    pub range: Option<String>,
    /// Shots recorded, and those on which the values rest.
    pub shots: usize,
    pub used: usize,
    /// Part of the shots that a monitor marks as with bubbles; null without one.
    pub bubble_fraction: Option<f64>,
    pub pc_pa: Option<f64>,
    /// Standard uncertainty of what differs from level to level.
    pub u_pc_pa: Option<f64>,
    /// Expanded uncertainty, all of it.
    pub u_expanded_pc_pa: Option<f64>,
    pub pr_pa: Option<f64>,
    pub u_pr_pa: Option<f64>,
    pub u_expanded_pr_pa: Option<f64>,
    pub ppsi_pa2_s: Option<f64>,
    pub p1_pa: Option<f64>,
    /// Harmonics 2 … 10 re the fundamental; null below the noise.
    pub harmonics: Vec<Option<f64>>,
    pub thd: Option<f64>,
    /// Noise-equivalent pressure at the range.
    pub nep_pa: Option<f64>,
    /// Rise of the front from 10 to 90 %.
    pub front_rise_s: Option<f64>,
    pub sigma_q: Option<f64>,
    pub sigma_m: Option<f64>,
    /// Of a plane wave with the amplitude that the source has without steepening.
    pub shock_distance_m: Option<f64>,
    /// Peaks were clipped: values are at least these.
    pub lower_bound: bool,
}

/// Weighted straight line through the levels that are found linear.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct DriveLine {
    /// Pa per unit of the level, or of its root.
    pub slope: f64,
    pub u_slope: f64,
    pub intercept_pa: f64,
    pub u_intercept_pa: f64,
    /// Measurements on the line.
    pub points: usize,
    /// Highest level of the line.
    pub level_max: f64,
    /// Departure from the line at the highest level measured, as a part of the line.
    pub departure_top: f64,
    pub u_departure_top: f64,
}

/// How values of a linear level are carried to a higher one.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Scaling {
    /// Scan of the linear level.
    pub scan: String,
    pub level: f64,
    /// Level aimed at.
    pub target: f64,
    /// Ratio of the powers, with its relative standard uncertainty.
    pub ratio: f64,
    pub u_relative: f64,
    /// `power-readings` or `drive-amplitudes`.
    pub from: String,
}

/// Planes or lines at one place and several levels.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LevelFields {
    /// `plane`, `line`, `axial`.
    pub role: String,
    /// The axis of the profiles: `x`, `y`, `z`.
    pub axis: String,
    pub z_m: Option<f64>,
    /// From the lowest level to the highest.
    pub fields: Vec<LevelField>,
}

/// One of them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LevelField {
    pub scan: String,
    pub level: f64,
    /// Extents by quantity id, m or m².
    pub extents: std::collections::BTreeMap<String, f64>,
    /// Profile along the axis through the peak: places from the peak of pc, m, pc and pr re their peaks.
    pub along_m: Vec<f64>,
    pub pc: Vec<f64>,
    pub pr: Vec<f64>,
}
