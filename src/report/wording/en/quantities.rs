//! Names, explanations and sources of the quantities.

use super::QuantityWords;

const IEC_62127_1: &str = "IEC 62127-1";

fn words(name: &'static str, explanation: &'static str, reference: &'static str) -> QuantityWords {
    QuantityWords { name, explanation, reference }
}

pub fn quantity(id: &str) -> Option<QuantityWords> {
    Some(match id {
        "pc" => words(
            "peak compressional pressure",
            "The highest positive pressure of the waveform at the place where it is highest. Between samples the band-limited waveform is followed to its top.",
            IEC_62127_1,
        ),
        "pr" => words(
            "peak rarefactional pressure",
            "The deepest negative pressure, printed as a positive number. It decides whether bubbles form.",
            IEC_62127_1,
        ),
        "pc_ss" => words(
            "peak compressional pressure, steady state",
            "Mean over the steady cycles of the highest positive pressure in each. One cycle of a noisy or ringing burst can stand out; this does not.",
            "IEC 62127-1, steady state",
        ),
        "pr_ss" => words(
            "peak rarefactional pressure, steady state",
            "Mean over the steady cycles of the deepest negative pressure in each, printed as a positive number.",
            "IEC 62127-1, steady state",
        ),
        "ppsi" => words(
            "pulse-pressure-squared integral",
            "The square of the pressure, added up over the pulse; the energy of the noise in the same window is subtracted.",
            IEC_62127_1,
        ),
        "pii" => words(
            "pulse-intensity integral",
            "Energy of one pulse per area: the pulse-pressure-squared integral over density times speed of sound (plane-wave relation).",
            IEC_62127_1,
        ),
        "td" => words(
            "pulse duration",
            "1.25 times the time in which the running energy grows from 10 % to 90 %.",
            IEC_62127_1,
        ),
        "i_on" => words(
            "intensity while on",
            "Mean of p²/(ρc) over whole cycles of the steady part of the burst.",
            "IEC 62127-1, plane wave",
        ),
        "isppa" => words(
            "spatial-peak pulse-average intensity",
            "Pulse-intensity integral at the spatial peak over the pulse duration.",
            IEC_62127_1,
        ),
        "ispta" => words(
            "spatial-peak temporal-average intensity",
            "Intensity averaged over on and off times. In the tank the duty is kept low on purpose, so the tank's value says nothing about a treatment.",
            IEC_62127_1,
        ),
        "f_awf_zero" => words(
            "acoustic working frequency, zero crossings",
            "Number of half-cycles over twice the time they take.",
            IEC_62127_1,
        ),
        "f_awf_mean" => words(
            "acoustic working frequency, arithmetic mean",
            "Middle of the two frequencies at which the spectrum is 3 dB below its maximum.",
            IEC_62127_1,
        ),
        "bandwidth" => words(
            "bandwidth at −3 dB",
            "Distance between the two frequencies at which the spectrum is 3 dB below its maximum.",
            IEC_62127_1,
        ),
        "p1" => words(
            "amplitude of the fundamental",
            "Amplitude of the part of the waveform at the drive frequency.",
            "Fourier coefficient",
        ),
        "h2" => words(
            "second harmonic re fundamental",
            "Amplitude at twice the drive frequency over that at the drive frequency. It grows as the wave steepens.",
            "Fourier coefficient",
        ),
        "h3" => words(
            "third harmonic re fundamental",
            "Amplitude at three times the drive frequency over that at the drive frequency.",
            "Fourier coefficient",
        ),
        "h4" => words(
            "fourth harmonic re fundamental",
            "Amplitude at four times the drive frequency over that at the drive frequency.",
            "Fourier coefficient",
        ),
        "h5" => words(
            "fifth harmonic re fundamental",
            "Amplitude at five times the drive frequency over that at the drive frequency.",
            "Fourier coefficient",
        ),
        "h6" => words(
            "sixth harmonic re fundamental",
            "Amplitude at six times the drive frequency over that at the drive frequency.",
            "Fourier coefficient",
        ),
        "h7" => words(
            "seventh harmonic re fundamental",
            "Amplitude at seven times the drive frequency over that at the drive frequency.",
            "Fourier coefficient",
        ),
        "h8" => words(
            "eighth harmonic re fundamental",
            "Amplitude at eight times the drive frequency over that at the drive frequency.",
            "Fourier coefficient",
        ),
        "h9" => words(
            "ninth harmonic re fundamental",
            "Amplitude at nine times the drive frequency over that at the drive frequency.",
            "Fourier coefficient",
        ),
        "h10" => words(
            "tenth harmonic re fundamental",
            "Amplitude at ten times the drive frequency over that at the drive frequency.",
            "Fourier coefficient",
        ),
        "thd" => words(
            "total harmonic distortion",
            "Root of the sum of the squares of the harmonics 2 to 10, each re the fundamental.",
            "common practice",
        ),
        "arrival" => words(
            "arrival",
            "Instant after the trigger at which the burst has risen to half its amplitude: the mean over a period is followed.",
            "common practice",
        ),
        "snr_db" => words(
            "signal-to-noise ratio",
            "Level of the signal at the peak over the noise before the arrival, in the band of the low-pass.",
            "common practice",
        ),
        "nep" => words(
            "noise-equivalent pressure",
            "Root mean square of the noise before the arrival, as pressure, over the band of the low-pass.",
            "IEC 62127-3",
        ),
        "nep_density" => words(
            "noise-equivalent pressure density",
            "Noise-equivalent pressure over the root of the bandwidth of the low-pass.",
            "IEC 62127-3",
        ),
        "dynamic_range_db" => words(
            "dynamic range",
            "Largest pressure that the sensor and its digitiser hold, over the noise-equivalent pressure.",
            "common practice",
        ),
        "x_peak" => words(
            "position of the peak, x",
            "Where the pulse-pressure-squared integral is largest, between the points by a fitted surface.",
            "IEC 61828",
        ),
        "y_peak" => words(
            "position of the peak, y",
            "Where the pulse-pressure-squared integral is largest, between the points by a fitted surface.",
            "IEC 61828",
        ),
        "z_peak" => words(
            "position of the peak, z",
            "Where along the beam the pulse-pressure-squared integral is largest.",
            "IEC 61828",
        ),
        "focus_shift" => words(
            "pressure focus re geometric focus",
            "Place of the peak along the beam less that of the centre of curvature; negative toward the head. A focusing bowl has its peak a little nearer.",
            "O’Neil 1949",
        ),
        "x_peak_pc" => words("position of the largest p_{c}, x", OWN_PEAK, "IEC 61828"),
        "y_peak_pc" => words("position of the largest p_{c}, y", OWN_PEAK, "IEC 61828"),
        "x_peak_pr" => words("position of the largest p_{r}, x", OWN_PEAK, "IEC 61828"),
        "y_peak_pr" => words("position of the largest p_{r}, y", OWN_PEAK, "IEC 61828"),
        "z_peak_pc" => words("position of the largest p_{c}, z", OWN_PEAK, "IEC 61828"),
        "z_peak_pr" => words("position of the largest p_{r}, z", OWN_PEAK, "IEC 61828"),
        "width_x_3_pc" => words("beam width in x at −3 dB, of p_{c}", BEAM_WIDTH_PC, IEC_62127_3),
        "width_x_6_pc" => words("beam width in x at −6 dB, of p_{c}", BEAM_WIDTH_PC, IEC_62127_3),
        "width_x_12_pc" => words("beam width in x at −12 dB, of p_{c}", BEAM_WIDTH_PC, IEC_62127_3),
        "width_y_3_pc" => words("beam width in y at −3 dB, of p_{c}", BEAM_WIDTH_PC, IEC_62127_3),
        "width_y_6_pc" => words("beam width in y at −6 dB, of p_{c}", BEAM_WIDTH_PC, IEC_62127_3),
        "width_y_12_pc" => words("beam width in y at −12 dB, of p_{c}", BEAM_WIDTH_PC, IEC_62127_3),
        "area_6_pc" => words(
            "beam area at −6 dB, of p_{c}",
            "Area inside the contour through its own peak on which the compressional pressure is 6 dB (a factor of 0.501) below its maximum.",
            IEC_62127_1,
        ),
        "width_x_3_pr" => words("beam width in x at −3 dB, of p_{r}", BEAM_WIDTH_PR, IEC_62127_3),
        "width_x_6_pr" => words("beam width in x at −6 dB, of p_{r}", BEAM_WIDTH_PR, IEC_62127_3),
        "width_x_12_pr" => words("beam width in x at −12 dB, of p_{r}", BEAM_WIDTH_PR, IEC_62127_3),
        "width_y_3_pr" => words("beam width in y at −3 dB, of p_{r}", BEAM_WIDTH_PR, IEC_62127_3),
        "width_y_6_pr" => words("beam width in y at −6 dB, of p_{r}", BEAM_WIDTH_PR, IEC_62127_3),
        "width_y_12_pr" => words("beam width in y at −12 dB, of p_{r}", BEAM_WIDTH_PR, IEC_62127_3),
        "area_6_pr" => words(
            "beam area at −6 dB, of p_{r}",
            "Area inside the contour through its own peak on which the rarefactional pressure is 6 dB (a factor of 0.501) below its maximum.",
            IEC_62127_1,
        ),
        "width_major_6" => words(
            "largest beam width at −6 dB",
            "Width through the peak along the beam's own long axis, found from the second moments of its energy.",
            IEC_62127_3,
        ),
        "width_minor_6" => words(
            "smallest beam width at −6 dB",
            "Width through the peak across the beam's own long axis.",
            IEC_62127_3,
        ),
        "axis_angle" => words(
            "angle of the beam's long axis",
            "From the x axis toward the y axis. Of a round beam it has no meaning.",
            "common practice",
        ),
        "sidelobe_db" => words(
            "highest side lobe",
            "Highest level outside the main lobe, re the main lobe.",
            "IEC TS 62556",
        ),
        "tilt_x" => words("tilt of the beam toward x", TILT, "common practice"),
        "tilt_y" => words("tilt of the beam toward y", TILT, "common practice"),
        "axis_offset_x" => {
            words("offset of the beam’s axis at the head, x", AXIS_OFFSET, "common practice")
        }
        "axis_offset_y" => {
            words("offset of the beam’s axis at the head, y", AXIS_OFFSET, "common practice")
        }
        "isal" => words(
            "spatial-average intensity, linear",
            "Mean of the intensity while on inside the contour on which the pressure has fallen to a half, at a level low enough for the wave not to steepen.",
            "Hill et al. 1994",
        ),
        "isata" => words(
            "spatial-average temporal-average intensity",
            "Mean of the temporal-average intensity inside the −6 dB contour of the pulse-pressure-squared integral.",
            IEC_62127_1,
        ),
        "era" => words(
            "effective radiating area",
            "4/3 of the smallest area that holds three quarters of the mean square pressure; for unfocused heads, near their face.",
            "IEC 61689, from memory",
        ),
        "bnr" => words(
            "beam non-uniformity ratio",
            "Largest intensity over the mean intensity in the effective radiating area; for unfocused heads.",
            "IEC 61689, from memory",
        ),
        "power_ta_angular" => words(
            "temporal-average power, angular spectrum",
            "Power while on by angular spectrum times the duty factor.",
            "angular spectrum",
        ),
        "length_6_pc" => words("depth of focus at −6 dB, of p_{c}", DEPTH_OWN, IEC_61828),
        "length_6_pr" => words("depth of focus at −6 dB, of p_{r}", DEPTH_OWN, IEC_61828),
        "width_x_3" => words("beam width in x at −3 dB", BEAM_WIDTH, IEC_62127_3),
        "width_x_6" => words("beam width in x at −6 dB", BEAM_WIDTH, IEC_62127_3),
        "width_x_12" => words("beam width in x at −12 dB", BEAM_WIDTH, IEC_62127_3),
        "width_y_3" => words("beam width in y at −3 dB", BEAM_WIDTH, IEC_62127_3),
        "width_y_6" => words("beam width in y at −6 dB", BEAM_WIDTH, IEC_62127_3),
        "width_y_12" => words("beam width in y at −12 dB", BEAM_WIDTH, IEC_62127_3),
        "area_6" => words(
            "beam area at −6 dB",
            "Area inside the contour through the peak on which the pulse-pressure-squared integral is 6 dB below its maximum.",
            IEC_62127_1,
        ),
        "power_on_plane_wave" => words(
            "power while on, plane wave",
            "Energy of one pulse through the scanned plane over the time for which the burst is on, taking each point as a plane wave. What lies outside the window is missing.",
            "IEC 62127-1, plane wave",
        ),
        "power_ta_plane_wave" => words(
            "temporal-average power, plane wave",
            "Power while on times the duty factor.",
            "IEC 62127-1, plane wave",
        ),
        "power_on_angular" => words(
            "power while on, angular spectrum",
            "Power of the plane's complex field, each plane wave weighted by its obliquity.",
            "angular spectrum",
        ),
        "sensitivity_change" => words(
            "change of the sensor’s sensitivity",
            "Mean reading of a check source after the scans over that before them, less one.",
            "common practice",
        ),
        "length_3" => words("depth of focus at −3 dB", DEPTH, IEC_61828),
        "length_6" => words("depth of focus at −6 dB", DEPTH, IEC_61828),
        "pr_derated" => words(
            "derated peak rarefactional pressure",
            "The rarefactional pressure where the derated pulse-intensity integral is largest along the axis, less 0.3 dB per centimetre and megahertz up to there.",
            DERATED,
        ),
        "isppa_derated" => words(
            "derated spatial-peak pulse-average intensity",
            "The derated pulse-intensity integral where it is largest along the axis, over the pulse duration there.",
            DERATED,
        ),
        "ispta_derated" => words(
            "derated spatial-peak temporal-average intensity",
            "The intensity averaged over the stated exposure where the derated pulse-intensity integral is largest, less 0.3 dB per centimetre and megahertz up to there.",
            DERATED,
        ),
        "mi" => words(
            "mechanical index",
            "The derated rarefactional pressure in MPa over the root of the working frequency in MHz. Made for short diagnostic pulses: it does not tell whether a long burst makes bubbles.",
            IEC_62359,
        ),
        "tis" => words(
            "thermal index, soft tissue",
            "Power under the stated exposure over the power that is taken to warm soft tissue by 1 °C. Made for diagnostic equipment: it is no temperature.",
            IEC_62359,
        ),
        "tib" => words(
            "thermal index, bone at the focus",
            "Power and intensity under the stated exposure, over those that are taken to warm bone at depth by 1 °C. Made for diagnostic equipment: it is no temperature.",
            IEC_62359,
        ),
        "tic" => words(
            "thermal index, cranial bone",
            "Power under the stated exposure per diameter of the head, over that which is taken to warm bone at the surface by 1 °C. Made for diagnostic equipment: it is no temperature.",
            IEC_62359,
        ),
        _ => return None,
    })
}

const IEC_62359: &str = "IEC 62359, formula from memory";
const DERATED: &str = "IEC 62359; AIUM/NEMA UD 2";
const IEC_62127_3: &str = "IEC 62127-3";
const IEC_61828: &str = "IEC 61828";
const BEAM_WIDTH: &str = "Distance between the two places at which the pulse-pressure-squared integral has fallen to the level, on a line through the peak.";
const BEAM_WIDTH_PC: &str = "Distance between the two places at which the compressional pressure has fallen to the level (−6 dB is a factor of 0.501), on a line through its own peak.";
const BEAM_WIDTH_PR: &str = "Distance between the two places at which the rarefactional pressure has fallen to the level (−6 dB is a factor of 0.501), on a line through its own peak.";
const OWN_PEAK: &str = "Where this pressure itself is largest. In a steepened field the compressional peak lies deeper and is narrower than the rarefactional one.";
const AXIS_OFFSET: &str = "Where the beam’s axis, followed back from the peak along its tilt, meets the plane of the head at which z begins. An error of the tilt counts with the whole distance.";
const TILT: &str = "Angle of the beam's axis to the z axis, from the course of the fundamental's phase across the main lobe.";
const DEPTH_OWN: &str = "Distance along the beam between the two places at which this pressure has fallen by 6 dB (a factor of 0.501).";
const DEPTH: &str = "Distance along the beam between the two places at which the pulse-pressure-squared integral has fallen to the level.";
