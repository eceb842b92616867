//! Distances from the head: the scanner's z, the datum that the record names, the geometric focus.

use crate::base::quantity::Reason;
use crate::record::{Device, Frame, ZZero};

/// Distance along z of a place of the scan from the datum, z_head = z + `frame.z_offset_m`, m; without
/// an offset z itself.
pub fn from_datum_m(frame: &Frame, z_m: f64) -> f64 {
    z_m + frame.z_offset_m.unwrap_or(0.0)
}

/// Where the head begins, as distance from the datum, m: its apex, its face or the end of its coupling
/// cone, whichever the record names; for z counted from the focus the apex, −R.
///
/// # Errors
/// The blank that is missing, or that the datum is stated as unknown.
pub fn head_m(frame: &Frame, device: &Device) -> Result<f64, Reason> {
    match frame.z_zero {
        None => Err(Reason::blank("frame.z_zero")),
        Some(ZZero::Unknown) => Err(Reason::new("z-zero-unknown")),
        Some(ZZero::Apex | ZZero::Face | ZZero::Cone) => Ok(0.0),
        Some(ZZero::Focus) => device
            .radius_of_curvature_m
            .map(|radius| -radius)
            .ok_or_else(|| Reason::blank("device.radius_of_curvature_m")),
    }
}

/// Where the geometric focus lies, as distance from the datum, m: the centre of curvature of a bowl of
/// radius R, at R from the apex, at √(R² − a²) from the plane of a rim of radius a, at 0 where z is
/// counted from the focus.
///
/// # Errors
/// The blank that is missing, or that nothing says where the datum lies on the bowl.
///
/// # Examples
/// R = 45 mm, a = 20 mm: 45 mm from the apex, 40.311 mm from the face.
pub fn geometric_focus_m(frame: &Frame, device: &Device) -> Result<f64, Reason> {
    let radius = || {
        device.radius_of_curvature_m.ok_or_else(|| Reason::blank("device.radius_of_curvature_m"))
    };
    match frame.z_zero {
        None => Err(Reason::blank("frame.z_zero")),
        Some(ZZero::Unknown) => Err(Reason::new("z-zero-unknown")),
        Some(ZZero::Cone) => Err(Reason::new("z-zero-cone")),
        Some(ZZero::Focus) => Ok(0.0),
        Some(ZZero::Apex) => radius(),
        Some(ZZero::Face) => {
            let rim = device
                .aperture_radius_m
                .ok_or_else(|| Reason::blank("device.aperture_radius_m"))?;
            let radius = radius()?;
            let square = radius * radius - rim * rim;
            if square > 0.0 { Ok(square.sqrt()) } else { Err(Reason::new("not-a-bowl")) }
        }
    }
}

/// `focus_shift`: place of the pressure peak along the beam less that of the geometric focus, m;
/// negative toward the head. `z_m` is on the scan's own axis.
///
/// # Errors
/// As [`geometric_focus_m`].
///
/// # References
/// O'Neil, J. Acoust. Soc. Am. 21 (1949) 516: the peak of a focusing bowl lies nearer to the head than
/// its centre of curvature.
pub fn focus_shift_m(frame: &Frame, device: &Device, z_m: f64) -> Result<f64, Reason> {
    geometric_focus_m(frame, device).map(|focus| from_datum_m(frame, z_m) - focus)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn frame(z_zero: Option<ZZero>, z_offset_m: Option<f64>) -> Frame {
        Frame { z_zero, z_offset_m, ..Frame::default() }
    }

    fn bowl(radius: Option<f64>, aperture: Option<f64>) -> Device {
        Device { radius_of_curvature_m: radius, aperture_radius_m: aperture, ..Device::default() }
    }

    /// O'Neil's bowls, R = 100 mm, a = 30 mm and R = 63.2 mm, a = 32 mm: maxima on the axis at
    /// 97.0505 mm and 62.76708 mm from the apex (closed form, J. Acoust. Soc. Am. 21 (1949) 516), so
    /// −2.9495 mm and −0.43292 mm; the same from the rim plane, h = R − √(R² − a²) further on, and from
    /// the focus; the scanner's zero 20 mm off.
    #[test]
    fn oneil_bowls() {
        for (r, a, peak, shift) in
            [(0.1, 0.03, 97.0505e-3, -2.9495e-3), (63.2e-3, 32e-3, 62.76708e-3, -0.43292e-3)]
        {
            let device = bowl(Some(r), Some(a));
            let h = r - f64::sqrt(r * r - a * a);
            for (zero, z) in
                [(ZZero::Apex, peak), (ZZero::Face, peak - h), (ZZero::Focus, peak - r)]
            {
                for offset in [None, Some(0.0), Some(0.02), Some(-0.3)] {
                    let scanned = z - offset.unwrap_or(0.0);
                    let found = focus_shift_m(&frame(Some(zero), offset), &device, scanned);
                    assert!((found.expect("known") - shift).abs() < 1e-9, "{zero:?} {offset:?}");
                }
            }
        }
    }

    #[test]
    fn what_is_missing() {
        let device = bowl(Some(0.045), Some(0.02));
        let of = |zero, device: &Device| {
            focus_shift_m(&frame(zero, None), device, 0.04).expect_err("null")
        };
        assert_eq!(of(None, &device), Reason::blank("frame.z_zero"));
        assert_eq!(of(Some(ZZero::Unknown), &device).code, "z-zero-unknown");
        assert_eq!(of(Some(ZZero::Cone), &device).code, "z-zero-cone");
        let blank = Reason::blank("device.radius_of_curvature_m");
        assert_eq!(of(Some(ZZero::Apex), &bowl(None, Some(0.02))), blank);
        assert_eq!(of(Some(ZZero::Face), &bowl(None, Some(0.02))), blank);
        let blank = Reason::blank("device.aperture_radius_m");
        assert_eq!(of(Some(ZZero::Face), &bowl(Some(0.045), None)), blank);
        assert_eq!(of(Some(ZZero::Face), &bowl(Some(0.02), Some(0.045))).code, "not-a-bowl");
        assert_eq!(head_m(&frame(Some(ZZero::Cone), None), &device), Ok(0.0));
        assert_eq!(head_m(&frame(Some(ZZero::Focus), None), &device), Ok(-0.045));
        assert!(head_m(&frame(None, None), &device).is_err());
    }
}
