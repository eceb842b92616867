//! Why a quantity has no value, and how values were obtained.

pub fn reason(code: &str) -> Option<&'static str> {
    Some(match code {
        "blank" => "the record does not state it",
        "not-finite" => "the computation gave no finite number",
        "burst-not-held" => "the record ends before the burst does",
        "no-pulse" => "no signal stands above the noise",
        "short-pulse" => "the pulse is too short for a steady part",
        "no-steady-window" => "no steady part was found",
        "no-whole-cycle" => "no whole cycle is left between ring-up and the echo from the head",
        "stated-window-short" => "the stated window holds no whole cycle",
        "whole-pulse-chosen" => "the record asks for the whole pulse",
        "no-frequency" => "no drive frequency is known",
        "no-quiet-part" => "no quiet part before the arrival",
        "too-few-crossings" => "fewer than two half-cycles",
        "no-band" => "the spectrum does not fall 3 dB on both sides of the fundamental",
        "step-too-large" => "the step is too large for the beam’s angles",
        "round-beam" => "the beam is round",
        "no-side-lobe" => "none stands above the noise",
        "z-zero-unknown" => "z is stated to begin at an unknown point",
        "z-zero-cone" => {
            "z begins at a coupling cone, and nothing says how far that is from the bowl"
        }
        "not-a-bowl" => "the radius of curvature is smaller than that of the aperture",
        "too-few-points" => "too few points above −6 dB",
        "not-linear" => "the wave steepens (local distortion parameter above 0.5)",
        "focused-head" => "the head is focused",
        "below-noise" => "does not stand above the noise",
        "beyond-low-pass" => "lies above the low-pass",
        "beam-not-within-scan" => "the field does not fall to this level inside the scanned window",
        "clipped-at-peak" => "the peak was clipped",
        "excluded-at-peak" => "an excluded point may have held the peak",
        "noise-not-known" => "the noise could not be measured",
        "uncertainty-not-evaluated" => "no source of uncertainty is evaluated for it",
        "not-stated" => "not stated",
        "minimum-phase" => "the phase was computed from the magnitude",
        "only-a-bound" => "a lower bound has no uncertainty",
        "calibration-not-sure" => "the uncertainty of the calibration is not stated",
        "exposure-level-differs" => "the stated exposure is at another drive level",
        "no-axial-scan" => "there is no axial scan",
        "no-plane-at-level" => "there is no plane at its drive level",
        "axis-behind-head" => "the axis begins behind the head, as its z is stated",
        "derated-peak-at-edge" => "the largest value stands at an end of the scanned axis",
        "axis-ends-before-break-point" => {
            "the axis ends nearer to the head than 1.69 times the root of its radiating area"
        }
        _ => return None,
    })
}

pub fn method(code: &str) -> Option<&'static str> {
    Some(match code {
        "" => "",
        "check-fundamental" => "check source, fundamental",
        "check-rms" => "check source, rms",
        "check-peak" => "check source, positive peak",
        "single-waveform" => "single waveform",
        "peak-pc" => "of p_{c}",
        "peak-pr" => "of p_{r}",
        "width-pc" => "of p_{c}, amplitude",
        "width-pr" => "of p_{r}, amplitude",
        "area-pc" => "contour of p_{c}, amplitude",
        "area-pr" => "contour of p_{r}, amplitude",
        "angular-steady" => "angular spectrum, steady cycles",
        "angular-whole-pulse" => "angular spectrum, whole pulse over its duration",
        "second-moments" => "second moments of the energy",
        "of-ppsi" => "of p_{i}",
        "peak-and-tilt" => "from peak and tilt",
        "peak-less-geometric" => "of p_{i}, less the geometric focus",
        "phase-fit" => "fitted to the phase of the fundamental",
        "half-pressure-contour" => "inside half the pressure",
        "steady-cycles" => "mean over steady cycles",
        "derated" => "derated, where the derated I_{pi} is largest",
        "derated-times-duty" => {
            "I_{on} × duty factor, derated, where the derated I_{pi} is largest"
        }
        "tis-at-surface" => "at the surface, aperture up to 1 cm²",
        "tis-below-surface" => "below the surface, largest sample from 1.69 √A",
        "tib-largest-product" => "where derated power × intensity is largest, at the samples",
        "tic-at-surface" => "at the surface",
        "half-rise" => "half-amplitude point of the rise",
        "noise-record" => "from a record of noise",
        "peak-fit-plane" => "fitted over the plane",
        "peak-fit-line" => "fitted along the line",
        "peak-ppsi" => "of p_{i}",
        "steady-times-duty" => "I_{on} × duty factor",
        "pulse-times-rate" => "I_{pi} × repetition rate",
        "harmonics-steady" => "whole steady cycles",
        "harmonics-whole-pulse" => "whole pulse over its duration",
        "width-ppsi" => "of p_{i}",
        "area-contour" => "contour of p_{i}",
        "power-stated-burst" => "over the stated burst",
        "power-pulse-duration" => "over the pulse duration at the peak",
        _ => return None,
    })
}
