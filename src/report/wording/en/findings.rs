//! Findings: short, exact, kind; each with what to do.

use super::bubbles;
use super::formats::formats;
use super::layouts;
use super::{Filled, Sentence};

pub fn finding(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "role-not-evaluated" => s(
            a.fill("This scan has the role “{role}”, which this version does not evaluate."),
            "Its file was not read.",
        ),
        "temperature-assumed" => s(
            a.fill("The water's temperature is not stated; {assumed} was assumed."),
            "State it: intensities and powers depend on it.",
        ),
        "temperature-unusual" => s(
            a.fill("The water's temperature is stated as {found}, outside the range in which the water formulas are used."),
            "Check the temperature.",
        ),
        "frequency-from-signal" => s(
            "The drive frequency is not stated; it was taken from the strongest line of the spectrum.",
            "State it: windows and harmonics rest on it.",
        ),
        "feed-through" => s(
            a.fill("The drive is seen directly from {from} to {to} ({level} rms); this part was kept out of the baseline."),
            "",
        ),
        "no-quiet-part" => s(
            "Too little of the record is quiet before the arrival: neither baseline nor noise could be measured.",
            "Start the record a few periods before the wave arrives.",
        ),
        "burst-not-held" => s(
            "The record ends before the burst does: energies of the whole pulse cannot be given.",
            "Record until the wave has died away.",
        ),
        "low-pass-without-noise" => s(
            "The low-pass could not follow the noise and stands at a default.",
            "Record a quiet part before the arrival, or state the low-pass.",
        ),
        "time-origin-unknown" => s(
            "The file does not say when the record begins after the trigger.",
            "Arrival times are relative; add t0_s.",
        ),
        "clipped" => s(
            a.fill("{points} of {all} points reached the end of the digitiser's range and were replaced by their neighbours."),
            "Repeat them with a wider range.",
        ),
        "clipped-at-peak" => s(
            "The waveform was clipped where the field is strongest: peak values are lower bounds.",
            "Repeat the scan with a wider range.",
        ),
        "excluded-at-peak" => s(
            "A point that could not be used lies where the field is strongest: no peak value is given, since a weaker neighbour must not stand for it.",
            "Repeat the points about the peak.",
        ),
        "points-replaced" => s(
            a.fill("{points} of {all} points are dead or broken; maps and sums use the mean of their neighbours, and the maps mark them."),
            "",
        ),
        "too-many-excluded" => s(
            a.fill("{points} of {all} points could not be used, more than {limit}."),
            "Repeat the scan.",
        ),
        "points-skipped" => s(
            a.fill("{points} points could not be computed."),
            "Load the files again; if it happens again, the file is damaged there.",
        ),
        "samples-not-finite" => s(
            format!(
                "{} at {} are not finite numbers; these were replaced.",
                counted(&a.get("samples"), "sample"),
                counted(&a.get("points"), "point")
            ),
            "Look for the gap in the recording.",
        ),
        "samples-zeroed" => s(
            a.fill("{samples} samples are not finite numbers and were taken as zero."),
            "Look for the gap in the recording and repeat it.",
        ),
        "full-scale-unknown" => s(
            "The digitiser's full scale is not stated, so clipping could not be looked for.",
            "State the full scale and the bits.",
        ),
        "snr-low" => s(
            a.fill("At the peak the signal stands only {found} above the noise; {wanted} are wanted."),
            "Average more shots, or use a more sensitive range.",
        ),
        "table-not-covering" => s(
            a.fill("The sensitivity table runs from {low} to {high} and does not cover the signal's band (low-pass at {cutoff}); beyond its ends the end values stand."),
            "Use a table that covers the band.",
        ),
        "peak-uncertainty-nonlinear" => s(
            a.fill("The sensitivity's uncertainty is too large for linear propagation: with its errors drawn at random the value averages {mean} instead of {value}, with a standard deviation of {drawn} instead of {linear}."),
            "Trust the drawn values more; a sensitivity table with smaller uncertainties, of the phase above all, would help.",
        ),
        "low-pass-takes-signal" => s(
            a.fill("Signal stands above the noise up to {reach}; with all of it let through, the value would differ by {share}. The low-pass's uncertainty covers that."),
            "State a higher low-pass, or leave it to follow the noise.",
        ),
        "methods-differ" => s(
            format!(
                "By the {} method ({} at {}) the value would differ by {}.",
                a.get("method"),
                if a.get("method") == "narrowband" {
                    "all divided by the sensitivity"
                } else {
                    "divided by the whole table, not by the sensitivity"
                },
                a.get("frequency"),
                a.get("share")
            ),
            "",
        ),
        "table-columns-unused" => s(
            a.fill("Columns of the sensitivity table whose names say nothing of the response were not used: {columns}."),
            "If one of them is meant, name it with its unit.",
        ),
        "phase-minimum" => s(
            a.fill("The sensitivity table has no phase. It was computed from the magnitude as that of a minimum-phase sensor, with the magnitude constant outside {low} to {high}."),
            "Peaks of steepened waves rest on it; use a table with phase where they matter.",
        ),
        "harmonics-left-out" => s(
            a.fill("Harmonics that the step is too large for carry {share} of the power; they are left out of the angular spectrum."),
            "Scan with a smaller step.",
        ),
        "evanescent-energy" => s(
            a.fill("{share} of the fundamental's energy in the plane cannot propagate: noise, jitter, or steps that are not those stated."),
            "Check coordinates, trigger and water temperature.",
        ),
        "power-beyond-window" => s(
            a.fill("Some {share} of the power lies outside the scanned window and is missing (guessed, give or take half)."),
            "Scan a larger window.",
        ),
        "output-drift" => s(
            format!(
                "Over {} visits to the same point {} ranged over {} ({} from the first to the last, scatter {}). {}",
                a.get("visits"),
                a.get("symbol"),
                a.get("range"),
                a.get("change"),
                a.get("scatter"),
                if a.get("corrected") == "yes" {
                    "The record asks for a correction: values that have one show it."
                } else {
                    "No value is corrected for it."
                }
            ),
            "Let head and amplifier warm up, check degassing and temperature, and scan again.",
        ),
        "rarefaction-exceeds" => s(
            a.fill("The rarefactional peak is {found} larger than the compressional one: a wave that steepens toward a focus has it the other way round."),
            "Check the polarity of sensor, amplifier and digitiser: the sign of the samples decides which peak is which.",
        ),
        "monte-carlo-disagrees" => s(
            a.fill(if a.has("scans") { "For {symbols} (scans {scans}) the interval that the distributions give departs from y ± U by more than half a unit of the first digit of u: it is not symmetric. Verdicts rest on y and u." } else { "For {symbols} the interval that the distributions give departs from y ± U by more than half a unit of the first digit of u: it is not symmetric. Verdicts rest on y and u." }),
            "",
        ),
        "calibration-uncertainty-missing" => s(
            "The response has no uncertainty: nothing in pascals, watts or joules has one, and no stated value of them can be judged.".to_owned(),
            "State the uncertainty of the response, with its kind.",
        ),
        "steadiness-unknown" => s(
            a.fill("The scan took {minutes} min and no point was revisited: nothing shows whether the output was steady."),
            "Return to one point now and then and give these records the role reference.",
        ),
        "drift-not-corrected" => s(
            if a.get("why") == "times" {
                "A correction for drift is asked for, but nothing says when the points were measured: none was made."
            } else {
                "A correction for drift is asked for, but there are no two visits to one point whose times can be compared with this scan’s: none was made."
            },
            "Give the scans’ points their time_s, or state start and end of scans and visits on one clock.",
        ),
        "drift-beyond-visits" => s(
            a.fill("Points were measured up to {minutes} min before the first or after the last visit: there the nearest visit’s factor was taken."),
            "Visit the point before the scan and after it.",
        ),
        "repeats-average-differs" => s(
            a.fill("The average of {repeats} aligned waveforms has a {symbol} of {averaged}, but the repeats’ own have a mean of {mean} (standard uncertainty {u}): the waveform’s shape changes from repeat to repeat."),
            "Look at the single waveforms: bubbles, a drive that is not steady, a trigger that slips. The repeats’ own values are given.",
        ),
        "snr-too-low-for-width" => s(
            a.fill("The noise comes within {limit} of the level at which these are taken: {widths}."),
            "Average more shots, use a more sensitive range, or take these extents at a higher level.",
        ),
        "tilts-differ" => s(
            a.fill("The beam’s axis leans toward {axis} by {phase} from the phase in this plane, but by {centres} from its centres in {planes} planes along z."),
            "Check that the scanner’s axes are square to each other, that all planes were scanned in one frame, and the drive frequency.",
        ),
        "side-lobe-at-edge" => s(
            a.fill("The highest side lobe found, {found}, lies on the edge of the scan: it may be higher outside."),
            "Scan a larger window.",
        ),
        "beam-tilted" => s(
            a.fill("The beam runs {found} off the z axis."),
            "Align the head: widths and areas are those of an oblique section.",
        ),
        "spikes" => s(
            format!(
                "Standing off from the field around: {} of {} (spikes, bubbles, dropped rows); maps and sums use the neighbours instead, and the maps mark it.",
                strays(a),
                counted(&a.get("all"), "point")
            ),
            "Look at their waveforms; repeat them if they lie in the beam.",
        ),
        "rows-offset" => s(
            format!(
                "Recorded on the fly, every other row is offset along x by {} (standard uncertainty {}): forward and backward rows do not match{}.",
                a.get("found"),
                a.get("u"),
                if a.get("corrected") == "yes" {
                    "; as asked, each was moved by half of it"
                } else {
                    ""
                }
            ),
            "Record in one direction, or have the positions corrected for the delay of the trigger.",
        ),
        "window-beyond-record" => s(
            a.fill("The stated window reaches beyond the record, which runs from {from} to {to}: only the part inside is used."),
            "Check start and stop: they are on the scan’s own time axis, in seconds.",
        ),
        "window-beyond-burst" => s(
            a.fill("The stated steady window reaches beyond the burst, which stands from {from} to {to}: its means are not those of the steady part."),
            "Put start and stop inside the burst, after ring-up and before the echo.",
        ),
        "window-cuts-pulse" => s(
            a.fill("The stated window leaves out part of the pulse, which stands from {from} to {to}: energies, durations and powers are those of the part."),
            "State a window that holds the whole pulse, unless a part is what is wanted.",
        ),
        "window-empty" => s(
            "The stated window holds nothing of the record; the found one is used.",
            "Check start and stop: they are on the scan’s own time axis, in seconds.",
        ),
        "few-bits" => s(
            a.fill("The loudest waveform spans {found} counts of the digitiser; {wanted} are wanted."),
            "Use a narrower range: rounding adds to the noise and to the peaks.",
        ),
        "band-small" => s(
            a.fill("The signal stands above the noise up to {found}, as far as the sampling rate lets see: harmonics beyond are missing from the peaks."),
            "Record with a higher sampling rate.",
        ),
        "low-pass-cuts-signal" => s(
            a.fill("The stated low-pass at {cutoff} cuts signal that stands above the noise up to {signal}."),
            "Raise it, or let it follow the noise (auto).",
        ),
        "element-large" => s(
            a.fill("The sensor's effective radius, {found}, exceeds the {limit} that the criterion of IEC 62127-1 allows for this head: it averages over the beam."),
            "Use a smaller sensor: the correction for it, made on planes alone, is large and uncertain.",
        ),
        "level-drift" => s(
            a.fill("After the pulse the waveform at the peak does not return to zero: its mean there is {found} ({share} of the peak)."),
            "Look for a drifting amplifier or a high-pass in the chain; one peak is too high, the other too low by about as much.",
        ),
        "beyond-linear-limit" => s(
            a.fill("{points} of {all} points exceed the pressure up to which the sensor is linear: {found} against {limit}."),
            "Use another range or a lower level: beyond the limit the sensor compresses and the true pressure is higher.",
        ),
        "trigger-jitter" => {
            let from = if a.get("from") == "record" {
                "as stated"
            } else {
                "from the phases of neighbouring points"
            };
            s(
                format!(
                    "The instant of the trigger scatters by {} from shot to shot ({from}), {} of a period.",
                    a.get("found"),
                    a.get("share")
                ),
                "Single shots keep their peaks, but phases, and averages over shots, suffer: trigger on the drive itself.",
            )
        }
        "transfer-no-certificate" => s(
            "The calibrated sensor's response carries no uncertainty: the transferred factors are stated too sure.",
            "State the uncertainty of its certificate.",
        ),
        "transfer-no-flatness" => s(
            "The check source tells the sensitivity at its own frequency; how flat the sensor is elsewhere is not stated and not in the uncertainty.",
            "State the flatness of this sensor over the band in use.",
        ),
        "transfer-no-drift" => s(
            "The check source was measured once with the calibrated sensor: a drift of the source in between would not show.",
            "Measure it again with the calibrated sensor at the end (reference, sensor, reference).",
        ),
        "source-drifted" => s(
            a.fill("The check source changed by {found} between its two measurements with the calibrated sensor; their mean was used."),
            "Let it warm up, check the water's temperature and the positions, and repeat the transfer.",
        ),
        "transfer-without-repeats" => s(
            "A single waveform of the check source: its repeatability is not in the uncertainty.",
            "Record some ten shots at each range.",
        ),
        "features-disagree" => s(
            format!(
                "{}By its {} the check source gives a factor that differs by {} from that by its {}, more than noise and repeatability explain: the sensor is not flat, or bends.",
                in_range(a),
                a.get("feature"),
                a.get("found"),
                a.get("chosen")
            ),
            "Look at both waveforms; use a table, or state a flatness that covers the difference.",
        ),
        "ranges-disagree" => s(
            a.fill("Ranges {first} and {second} give pressures of the check source (by its {feature}) that differ by {found}, with a standard uncertainty of {u}."),
            "Where ranges overlap they must agree: look for compression in one of them and repeat the transfer.",
        ),
        "check-source-clipped" => s(
            a.fill("{points} of {all} waveforms of the check source reached the end of the digitiser's range."),
            "Repeat them with a wider range or a weaker source: the factor is too small.",
        ),
        "noise-not-quiet" => s(
            a.fill("This noise record is not of noise alone: its loudest period has {found} times the rms of its quietest."),
            "Switch the drive off, look for pick-up, and record it again.",
        ),
        "phase-sign" => s(
            a.fill("The phase of the sensitivity table fits a minimum-phase sensor better with the opposite sign (rms {opposite} off instead of {stated}, delay removed). It was used as it stands."),
            "The phase must be that of volts over pascals with a delay falling (exp(+jωt)); if the table uses the other convention, change its sign.",
        ),
        "phase-unwrapping" => s(
            a.fill("The phase of the sensitivity table steps by nearly half a turn or more between rows ({rows} times, first at {frequency}), so that whole turns cannot be told for sure."),
            "Use a table with a smaller frequency step, or take a delay out of the phase.",
        ),
        "response-load-corrected" => s(
            format!(
                "The table’s sensitivity was converted from {} to the load in use: a factor {} at {}.",
                if a.get("plane") == "open-circuit" {
                    "the open circuit"
                } else {
                    "the load of its calibration"
                },
                a.get("factor"),
                a.get("frequency")
            ),
            "",
        ),
        "response-extrapolated" => s(
            a.fill("{share} of the energy of the waveform at the peak lies outside the sensitivity table, which runs from {low} to {high}; there the response is taken constant."),
            "Use a table that covers the band.",
        ),
        "no-response" => s(
            "No sensitivity is stated: the numbers are volts, and no pressure or power is given.",
            "State the sensor's response.",
        ),
        "no-signal" => s(
            "No signal stands above the noise in this scan.",
            "Check the connection, the trigger and the time window.",
        ),
        "peak-at-edge" => s(
            "The field is strongest at the edge of the scanned window: the true peak may lie outside.",
            "Move the window so that the peak lies inside.",
        ),
        "peak-not-fitted" => s(
            a.fill("The peak could not be fitted (fewer than {wanted} points within 1.5 dB of the maximum, or none inside them): it is that of the nearest point."),
            "Scan with a smaller step.",
        ),
        "islands" => s(
            format!(
                "Outside the main beam {} above −6 dB too; the area is that of the main beam alone.",
                if a.get("points") == "1" {
                    "one point stands".to_owned()
                } else {
                    a.fill("{points} points stand")
                }
            ),
            "Look at the map: the beam may be split.",
        ),
        "step-above-half-wavelength" => s(
            a.fill("The step of {step} is more than half a wavelength ({half})."),
            "The beam's fine structure may be missed; scan with a smaller step.",
        ),
        "few-points-across" => s(
            a.fill("Only {found} points lie across the −6 dB width in {axis}; at least {wanted} are wanted."),
            "Scan with a smaller step.",
        ),
        "edge-level" => s(
            a.fill("The scan stops before the pressure has fallen to a tenth at its {side} edge ({found} of the peak there, {wanted} wanted): power is low."),
            "Scan a larger window.",
        ),
        "derating-strong-distortion" => s(
            a.fill("{scan}: the wave is strongly distorted (local distortion parameter {found}, above {limit}): values derated by a linear rule say little about a medium that attenuates."),
            "Do not rest a decision on them; measure at a lower level and scale up, or compute the propagation.",
        ),
        "derating-distortion" => s(
            a.fill("{scan}: the wave steepens (local distortion parameter {found}, above {limit}): derating by a linear rule is good for less than its digits."),
            "",
        ),
        "derating-distortion-unknown" => s(
            a.fill("{scan}: nothing says how far the wave steepens, and with it whether a linear rule may derate."),
            "A plane at the same level, the head's area and the distance from it tell.",
        ),
        "unused-file" => s("This file is not named in the record and was not read.", ""),
        _ => {
            return bubbles::findings(code, a)
                .or_else(|| layouts::findings(code, a))
                .or_else(|| formats(code, a));
        }
    })
}

/// `5 single points and 1 row`, what there is none of left out.
fn strays(a: &Filled<'_>) -> String {
    let (points, rows) = (a.get("points"), a.get("rows"));
    match (points.as_str(), rows.as_str()) {
        (points, "0") => counted(points, "single point"),
        ("0", rows) => counted(rows, "row"),
        (points, rows) => {
            format!("{} and {}", counted(points, "single point"), counted(rows, "row"))
        }
    }
}

/// `1 point`, `3 points`.
fn counted(number: &str, noun: &str) -> String {
    format!("{number} {noun}{}", if number == "1" { "" } else { "s" })
}

/// `Range high: `, or nothing for a sensor without ranges.
fn in_range(a: &Filled<'_>) -> String {
    let range = a.get("range");
    if range.is_empty() { String::new() } else { format!("Range {range}: ") }
}

fn s(text: impl Into<String>, hint: &str) -> Sentence {
    Sentence::new(text, hint)
}
