//! Derated values along the beam: from an axial scan with a known distance from the head.

use crate::analysis::assemble::ScanInput;
use crate::analysis::focal_wave::Waveform;
use crate::analysis::plane::maps::Maps;
use crate::analysis::point::exposure_duty;
use crate::base::budget::source::{AXES, CALIBRATION, NOISE, PEAK_FIT};
use crate::base::error::Problem;
use crate::base::quantity::{Quantity, Reason, TimeBase};
use crate::base::water;
use crate::dsp::interpolate;
use crate::field::{Scale, head_distance, repair, spatial_peak};
use crate::pulse::{on_intensity, pulse_average_intensity, pulse_intensity_integral};
use crate::safety::{derating, mechanical_index};

/// Ids that an axial scan gives.
pub const IDS: [&str; 4] = ["pr_derated", "isppa_derated", "ispta_derated", "mi"];

/// The axis of an axial scan as the thermal indices need it.
#[derive(Debug, Clone, PartialEq)]
pub struct Along {
    /// Where the derated pulse-intensity integral is largest, z of the scan and distance from the head, m.
    pub z_m: f64,
    pub depth_m: f64,
    /// Working frequency there, Hz.
    pub frequency_hz: f64,
    /// Distances of the samples from the head, m, none negative.
    pub depths_m: Vec<f64>,
    /// Time-average intensities there under the stated exposure, in water, W/m².
    pub intensity_w_m2: Result<Vec<f64>, Reason>,
    /// `ispta_derated` as these intensities give it, before later corrections.
    pub ispta_derated: Result<f64, Reason>,
}

/// Derated values of an axial scan, with the axis they were found on.
///
/// # Errors
/// When the waveform where the derated energy is largest cannot be read.
pub fn evaluate(
    input: &ScanInput<'_>,
    along_m: &[f64],
    map: &Maps,
    wave: &Waveform,
    blocked: Option<&Reason>,
) -> Result<(Vec<Quantity>, Option<Along>), Problem> {
    let nothing = |reason: Reason| {
        let missing = |id: &&'static str| Quantity::missing(id, reason.clone());
        Ok((IDS.iter().map(missing).collect(), None))
    };
    if let Some(reason) = blocked {
        return nothing(reason.clone());
    }
    let place = match largest(input, along_m, map, wave) {
        Ok(place) => place,
        Err(reason) => return nothing(reason),
    };
    let there = input.wave(input.point_near(place.cell))?;
    let Some(frequency_hz) = there.f_zero_hz else {
        return nothing(Reason::new("too-few-crossings"));
    };
    Ok(place.values(input, along_m, map, &there, frequency_hz))
}

/// Where the derated ∫p² is largest.
struct Place {
    depths_m: Vec<f64>,
    z_m: f64,
    depth_m: f64,
    cell: usize,
    /// Relative standard deviation of the values about the fit.
    residual: f64,
}

/// The largest derated ∫p² on the axis, fitted as the peak of a line is, with the working frequency at the
/// peak of the line.
fn largest(
    input: &ScanInput<'_>,
    along_m: &[f64],
    map: &Maps,
    wave: &Waveform,
) -> Result<Place, Reason> {
    let record = input.setting.record;
    let head_m = head_distance::head_m(&record.frame, &record.device)?;
    let depth = |z_m: f64| head_distance::from_datum_m(&record.frame, z_m) - head_m;
    let frequency_hz = wave.f_zero_hz.ok_or_else(|| Reason::new("too-few-crossings"))?;
    let depths_m: Vec<f64> = along_m.iter().map(|z| depth(*z)).collect();
    if depths_m.iter().any(|z| *z < 0.0) {
        return Err(Reason::new("axis-behind-head"));
    }
    let derated: Vec<f64> = map
        .ppsi
        .iter()
        .zip(&depths_m)
        .map(|(ppsi, z)| ppsi * derating::intensity_factor(frequency_hz, *z))
        .collect();
    let peak = spatial_peak::of_line(along_m, &derated, Scale::Energy)
        .ok_or_else(|| Reason::new("no-pulse"))?;
    if peak.at_edge {
        return Err(Reason::new("derated-peak-at-edge"));
    }
    let level = peak.value * Scale::Energy.ratio(3.0);
    if repair::near_peak(map.columns(), &derated, &map.excluded, level) {
        return Err(Reason::new("excluded-at-peak"));
    }
    Ok(Place {
        depths_m,
        z_m: peak.x_m,
        depth_m: depth(peak.x_m),
        cell: peak.cell,
        residual: peak.residual,
    })
}

impl Place {
    fn values(
        self,
        input: &ScanInput<'_>,
        along_m: &[f64],
        map: &Maps,
        there: &Waveform,
        frequency_hz: f64,
    ) -> (Vec<Quantity>, Option<Along>) {
        let setting = &input.setting;
        let rho_c = water::impedance(setting.temperature_c);
        let pressure = derating::pressure_factor(frequency_hz, self.depth_m);
        let intensity = derating::intensity_factor(frequency_hz, self.depth_m);
        let here = |values: &[f64]| {
            interpolate::cubic(along_m, values, self.z_m).ok_or_else(|| Reason::new("no-pulse"))
        };
        let bias =
            there.bias.filter(|_| setting.noise_corrected).map_or(0.0, |bias| bias[1].bias_pa);
        let pr = here(&map.pr).map(|pr| (pr - bias) * pressure);
        let mi = pr.clone().map(|pr| mechanical_index::mechanical_index(pr, frequency_hz));
        let td = there.td_s.filter(|_| there.windows.holds_burst);
        let td = td.ok_or_else(|| Reason::new("burst-not-held"));
        let isppa = here(&map.ppsi).and_then(|ppsi| {
            let pii = pulse_intensity_integral::pii(ppsi * intensity, rho_c);
            Ok(pulse_average_intensity::isppa(pii, td?))
        });
        let no_steady = || Reason::new(setting.no_steady.unwrap_or("no-steady-window"));
        let on: Result<Vec<f64>, Reason> = match (&map.steady, there.windows.steady) {
            (Some(steady), Some(_)) => {
                Ok(steady.iter().map(|v| on_intensity::i_on(*v, rho_c)).collect())
            }
            _ => Err(no_steady()),
        };
        let averaged: Result<Vec<f64>, Reason> = exposure_duty(setting.record, setting.level)
            .and_then(|duty| on.map(|on| on.iter().map(|v| v * duty).collect()));
        let ispta = averaged.as_ref().map_err(Clone::clone).and_then(|values| here(values));
        let ispta_derated = ispta.map(|v| v * intensity);
        let amplitude = |id, outcome| {
            self.sensitive(Quantity::from_outcome(id, outcome), 1, there, frequency_hz)
        };
        let energy = |id, outcome| {
            let quantity =
                self.sensitive(Quantity::from_outcome(id, outcome), 2, there, frequency_hz);
            setting.with_water(quantity)
        };
        let steady = |quantity: Quantity| match there.wave.steady {
            Some(window) => quantity.in_window(window),
            None => quantity,
        };
        let pulse = there.wave.pulse;
        let quantities = vec![
            amplitude("pr_derated", pr).in_window(pulse).by("derated"),
            energy("isppa_derated", isppa).in_window(pulse).on_base(TimeBase::On).by("derated"),
            steady(energy("ispta_derated", ispta_derated.clone()))
                .on_base(TimeBase::Exposure)
                .by("derated-times-duty"),
            amplitude("mi", mi).in_window(pulse).by("derated"),
        ];
        let along = Along {
            z_m: self.z_m,
            depth_m: self.depth_m,
            frequency_hz,
            depths_m: self.depths_m,
            intensity_w_m2: averaged,
            ispta_derated,
        };
        (quantities, Some(along))
    }

    /// Sensitivities of a value that goes with a power of the amplitude where the derated energy is largest.
    /// Along the axes it is the factor of the depth that errs: the field is measured where it is.
    fn sensitive(
        &self,
        quantity: Quantity,
        power: u8,
        there: &Waveform,
        frequency_hz: f64,
    ) -> Quantity {
        let power = f64::from(power);
        // pr and ∫p² of this waveform, with what noise does to them.
        let which = if power > 1.0 { 2 } else { 1 };
        let feature = there.wave.uncertainty.as_ref().and_then(|u| u.summary.features.get(which));
        let noise = feature.filter(|f| f.value > 0.0).and_then(|f| Some(f.u.get(NOISE)? / f.value));
        let slope = power * derating::pressure_slope_per_m(frequency_hz);
        let quantity = quantity
            .scales_with(CALIBRATION, -power)
            .scales_with(PEAK_FIT, 0.5 * power * self.residual)
            .scales_with(AXES, slope * self.depth_m);
        match noise {
            Some(noise) => quantity.scales_with(NOISE, noise),
            None => quantity,
        }
    }
}
