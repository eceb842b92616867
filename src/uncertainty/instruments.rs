//! Sources that the record states of stage, gain, drive and thermometer, with defaults where it does
//! not.

use super::source::{Origin, Source, Sources};
use crate::base::budget::source;
use crate::record::{Distribution, Record, ScanEntry, Uncertainty, UncertaintyKind};

/// Half-widths taken where nothing is stated. Common practice, no source: a digitiser's gain and an
/// amplifier's, a stage's screw or scale, a generator's crystal, a laboratory thermometer.
const GAIN: f64 = 0.01;
const SCALE: f64 = 0.001;
const POSITION_M: f64 = 1e-5;
const REPETITION: f64 = 1e-4;
const TEMPERATURE_K: f64 = 0.5;
/// Half-width of a temperature that was assumed itself, K.
const ASSUMED_TEMPERATURE_K: f64 = 5.0;

/// What the drive's stability is known from besides the record.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Instruments {
    /// Relative scatter of the peaks over revisits of one point, with their number.
    pub revisited: Option<(f64, usize)>,
}

/// Sources of a scan that do not depend on its data, but for the drive's stability.
pub fn instruments(record: &Record, entry: &ScanEntry, known: Instruments) -> Sources {
    let mut sources = Sources::default();
    let chain = record.chain_of(entry);
    let gain_path = record.gain_path(entry);
    let frame = &record.frame;
    let excitation = &record.excitation;
    for (id, unit, stated, path, default, common) in [
        (source::GAIN, "1", chain.u_gain, gain_path.as_str(), GAIN, true),
        (source::AXES, "1", frame.u_scale.as_ref(), "frame.u_scale", SCALE, true),
        (source::POSITION, "m", frame.u_position.as_ref(), "frame.u_position", POSITION_M, false),
        (
            source::REPETITION,
            "1",
            excitation.u_repetition.as_ref(),
            "excitation.u_repetition",
            REPETITION,
            true,
        ),
    ] {
        let stated = stated.map(|stated| (stated, path));
        sources.known.push(from_either(id, unit, stated, default, common));
    }
    // The errors of many points together are near normal, whatever each one's distribution.
    for source in sources.known.iter_mut().filter(|source| source.id == source::POSITION) {
        source.distribution = Distribution::Normal;
    }
    sources.known.push(temperature(record));
    drive(record, known, &mut sources);
    sources
}

fn from_either(
    id: &str,
    unit: &'static str,
    stated: Option<(&Uncertainty, &str)>,
    default: f64,
    common: bool,
) -> Source {
    let default_value = Uncertainty {
        value: default,
        kind: UncertaintyKind::HalfWidth,
        k: None,
        relative: unit == "1",
    };
    let (uncertainty, origin, from) = match stated {
        Some((uncertainty, path)) => (uncertainty, Origin::Record, path),
        None => (&default_value, Origin::Default, "common-practice"),
    };
    Source {
        id: id.to_owned(),
        u: uncertainty.standard(1.0),
        unit,
        distribution: distribution_of(uncertainty),
        nu: None,
        common,
        origin,
        from: from.to_owned(),
    }
}

/// Distribution that goes with the kind of a typed uncertainty.
pub fn distribution_of(uncertainty: &Uncertainty) -> Distribution {
    match uncertainty.kind {
        UncertaintyKind::HalfWidth => Distribution::Rectangular,
        UncertaintyKind::Expanded | UncertaintyKind::Standard => Distribution::Normal,
    }
}

fn temperature(record: &Record) -> Source {
    let stated = record.water.u_temperature_c;
    let half_width = match record.water.temperature() {
        Some(_) => TEMPERATURE_K,
        None => ASSUMED_TEMPERATURE_K,
    };
    let (u, distribution, origin, from) = match stated {
        Some(u) => (u, Distribution::Normal, Origin::Record, "water.u_temperature_c"),
        None => (
            half_width / 3f64.sqrt(),
            Distribution::Rectangular,
            Origin::Default,
            "common-practice",
        ),
    };
    Source {
        id: source::TEMPERATURE.to_owned(),
        u,
        unit: "K",
        distribution,
        nu: None,
        common: true,
        origin,
        from: from.to_owned(),
    }
}

/// The drive's stability: as stated, else as revisits show it; without either it is not in the budget.
fn drive(record: &Record, known: Instruments, sources: &mut Sources) {
    const PATH: &str = "excitation.u_drive";
    let mut add = |u, distribution, nu, origin, from: &str| {
        sources.known.push(Source {
            id: source::DRIVE.to_owned(),
            u,
            unit: "1",
            distribution,
            nu,
            common: false,
            origin,
            from: from.to_owned(),
        });
    };
    match (&record.excitation.u_drive, known.revisited) {
        (Some(stated), _) => {
            add(stated.standard(1.0), distribution_of(stated), None, Origin::Record, PATH);
        }
        (None, Some((scatter, visits))) if visits > 1 => {
            let nu = Some(visits as f64 - 1.0);
            add(scatter, Distribution::Normal, nu, Origin::Data, "revisits");
        }
        _ => sources.leave_out(source::DRIVE, "not-stated", Some(PATH)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::Role;

    fn entry() -> ScanEntry {
        ScanEntry::new("focus", Role::Plane, "focus.h5")
    }

    #[test]
    fn what_is_stated_replaces_the_default() {
        let nothing = Instruments { revisited: None };
        let mut record = Record::default();
        let sources = instruments(&record, &entry(), nothing);
        let gain = sources.of(source::GAIN).expect("default");
        assert!((gain.u - GAIN / 3f64.sqrt()).abs() < 1e-15);
        assert_eq!(gain.origin, Origin::Default);
        let temperature = sources.of(source::TEMPERATURE).expect("default");
        assert!((temperature.u - 5.0 / 3f64.sqrt()).abs() < 1e-12);
        record.sensor.u_gain = Some(Uncertainty {
            value: 0.04,
            kind: UncertaintyKind::Expanded,
            k: Some(2.0),
            relative: true,
        });
        record.water.temperature_c = Some(21.0);
        record.water.u_temperature_c = Some(0.2);
        let sources = instruments(&record, &entry(), nothing);
        let gain = sources.of(source::GAIN).expect("stated");
        assert!((gain.u - 0.02).abs() < 1e-15);
        assert_eq!((gain.origin, gain.from.as_str()), (Origin::Record, "sensor.u_gain"));
        assert_eq!(sources.of(source::TEMPERATURE).map(|s| s.u), Some(0.2));
    }

    #[test]
    fn the_drive_is_stated_or_seen_or_left_out() {
        let record = Record::default();
        let none = instruments(&record, &entry(), Instruments { revisited: None });
        assert!(none.of(source::DRIVE).is_none());
        assert_eq!(none.left_out[0].blank.as_deref(), Some("excitation.u_drive"));
        let one = instruments(&record, &entry(), Instruments { revisited: Some((0.01, 1)) });
        assert!(one.of(source::DRIVE).is_none());
        let seen = instruments(&record, &entry(), Instruments { revisited: Some((0.01, 6)) });
        let drive = seen.of(source::DRIVE).expect("seen");
        assert_eq!((drive.u, drive.nu, drive.common), (0.01, Some(5.0), false));
    }
}
