//! Area of the source.

use crate::record::Device;

/// The stated area of the source, else that of the aperture's flat ring, m².
pub fn source_area_m2(device: &Device) -> Option<f64> {
    device.source_area_m2.or_else(|| {
        let outer = device.aperture_radius_m?;
        let inner = device.aperture_inner_radius_m.unwrap_or(0.0);
        Some(std::f64::consts::PI * (outer * outer - inner * inner))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stated_or_of_the_aperture() {
        let mut device = Device {
            aperture_radius_m: Some(0.03),
            aperture_inner_radius_m: Some(0.01),
            ..Device::default()
        };
        let ring = source_area_m2(&device).expect("an aperture");
        assert!((ring - 8e-4 * std::f64::consts::PI).abs() < 1e-15);
        device.source_area_m2 = Some(3e-3);
        assert_eq!(source_area_m2(&device), Some(3e-3));
        assert_eq!(source_area_m2(&Device::default()), None);
    }
}
