//! The one place with scale factors: units as typed or printed, against SI.
//!
//! Stages compute in coherent SI; units are met only by readers (typed or stored values) and by
//! the report (printed values).

/// Pascals in a megapascal.
pub const PA_PER_MPA: f64 = 1e6;

/// A unit as printed on the sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PrintUnit {
    pub key: &'static str,
    /// As the trade prints it, for example `W/cm²`.
    pub text: &'static str,
    /// Multiply an SI value by this to print it.
    pub per_si: f64,
}

const fn unit(key: &'static str, text: &'static str, per_si: f64) -> PrintUnit {
    PrintUnit { key, text, per_si }
}

const PRINT_UNITS: &[PrintUnit] = &[
    unit("1", "", 1.0),
    unit("%", "%", 100.0),
    unit("MPa", "MPa", 1e-6),
    unit("kPa", "kPa", 1e-3),
    unit("Pa", "Pa", 1.0),
    unit("Pa2 s", "Pa² s", 1.0),
    unit("Pa/Hz^0.5", "Pa/√Hz", 1.0),
    unit("mJ/cm2", "mJ/cm²", 0.1),
    unit("us", "µs", 1e6),
    unit("ns", "ns", 1e9),
    unit("s", "s", 1.0),
    unit("W/cm2", "W/cm²", 1e-4),
    unit("mW/cm2", "mW/cm²", 0.1),
    unit("MHz", "MHz", 1e-6),
    unit("Hz", "Hz", 1.0),
    unit("mm", "mm", 1e3),
    unit("m", "m", 1.0),
    unit("mm2", "mm²", 1e6),
    unit("W", "W", 1.0),
    unit("mW", "mW", 1e3),
    unit("dB", "dB", 1.0),
    unit("deg", "°", 180.0 / std::f64::consts::PI),
    unit("K", "K", 1.0),
    unit("degC", "°C", 1.0),
    unit("m/s", "m/s", 1.0),
    unit("kg/m3", "kg/m³", 1.0),
    unit("mV/MPa", "mV/MPa", 1e9),
    unit("V", "V", 1.0),
    // In the operator's unit of the drive level.
    unit("level", "level", 1.0),
    unit("kPa/level", "kPa/level", 1e-3),
];

/// The printed unit of a key; unknown keys print the SI value with the key as its unit.
pub fn print_unit(key: &str) -> Option<&'static PrintUnit> {
    PRINT_UNITS.iter().find(|unit| unit.key == key)
}

/// Factor to SI of a unit of length, time, frequency, voltage as found in files (`mm`, `us`, `MHz`, `mV`).
/// `None` for a unit that is not known.
pub fn si_factor(unit: &str) -> Option<f64> {
    Some(match unit.trim() {
        "m" | "s" | "Hz" | "V" | "Pa" => 1.0,
        "mm" | "ms" | "mV" => 1e-3,
        "cm" => 1e-2,
        "um" | "µm" | "μm" | "us" | "µs" | "μs" | "uV" | "µV" | "μV" => 1e-6,
        "nm" | "ns" => 1e-9,
        "kHz" | "kPa" => 1e3,
        "MHz" | "MPa" => 1e6,
        "GHz" => 1e9,
        _ => return None,
    })
}

/// Sensitivity in V/Pa from one in mV/MPa.
///
/// 50 mV/MPa is 50 nV/Pa.
pub fn v_per_pa_from_mv_per_mpa(mv_per_mpa: f64) -> f64 {
    mv_per_mpa * V_PER_PA_PER_MV_PER_MPA
}

/// One mV/MPa in V/Pa.
pub const V_PER_PA_PER_MV_PER_MPA: f64 = 1e-9;

/// Sensitivity in V/Pa from a level in dB re 1 V/µPa: 10^(L/20) V/µPa × 10⁶ µPa/Pa.
///
/// −266.0206 dB re 1 V/µPa is 50 nV/Pa.
pub fn v_per_pa_from_db_re_v_per_upa(level_db: f64) -> f64 {
    10f64.powf(level_db / 20.0) * 1e6
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Definition of the decibel re 1 V/µPa: 50 nV/Pa = −266.0205999 dB.
    #[test]
    fn decibels_of_a_sensitivity() {
        let m = v_per_pa_from_db_re_v_per_upa(-266.020_599_913_28);
        assert!((m - 50e-9).abs() < 1e-19);
        assert!((v_per_pa_from_mv_per_mpa(50.0) - m).abs() < 1e-19);
        assert!((v_per_pa_from_db_re_v_per_upa(-270.0) - 31.622_776_601_683_8e-9).abs() < 1e-20);
    }
}
