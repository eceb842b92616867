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
        "whole-pulse-chosen" => "the record asks for the whole pulse",
        "no-frequency" => "no drive frequency is known",
        "no-quiet-part" => "no quiet part before the arrival",
        "too-few-crossings" => "fewer than two half-cycles",
        "no-band" => "the spectrum does not fall 3 dB on both sides of the fundamental",
        "step-too-large" => "the step is too large for the beam’s angles",
        "below-noise" => "does not stand above the noise",
        "beyond-low-pass" => "lies above the low-pass",
        "beam-not-within-scan" => "the field does not fall to this level inside the scanned window",
        "clipped-at-peak" => "the peak was clipped",
        "excluded-at-peak" => "an excluded point may have held the peak",
        "exposure-level-differs" => "the stated exposure is at another drive level",
        _ => return None,
    })
}

pub fn method(code: &str) -> Option<&'static str> {
    Some(match code {
        "" => "",
        "single-waveform" => "single waveform",
        "peak-pc" => "of p_{c}",
        "peak-pr" => "of p_{r}",
        "width-pc" => "of p_{c}, amplitude",
        "width-pr" => "of p_{r}, amplitude",
        "area-pc" => "contour of p_{c}, amplitude",
        "area-pr" => "contour of p_{r}, amplitude",
        "angular-steady" => "angular spectrum, steady cycles",
        "angular-whole-pulse" => "angular spectrum, whole pulse over its duration",
        "steady-cycles" => "mean over steady cycles",
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
