//! Short words: headings, labels, axis names, the blanks of the record.

pub fn label(key: &str) -> Option<&'static str> {
    front(key).or_else(|| sections(key)).or_else(|| figures(key)).or_else(|| notes(key))
}

fn front(key: &str) -> Option<&'static str> {
    Some(match key {
        "document-kind" => "Field sheet: output of a therapeutic ultrasound head in water",
        "untitled" => "Untitled measurement",
        "sensor-sensitivity" => "Sensitivity",
        "sensitivity-table" => "by table over frequency",
        "table-gain" => "Gain after the table’s plane",
        "sensitivity-check-source" => "by check source",
        "distance" => "Distance from the head",
        "file-unit" => "One unit of the samples",
        "no-value" => "no value",
        "not-stated" => "not stated",
        "stated" => "stated",
        "device" => "Device",
        "serial" => "Serial number",
        "site" => "Site",
        "date" => "Date of measurement",
        "measured-by" => "Measured by",
        "customer" => "Customer",
        "issued" => "Date of issue",
        "sheet-number" => "Sheet number",
        "number-pending" => "sheet number pending",
        "sentence-delivered" => "the head delivered",
        "sentence-pc" => "a peak compressional pressure of",
        "sentence-pr" => "a peak rarefactional pressure of",
        "sentence-intensity" => "and an intensity of",
        "sentence-nothing" => " an output that these data do not tell.",
        "and" => "and",
        "not-a-patient" => {
            "This is output in water, not pressure or heat in a patient; treatment accuracy and safety were not tested."
        }
        "caution-1" => "Measured in water. Values in tissue differ and are not given here.",
        "caution-2" => {
            "This sheet is neither a clearance of the device nor a prescription of a treatment. It holds for this head as it was measured; copy it whole or not at all."
        }
        "caution-3" => "For a qualified person; local codes and licensed practice decide.",
        "running-caution" => "measured in water; not a clearance, not a prescription",
        "signature-measured" => "Measured by, date",
        "signature-checked" => "Checked by, date",
        "no-plane" => "No plane was scanned: widths, area and power are not given.",
        "no-axial" => "No scan along the beam: depth of focus is not given.",
        "no-uncertainty" => "Uncertainties were not evaluated.",
        "nothing-stated" => "No stated values were given: nothing was judged.",
        "without-uncertainty" => "uncertainty not evaluated",
        "outcome-conforms" => "conforms",
        "outcome-does-not-conform" => "does not conform",
        "outcome-undecided" => "undecided",
        "stated-in" => "Stated in:",
        "unless-said" => "unless said otherwise",
        "verdicts-more" => "more, see Verdicts.",
        "at-most" => "at most",
        "at-least" => "at least",
        "probability" => "Probability",
        "e-n" => "E_{n}",
        "verdict-limits" => "Within",
        "verdict-conditions" => "Stated for",
        "verdicts-table" => "Limits and conditions of the stated values",
        "changes-lead" => "Changed after the first computation:",
        "changes-entered" => "Filled in after the first computation: {} (see Changes).",
        "changes-more" => "more, see Changes.",
        "changes-caption" => "Changes made after the first computation that bear on a verdict",
        "changes-time" => "Time",
        "changes-field" => "What",
        "changes-old" => "Before",
        "changes-new" => "After",
        "changed-stated" => "stated value",
        "changed-stated_file" => "table of stated values",
        "changed-decision" => "decision rule",
        "changed-uncertainties" => "uncertainty source",
        "changed-sensor" => "calibration",
        "changed-analysis" => "analysis",
        "changed-exposure" => "treatment exposure",
        "changed-readings" => "reading",
        "changed-scans" => "scan",
        "changed-key-value" => "value",
        "changed-key-lower" => "lower limit",
        "changed-key-upper" => "upper limit",
        "changed-key-rule" => "rule",
        "changed-key-min_probability" => "least probability",
        "changed-key-coverage" => "coverage",
        "changed-key-v_per_pa" => "factor",
        "changed-key-mv_per_mpa" => "factor",
        "changed-key-gain_db" => "gain",
        "changed-key-db_re_1v_per_upa" => "factor, dB",
        "changed-key-scale" => "size of one unit",
        "changed-key-unit" => "unit",
        "changed-key-uncertainty" => "uncertainty",
        "changed-key-role" => "role",
        "changed-key-axes" => "reading of the file",
        "changed-key-x" => "positions x",
        "changed-key-y" => "positions y",
        "changed-key-z" => "positions z",
        "changed-key-time" => "times",
        "changed-key-serpentine" => "order of the rows",
        "changed-key-kind" => "kind",
        "changed-key-file" => "file",
        "changed-key-tolerance" => "tolerance",
        "changed-key-response" => "response",
        "changed-key-distance_m" => "distance from the head",
        "changed-key-certificate" => "certificate",
        "changed-key-calibrated" => "day of calibration",
        "changed-key-due" => "day when calibration is due",
        "changed-key-exclude" => "left-out points",
        "repeats-of" => "Repeats:",
        "repeats-limits" => "One-sided tolerance limits, proportion / confidence",
        "repeats-few" => "Tolerance limits need at least three",
        "repeats-n" => "n",
        "repeats-mean" => "Mean",
        "repeats-s" => "s",
        "repeats-low" => "Lower limit",
        "repeats-high" => "Upper limit",
        "severity-note" => "Note",
        "severity-caution" => "Caution",
        "severity-unfit" => "Unfit",
        _ => return None,
    })
}

fn sections(key: &str) -> Option<&'static str> {
    Some(match key {
        "section-conditions" => "Conditions and instruments",
        "section-calibration" => "Calibration",
        "section-field" => "The field",
        "section-wave" => "The wave",
        "section-quantities" => "Quantities",
        "section-verdicts" => "Verdicts and repeats",
        "section-changes" => "Changes",
        "section-fitness" => "Fitness of the data",
        "section-safety" => "Values by the rules for diagnostic equipment",
        "safety-caution" => {
            "These values follow the rules made for diagnostic equipment and were computed because the record asks for them. They do not say that the head or a treatment is safe: the rules know neither a therapeutic exposure nor the tissue that is treated, and limits for diagnostic equipment do not apply to a head for therapy. They are no stated values, and nothing is judged by them."
        }
        "safety-derating" => {
            "Derated values: those in water less 0.3 dB cm⁻¹ MHz⁻¹ from the head to their depth, pressures times 10^(−0.3 f z/20), intensities times 10^(−0.3 f z/10), f in MHz, z in cm. The depth is where the derated pulse-intensity integral is largest along the axis."
        }
        "safety-thermal" => {
            "Thermal indices: of a beam that is not scanned, from power and intensity averaged over time under the stated exposure; below the surface at the samples of the axis."
        }
        "safety-at" => "at {depth} from the head, f = {frequency}",
        "safety-rests-on" => "What they rest on",
        "safety-depth" => "depth of the largest derated I_{pi}",
        "safety-frequency" => "working frequency",
        "safety-power" => "power under the exposure",
        "safety-aperture" => "radiating area",
        "safety-distortion" => "local distortion parameter",
        "section-method" => "Method",
        "section-provenance" => "Provenance",
        "section-glossary" => "Glossary",
        "what-it-is" => "What it is",
        "symbol" => "Symbol",
        "head" => "Head",
        "water" => "Water",
        "drive-heading" => "Drive",
        "sensor-heading" => "Sensor",
        "nominal-frequency" => "Nominal frequency",
        "aperture-radius" => "Aperture radius",
        "radius-of-curvature" => "Radius of curvature",
        "software-version" => "Software version",
        "operating-hours" => "Operating hours",
        "water-temperature" => "Temperature",
        "water-treatment" => "Treatment",
        "oxygen" => "Oxygen",
        "sound-speed" => "Speed of sound",
        "density" => "Density",
        "frequency" => "Frequency",
        "cycles" => "Cycles in a burst",
        "repetition-rate" => "Repetition rate",
        "drive-level" => "Level",
        "exposure" => "Treatment exposure",
        "sensor" => "Description",
        "effective-radius" => "Effective radius",
        "as-table" => "as a table against frequency",
        "full-scale" => "Full scale",
        "bits" => "Bits",
        "u-temperature" => "u of the temperature",
        "u-drive" => "Drive’s uncertainty",
        "u-gain" => "Gain’s uncertainty",
        "u-kind-standard" => "standard",
        "u-kind-half-width" => "half-width",
        "exposure-mode" => "Treatment: drive",
        "mode-cw" => "continuous wave",
        "mode-burst" => "bursts",
        "exposure-train" => "Treatment: whole train",
        "exposure-level" => "Treatment: drive level",
        "exposure-source" => "Treatment: stated in",
        "stated-in-file" => "from the file {file}; to change a value, change it there",
        "exposure-burst" => "Treatment: burst",
        "exposure-repetition" => "Treatment: bursts a second",
        "decision-heading" => "Decision rule",
        "decision-rule" => "Rule",
        "rule-guarded-both-sides" => "guarded both sides",
        "rule-simple" => "simple",
        "rule-guard-expanded" => "guard expanded",
        "least-probability" => "Least probability",
        "coverage-probability" => "Coverage of U",
        "equipment" => "Equipment",
        "kind" => "Kind",
        "certificate" => "Certificate",
        "calibrated" => "Calibrated",
        "due" => "Due",
        "calibration-table" => "From volts to pascals, scan by scan",
        "scan" => "Scan",
        "explained-source" => "Source:",
        "point-no-value" => "no value",
        "point-replaced" => ", replaced from its neighbours",
        "point-here" => "this point",
        "point-focal" => "focal point",
        "response" => "Response",
        "method" => "Method",
        "low-pass" => "Low-pass",
        "low-pass-from" => "Chosen by",
        "padded" => "Padded to samples",
        "response-none" => "none stated",
        "response-flat" => "flat factor",
        "response-check-source" => "flat factor from a check source",
        "response-table" => "sensitivity table, complex",
        "method-broadband" => "division at every frequency",
        "method-narrowband" => "division by the value at the drive frequency",
        "lowpass-one-pole" => "one-pole sections at",
        "lowpass-cosine" => "cosine roll-off from",
        "lowpass-from-record" => "the record",
        "lowpass-from-noise" => "the noise: last harmonic band in which the signal exceeds it",
        "lowpass-from-default" => "a default, for want of a quiet part",
        "look-described" => "Describes itself; no layout is needed:",
        "look-nothing" => "No array in it can be waveforms.",
        "look-proposed" => "Proposed reading",
        "look-lacking" => "missing",
        "look-no-number" => "no number",
        "look-used" => {
            "It is the only reading that fits, and is used if the record states none. Check it, and keep the layout in the record."
        }
        "look-incomplete" => {
            "Complete the layout and add it to the scan in the record; without it the file is not read."
        }
        "look-choose" => {
            "Add the layout that is right to the scan in the record; without it the file is not read."
        }
        "range" => "Range",
        "ranges" => "Ranges",
        "range-in-text" => "range",
        "range-only" => "sensor",
        "reference-sensor" => "calibrated sensor",
        "setting" => "Setting",
        "shots" => "Shots",
        "source-pressure" => "Pressure of the source",
        "voltage" => "Voltage",
        "factor" => "Factor, mV/MPa",
        "u-relative" => "u (k = 1)",
        "by-fundamental" => "by fundamental",
        "by-rms" => "by rms",
        "by-peak" => "by peak",
        "by-feature" => "By",
        "feature-fundamental" => "amplitude of the fundamental",
        "feature-rms" => "root mean square",
        "feature-peak" => "positive peak",
        "by-range" => "by range, see Calibration",
        "wave-u-table" => {
            "Uncertainty of the waveform at the peak, source by source: relative standard uncertainty (k = 1)"
        }
        "wave-u-reading" => {
            "Each scan’s waveform nearest its peak; at other points the same relative uncertainty is taken. Sensitivity: magnitude and phase as its table or factor states them. Low-pass: half the width of what it may take, over √3."
        }
        "frequency-correlation-common" => {
            "The errors of the sensitivity are taken to be common to all frequencies."
        }
        "frequency-correlation-independent" => {
            "The errors of the sensitivity are taken to be independent from row to row."
        }
        "frequency-correlation-length" => {
            "The errors of the sensitivity are taken to hang together over a stated width in frequency."
        }
        "value-of-waveform" => "Of this waveform",
        "u-noise" => "Noise",
        "u-magnitude" => "Magnitude",
        "u-phase" => "Phase",
        "u-low-pass" => "Low-pass",
        "u-drawn" => "Drawn",
        "other-method" => "Other method, re this",
        "stack-table" => "Planes at several depths, and the focus that they enclose (−6 dB)",
        "stack-z" => "z",
        "stack-pc" => "p_{c}",
        "stack-pr" => "p_{r}",
        "stack-width-x" => "Width in x, −6 dB",
        "stack-width-y" => "Width in y, −6 dB",
        "stack-whole" => "Together",
        "stack-length" => "length",
        "stack-ellipsoid" => "ellipsoid",
        "stack-shift" => "from the geometric focus",
        "stack-axis" => "Axis through the centres",
        "stack-tilt-x" => "tilt to x",
        "stack-tilt-y" => "tilt to y",
        "stack-offset-x" => "x at the head",
        "stack-offset-y" => "y at the head",
        "stack-counted" => "counted",
        "ranges-table" => "Gain ranges of the sensor as stated",
        "linear-limit" => "Linear up to",
        "lowpass-from-range" => "the scans at the same range",
        "factors-table" => "Factors by check source, one a range",
        "sources-table" => {
            "Sources of their uncertainty, relative standard uncertainty of the factor"
        }
        "comparison-table" => {
            "Ranges compared: pressure of the check source by the first over that by the second, less one"
        }
        "uncertainty-source" => "Source",
        "shared" => "Shared",
        "shared-all" => "by all ranges",
        "shared-own" => "no",
        "not-evaluated" => "not evaluated",
        "together" => "Together",
        "source-reference-certificate" => "certificate of the calibrated sensor",
        "source-reference-repeatability" => "scatter of its readings",
        "source-source-drift" => "drift of the source between them",
        "source-element-size" => "unequal element sizes",
        "source-transfer-repeatability" => "scatter of this sensor’s readings",
        "source-transfer-noise" => "noise of this sensor’s readings",
        "source-flatness" => "flatness over frequency",
        "source-linearity" => "linearity in level",
        "source-temperature" => "temperature",
        "source-level" => "Level",
        "difference" => "Difference",
        "u-difference" => "u of it (k = 1)",
        "noise-table" => "Noise-equivalent pressure and largest pressure by range",
        "nep" => "Noise-equivalent pressure, rms",
        "noise-band" => "Band",
        "nep-density" => "Density, Pa/√Hz",
        "limit" => "Largest pressure",
        "dynamic-range" => "Dynamic range",
        "noise-from" => "From",
        "noise-from-noise-record" => "noise record",
        "noise-from-pre-arrival" => "before the arrival",
        "role-plane" => "plane across the beam",
        "role-line" => "line across the beam",
        "role-axial" => "line along the beam",
        "role-point" => "single point",
        "role-record" => "record",
        "role-response" => "sensitivity table",
        "role-stated" => "stated values",
        "role-unused" => "not used",
        "role-sweep" => "drive levels",
        "role-noise" => "noise",
        "role-check-source" => "check source",
        "role-monitor" => "monitor",
        "role-reference" => "revisits",
        "role-model" => "computed field",
        "uncertainty-columns" => {
            "U is the expanded uncertainty for the coverage probability stated with the budgets. Values without one are printed to four digits, which is not their accuracy."
        }
        "quantity" => "Quantity",
        "stated-value" => "Stated",
        "measured" => "Measured",
        "verdict" => "Verdict",
        "not-measured" => "not measured",
        "not-measurable" => "Not given",
        "window-whole-pulse" => "whole pulse",
        "window-steady-state" => "steady state",
        "base-on" => "while on",
        "base-tank" => "tank excitation, no treatment value",
        "base-exposure" => "stated exposure",
        "correction-noise-energy" => "with noise",
        "correction-spatial-averaging" => "as averaged over the sensor",
        "correction-drift" => "drift not undone",
        "correction-motion" => "rows not moved",
        "correction-noise-bias" => "single shot, with noise",
        "no-findings" => "Nothing to remark.",
        "inputs" => "Input files",
        "file" => "File",
        "role" => "Role",
        "bytes" => "Bytes",
        "sha256" => "SHA-256",
        "hash-pending" => "pending",
        "made-with" => "Made with",
        "nothing-sent" => {
            "All of it was computed on the reader’s own computer; no data were sent anywhere."
        }
        _ => return None,
    })
}

fn figures(key: &str) -> Option<&'static str> {
    Some(match key {
        "drive" => "drive",
        "axis-pressure" => "pressure",
        "axis-voltage" => "voltage",
        "axis-pii" => "I_{pi}",
        "axis-relative-energy" => "energy re peak",
        "axis-level" => "level",
        "axis-time" => "time after trigger",
        "axis-frequency" => "frequency",
        "axis-sensitivity" => "sensitivity",
        "pulse-window" => "pulse window",
        "steady-window" => "steady window",
        "curve-response" => "response, band ± 2 u",
        "curve-signal" => "signal, 80 dB over the height",
        "mark-cutoff" => "low-pass",
        "caption-glance" => {
            "The field at a glance: pulse-intensity integral in the plane, its profiles through the peak, and the waveform at the grid point nearest the peak"
        }
        "caption-pc" => "Peak compressional pressure",
        "caption-pr" => "Peak rarefactional pressure",
        "caption-intensity" => "Pulse-intensity integral, noise energy subtracted",
        "axis-visit" => "visit",
        "axis-departure" => "departure from the mean",
        "caption-revisits" => "Revisits of one point: peak pressures re their means",
        "axis-width" => "width",
        "caption-depths-pressures" => "Peak pressures of the planes along the beam",
        "caption-depths-widths" => {
            "−6 dB widths of the planes along the beam, of the pulse-pressure-squared integral"
        }
        "axis-phase" => "phase re peak",
        "axis-arrival" => "arrival re peak",
        "caption-harmonic" => "Amplitude of harmonic",
        "caption-phase" => {
            "Phase of the fundamental re that at the peak, where its amplitude is above −20 dB; later is lower"
        }
        "caption-arrival" => {
            "Arrival (half-amplitude point of the rise) re that at the peak, where the fundamental is above −20 dB"
        }
        "caption-profile-x" => {
            "Profile along x through the peak, pulse-pressure-squared integral re its peak; arrow: −6 dB width"
        }
        "caption-profile-y" => {
            "Profile along y through the peak, pulse-pressure-squared integral re its peak; arrow: −6 dB width"
        }
        "caption-pressures-x" => {
            "Profiles of p_{c} and p_{r} along x, each through its own peak; dots: −6 dB of it (a factor of 0.501)"
        }
        "caption-pressures-y" => {
            "Profiles of p_{c} and p_{r} along y, each through its own peak; dots: −6 dB of it (a factor of 0.501)"
        }
        "caption-axial" => "Peak pressures along the beam",
        "caption-axial-level" => {
            "Pulse-pressure-squared integral along the beam re its peak; arrow: −6 dB depth of focus"
        }
        "caption-line" => "Peak pressures along the line",
        "caption-line-level" => {
            "Pulse-pressure-squared integral along the line re its peak; arrow: −6 dB width"
        }
        "caption-waveform" => "Waveform at the grid point nearest the peak, after deconvolution",
        "caption-spectrum" => {
            "Amplitude spectrum of that waveform re its maximum, harmonics numbered"
        }
        "axis-limit" => "largest pressure",
        "axis-nep" => "noise-equivalent pressure, rms",
        "caption-check-source" => {
            "Check source: voltage at each range against its pressure by the calibrated sensor (dots); dashed, the factor of the range from its noise to its largest pressure"
        }
        "caption-noise-by-range" => {
            "Noise-equivalent pressure against the largest pressure that each range holds; low and to the right is better"
        }
        "caption-response" => {
            "Sensitivity with its uncertainty band; over it, in grey, the signal’s spectrum in volts deconvolved, on a scale of 80 dB"
        }
        _ => return None,
    })
}

fn notes(key: &str) -> Option<&'static str> {
    Some(match key {
        "method-note-1" => {
            "Order of operations: clipping test on raw counts; counts to volts; baseline (mean before the arrival, drive feed-through excluded); taper; zero padding; division by the response times the low-pass over the full length; truncation; window; quantities of each point; noise energy; spatial peak."
        }
        "method-note-2" => {
            "Whole-pulse window: from two periods before the earliest arrival of the scan to two periods after the latest end, found where the rms over one period exceeds 2 % of the loudest and four times the quietest."
        }
        "method-note-3" => {
            "Steady state (bursts of eight cycles and more): whole cycles from the first to the last whose rms reaches 97 % of the plateau, before the stated end of the burst and before sound can have returned from the head."
        }
        "method-note-4" => {
            "Spatial peak: least-squares quadratic in the logarithm over the connected points above −1.5 dB (at least nine; with fewer, the largest point and its neighbours above −6 dB; along a line with seven points or more, of the fourth degree). p_{c}, p_{r} and energy each on its own map."
        }
        "method-note-5" => {
            "Widths and areas are levels of the pulse-pressure-squared integral, 10 log_{10}: −6 dB is a ratio of 0.2512, not a half."
        }
        "method-note-6" => {
            "Noise energy: the mean square before the arrival (median over the scan) times the window’s length is subtracted; uncorrected values are printed beside."
        }
        "method-note-7" => {
            "Water: speed of sound by Marczak (1997), density by Tanaka et al. (2001), from the stated temperature. Intensities use the plane-wave relation p²/(ρc)."
        }
        "method-note-8" => {
            "Where a peak pressure shows an uncorrected value, the upward bias of a single shot by noise was subtracted: found by adding noise of the same level to the waveform. On planes the averaging over the sensor’s face is undone by what a disc of the stated radius makes of the measured field, where that is more than 0.01 %; its uncertainty is a third of it. Drift between revisits of one point, and the offset of rows recorded on the fly, are corrected only where the record asks for it; maps and profiles of pressure then show the state at the instant of the peak."
        }
        _ => return None,
    })
}

/// A blank of the record in words.
pub fn blank(path: &str) -> Option<&'static str> {
    Some(match path {
        "sensor.response" => "the sensor’s response",
        "sensor.response.uncertainty" => "the uncertainty of the sensor’s response",
        "sensor.u_gain" => "the uncertainty of the gain",
        "frame.u_scale" => "the uncertainty of the axes’ scale",
        "frame.u_position" => "the uncertainty of the positions",
        "excitation.u_drive" => "the stability of the drive",
        "excitation.u_repetition" => "the uncertainty of the repetition rate",
        "water.u_temperature_c" => "the uncertainty of the water’s temperature",
        "excitation.repetition_hz" => "the repetition rate",
        "sensor.full_scale_v" => {
            "the full scale of the digitiser or the linear limit of the sensor"
        }
        "frame.z_zero" => "the point of the head at which z begins",
        "device.radius_of_curvature_m" => "the radius of curvature of the head",
        "device.aperture_radius_m" => "the radius of the aperture",
        "device.source_area_m2" => "the area of the head’s source",
        "excitation.level_kind" => "the kind of the drive level: amplitude or power",
        "scans.level" => "the drive level of the scan",
        "scans.range" => "the gain range of the scan",
        "scans.distance_m" => "the distance of the plane from the head",
        "excitation.cycles" => "the number of cycles in a burst",
        "excitation.frequency_hz" => "the drive frequency",
        "exposure" => "the treatment exposure",
        "exposure.burst_s" => "the burst length of the treatment exposure",
        "exposure.repetition_hz" => "the repetition rate of the treatment exposure",
        _ => return None,
    })
}
