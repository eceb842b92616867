//! `tis`, `tib`, `tic`: thermal indices of a beam that is not scanned.
//!
//! P is the time-average power of the stated exposure, I_ta its time-average intensity along the axis; with α
//! both derated up to their depth. Powers below in mW, intensities in mW/cm², areas in cm², lengths in cm,
//! frequencies in MHz, as the constants want them.
//!
//! # References
//! IEC 62359 (constants and places of evaluation from memory).

use super::derating::intensity_factor;

/// C_TIS, mW MHz.
const SOFT_TISSUE_MW_MHZ: f64 = 210.0;
/// C_TIB,1, mW/cm.
const BONE_MW_PER_CM: f64 = 50.0;
/// C_TIB,2, mW.
const BONE_MW: f64 = 4.4;
/// C_TIC, mW/cm.
const CRANIAL_MW_PER_CM: f64 = 40.0;
/// Aperture up to which the soft-tissue index is that at the surface, and side of the area over which it
/// counts below, cm².
const SMALL_CM2: f64 = 1.0;

const MW_PER_W: f64 = 1e3;
const MW_PER_CM2_PER_W_PER_M2: f64 = 0.1;
const CM2_PER_M2: f64 = 1e4;
const CM_PER_M: f64 = 1e2;
const MHZ_PER_HZ: f64 = 1e-6;

/// A beam along its axis.
#[derive(Debug, Clone, Copy)]
pub struct Beam<'a> {
    /// Time-average power, W.
    pub power_w: f64,
    pub frequency_hz: f64,
    /// Distances from the head, rising, m.
    pub depth_m: &'a [f64],
    /// Time-average intensities there, in water, W/m²; as long as `depth_m`.
    pub intensity_w_m2: &'a [f64],
}

/// What decides an index.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// The derated power.
    Power,
    /// The derated intensity.
    Intensity,
    /// Both, as the root of their product.
    Both,
}

/// An index below the surface, and where it was found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Below {
    pub value: f64,
    /// Place in `depth_m`.
    pub at: usize,
    pub by: By,
}

impl Beam<'_> {
    /// Depths with derated power, mW, and intensity, mW/cm².
    fn derated(&self) -> impl Iterator<Item = (usize, f64, f64, f64)> + '_ {
        self.depth_m.iter().zip(self.intensity_w_m2).enumerate().map(|(i, (z, intensity))| {
            let factor = intensity_factor(self.frequency_hz, *z);
            let power_mw = self.power_w * MW_PER_W * factor;
            (i, *z, power_mw, intensity.max(0.0) * MW_PER_CM2_PER_W_PER_M2 * factor)
        })
    }
}

/// Whether an aperture counts as small, so that the soft-tissue index is that at the surface: up to 1 cm².
pub fn is_small(aperture_m2: f64) -> bool {
    aperture_m2 * CM2_PER_M2 <= SMALL_CM2
}

/// z_bp = 1.5 D_eq = 1.5 √(4 A/π), 1.69 √A: the depth from which the soft-tissue index below the surface is
/// looked for, m.
///
/// # Examples
/// 12.57 cm²: 60 mm.
pub fn break_point_m(aperture_m2: f64) -> f64 {
    1.5 * equivalent_diameter_m(aperture_m2)
}

/// d_eq = √(4 A/π), m.
pub fn equivalent_diameter_m(aperture_m2: f64) -> f64 {
    (4.0 * aperture_m2 / std::f64::consts::PI).sqrt()
}

/// Soft tissue at the surface: P f/210.
///
/// # Units
/// W and Hz in, a pure number out.
pub fn soft_tissue_at_surface(power_w: f64, frequency_hz: f64) -> f64 {
    power_w * MW_PER_W * frequency_hz * MHZ_PER_HZ / SOFT_TISSUE_MW_MHZ
}

/// Soft tissue below the surface: the largest of min(P_α(z), I_ta,α(z) · 1 cm²) f/210 over depths z ≥ z_bp, at
/// the samples of the axis. `None` where the axis has none there.
pub fn soft_tissue_below(beam: &Beam<'_>, aperture_m2: f64) -> Option<Below> {
    let from_m = break_point_m(aperture_m2);
    let lesser = |(at, z, power, intensity): (usize, f64, f64, f64)| {
        let heat = intensity * SMALL_CM2;
        let (mw, by) = if power <= heat { (power, By::Power) } else { (heat, By::Intensity) };
        (z >= from_m).then(|| Below {
            value: mw * beam.frequency_hz * MHZ_PER_HZ / SOFT_TISSUE_MW_MHZ,
            at,
            by,
        })
    };
    beam.derated()
        .filter_map(lesser)
        .reduce(|best, one| if one.value > best.value { one } else { best })
}

/// Bone at a focus: min(√(P_α I_ta,α)/50, P_α/4.4) at the sample of the axis where P_α I_ta,α is largest.
/// `None` where there is no energy.
pub fn bone(beam: &Beam<'_>) -> Option<Below> {
    let (at, _, power, intensity) = beam
        .derated()
        .reduce(|best, one| if one.2 * one.3 > best.2 * best.3 { one } else { best })
        .filter(|(_, _, power, intensity)| power * intensity > 0.0)?;
    let both = (power * intensity).sqrt() / BONE_MW_PER_CM;
    let alone = power / BONE_MW;
    Some(if both <= alone {
        Below { value: both, at, by: By::Both }
    } else {
        Below { value: alone, at, by: By::Power }
    })
}

/// Cranial bone at the surface: (P/d_eq)/40.
///
/// # Units
/// W and m² in, a pure number out.
pub fn cranial_bone(power_w: f64, aperture_m2: f64) -> f64 {
    power_w * MW_PER_W / (equivalent_diameter_m(aperture_m2) * CM_PER_M) / CRANIAL_MW_PER_CM
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Water values that are these after derating, at one depth.
    fn at_depth(
        power_mw: f64,
        intensity_mw_cm2: f64,
        z_m: f64,
        f_hz: f64,
    ) -> (f64, [f64; 1], [f64; 1]) {
        let factor = intensity_factor(f_hz, z_m);
        (power_mw * 1e-3 / factor, [z_m], [intensity_mw_cm2 * 10.0 / factor])
    }

    /// IEC 62359 constants, values by mpmath: 60 mW at 3.5 MHz give TIS 1 at the surface; 40 mW and 200
    /// mW/cm² after derating TIS 0.666 667 below it and TIB min(1.788 854, 9.090 909); 100 mW from 1.2 cm
    /// TIC 2.083 333.
    #[test]
    fn worked_cases() {
        assert!((soft_tissue_at_surface(0.06, 3.5e6) - 1.0).abs() < 1e-12);
        let area_m2 = std::f64::consts::PI / 4.0 * 0.012f64.powi(2);
        assert!((cranial_bone(0.1, area_m2) - 2.083_333_333_333_33).abs() < 1e-12);
        let (power_w, depth_m, intensity_w_m2) = at_depth(40.0, 200.0, 0.05, 3.5e6);
        let beam = Beam {
            power_w,
            frequency_hz: 3.5e6,
            depth_m: &depth_m,
            intensity_w_m2: &intensity_w_m2,
        };
        let tis = soft_tissue_below(&beam, 2e-4).expect("beyond the break point");
        assert!((tis.value - 0.666_666_666_666_667).abs() < 1e-12, "{tis:?}");
        assert_eq!(tis.by, By::Power);
        let tib = bone(&beam).expect("energy");
        assert!((tib.value - 1.788_854_381_999_83).abs() < 1e-12, "{tib:?}");
        assert_eq!(tib.by, By::Both);
    }

    /// The other branches, by hand: an intensity of 30 mW/cm² heats less than 40 mW do; 1 mW at 5000 mW/cm²
    /// is limited by its power, 1/4.4.
    #[test]
    fn other_branches() {
        let (power_w, depth_m, intensity_w_m2) = at_depth(40.0, 30.0, 0.05, 3.5e6);
        let beam = Beam {
            power_w,
            frequency_hz: 3.5e6,
            depth_m: &depth_m,
            intensity_w_m2: &intensity_w_m2,
        };
        let tis = soft_tissue_below(&beam, 2e-4).expect("found");
        assert!((tis.value - 0.5).abs() < 1e-12 && tis.by == By::Intensity, "{tis:?}");
        let (power_w, depth_m, intensity_w_m2) = at_depth(1.0, 5000.0, 0.05, 3.5e6);
        let beam = Beam { power_w, depth_m: &depth_m, intensity_w_m2: &intensity_w_m2, ..beam };
        let tib = bone(&beam).expect("found");
        assert!((tib.value - 1.0 / 4.4).abs() < 1e-12 && tib.by == By::Power, "{tib:?}");
    }

    /// z_bp = 1.69 √A: 1.692 568 8 √A (1.5 √(4/π), by mpmath). Nearer depths do not count for soft tissue.
    #[test]
    fn break_point() {
        assert!((break_point_m(1e-4) - 1.692_568_8e-2).abs() < 1e-9);
        assert!(is_small(1e-4) && !is_small(1.01e-4));
        let beam = Beam {
            power_w: 1.0,
            frequency_hz: 1e6,
            depth_m: &[0.01, 0.02],
            intensity_w_m2: &[1e4, 1e3],
        };
        assert_eq!(soft_tissue_below(&beam, 1.2e-4).expect("one beyond").at, 1);
        assert_eq!(soft_tissue_below(&beam, 10e-4), None);
        assert_eq!(bone(&beam).expect("found").at, 0);
    }
}
