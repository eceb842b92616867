//! What the columns of a sensitivity table are, by name and unit.

use crate::base::error::Problem;
use crate::base::units;
use crate::formats::container::{ArrayInfo, Attribute};

/// What a column gives.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Gives {
    Frequency,
    Magnitude,
    Real,
    Imaginary,
    Phase,
    UMagnitude,
    UPhase,
}

/// Unit of a column, as what its numbers become in SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Unit {
    /// Times this: Hz.
    Hertz(f64),
    /// Times this: V/Pa.
    VoltsPerPascal(f64),
    /// A level; this is the response at 0 dB, V/Pa.
    Level(f64),
    /// Times this: rad.
    Radian(f64),
    /// Times this: a fraction of the magnitude.
    Fraction(f64),
    /// A level difference, dB.
    Decibel,
}

/// A recognised column.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    pub path: String,
    pub gives: Gives,
    pub unit: Unit,
    /// Coverage factor of an uncertainty; 1 of all else.
    pub coverage: f64,
}

/// Words that name a quantity, by what they give.
const WORDS: [(Gives, &[&str]); 5] = [
    (Gives::Frequency, &["frequency", "freq", "f"]),
    (
        Gives::Magnitude,
        &[
            "sensitivity",
            "magnitude",
            "response",
            "sensitivity_level",
            "sensitivity_magnitude",
            "m",
        ],
    ),
    (Gives::Real, &["real", "re"]),
    (Gives::Imaginary, &["imag", "imaginary", "im"]),
    (Gives::Phase, &["phase", "sensitivity_phase"]),
];

/// Units as the end of a name, and as they are written.
const ENDINGS: [(&str, &str); 19] = [
    ("hz", "Hz"),
    ("khz", "kHz"),
    ("mhz", "MHz"),
    ("ghz", "GHz"),
    ("v_per_pa", "V/Pa"),
    ("mv_per_pa", "mV/Pa"),
    ("uv_per_pa", "uV/Pa"),
    ("nv_per_pa", "nV/Pa"),
    ("v_per_mpa", "V/MPa"),
    ("mv_per_mpa", "mV/MPa"),
    ("db_re_1v_per_upa", "dB re 1 V/uPa"),
    ("db_re_v_per_upa", "dB re 1 V/uPa"),
    ("db_re_1v_per_pa", "dB re 1 V/Pa"),
    ("db_re_v_per_pa", "dB re 1 V/Pa"),
    ("rad", "rad"),
    ("deg", "deg"),
    ("percent", "%"),
    ("relative", "1"),
    ("db", "dB"),
];

impl Gives {
    /// Key of its word in the wording.
    pub fn key(self) -> &'static str {
        match self {
            Self::Frequency => "frequency",
            Self::Magnitude => "magnitude",
            Self::Real => "real",
            Self::Imaginary => "imaginary",
            Self::Phase => "phase",
            Self::UMagnitude => "u-magnitude",
            Self::UPhase => "u-phase",
        }
    }

    /// Units as they are written, for a message.
    pub fn units(self) -> &'static [&'static str] {
        match self {
            Self::Frequency => &["Hz", "kHz", "MHz", "GHz"],
            Self::Magnitude => {
                &["V/Pa", "mV/MPa", "nV/Pa", "µV/Pa", "dB re 1 V/µPa", "dB re 1 V/Pa"]
            }
            Self::Real | Self::Imaginary => &["V/Pa", "mV/MPa", "nV/Pa", "µV/Pa"],
            Self::Phase | Self::UPhase => &["rad", "deg"],
            Self::UMagnitude => &["%", "dB", "V/Pa", "mV/MPa", "nV/Pa", "µV/Pa"],
        }
    }

    /// Names of columns, for a message.
    pub fn names(self) -> Vec<String> {
        let names: &[&str] = match self {
            Self::Frequency => &["frequency_hz", "frequency_khz", "frequency_mhz"],
            Self::Imaginary => &["imag_v_per_pa", "imag_mv_per_mpa", "imag_nv_per_pa"],
            Self::Real => &["real_v_per_pa", "real_mv_per_mpa", "real_nv_per_pa"],
            _ => &[
                "sensitivity_v_per_pa",
                "sensitivity_mv_per_mpa",
                "sensitivity_nv_per_pa",
                "sensitivity_db_re_1v_per_upa",
                "sensitivity_db_re_1v_per_pa",
                "real_v_per_pa + imag_v_per_pa",
            ],
        };
        names.iter().map(|name| (*name).to_owned()).collect()
    }

    fn takes(self, unit: Unit) -> bool {
        matches!(
            (self, unit),
            (Self::Frequency, Unit::Hertz(_))
                | (Self::Magnitude, Unit::VoltsPerPascal(_) | Unit::Level(_))
                | (Self::Real | Self::Imaginary, Unit::VoltsPerPascal(_))
                | (Self::Phase | Self::UPhase, Unit::Radian(_))
                | (Self::UMagnitude, Unit::VoltsPerPascal(_) | Unit::Fraction(_) | Unit::Decibel)
        )
    }
}

/// The column that an array is; `None` for one whose name says nothing.
///
/// # Errors
/// A name that says what it is with a unit that is missing, unknown, or not the one of its name; an
/// expanded uncertainty without its coverage factor.
pub fn column(array: &ArrayInfo) -> Result<Option<Column>, Problem> {
    let Some((name, attribute)) = named(array) else { return Ok(None) };
    let at = |code: Problem, gives: Gives| {
        code.at(&array.path).with("quantity", gives.key()).with(
            "expected",
            gives.units().iter().map(|unit| (*unit).to_owned()).collect::<Vec<_>>(),
        )
    };
    let (stem, coverage) = coverage(&name);
    let Some((gives, ending)) = recognised(stem) else { return Ok(None) };
    let written = attribute.as_deref().map(|text| (text, unit_of(text)));
    let unit = match (ending, written) {
        (None, None) => return Err(at(Problem::new("table-unit-missing"), gives)),
        (Some(unit), None) => unit,
        (None, Some((text, unit))) => match unit.filter(|unit| gives.takes(*unit)) {
            Some(unit) => unit,
            None => {
                return Err(at(Problem::new("table-unit-unknown"), gives).with("found", text));
            }
        },
        (Some(unit), Some((_, Some(other)))) if unit == other => unit,
        (Some(_), Some((text, _))) => {
            return Err(at(Problem::new("table-unit-conflict"), gives).with("found", text));
        }
    };
    let uncertainty = matches!(gives, Gives::UMagnitude | Gives::UPhase);
    if uncertainty && coverage.is_none() && array.name().starts_with('U') {
        return Err(at(Problem::new("table-coverage-missing"), gives));
    }
    Ok(Some(Column { path: array.path.clone(), gives, unit, coverage: coverage.unwrap_or(1.0) }))
}

/// Name in plain form with the unit that stands beside it. The parts of a complex array, `/m/real` and
/// `/m/imag`, take the ending of their group.
fn named(array: &ArrayInfo) -> Option<(String, Option<String>)> {
    let plain = plain(array.name());
    let name = match array.group() {
        "" => plain,
        group => {
            let group = self::plain(group.strip_prefix('/').filter(|g| !g.contains('/'))?);
            if !matches!(plain.as_str(), "real" | "imag") {
                return None;
            }
            let word = words(Gives::Magnitude).find_map(|word| ending_of(&group, word))?;
            if word.is_empty() { plain } else { format!("{plain}_{word}") }
        }
    };
    let units = match array.attributes.get("units") {
        Some(Attribute::Text(text)) if !text.trim().is_empty() => Some(text.trim().to_owned()),
        _ => None,
    };
    Some((name, units))
}

/// Lower-case words with `_` between.
fn plain(name: &str) -> String {
    name.to_lowercase()
        .split(|c: char| !c.is_alphanumeric())
        .filter(|part| !part.is_empty())
        .collect::<Vec<_>>()
        .join("_")
}

/// Splits `_k2` off the end of an uncertainty's name.
fn coverage(name: &str) -> (&str, Option<f64>) {
    match name.rsplit_once("_k") {
        Some((stem, k)) if name.starts_with("u_") => match k.parse::<f64>() {
            Ok(k) if k >= 1.0 => (stem, Some(k)),
            _ => (name, None),
        },
        _ => (name, None),
    }
}

fn words(gives: Gives) -> impl Iterator<Item = &'static str> {
    WORDS.iter().filter(move |(g, _)| *g == gives).flat_map(|(_, words)| words.iter().copied())
}

/// What follows a word in a name: empty, or behind a `_`.
fn ending_of<'a>(name: &'a str, word: &str) -> Option<&'a str> {
    let rest = name.strip_prefix(word)?;
    if rest.is_empty() { Some("") } else { rest.strip_prefix('_') }
}

/// What a name says, with the unit at its end.
fn recognised(name: &str) -> Option<(Gives, Option<Unit>)> {
    let (name, uncertain) = match name.strip_prefix("u_") {
        Some(name) => (name, true),
        None => (name, false),
    };
    WORDS.iter().flat_map(|(gives, words)| words.iter().map(move |word| (*gives, *word))).find_map(
        |(gives, word)| {
            let gives = match (gives, uncertain) {
                (gives, false) => gives,
                (Gives::Magnitude, true) => Gives::UMagnitude,
                (Gives::Phase, true) => Gives::UPhase,
                _ => return None,
            };
            match ending_of(name, word)? {
                "" => Some((gives, None)),
                ending => {
                    let (_, written) = ENDINGS.iter().find(|(end, _)| *end == ending)?;
                    unit_of(written).filter(|unit| gives.takes(*unit)).map(|u| (gives, Some(u)))
                }
            }
        },
    )
}

/// A unit as written. Capitals count (mV is not MV), but for hertz and decibels.
fn unit_of(text: &str) -> Option<Unit> {
    let text: String = text
        .chars()
        .filter(|c| !c.is_whitespace())
        .map(|c| if matches!(c, 'µ' | 'μ') { 'u' } else { c })
        .collect();
    let lower = text.to_lowercase();
    match lower.as_str() {
        "hz" => return Some(Unit::Hertz(1.0)),
        "khz" => return Some(Unit::Hertz(1e3)),
        "mhz" if text != "mHz" => return Some(Unit::Hertz(1e6)),
        "ghz" => return Some(Unit::Hertz(1e9)),
        "rad" | "radian" | "radians" => return Some(Unit::Radian(1.0)),
        "deg" | "degree" | "degrees" | "°" => return Some(Unit::Radian(1f64.to_radians())),
        "%" | "percent" => return Some(Unit::Fraction(0.01)),
        "1" => return Some(Unit::Fraction(1.0)),
        "db" => return Some(Unit::Decibel),
        _ => {}
    }
    if lower.starts_with("db") {
        let reference = text.get(2..)?.trim_start_matches(['r', 'e', '.', ':', '/', '(']);
        let reference = reference.trim_start_matches('1').trim_end_matches(')');
        return match reference {
            "V/uPa" => Some(Unit::Level(units::v_per_pa_from_db_re_v_per_upa(0.0))),
            "V/Pa" => Some(Unit::Level(1.0)),
            _ => None,
        };
    }
    let (volts, pascals) = text.split_once('/')?;
    let factor = |unit: &str, stem: &str| match unit.strip_suffix(stem)? {
        "n" => Some(1e-9),
        _ => units::si_factor(unit),
    };
    Some(Unit::VoltsPerPascal(factor(volts, "V")? / factor(pascals, "Pa")?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_ending_is_a_unit_and_every_unit_is_taken() {
        for (ending, written) in ENDINGS {
            assert!(unit_of(written).is_some(), "{ending}");
        }
        for (gives, _) in WORDS {
            for written in gives.units() {
                assert!(unit_of(written).is_some_and(|u| gives.takes(u)), "{gives:?} {written}");
            }
        }
    }

    #[test]
    fn capitals_count() {
        assert_eq!(unit_of("mV/MPa"), Some(Unit::VoltsPerPascal(1e-3 / 1e6)));
        assert_eq!(unit_of("MV/mPa"), None);
        assert_eq!(unit_of("mHz"), None);
        assert_eq!(unit_of("mhz"), Some(Unit::Hertz(1e6)));
    }

    #[test]
    fn decibels_name_their_reference() {
        for text in
            ["dB re 1 V/µPa", "dB re 1V/uPa", "dB re V/μPa", "dB (re 1 V/µPa)", "dB re. 1 V/uPa"]
        {
            assert_eq!(unit_of(text), Some(Unit::Level(1e6)), "{text}");
        }
        assert_eq!(unit_of("dB re 1 V/Pa"), Some(Unit::Level(1.0)));
        assert_eq!(unit_of("dB re 1 mV/Pa"), None);
        assert_eq!(unit_of("dB re 20 µPa"), None);
    }

    /// The parts of a complex array stand under its name.
    #[test]
    fn parts_of_a_complex_array() {
        let array = |path: &str| ArrayInfo {
            path: path.to_owned(),
            shape: vec![5],
            reversed: false,
            kind: crate::formats::container::NumberKind::Float { bits: 64 },
            access: crate::formats::container::Access::Random,
            chunk: Vec::new(),
            scales: Vec::new(),
            attributes: std::collections::BTreeMap::new(),
        };
        let found = column(&array("/response_nv_per_pa/imag")).expect("reads").expect("known");
        assert_eq!((found.gives, found.unit), (Gives::Imaginary, Unit::VoltsPerPascal(1e-9)));
        assert_eq!(column(&array("/other/imag")), Ok(None));
        assert_eq!(column(&array("/m/phase_rad")), Ok(None));
        let bare = column(&array("/m/real")).expect_err("no unit");
        assert_eq!(bare.code, "table-unit-missing");
    }

    #[test]
    fn names() {
        let gives = |name: &str| recognised(&plain(name)).map(|(gives, _)| gives);
        assert_eq!(gives("Frequency"), Some(Gives::Frequency));
        assert_eq!(gives("f_mhz"), Some(Gives::Frequency));
        assert_eq!(gives("M"), Some(Gives::Magnitude));
        assert_eq!(gives("Sensitivity level"), Some(Gives::Magnitude));
        assert_eq!(gives("u(phase)"), Some(Gives::UPhase));
        assert_eq!(gives("u_sensitivity_percent"), Some(Gives::UMagnitude));
        assert_eq!(gives("frequency_error_hz"), None);
        assert_eq!(gives("phase_hz"), None);
        assert_eq!(gives("material"), None);
        assert_eq!(coverage("u_sensitivity_percent_k2"), ("u_sensitivity_percent", Some(2.0)));
    }
}
