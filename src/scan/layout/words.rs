//! What names and units in files mean.

use crate::record::AxisName;

/// A unit as the record writes it, from the ways in which files write it.
pub fn unit(text: &str) -> Option<&'static str> {
    let plain = text.trim().trim_matches(['(', ')', '[', ']', '.']).trim();
    Some(match plain {
        "m" | "metre" | "metres" | "meter" | "meters" | "Meter" => "m",
        "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" | "Millimeter" => "mm",
        "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => "cm",
        "um" | "µm" | "μm" | "micron" | "microns" | "micrometre" | "micrometres" | "micrometer"
        | "micrometers" => "um",
        "nm" => "nm",
        "s" | "sec" | "second" | "seconds" | "Sekunden" => "s",
        "ms" | "msec" | "millisecond" | "milliseconds" => "ms",
        "us" | "µs" | "μs" | "usec" | "µsec" | "microsecond" | "microseconds" => "us",
        "ns" | "nsec" | "nanosecond" | "nanoseconds" => "ns",
        "V" | "volt" | "volts" | "Volt" | "Volts" => "V",
        "mV" | "millivolt" | "millivolts" => "mV",
        "uV" | "µV" | "μV" | "microvolt" | "microvolts" => "uV",
        "Hz" | "hertz" | "1/s" | "S/s" => "Hz",
        "kHz" | "kS/s" => "kHz",
        "MHz" | "MS/s" => "MHz",
        "GHz" | "GS/s" => "GHz",
        _ => return None,
    })
}

/// A name in lower-case words: `xPos_mm` is `xpos`, `mm`.
pub fn split(name: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut before = ' ';
    for c in name.chars() {
        // `timeNs` is two words, `mV` is one.
        let long = words.last().is_some_and(|word| word.chars().count() > 1);
        let hump = long && c.is_uppercase() && before.is_lowercase();
        if !c.is_alphanumeric() || hump {
            words.push(String::new());
        }
        if c.is_alphanumeric()
            && let Some(word) = words.last_mut()
        {
            word.extend(c.to_lowercase());
        }
        before = c;
    }
    words.retain(|word| !word.is_empty());
    words
}

/// The unit that a name ends with: `x_mm`, `time_us`, `dt (ns)`.
pub fn unit_of_name(name: &str) -> Option<&'static str> {
    let mut words = split(name);
    let last = words.pop()?;
    if words.is_empty() {
        return None;
    }
    unit_of_word(&last)
}

/// The unit that a word of a name is. The words are lower-case; of these units only the prefix mega
/// loses its meaning, and no length or time in a scan has it.
fn unit_of_word(word: &str) -> Option<&'static str> {
    match word {
        "mv" => Some("mV"),
        "uv" | "µv" => Some("uV"),
        "v" => Some("V"),
        "ghz" => Some("GHz"),
        "mhz" => Some("MHz"),
        "khz" => Some("kHz"),
        "hz" => Some("Hz"),
        word => unit(word),
    }
}

/// Words that say no more than that something is a coordinate.
const FILLERS: [&str; 22] = [
    "pos",
    "position",
    "positions",
    "axis",
    "ax",
    "coord",
    "coords",
    "coordinate",
    "coordinates",
    "vec",
    "vector",
    "values",
    "stage",
    "motor",
    "scan",
    "scanner",
    "mm",
    "um",
    "m",
    "cm",
    "grid",
    "array",
];

/// The axis that a name means.
pub fn axis(name: &str) -> Option<AxisName> {
    let mut words = split(name);
    words.retain(|word| !FILLERS.contains(&word.as_str()) && unit(word).is_none());
    let one = match words.as_slice() {
        [only] => only.as_str(),
        [] => return matches!(name, "s" | "us" | "ns").then_some(AxisName::T),
        _ => return None,
    };
    Some(match one {
        "x" | "xpos" | "posx" | "xaxis" | "xs" | "xcoord" | "xgrid" | "xvec" => AxisName::X,
        "y" | "ypos" | "posy" | "yaxis" | "ys" | "ycoord" | "ygrid" | "yvec" => AxisName::Y,
        "z" | "zpos" | "posz" | "zaxis" | "zs" | "zcoord" | "depth" | "axial" | "distance"
        | "zgrid" | "zvec" | "tiefe" | "abstand" => AxisName::Z,
        "t" | "time" | "times" | "zeit" | "taxis" | "tvec" | "timebase" | "timevec" => AxisName::T,
        "level" | "levels" | "drive" | "drives" | "pegel" => AxisName::Level,
        "repeat" | "repeats" | "repetition" | "repetitions" | "shot" | "shots" => AxisName::Repeat,
        "gain" | "gains" => AxisName::Gain,
        _ => return None,
    })
}

/// Whether a name is one that waveforms bear; `ch2` is `ch`.
pub fn waveforms(name: &str) -> bool {
    const NAMES: [&str; 30] = [
        "waveform",
        "waveforms",
        "wave",
        "waves",
        "voltage",
        "voltages",
        "volt",
        "volts",
        "v",
        "signal",
        "signals",
        "sig",
        "data",
        "trace",
        "traces",
        "samples",
        "rf",
        "scan",
        "channel",
        "ch",
        "hydrophone",
        "sensor",
        "counts",
        "adc",
        "raw",
        "spannung",
        "signale",
        "values",
        "table",
        "record",
    ];
    split(name)
        .iter()
        .any(|word| NAMES.contains(&word.trim_end_matches(|c: char| c.is_ascii_digit())))
}

/// What a single number beside the waveforms says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Single {
    Interval,
    Rate,
    Start,
    VoltsPerCount,
    VoltsOffset,
}

/// What the name of a single number means.
pub fn single(name: &str) -> Option<Single> {
    let mut words = split(name);
    if words.len() > 1 && words.last().is_some_and(|word| unit_of_word(word).is_some()) {
        words.pop();
    }
    let joined = words.concat();
    Some(match joined.as_str() {
        "dt" | "interval" | "sampleinterval" | "samplinginterval" | "timestep" | "tstep"
        | "sampleperiod" | "samplingperiod" | "deltat" | "timeinterval" | "abtastintervall" => {
            Single::Interval
        }
        "fs" | "samplerate" | "samplingrate" | "samplefrequency" | "samplingfrequency"
        | "fsamp" | "abtastrate" | "fsample" => Single::Rate,
        "t0" | "tstart" | "starttime" | "timestart" | "timeoffset" | "triggerdelay" | "delay" => {
            Single::Start
        }
        "voltspercount" | "vpercount" | "voltsperbit" | "voltsperlsb" | "lsb" | "voltscale"
        | "vscale" => Single::VoltsPerCount,
        "voltsoffset" | "voltoffset" | "voffset" => Single::VoltsOffset,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_mean_axes() {
        for (name, expected) in [
            ("x", Some(AxisName::X)),
            ("xPos_mm", Some(AxisName::X)),
            ("pos_y", Some(AxisName::Y)),
            ("Y-Position", Some(AxisName::Y)),
            ("depth_mm", Some(AxisName::Z)),
            ("time_us", Some(AxisName::T)),
            ("Zeit", Some(AxisName::T)),
            ("t", Some(AxisName::T)),
            ("drive", Some(AxisName::Level)),
            ("temperature", None),
            ("max", None),
            ("x_y", None),
        ] {
            assert_eq!(axis(name), expected, "{name}");
        }
    }

    #[test]
    fn names_end_with_units() {
        assert_eq!(unit_of_name("x_mm"), Some("mm"));
        assert_eq!(unit_of_name("dt (ns)"), Some("ns"));
        assert_eq!(unit_of_name("fs_MHz"), Some("MHz"));
        assert_eq!(unit_of_name("ch1_mV"), Some("mV"));
        assert_eq!(unit_of_name("rate_GHz"), Some("GHz"));
        assert_eq!(unit_of_name("m"), None);
        assert_eq!(unit_of_name("x"), None);
    }

    #[test]
    fn single_numbers() {
        assert_eq!(single("sample_rate"), Some(Single::Rate));
        assert_eq!(single("fs_MHz"), Some(Single::Rate));
        assert_eq!(single("Sample interval"), Some(Single::Interval));
        assert_eq!(single("dt_ns"), Some(Single::Interval));
        assert_eq!(single("t0"), Some(Single::Start));
        assert_eq!(single("lsb_mV"), Some(Single::VoltsPerCount));
        assert_eq!(single("v_offset_V"), Some(Single::VoltsOffset));
        assert_eq!(single("temperature"), None);
    }

    #[test]
    fn names_of_waveforms() {
        for name in ["ch1", "ch2", "Channel 2", "signal_mV", "v", "rawData"] {
            assert!(waveforms(name), "{name}");
        }
        for name in ["x", "t0", "2", "temperature", "positions"] {
            assert!(!waveforms(name), "{name}");
        }
    }
}
