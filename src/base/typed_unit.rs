//! Units as a person types them for a value of a known dimension.

/// SI unit of a dimension, and what may be typed for it with its factor to SI. The first ones are
/// those that a message proposes.
const UNITS: &[(&str, &[(&str, f64)])] = &[
    ("Pa", &[("MPa", 1e6), ("kPa", 1e3), ("Pa", 1.0), ("GPa", 1e9), ("bar", 1e5), ("mPa", 1e-3)]),
    (
        "W/m2",
        &[
            ("W/cm2", 1e4),
            ("mW/cm2", 10.0),
            ("W/m2", 1.0),
            ("kW/cm2", 1e7),
            ("kW/m2", 1e3),
            ("MW/m2", 1e6),
            ("W/mm2", 1e6),
            ("mW/mm2", 1e3),
            ("mW/m2", 1e-3),
        ],
    ),
    (
        "J/m2",
        &[
            ("mJ/cm2", 10.0),
            ("J/cm2", 1e4),
            ("J/m2", 1.0),
            ("mJ/mm2", 1e3),
            ("uJ/cm2", 1e-2),
            ("mJ/m2", 1e-3),
        ],
    ),
    ("W", &[("W", 1.0), ("mW", 1e-3), ("kW", 1e3), ("uW", 1e-6)]),
    ("m", &[("mm", 1e-3), ("um", 1e-6), ("cm", 1e-2), ("m", 1.0), ("nm", 1e-9)]),
    ("m2", &[("mm2", 1e-6), ("cm2", 1e-4), ("m2", 1.0), ("um2", 1e-12)]),
    ("s", &[("us", 1e-6), ("ms", 1e-3), ("s", 1.0), ("ns", 1e-9)]),
    ("Hz", &[("MHz", 1e6), ("kHz", 1e3), ("Hz", 1.0), ("GHz", 1e9)]),
    ("1", &[("%", 1e-2), ("1", 1.0), ("", 1.0), ("ppm", 1e-6)]),
    ("dB", &[("dB", 1.0)]),
    (
        "rad",
        &[
            ("deg", std::f64::consts::PI / 180.0),
            ("rad", 1.0),
            ("mrad", 1e-3),
            ("°", std::f64::consts::PI / 180.0),
        ],
    ),
    ("Pa2 s", &[("Pa2 s", 1.0), ("MPa2 us", 1e6), ("kPa2 us", 1.0), ("MPa2 s", 1e12)]),
    ("Pa/Hz^0.5", &[("Pa/Hz^0.5", 1.0), ("mPa/Hz^0.5", 1e-3)]),
    ("degC", &[("°C", 1.0), ("degC", 1.0)]),
    ("K", &[("K", 1.0), ("mK", 1e-3), ("°C", 1.0)]),
    ("V", &[("mV", 1e-3), ("V", 1.0), ("uV", 1e-6)]),
    ("h", &[("h", 1.0), ("min", 1.0 / 60.0), ("d", 24.0)]),
    ("min", &[("min", 1.0), ("h", 60.0), ("s", 1.0 / 60.0)]),
    ("mg/l", &[("mg/l", 1.0), ("mg/L", 1.0), ("ppm", 1.0)]),
    ("S/m", &[("uS/cm", 1e-4), ("mS/m", 1e-3), ("S/m", 1.0)]),
    ("ohm", &[("ohm", 1.0), ("Ω", 1.0), ("kohm", 1e3), ("kΩ", 1e3), ("Mohm", 1e6), ("MΩ", 1e6)]),
    ("F", &[("pF", 1e-12), ("nF", 1e-9), ("F", 1.0)]),
    ("1/s", &[("1/s", 1.0)]),
    // In the operator's unit of the drive level.
    ("level", &[("level", 1.0)]),
    ("Pa/level", &[("kPa/level", 1e3), ("Pa/level", 1.0)]),
    ("V/Pa", &[("mV/MPa", 1e-9), ("nV/Pa", 1e-9), ("uV/Pa", 1e-6), ("V/Pa", 1.0)]),
    ("mV/MPa", &[("mV/MPa", 1.0), ("nV/Pa", 1.0), ("V/MPa", 1e3)]),
];

/// What people write for an SI unit itself, in small letters: a difference in °C is one in K.
const SAID: &[(&[&str], &[&str])] = &[
    (
        &["Hz", "1/s"],
        &[
            "1/s",
            "/s",
            "/ s",
            "s-1",
            "s^-1",
            "s⁻¹",
            "per s",
            "per second",
            "a second",
            "je s",
            "je sekunde",
            "pro s",
            "pro sekunde",
            "hertz",
        ],
    ),
    (
        &["degC", "K"],
        &[
            "c",
            "°",
            "° c",
            "deg",
            "deg c",
            "degree",
            "degrees",
            "degree celsius",
            "degrees c",
            "degrees celsius",
            "celsius",
            "grad",
            "grad c",
            "grad celsius",
        ],
    ),
];

/// Factor from a typed unit to the SI unit of a quantity; `None` where the unit does not fit.
///
/// Case counts (`mPa` is not `MPa`); `²`, `^2`, `µ` and `√Hz` are read as `2`, `u` and `Hz^0.5`. A
/// blank is the SI unit itself.
///
/// # Examples
/// 3 W/cm² of an intensity in W/m² is 3 × 10⁴; `mm` does not fit a pressure.
pub fn factor(si_unit: &str, typed: &str) -> Option<f64> {
    let typed = plain(typed);
    if typed.is_empty() || typed == si_unit {
        return Some(1.0);
    }
    let known = listed(si_unit)?.iter().find(|(unit, _)| *unit == typed).map(|(_, factor)| *factor);
    known.or_else(|| said(si_unit, &typed).then_some(1.0))
}

/// Whether a text is what people write for an SI unit.
fn said(si_unit: &str, typed: &str) -> bool {
    let typed = typed.to_lowercase();
    SAID.iter().any(|(units, texts)| units.contains(&si_unit) && texts.contains(&typed.as_str()))
}

/// Units that fit a quantity of an SI unit, the usual ones first.
pub fn fitting(si_unit: &str) -> Vec<&'static str> {
    let all = listed(si_unit).unwrap_or_default().iter().map(|(unit, _)| *unit);
    all.filter(|unit| !unit.is_empty()).collect()
}

fn listed(si_unit: &str) -> Option<&'static [(&'static str, f64)]> {
    UNITS.iter().find(|(unit, _)| *unit == si_unit).map(|(_, units)| *units)
}

/// The unit in plain letters.
fn plain(typed: &str) -> String {
    let mut text = typed.trim().replace(['\u{a0}', '\u{202f}'], " ");
    for (from, to) in [
        ("^2", "2"),
        ("²", "2"),
        ("^-2", "-2"),
        ("⁻2", "-2"),
        ("µ", "u"),
        ("μ", "u"),
        ("√Hz", "Hz^0.5"),
        ("sqrt(Hz)", "Hz^0.5"),
        ("·", " "),
        ("*", " "),
    ] {
        text = text.replace(from, to);
    }
    // W cm-2 is W/cm2.
    match text.strip_suffix("-2").and_then(|start| start.rsplit_once(' ')) {
        Some((before, below)) => format!("{before}/{below}2"),
        None => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::quantity::CATALOGUE;
    use crate::base::units::print_unit;

    /// Definitions of the SI prefixes (SI Brochure, 9th edition, table 7), by hand.
    #[test]
    fn typed_units_in_si() {
        for (si, typed, expected) in [
            ("Pa", "MPa", 1e6),
            ("Pa", "mPa", 1e-3),
            ("W/m2", "W/cm²", 1e4),
            ("W/m2", "mW/cm^2", 10.0),
            ("W/m2", "W cm-2", 1e4),
            ("W/m2", "W·cm⁻²", 1e4),
            ("J/m2", "mJ/mm²", 1e3),
            ("m", "µm", 1e-6),
            ("s", "μs", 1e-6),
            ("1", "%", 0.01),
            ("1", "", 1.0),
            ("rad", "°", 0.017_453_292_519_943_295),
            ("Pa/Hz^0.5", "Pa/√Hz", 1.0),
            ("Hz", "1/s", 1.0),
            ("Hz", "/s", 1.0),
            ("Hz", "s⁻¹", 1.0),
            ("Hz", "per second", 1.0),
            ("Hz", "je Sekunde", 1.0),
            ("degC", "C", 1.0),
            ("degC", "degrees", 1.0),
            ("degC", "deg C", 1.0),
            ("degC", "Grad", 1.0),
            ("K", "Grad", 1.0),
        ] {
            assert_eq!(factor(si, typed), Some(expected), "{typed}");
        }
        for (si, typed) in [
            ("Pa", "mm"),
            ("Pa", "mpa"),
            ("W", "W/cm2"),
            ("m", "m2"),
            ("dB", "%"),
            ("degC", "degrees F"),
            ("degC", "K"),
            ("Hz", "per minute"),
            ("Hz", "s"),
            ("s", "per second"),
            ("F", "C"),
        ] {
            assert_eq!(factor(si, typed), None, "{typed}");
        }
    }

    /// Every unit in which a sheet prints may be typed, and means the same.
    #[test]
    fn printed_units_may_be_typed() {
        for entry in CATALOGUE {
            let printed = print_unit(entry.print_unit).unwrap();
            for typed in [printed.key, printed.text] {
                let factor = factor(entry.unit, typed).unwrap_or_else(|| panic!("{}", entry.id));
                assert!((factor * printed.per_si - 1.0).abs() < 1e-12, "{} {typed}", entry.id);
            }
            assert!(!fitting(entry.unit).is_empty());
        }
    }
}
