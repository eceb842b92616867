//! The unit at the end of a key: `repetition_hz` is in Hz.

/// Endings of keys with the SI unit they name, longer ones first.
const ENDINGS: [(&str, &str); 17] = [
    ("_mg_per_l", "mg/l"),
    ("_s_per_m", "S/m"),
    ("_v_per_pa", "V/Pa"),
    ("_per_s", "1/s"),
    ("_hours", "h"),
    ("_min", "min"),
    ("_ohm", "ohm"),
    ("_hz", "Hz"),
    ("_m2", "m2"),
    ("_pa", "Pa"),
    ("_db", "dB"),
    ("_m", "m"),
    ("_s", "s"),
    ("_c", "degC"),
    ("_v", "V"),
    ("_w", "W"),
    ("_f", "F"),
];

/// A key without its unit, and the unit; `None` for a key without one.
pub(super) fn split(key: &str) -> (&str, Option<&'static str>) {
    ENDINGS
        .iter()
        .find_map(|(ending, unit)| Some((key.strip_suffix(ending)?, Some(*unit))))
        .unwrap_or((key, None))
}

/// SI unit that the last key of a path names.
pub(super) fn unit_of(path: &str) -> Option<&'static str> {
    match path.rsplit('.').next()?.split('[').next()? {
        "v_per_pa" => Some("V/Pa"),
        "mv_per_mpa" => Some("mV/MPa"),
        "db_re_1v_per_upa" => Some("dB re 1 V/µPa"),
        // Uncertainty of a temperature: a difference.
        "u_temperature_c" => Some("K"),
        key => split(key).1,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_name_their_units() {
        for (path, unit) in [
            ("excitation.repetition_hz", Some("Hz")),
            ("sensor.effective_radius_m[3][1]", Some("m")),
            ("device.source_area_m2", Some("m2")),
            ("sensor.ranges[0].response.v_per_pa", Some("V/Pa")),
            ("sensor.response.db_re_1v_per_upa", Some("dB re 1 V/µPa")),
            ("water.conductivity_s_per_m", Some("S/m")),
            ("water.temperature_c", Some("degC")),
            ("water.u_temperature_c", Some("K")),
            ("sensor.response.load.used_capacitance_f", Some("F")),
            ("scans[2].acquisition.points_per_s", Some("1/s")),
            ("excitation.cycles", None),
            ("decision.coverage", None),
        ] {
            assert_eq!(unit_of(path), unit, "{path}");
        }
        assert_eq!(split("oxygen_mg_per_l").0, "oxygen");
        assert_eq!(split("title").0, "title");
    }
}
