//! Gives a scan's quantities the sensitivities that they do not have from birth, and their budgets.

use super::powers::{MAIN, feature_of, goes_with_drive, of_amplitude, of_axes};
use crate::analysis::assemble::ScanInput;
use crate::analysis::results::FocalWave;
use crate::analysis::shots::scatter_for_noise;
use crate::base::budget::source;
use crate::base::finding::{Finding, Severity};
use crate::base::quantity::{Quantity, Reason, TimeBase, entry_of};
use crate::base::waveform_uncertainty::{self as wave_sources, FeatureUncertainty};
use crate::record::{ExcitationMode, Role};
use crate::uncertainty::combine;

/// Completes sensitivities and combines them; tells what an uncertainty lacks.
pub fn complete(
    input: &ScanInput<'_>,
    focal: Option<&FocalWave>,
    quantities: &mut [Quantity],
) -> Vec<Finding> {
    let features = focal.and_then(|wave| wave.uncertainty.as_ref()).map(|u| &u.summary.features);
    let values: Vec<(&'static str, f64)> =
        quantities.iter().filter_map(|q| Some((q.id, q.outcome.clone().ok()?))).collect();
    let energy_noise = quantities.iter().find(|q| q.id == "ppsi").and_then(relative_noise);
    for quantity in quantities.iter_mut() {
        let Ok(value) = quantity.outcome else { continue };
        of_scale(quantity, value);
        of_repetition(input, quantity, value);
        let feature = feature_of(quantity.id).and_then(|i| features?.get(i));
        if let Some(feature) = feature {
            of_waveform(input, quantity, value, feature, energy_noise);
        }
        of_harmonics(input, quantity, value, &values);
        split_transfer(input, quantity);
    }
    scatter_for_noise(quantities);
    let record = input.setting.record;
    let mut findings = Vec::new();
    for quantity in quantities.iter_mut().filter(|q| q.outcome.is_ok()) {
        let combined =
            combine(quantity, &input.sources, &record.uncertainties, record.decision.coverage);
        if input.response.u_phase_rad.is_none() {
            // It stood for a source without a value.
            quantity.sensitivities.remove(source::CALIBRATION_PHASE);
        }
        let combined = match combined {
            // All else cancels in a ratio to the fundamental.
            Ok(_) if input.noise_pa2.is_none() && is_harmonic_ratio(quantity) => {
                Err(Reason::new("noise-not-known"))
            }
            combined => combined,
        };
        quantity.uncertainty = combined.map(|mut budget| {
            let drawn = MAIN.contains(&quantity.id) && input.part.scan.role != Role::Sweep;
            if let (true, Ok(value)) = (drawn, &quantity.outcome) {
                budget.monte_carlo = input.kept.draw(*value, &budget);
            }
            Box::new(budget)
        });
    }
    findings.extend(disagreement(input, quantities));
    findings.extend(calibration_missing(input, quantities));
    findings
}

/// Whether a quantity is a harmonic, or all of them, over the fundamental.
fn is_harmonic_ratio(quantity: &Quantity) -> bool {
    let number = quantity.id.strip_prefix('h').map(str::parse::<u8>);
    quantity.id == "thd" || matches!(number, Some(Ok(_)))
}

/// Gain, drive and axes.
fn of_scale(quantity: &mut Quantity, value: f64) {
    let amplitude = of_amplitude(quantity.id);
    let mut set = |id: &str, derivative: f64| {
        if derivative != 0.0 {
            quantity.sensitivities.insert(id.to_owned(), derivative);
        }
    };
    set(source::GAIN, -amplitude * value);
    if goes_with_drive(quantity.id) {
        set(source::DRIVE, amplitude * value);
    }
    let axes = of_axes(quantity.id) * value;
    if axes != 0.0 {
        // Of a power by its plane waves it is known better.
        quantity.sensitivities.entry(source::AXES.to_owned()).or_insert(axes);
    }
}

/// Averages over time of the tank's excitation go with its repetition rate.
fn of_repetition(input: &ScanInput<'_>, quantity: &mut Quantity, value: f64) {
    let pulsed = input.setting.record.excitation.mode != Some(ExcitationMode::Cw);
    if quantity.time_base == Some(TimeBase::Tank) && pulsed {
        quantity.sensitivities.insert(source::REPETITION.to_owned(), value);
    }
}

/// Response, low-pass and noise as the waveform at the peak shows them, carried over in proportion.
fn of_waveform(
    input: &ScanInput<'_>,
    quantity: &mut Quantity,
    value: f64,
    feature: &FeatureUncertainty,
    energy_noise: Option<f64>,
) {
    if feature.value == 0.0 {
        return;
    }
    let relative = |id: &str| {
        let u = feature.u.get(id)?;
        let signed = feature.signed.get(id).copied().unwrap_or(-u);
        Some(signed / feature.value)
    };
    let mut set = |id: &str, derivative: f64| {
        quantity.sensitivities.insert(id.to_owned(), derivative);
    };
    let response = &input.response;
    let magnitude = relative(wave_sources::CALIBRATION_MAGNITUDE).zip(response.u_magnitude);
    if let Some((relative, reference)) = magnitude {
        set(source::CALIBRATION, relative * value / reference);
    }
    match relative(wave_sources::CALIBRATION_PHASE).zip(response.u_phase_rad) {
        Some((relative, reference)) => {
            set(source::CALIBRATION_PHASE, relative * value / reference);
        }
        // So that a budget can say that it is not in it.
        None => set(source::CALIBRATION_PHASE, value),
    }
    if let Some(u) = feature.u.get(wave_sources::LOW_PASS) {
        set(source::LOW_PASS, u / feature.value * value);
    }
    if quantity.sensitivities.contains_key(source::NOISE) {
        return;
    }
    let own = feature.u.get(wave_sources::NOISE).map(|u| u / feature.value);
    let noise = match quantity.id {
        "pc" | "pr" | "pc_ss" | "pr_ss" | "ppsi" => own,
        _ => energy_noise.or(own),
    };
    if let Some(noise) = noise {
        quantity.sensitivities.insert(source::NOISE.to_owned(), noise * value);
    }
}

fn relative_noise(quantity: &Quantity) -> Option<f64> {
    let value = quantity.outcome.clone().ok().filter(|v| *v != 0.0)?;
    Some(quantity.sensitivities.get(source::NOISE)? / value)
}

/// Harmonics: each goes with the response at its own frequency, ratios with both.
fn of_harmonics(
    input: &ScanInput<'_>,
    quantity: &mut Quantity,
    value: f64,
    values: &[(&'static str, f64)],
) {
    let Some(f) = input.setting.frequency_hz else { return };
    let ratio = |n: usize| values.iter().find(|(id, _)| *id == format!("h{n}")).map(|(_, h)| *h);
    let number = |id: &str| id.strip_prefix('h').and_then(|n| n.parse::<usize>().ok());
    let parts: Vec<(f64, f64)> = match quantity.id {
        "p1" => vec![(f, -value)],
        "thd" if value > 0.0 => {
            let squares = (2..=10).filter_map(|n| Some((n as f64 * f, -ratio(n)?.powi(2) / value)));
            squares.chain([(f, value)]).collect()
        }
        id => match number(id) {
            Some(n) => vec![(n as f64 * f, -value), (f, value)],
            None => return,
        },
    };
    let derivative = input.response.sensitivity(&parts);
    quantity.sensitivities.insert(source::CALIBRATION.to_owned(), derivative);
    // The low-pass takes what it takes of each harmonic: that much is known, and not given back.
    let taken: f64 = parts.iter().map(|(f, d)| d * input.loss_at(*f)).sum::<f64>().abs();
    if taken > 0.0 {
        quantity.sensitivities.insert(source::LOW_PASS.to_owned(), taken / 3f64.sqrt());
    }
}

/// A factor from a check source errs by the sources of that measurement, each by itself.
fn split_transfer(input: &ScanInput<'_>, quantity: &mut Quantity) {
    if !input.part.response.is_transferred() {
        return;
    }
    let Some(derivative) = quantity.sensitivities.remove(source::CALIBRATION) else { return };
    for part in input.sources.known.iter().filter(|source| source.from == "check-source") {
        quantity.sensitivities.insert(part.id.clone(), derivative);
    }
}

/// Quantities of which the interval by drawing is not that of the law of propagation.
fn disagreement(input: &ScanInput<'_>, quantities: &[Quantity]) -> Option<Finding> {
    let mut ids: Vec<&str> = quantities
        .iter()
        .filter(|quantity| {
            let budget = quantity.uncertainty.as_ref().ok();
            budget.and_then(|b| b.monte_carlo.as_ref()).is_some_and(|drawn| !drawn.agrees)
        })
        .map(|quantity| quantity.id)
        .collect();
    ids.dedup();
    let symbols = ids.iter().filter_map(|id| entry_of(id)).map(|entry| entry.symbol.to_owned());
    let symbols: Vec<String> = symbols.collect();
    (!symbols.is_empty())
        .then(|| input.finding(Severity::Note, "monte-carlo-disagrees").with("symbols", symbols))
}

/// Without the response's uncertainty nothing in pascals has one.
fn calibration_missing(input: &ScanInput<'_>, quantities: &[Quantity]) -> Option<Finding> {
    let blank = quantities.iter().find_map(|quantity| match &quantity.uncertainty {
        Err(Reason { code, blank }) if code == "calibration-not-sure" => Some(blank.clone()),
        _ => None,
    })?;
    let finding = input.finding(Severity::Caution, "calibration-uncertainty-missing");
    Some(match blank {
        Some(path) => finding.at(&path),
        None => finding,
    })
}
