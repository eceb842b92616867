//! Ranges of the numbers of a record: wide enough for any therapeutic head, narrow enough to catch
//! a value typed in MHz, mm, MPa or percent. One table, which the schema takes over.
//!
//! Common practice, no source, where no other one is named.

/// Range of a number, both ends included unless `above` leaves out the lower one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Limit {
    /// Type that holds the key.
    pub holder: &'static str,
    pub key: &'static str,
    pub minimum: f64,
    pub maximum: f64,
    /// The minimum itself is refused.
    pub above: bool,
    /// The maximum itself is refused.
    pub below: bool,
}

const fn from_to(holder: &'static str, key: &'static str, minimum: f64, maximum: f64) -> Limit {
    Limit { holder, key, minimum, maximum, above: false, below: false }
}

const fn above(holder: &'static str, key: &'static str, maximum: f64) -> Limit {
    Limit { holder, key, minimum: 0.0, maximum, above: true, below: false }
}

const fn between(holder: &'static str, key: &'static str, minimum: f64, maximum: f64) -> Limit {
    Limit { holder, key, minimum, maximum, above: true, below: true }
}

/// Lowest and highest acoustic frequency, Hz: a frequency typed in MHz or kHz falls outside.
const FREQUENCY_HZ: (f64, f64) = (1e4, 1e9);

/// Temperature of liquid water, °C: the range of the speed of sound in `base::water`.
const WATER_C: (f64, f64) = (0.0, 95.0);

/// Resistances and impedances, Ω, and capacitances, F.
const OHM_MAX: f64 = 1e15;
const FARAD_MAX: f64 = 1e-3;

/// All ranges, in the order of the record.
pub(super) const LIMITS: &[Limit] = &[
    from_to("Device", "operating_hours", 0.0, 1e7),
    from_to("Device", "nominal_frequency_hz", FREQUENCY_HZ.0, FREQUENCY_HZ.1),
    from_to("Device", "aperture_radius_m", 1e-4, 1.0),
    from_to("Device", "aperture_inner_radius_m", 0.0, 1.0),
    from_to("Device", "radius_of_curvature_m", 1e-3, 5.0),
    above("Device", "source_area_m2", 4.0),
    from_to("Device", "head_temperature_c", -50.0, 200.0),
    from_to("Frame", "z_offset_m", -5.0, 5.0),
    from_to("Frame", "trigger_delay_s", -1.0, 1.0),
    from_to("Water", "temperature_c", WATER_C.0, WATER_C.1),
    from_to("Water", "temperature_start_c", WATER_C.0, WATER_C.1),
    from_to("Water", "temperature_end_c", WATER_C.0, WATER_C.1),
    from_to("Water", "u_temperature_c", 0.0, 20.0),
    from_to("Water", "oxygen_mg_per_l", 0.0, 50.0),
    from_to("Water", "conductivity_s_per_m", 0.0, 10.0),
    from_to("Water", "sensor_soak_min", 0.0, 1e6),
    from_to("Excitation", "frequency_hz", FREQUENCY_HZ.0, FREQUENCY_HZ.1),
    above("Excitation", "cycles", 1e12),
    above("Excitation", "repetition_hz", 1e8),
    from_to("Excitation", "level", -1e12, 1e12),
    from_to("Excitation", "power_electrical_w", 0.0, 1e6),
    from_to("Excitation", "power_reflected_w", 0.0, 1e6),
    above("Exposure", "burst_s", 1e6),
    above("Exposure", "repetition_hz", 1e8),
    above("Exposure", "train_s", 1e7),
    from_to("Exposure", "level", -1e12, 1e12),
    from_to("Sensor", "calibration_temperature_c", WATER_C.0, WATER_C.1),
    above("Sensor", "full_scale_v", 1e5),
    from_to("Sensor", "bits", 1.0, 64.0),
    from_to("Sensor", "linear_limit_pa", 1e3, 1e12),
    above("GainRange", "full_scale_v", 1e5),
    from_to("GainRange", "bits", 1.0, 64.0),
    above("GainRange", "coupling_ohm", OHM_MAX),
    from_to("GainRange", "linear_limit_pa", 1e3, 1e12),
    above("Response", "v_per_pa", 0.1),
    above("Response", "mv_per_mpa", 1e8),
    from_to("Response", "db_re_1v_per_upa", -400.0, -140.0),
    from_to("Response", "gain_db", -200.0, 200.0),
    from_to("Response", "frequency_hz", FREQUENCY_HZ.0, FREQUENCY_HZ.1),
    from_to("Response", "reference_radius_m", 1e-7, 0.05),
    from_to("Response", "reference_limit_pa", 1e3, 1e12),
    from_to("Response", "field_width_m", 1e-6, 1.0),
    above("CorrelationLength", "length_hz", 1e12),
    above("Load", "sensor_resistance_ohm", OHM_MAX),
    from_to("Load", "sensor_capacitance_f", 0.0, FARAD_MAX),
    above("Load", "calibrated_resistance_ohm", OHM_MAX),
    from_to("Load", "calibrated_capacitance_f", 0.0, FARAD_MAX),
    above("Load", "used_resistance_ohm", OHM_MAX),
    from_to("Load", "used_capacitance_f", 0.0, FARAD_MAX),
    from_to("Uncertainty", "value", 0.0, 1e30),
    from_to("Uncertainty", "k", 0.1, 100.0),
    from_to("LowPassFilter", "order", 1.0, 16.0),
    from_to("LowPassFilter", "cutoff_hz", FREQUENCY_HZ.0, 1e10),
    from_to("WindowChoice", "start_s", -1e4, 1e4),
    from_to("WindowChoice", "stop_s", -1e4, 1e4),
    from_to("BubbleRule", "threshold_db", 1.0, 60.0),
    from_to("AxisSteps", "count", 1.0, 1e9),
    above("TimeSteps", "dt", 1e12),
    from_to("ScanEntry", "level", -1e12, 1e12),
    from_to("ScanEntry", "distance_m", -5.0, 5.0),
    from_to("Acquisition", "averages", 1.0, 1e9),
    from_to("Acquisition", "shots_kept", 0.0, 1e9),
    above("Acquisition", "points_per_s", 1e7),
    from_to("Acquisition", "trigger_jitter_s", 0.0, 1e-3),
    from_to("Reading", "level", -1e12, 1e12),
    from_to("Stated", "level", -1e12, 1e12),
    from_to("Decision", "min_probability", 0.5, 1.0),
    between("Decision", "coverage", 0.0, 1.0),
];

/// Lists that mean nothing when they are empty.
pub(super) const NEVER_EMPTY_LISTS: &[(&str, &str)] = &[("Record", "scans"), ("Layout", "axes")];

/// Texts that mean nothing when they are empty.
pub(super) const NEVER_EMPTY_TEXTS: &[(&str, &str)] = &[
    ("ScanEntry", "id"),
    ("ScanEntry", "file"),
    ("ScanEntry", "beside"),
    ("SensorCheck", "before"),
    ("SensorCheck", "after"),
    ("GainRange", "id"),
    ("Response", "file"),
    ("Layout", "waveforms"),
    ("ArrayRef", "array"),
    ("Reading", "quantity"),
    ("Record", "stated_file"),
    ("Stated", "quantity"),
    ("SourceEntry", "source"),
];
