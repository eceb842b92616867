//! Findings: short, exact, kind; each with what to do.

use super::formats::formats;
use super::layouts;
use super::{Filled, Sentence};

pub fn finding(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    Some(match code {
        "role-not-evaluated" => s(
            format!(
                "This scan has the role “{}”, which this version does not evaluate.",
                a.get("role")
            ),
            "Its file was not read.",
        ),
        "temperature-assumed" => s(
            format!("The water's temperature is not stated; {} was assumed.", a.get("assumed")),
            "State it: intensities and powers depend on it.",
        ),
        "temperature-unusual" => s(
            format!(
                "The water's temperature is stated as {}, outside the range in which the water formulas are used.",
                a.get("found")
            ),
            "Check the temperature.",
        ),
        "frequency-from-signal" => s(
            "The drive frequency is not stated; it was taken from the strongest line of the spectrum.",
            "State it: windows and harmonics rest on it.",
        ),
        "feed-through" => s(
            format!(
                "The drive is seen directly from {} to {} ({} rms); this part was kept out of the baseline.",
                a.get("from"),
                a.get("to"),
                a.get("level")
            ),
            "",
        ),
        "no-quiet-part" => s(
            "There is no quiet part before the arrival: neither baseline nor noise could be measured.",
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
            format!(
                "{} of {} points reached the end of the digitiser's range and were replaced by their neighbours.",
                a.get("points"),
                a.get("all")
            ),
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
            format!(
                "{} of {} points are dead or broken; maps and sums use the mean of their neighbours, and the maps mark them.",
                a.get("points"),
                a.get("all")
            ),
            "",
        ),
        "too-many-excluded" => s(
            format!(
                "{} of {} points could not be used, more than {}.",
                a.get("points"),
                a.get("all"),
                a.get("limit")
            ),
            "Repeat the scan.",
        ),
        "points-skipped" => s(
            format!("{} points could not be computed.", a.get("points")),
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
            format!("{} samples are not finite numbers and were taken as zero.", a.get("samples")),
            "Look for the gap in the recording and repeat it.",
        ),
        "full-scale-unknown" => s(
            "The digitiser's full scale is not stated, so clipping could not be looked for.",
            "State the full scale and the bits.",
        ),
        "snr-low" => s(
            format!(
                "At the peak the signal stands only {} above the noise; {} are wanted.",
                a.get("found"),
                a.get("wanted")
            ),
            "Average more shots, or use a more sensitive range.",
        ),
        "table-not-covering" => s(
            format!(
                "The sensitivity table runs from {} to {} and does not cover the signal's band (low-pass at {}); beyond its ends the end values stand.",
                a.get("low"),
                a.get("high"),
                a.get("cutoff")
            ),
            "Use a table that covers the band.",
        ),
        "peak-uncertainty-nonlinear" => s(
            format!(
                "The sensitivity's uncertainty is too large for linear propagation: with its errors drawn at random the value averages {} instead of {}, with a standard deviation of {} instead of {}.",
                a.get("mean"),
                a.get("value"),
                a.get("drawn"),
                a.get("linear")
            ),
            "Trust the drawn values more; a sensitivity table with smaller uncertainties, of the phase above all, would help.",
        ),
        "low-pass-takes-signal" => s(
            format!(
                "Signal stands above the noise up to {}; with all of it let through, the value would differ by {}. The low-pass's uncertainty covers that.",
                a.get("reach"),
                a.get("share")
            ),
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
            format!(
                "Columns of the sensitivity table whose names say nothing of the response were not used: {}.",
                a.get("columns")
            ),
            "If one of them is meant, name it with its unit.",
        ),
        "phase-minimum" => s(
            format!(
                "The sensitivity table has no phase. It was computed from the magnitude as that of a minimum-phase sensor, with the magnitude constant outside {} to {}.",
                a.get("low"),
                a.get("high")
            ),
            "Peaks of steepened waves rest on it; use a table with phase where they matter.",
        ),
        "harmonics-left-out" => s(
            format!(
                "Harmonics that the step is too large for carry {} of the power; they are left out of the angular spectrum.",
                a.get("share")
            ),
            "Scan with a smaller step.",
        ),
        "evanescent-energy" => s(
            format!(
                "{} of the fundamental's energy in the plane cannot propagate: noise, jitter, or steps that are not those stated.",
                a.get("share")
            ),
            "Check coordinates, trigger and water temperature.",
        ),
        "power-beyond-window" => s(
            format!(
                "Some {} of the power lies outside the scanned window and is missing (guessed, give or take half).",
                a.get("share")
            ),
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
        "monte-carlo-disagrees" => s(
            format!(
                "For {} the interval that the distributions give departs from y ± U by more than half a unit of the first digit of u: it is not symmetric. Verdicts rest on y and u.",
                a.get("symbols")
            ),
            "",
        ),
        "calibration-uncertainty-missing" => s(
            "The response has no uncertainty: nothing in pascals, watts or joules has one, and no stated value of them can be judged.".to_owned(),
            "State the uncertainty of the response, with its kind.",
        ),
        "steadiness-unknown" => s(
            format!(
                "The scan took {} min and no point was revisited: nothing shows whether the output was steady.",
                a.get("minutes")
            ),
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
            format!(
                "Points were measured up to {} min before the first or after the last visit: there the nearest visit’s factor was taken.",
                a.get("minutes")
            ),
            "Visit the point before the scan and after it.",
        ),
        "repeats-average-differs" => s(
            format!(
                "The average of {} aligned waveforms has a {} of {}, but the repeats’ own have a mean of {} (standard uncertainty {}): the waveform’s shape changes from repeat to repeat.",
                a.get("repeats"),
                a.get("symbol"),
                a.get("averaged"),
                a.get("mean"),
                a.get("u")
            ),
            "Look at the single waveforms: bubbles, a drive that is not steady, a trigger that slips. The repeats’ own values are given.",
        ),
        "snr-too-low-for-width" => s(
            format!(
                "The noise comes within {} of the level at which these are taken: {}.",
                a.get("limit"),
                a.get("widths")
            ),
            "Average more shots, use a more sensitive range, or take these extents at a higher level.",
        ),
        "tilts-differ" => s(
            format!(
                "The beam’s axis leans toward {} by {} from the phase in this plane, but by {} from its centres in {} planes along z.",
                a.get("axis"),
                a.get("phase"),
                a.get("centres"),
                a.get("planes")
            ),
            "Check that the scanner’s axes are square to each other, that all planes were scanned in one frame, and the drive frequency.",
        ),
        "side-lobe-at-edge" => s(
            format!(
                "The highest side lobe found, {}, lies on the edge of the scan: it may be higher outside.",
                a.get("found")
            ),
            "Scan a larger window.",
        ),
        "beam-tilted" => s(
            format!("The beam runs {} off the z axis.", a.get("found")),
            "Align the head: widths and areas are those of an oblique section.",
        ),
        "spikes" => s(
            format!(
                "{} of {} stand off from the field around them (spikes, bubbles, dropped rows); maps and sums use their neighbours instead, and the maps mark them.",
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
            format!(
                "The stated window reaches beyond the record, which runs from {} to {}: only the part inside is used.",
                a.get("from"),
                a.get("to")
            ),
            "Check start and stop: they are on the scan’s own time axis, in seconds.",
        ),
        "window-beyond-burst" => s(
            format!(
                "The stated steady window reaches beyond the burst, which stands from {} to {}: its means are not those of the steady part.",
                a.get("from"),
                a.get("to")
            ),
            "Put start and stop inside the burst, after ring-up and before the echo.",
        ),
        "window-cuts-pulse" => s(
            format!(
                "The stated window leaves out part of the pulse, which stands from {} to {}: energies, durations and powers are those of the part.",
                a.get("from"),
                a.get("to")
            ),
            "State a window that holds the whole pulse, unless a part is what is wanted.",
        ),
        "window-empty" => s(
            "The stated window holds nothing of the record; the found one is used.",
            "Check start and stop: they are on the scan’s own time axis, in seconds.",
        ),
        "few-bits" => s(
            format!(
                "The loudest waveform spans {} counts of the digitiser; {} are wanted.",
                a.get("found"),
                a.get("wanted")
            ),
            "Use a narrower range: rounding adds to the noise and to the peaks.",
        ),
        "band-small" => s(
            format!(
                "The signal stands above the noise up to {}, as far as the sampling rate lets see: harmonics beyond are missing from the peaks.",
                a.get("found")
            ),
            "Record with a higher sampling rate.",
        ),
        "low-pass-cuts-signal" => s(
            format!(
                "The stated low-pass at {} cuts signal that stands above the noise up to {}.",
                a.get("cutoff"),
                a.get("signal")
            ),
            "Raise it, or let it follow the noise (auto).",
        ),
        "element-large" => s(
            format!(
                "The sensor's effective radius, {}, exceeds the {} that the criterion of IEC 62127-1 allows for this head: it averages over the beam.",
                a.get("found"),
                a.get("limit")
            ),
            "Use a smaller sensor: the correction for it, made on planes alone, is large and uncertain.",
        ),
        "level-drift" => s(
            format!(
                "After the pulse the waveform at the peak does not return to zero: its mean there is {} ({} of the peak).",
                a.get("found"),
                a.get("share")
            ),
            "Look for a drifting amplifier or a high-pass in the chain; one peak is too high, the other too low by about as much.",
        ),
        "beyond-linear-limit" => s(
            format!(
                "{} of {} points exceed the pressure up to which the sensor is linear: {} against {}.",
                a.get("points"),
                a.get("all"),
                a.get("found"),
                a.get("limit")
            ),
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
            format!(
                "The check source changed by {} between its two measurements with the calibrated sensor; their mean was used.",
                a.get("found")
            ),
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
            format!(
                "Ranges {} and {} give pressures of the check source (by its {}) that differ by {}, with a standard uncertainty of {}.",
                a.get("first"),
                a.get("second"),
                a.get("feature"),
                a.get("found"),
                a.get("u")
            ),
            "Where ranges overlap they must agree: look for compression in one of them and repeat the transfer.",
        ),
        "check-source-clipped" => s(
            format!(
                "{} of {} waveforms of the check source reached the end of the digitiser's range.",
                a.get("points"),
                a.get("all")
            ),
            "Repeat them with a wider range or a weaker source: the factor is too small.",
        ),
        "noise-not-quiet" => s(
            format!(
                "This noise record is not of noise alone: its loudest period has {} times the rms of its quietest.",
                a.get("found")
            ),
            "Switch the drive off, look for pick-up, and record it again.",
        ),
        "phase-sign" => s(
            format!(
                "The phase of the sensitivity table fits a minimum-phase sensor better with the opposite sign (rms {} off instead of {}, delay removed). It was used as it stands.",
                a.get("opposite"),
                a.get("stated")
            ),
            "The phase must be that of volts over pascals with a delay falling (exp(+jωt)); if the table uses the other convention, change its sign.",
        ),
        "phase-unwrapping" => s(
            format!(
                "The phase of the sensitivity table steps by nearly half a turn or more between rows ({} times, first at {}), so that whole turns cannot be told for sure.",
                a.get("rows"),
                a.get("frequency")
            ),
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
            format!(
                "{} of the energy of the waveform at the peak lies outside the sensitivity table, which runs from {} to {}; there the response is taken constant.",
                a.get("share"),
                a.get("low"),
                a.get("high")
            ),
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
            format!(
                "The peak could not be fitted (fewer than {} points within 1.5 dB of the maximum, or none inside them): it is that of the nearest point.",
                a.get("wanted")
            ),
            "Scan with a smaller step.",
        ),
        "islands" => s(
            format!(
                "Outside the main beam {} above −6 dB too; the area is that of the main beam alone.",
                if a.get("points") == "1" {
                    "one point stands".to_owned()
                } else {
                    format!("{} points stand", a.get("points"))
                }
            ),
            "Look at the map: the beam may be split.",
        ),
        "step-above-half-wavelength" => s(
            format!(
                "The step of {} is more than half a wavelength ({}).",
                a.get("step"),
                a.get("half")
            ),
            "The beam's fine structure may be missed; scan with a smaller step.",
        ),
        "few-points-across" => s(
            format!(
                "Only {} points lie across the −6 dB width in {}; at least {} are wanted.",
                a.get("found"),
                a.get("axis"),
                a.get("wanted")
            ),
            "Scan with a smaller step.",
        ),
        "edge-level" => s(
            format!(
                "The scan stops before the pressure has fallen to a tenth at its {} edge ({} of the peak there, {} wanted): power is low.",
                a.get("side"),
                a.get("found"),
                a.get("wanted")
            ),
            "Scan a larger window.",
        ),
        "unused-file" => s("This file is not named in the record and was not read.", ""),
        _ => return layouts::findings(code, a).or_else(|| formats(code, a)),
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
