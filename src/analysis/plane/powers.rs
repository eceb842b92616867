//! Power through a plane.

use super::element_size;
use super::maps::{Block, Maps};
use super::plane_waves::spectra;
use crate::analysis::assemble::ScanInput;
use crate::analysis::focal_wave::Waveform;
use crate::analysis::point::{exposure_duty, tank_duty};
use crate::base::budget::source::{CALIBRATION, TEMPERATURE};
use crate::base::finding::Finding;
use crate::base::quantity::{Quantity, Reason, TimeBase};
use crate::base::water;
use crate::field::power;

/// Power as of plane waves: while on, and over time; `disc` undoes the averaging over the sensor.
pub fn plane_wave(
    input: &ScanInput<'_>,
    (x_m, y_m): (&[f64], &[f64]),
    map: &Maps,
    wave: &Waveform,
    block: Option<&Block>,
    disc: f64,
) -> Vec<Quantity> {
    let record = input.setting.record;
    let temperature = input.setting.temperature_c;
    let rho_c = water::impedance(temperature);
    let slope = -water::impedance_relative_slope(temperature);
    let t_on = record
        .excitation
        .burst_s()
        .map(|t| (t, "power-stated-burst"))
        .or(wave.td_s.map(|t| (t, "power-pulse-duration")));
    let usable = match (block, wave.windows.holds_burst) {
        (Some(block), _) => Err(block.reason.clone()),
        (None, false) => Err(Reason::new("burst-not-held")),
        (None, true) => Ok(()),
    };
    let on = usable.and_then(|()| {
        let (t, method) = t_on.ok_or_else(|| Reason::new("no-pulse"))?;
        Ok((power::on_plane_wave_w(x_m, y_m, &map.ppsi, rho_c, t), t, method))
    });
    let before =
        t_on.map(|(t, _)| power::on_plane_wave_w(x_m, y_m, &map.ppsi_with_noise, rho_c, t));
    let method = on.as_ref().map_or("", |(_, _, method)| *method);
    let finish = |quantity: Quantity, base: TimeBase| {
        let value = quantity.outcome.clone().unwrap_or(0.0);
        quantity
            .scales_with(CALIBRATION, -2.0)
            .sensitive_to(TEMPERATURE, slope * value)
            .on_base(base)
            .by(method)
    };
    let mut first = finish(
        Quantity::from_outcome(
            "power_on_plane_wave",
            on.as_ref().map(|(w, ..)| *w).map_err(Clone::clone),
        ),
        TimeBase::On,
    );
    if let (Some(before), true) = (before, input.setting.noise_corrected) {
        first = first.corrected_from(before, "noise-energy", "pre-arrival");
    }
    let averaged = |duty: Result<f64, Reason>| match (&on, duty) {
        (Ok((w, ..)), Ok(duty)) => Ok(w * duty),
        (Err(reason), _) => Err(reason.clone()),
        (_, Err(reason)) => Err(reason),
    };
    let tank_duty = match (&on, record.excitation.duty(), record.excitation.repetition_hz) {
        (_, Some(duty), _) => Ok(duty),
        (Ok((_, t, _)), None, Some(rate)) => Ok(t * rate),
        _ => Err(Reason::blank("excitation.repetition_hz")),
    };
    let all = vec![
        first,
        finish(Quantity::from_outcome("power_ta_plane_wave", averaged(tank_duty)), TimeBase::Tank),
        finish(
            Quantity::from_outcome(
                "power_ta_plane_wave",
                averaged(exposure_duty(record, input.setting.level)),
            ),
            TimeBase::Exposure,
        ),
    ];
    element_size::of_power(all, disc)
}

/// Power by angular spectrum, each harmonic that the step carries: while on, and over time; the factor
/// that undoes the averaging over the sensor in a power as of plane waves.
pub fn angular(
    input: &ScanInput<'_>,
    (x_m, y_m): (&[f64], &[f64]),
    map: &Maps,
    wave: &Waveform,
    block: Option<&Block>,
) -> (Vec<Quantity>, Vec<Finding>, f64) {
    let record = input.setting.record;
    let temperature = input.setting.temperature_c;
    let slope = -water::impedance_relative_slope(temperature);
    let found = spectra(input, (x_m, y_m), map, wave, block);
    let method = if wave.wave.steady.is_some() { "angular-steady" } else { "angular-whole-pulse" };
    let relative = found.as_ref().map_or_else(|_| Vec::new(), |sum| sum.relative(input));
    let finish = |outcome: Result<f64, Reason>, id: &'static str, base: TimeBase| {
        let value = outcome.clone().unwrap_or(0.0);
        let quantity = Quantity::from_outcome(id, outcome);
        relative
            .iter()
            .fold(quantity, |quantity, (source, power)| quantity.scales_with(source, *power))
            .sensitive_to(TEMPERATURE, slope * value)
            .on_base(base)
            .by(method)
    };
    let on = found.as_ref().map(|sum| sum.power_w).map_err(Clone::clone);
    let mut first = finish(on.clone(), "power_on_angular", TimeBase::On);
    if let (Ok(sum), true) = (&found, input.setting.noise_corrected) {
        first = first.corrected_from(sum.with_noise_w, "noise-energy", "pre-arrival");
    }
    let averaged = |duty: Result<f64, Reason>| match (&on, duty) {
        (Ok(w), Ok(duty)) => Ok(w * duty),
        (Err(reason), _) => Err(reason.clone()),
        (_, Err(reason)) => Err(reason),
    };
    let tank = tank_duty(record);
    let exposure = exposure_duty(record, input.setting.level);
    let quantities = vec![
        first,
        finish(averaged(tank), "power_ta_angular", TimeBase::Tank),
        finish(averaged(exposure), "power_ta_angular", TimeBase::Exposure),
    ];
    let (disc, planar) = found.as_ref().map_or((1.0, 1.0), |sum| sum.disc);
    let findings = found.map(|sum| sum.findings(input)).unwrap_or_default();
    (element_size::of_power(quantities, disc), findings, planar)
}
