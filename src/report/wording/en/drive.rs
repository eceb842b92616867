//! Words of the drive levels.

use crate::report::wording::{Filled, QuantityWords, Sentence};

pub fn label(key: &str) -> Option<&'static str> {
    Some(match key {
        "section-drive" => "Drive levels",
        "sensor-range" => "Range",
        "drive-shots" => "Shots used",
        "front-rise" => "Rise of the front",
        "shock-distance" => "Distance to a shock",
        "with-bubbles" => "With signs of bubbles",
        "drive-table" => "Levels in the order of time, with expanded uncertainties. Sweep",
        "steepening-table" => "How the wave steepens, by level. Sweep",
        "caption-levels-pressures" => {
            "Peak pressures against the drive level with expanded uncertainty; dashed: straight lines through the linear part. Sweep"
        }
        "caption-levels-harmonics" => "Harmonics re the fundamental against the drive level. Sweep",
        "caption-levels-wave" => "Two cycles about the peak at",
        "caption-levels-spectra" => {
            "Spectra at the lowest, the last linear and the highest level, re the peak pressure of the highest. Sweep"
        }
        "linear-to" => "linear to",
        "bubbles-from" => "bubbles from",
        "axis-time-from-peak" => "time from the peak",
        "axis-harmonics" => "re fundamental",
        "axis-re-peak" => "re own peak",
        "level-fields-table" => "Extents of the field by drive level.",
        "caption-level-fields-pc" => "Compressional peak pressure re its own peak, by drive level",
        "caption-level-fields-pr" => "Rarefactional peak pressure re its own peak, by drive level",
        "linear-rule" => {
            "A level counts as linear while it and every lower one lie within two standard uncertainties or 2 % of the weighted line through all of them (common practice, no source)."
        }
        "drive-line" => {
            "{symbol} is linear up to {level} ({points} measurements; intercept {intercept} MPa); at the highest level it departs from the line by {departure} %."
        }
        "drive-scaling" => {
            "From {low}, where the wave is linear, to {target} intensities go with G = {ratio} (expanded uncertainty {u}, {from}) and pressures with its root. Values scaled so say what the head would deliver without steepening; they were not measured, and no stated peak pressure is compared with them."
        }
        "scaling-power-readings" => "from measured powers, whose errors are taken as independent",
        "scaling-drive-amplitudes" => "from the squared ratio of the drive",
        "drive-no-bubbles" => {
            "Up to {level} no sign of bubbles was found in {shots} shots a level."
        }
        "drive-bubbles-from" => {
            "From {level} on shots show signs of bubbles; they are left out of all values."
        }
        "drive-bubbles-by" => {
            "Looked at: {band}; threshold {threshold} over the baseline (common practice, no source); dissolved oxygen {oxygen}. This holds in this tank’s water and says nothing about tissue."
        }
        "source-shots" => "scatter of the shots",
        "source-line-fit" => "fit of the straight line",
        "source-power-ratio" => "ratio of the powers",
        "from-shot-scatter" => "the shots",
        "from-readings" => "readings of the power",
        _ => return None,
    })
}

pub fn reason(code: &str) -> Option<&'static str> {
    Some(match code {
        "level-kind-unknown" => "the record says that the kind of the drive level is not known",
        "too-few-levels" => "fewer than three different levels",
        "no-linear-part" => "not even the three lowest levels lie on a line",
        "no-monitor" => "no passive detector was recorded beside the sweep",
        "bubbles-at-lowest" => "the lowest level shows signs of bubbles",
        "bubbles-in-all" => "all shots show signs of bubbles",
        "no-linear-level-below" => "no level in the linear part lies below the one aimed at",
        "no-linear-plane" => "no plane at a lower level whose wave is linear",
        _ => return None,
    })
}

pub fn method(code: &str) -> Option<&'static str> {
    Some(match code {
        "mean-of-shots" => "mean of the shots",
        "weighted-line" => "weighted line through the linear part",
        "linear-levels" => "within 2 % or two standard uncertainties of the line",
        "no-signs-of-bubbles" => "below the lowest level with a marked shot",
        "highest-level" => "at the highest level",
        "scaled-by-powers" => "scaled by measured powers; not measured",
        "scaled-by-drive" => "scaled by the drive; not measured",
        _ => return None,
    })
}

pub fn quantity(id: &str) -> Option<QuantityWords> {
    let (name, explanation, reference) = match id {
        "pc_slope" => (
            "slope of the compressional peak pressure",
            "Increase of p_{c} with the drive level, or with the root of a power, over the levels found linear: weighted straight line, intercept kept.",
            "weighted least squares",
        ),
        "pr_slope" => (
            "slope of the rarefactional peak pressure",
            "Increase of p_{r} with the drive level, or with the root of a power, over the levels found linear: weighted straight line, intercept kept.",
            "weighted least squares",
        ),
        "level_linear_max" => (
            "highest linear drive level",
            "Highest level at which both peak pressures still lie on the lines through the lower ones.",
            "common practice",
        ),
        "level_no_bubble_signature_max" => (
            "highest drive level without signs of bubbles",
            "Highest level below the lowest one at which the passive detector marks a shot; in this tank’s water, it says nothing about tissue.",
            "common practice",
        ),
        "sigma_q" => (
            "local distortion parameter",
            "How far the wave has steepened up to here: up to 0.5 nearly linear, above 1.5 strongly distorted; from distance, mean peak pressure, area of source and beam.",
            "IEC TS 61949, from memory",
        ),
        "sigma_m" => (
            "nonlinear propagation parameter",
            "How far a focused wave has steepened up to the focus, from distance, mean peak pressure and the gain of the bowl.",
            "Bacon 1984, from memory",
        ),
        "i_on_lin" => (
            "intensity while on, linear equivalent",
            "Intensity at a linear level times the ratio of powers: what the level aimed at would give without steepening. Not measured.",
            "IEC TS 62556, from memory",
        ),
        "isal_lin" => (
            "spatial-average intensity, linear equivalent",
            "Spatial-average intensity of a plane at a linear level times the ratio of powers. Not measured.",
            "IEC TS 62556, from memory",
        ),
        "p1_lin" => (
            "amplitude of the fundamental, linear equivalent",
            "Amplitude of the fundamental at a linear level times the root of the ratio of powers. Not measured.",
            "IEC TS 62556, from memory",
        ),
        _ => return None,
    };
    Some(QuantityWords { name, explanation, reference })
}

pub fn finding(code: &str, a: &Filled<'_>) -> Option<Sentence> {
    let (text, hint) = match code {
        "sweep-level-missing" => (
            "{scans} scans of the sweep have no drive level and are left out of its curve.",
            "State the level of each scan, or put the levels beside the waveforms as array level.",
        ),
        "sweep-one-level" => (
            "The sweep has a single level: there is no curve.",
            "Measure at three levels or more, or give the scan the role point.",
        ),
        "sweep-kind-missing" => (
            "The record does not say whether the drive level is an amplitude or a power: no slope is given.",
            "State excitation.level_kind.",
        ),
        "sweep-kind-unknown" => (
            "The kind of the drive level is stated as not known: no slope is given.",
            "Find out whether the pressure goes with the level or with its root.",
        ),
        "sweep-range-missing" => (
            "{scans} scans of the sweep name none of the {ranges} gain ranges: what holds for the sensor as a whole was used.",
            "State the range of each scan.",
        ),
        "line-misses-zero" => (
            "The line of {symbol} does not go through zero: intercept {intercept}, standard uncertainty {u}.",
            "Check the zero of the level’s reading and the noise at the lowest levels; if the wave steepens even there, add lower levels.",
        ),
        "beyond-linear-part" => (
            "At {level} {symbol} departs from the line of the low levels by {departure} (standard uncertainty {u}); it is linear up to {linear}.",
            "Do not scale peak pressures from one level to another beyond the linear part.",
        ),
        "level-return-differs" => (
            "Back at {level} {symbol} had changed by {change} (standard uncertainty {u}).",
            "Head or sensor warmed up or were damaged: let them cool, repeat the lowest level, compare the check source.",
        ),
        "range-join-differs" => (
            "At {level} {symbol} steps by {step} from range {first} to {second} (standard uncertainty {u}).",
            "One of the two ranges is calibrated wrongly or was overdriven: compare both with the check source.",
        ),
        "range-join-agrees" => (
            "The ranges {first} and {second} agree at {level}: step of {symbol} {step}, standard uncertainty {u}.",
            "",
        ),
        "range-join-unchecked" => (
            "The ranges {first} and {second} share no level: whether they join was not checked.",
            "Measure one level at both ranges.",
        ),
        "distortion-strong" => (
            "From {level} on the wave is strongly distorted (local distortion parameter above 1.5; {sigma} at the highest level): shocks are near or there, and values in water say little of tissue.",
            "Do not derate or scale these values by linear rules; use a low level with the linear-equivalent scaling.",
        ),
        "distortion-notable" => (
            "From {level} on the wave is notably distorted (local distortion parameter above 0.5; {sigma} at the highest level).",
            "Linear derating and scaling err from there on; low levels scaled by the power are safer.",
        ),
        _ => return None,
    };
    Some(Sentence::new(a.fill(text), hint))
}
