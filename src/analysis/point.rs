//! Quantities at the spatial peak: from a waveform alone, or with peak values fitted over a map.

use super::focal_wave::Waveform;
use crate::base::quantity::{Quantity, Reason, TimeBase};
use crate::base::water;
use crate::pulse::{
    bandwidth, noise_equivalent, on_intensity, pulse_average_intensity, pulse_intensity_integral,
    temporal_average_intensity, working_frequency,
};
use crate::record::{ExcitationMode, Exposure, Record};

/// Source id of the sensor's calibration: a relative error of the response.
pub const CALIBRATION: &str = "calibration";
/// Source id of the water's temperature, K.
pub const TEMPERATURE: &str = "water-temperature";
/// Source id of the correction of the peaks for noise, in standard uncertainties of it.
pub const NOISE_BIAS: &str = "noise-bias";
/// Source id of the repetition rate: a relative error.
pub const REPETITION: &str = "repetition-rate";

/// Peak values on which the quantities rest, noise energy subtracted where asked.
#[derive(Debug, Clone)]
pub struct PeakValues {
    pub pc_pa: Result<f64, Reason>,
    pub pr_pa: Result<f64, Reason>,
    pub ppsi_pa2_s: Result<f64, Reason>,
    /// Before the noise energy was subtracted.
    pub ppsi_with_noise: Option<f64>,
    /// Mean square over the steady window.
    pub steady_pa2: Result<f64, Reason>,
    pub steady_with_noise: Option<f64>,
    /// Amplitudes of the harmonics 1, 2, 3.
    pub harmonics_pa: [Result<f64, Reason>; 3],
    /// The peak was clipped: values are at least these.
    pub lower_bound: bool,
    /// Code of the method of the peak values.
    pub method: &'static str,
}

/// What the quantities need besides the waveform.
pub struct Setting<'a> {
    pub record: &'a Record,
    pub temperature_c: f64,
    pub frequency_hz: Option<f64>,
    /// Drive level of the scan.
    pub level: Option<f64>,
    /// Code of the reason for which there is no steady window.
    pub no_steady: Option<&'a str>,
    pub noise_corrected: bool,
    /// Largest pressure of either sign that the chain holds, Pa.
    pub limit_pa: Option<f64>,
}

impl Setting<'_> {
    fn impedance(&self) -> f64 {
        water::impedance(self.temperature_c)
    }

    /// Sensitivity of p²/(ρc) to the temperature: −d(ln ρc)/dT.
    fn with_water(&self, quantity: Quantity) -> Quantity {
        let slope = -water::impedance_relative_slope(self.temperature_c);
        let value = quantity.outcome.clone().unwrap_or(0.0);
        quantity.sensitive_to(TEMPERATURE, slope * value)
    }
}

/// Waveform quantities in the order of the catalogue.
pub fn quantities(setting: &Setting<'_>, wave: &Waveform, peak: &PeakValues) -> Vec<Quantity> {
    let rho_c = setting.impedance();
    let pulse = wave.wave.pulse;
    let held = |outcome: &Result<f64, Reason>| -> Result<f64, Reason> {
        if wave.windows.holds_burst { outcome.clone() } else { Err(Reason::new("burst-not-held")) }
    };
    let bound = |mut quantity: Quantity| {
        quantity.lower_bound = peak.lower_bound && quantity.outcome.is_ok();
        quantity
    };
    let noise = |quantity: Quantity, before: Option<f64>| match before {
        Some(before) if setting.noise_corrected => {
            quantity.corrected_from(before, "noise-energy", "pre-arrival")
        }
        _ => quantity,
    };
    let ppsi = held(&peak.ppsi_pa2_s);
    let pii = ppsi.clone().map(|v| pulse_intensity_integral::pii(v, rho_c));
    let td = held(&wave.td_s.ok_or_else(|| Reason::new("no-pulse")));
    let mut out = vec![
        bound(peak_pressure(setting, "pc", peak, wave)).in_window(pulse).by(peak.method),
        bound(peak_pressure(setting, "pr", peak, wave)).in_window(pulse).by(peak.method),
        noise(
            bound(Quantity::from_outcome("ppsi", ppsi).scales_with(CALIBRATION, -2.0))
                .in_window(pulse)
                .by(peak.method),
            peak.ppsi_with_noise,
        ),
        setting
            .with_water(bound(
                Quantity::from_outcome("pii", pii.clone()).scales_with(CALIBRATION, -2.0),
            ))
            .in_window(pulse),
        Quantity::from_outcome("td", td.clone()).in_window(pulse),
    ];
    let i_on = peak.steady_pa2.clone().map(|v| on_intensity::i_on(v, rho_c));
    let steady = |quantity: Quantity| match wave.wave.steady {
        Some(window) => quantity.in_window(window),
        None => quantity,
    };
    out.push(steady(noise(
        setting
            .with_water(bound(
                Quantity::from_outcome("i_on", i_on.clone()).scales_with(CALIBRATION, -2.0),
            ))
            .on_base(TimeBase::On),
        peak.steady_with_noise.map(|v| on_intensity::i_on(v, rho_c)),
    )));
    let isppa = match (&pii, &td) {
        (Ok(pii), Ok(td)) => Ok(pulse_average_intensity::isppa(*pii, *td)),
        (Err(reason), _) | (_, Err(reason)) => Err(reason.clone()),
    };
    out.push(
        setting
            .with_water(bound(
                Quantity::from_outcome("isppa", isppa).scales_with(CALIBRATION, -2.0),
            ))
            .in_window(pulse)
            .on_base(TimeBase::On),
    );
    out.push(steady(ispta_tank(setting, &i_on, &pii, bound)));
    out.push(ispta_exposure(setting, &i_on));
    let frequency = |id, value: Option<f64>, reason: &str| {
        Quantity::from_outcome(id, value.ok_or_else(|| Reason::new(reason)))
    };
    out.push(frequency("f_awf_zero", wave.f_zero_hz, "too-few-crossings"));
    let band = wave.band_hz;
    out.push(
        frequency(
            "f_awf_mean",
            band.map(|(a, b)| working_frequency::arithmetic_mean_hz(a, b)),
            "no-band",
        )
        .in_window(pulse),
    );
    out.push(
        frequency("bandwidth", band.map(|(a, b)| bandwidth::bandwidth_hz(a, b)), "no-band")
            .in_window(pulse),
    );
    out.extend(harmonics(setting, wave, peak));
    let snr = match (wave.noise_pa2, &peak.steady_pa2, &peak.ppsi_pa2_s, wave.td_s) {
        (None, ..) => Err(Reason::new("no-quiet-part")),
        (Some(noise), Ok(steady), ..) if noise > 0.0 => Ok(10.0 * (steady / noise).log10()),
        (Some(noise), _, Ok(ppsi), Some(td)) if noise > 0.0 => {
            Ok(10.0 * (ppsi / td / noise).log10())
        }
        _ => Err(Reason::new("no-pulse")),
    };
    out.push(Quantity::from_outcome("snr_db", snr));
    out.extend(noise_equivalent(setting, wave));
    out
}

/// `pc` or `pr`, less what the noise of a single shot adds. A lower bound stays as it was measured.
fn peak_pressure(
    setting: &Setting<'_>,
    id: &'static str,
    peak: &PeakValues,
    wave: &Waveform,
) -> Quantity {
    let (measured, which) = match id {
        "pc" => (&peak.pc_pa, 0),
        _ => (&peak.pr_pa, 1),
    };
    let bias = wave.bias.filter(|_| setting.noise_corrected && !peak.lower_bound);
    match (measured, bias.map(|bias| bias[which])) {
        (Ok(before), Some(bias)) if bias.bias_pa > 0.0 && bias.bias_pa < 0.5 * before => {
            let quantity =
                Quantity::value(id, before - bias.bias_pa).scales_with(CALIBRATION, -1.0);
            quantity
                .sensitive_to(NOISE_BIAS, bias.u_pa)
                .corrected_from(*before, "noise-bias", "added-noise")
                .correction_uncertain(bias.u_pa / before)
        }
        _ => Quantity::from_outcome(id, measured.clone()).scales_with(CALIBRATION, -1.0),
    }
}

/// Noise-equivalent pressure, its density, and the range up to the largest pressure that is held.
fn noise_equivalent(setting: &Setting<'_>, wave: &Waveform) -> Vec<Quantity> {
    let nep = wave.noise_pa2.map(noise_equivalent::nep_pa).filter(|nep| *nep > 0.0);
    let nep = nep.ok_or_else(|| Reason::new("no-quiet-part"));
    let density = nep.clone().map(|nep| noise_equivalent::nep_density(nep, wave.noise_band_hz));
    let range = match (&nep, setting.limit_pa) {
        (Ok(nep), Some(limit)) => Ok(noise_equivalent::dynamic_range_db(limit, *nep)),
        (Ok(_), None) => Err(Reason::blank("sensor.full_scale_v")),
        (Err(reason), _) => Err(reason.clone()),
    };
    vec![
        Quantity::from_outcome("nep", nep).scales_with(CALIBRATION, -1.0),
        Quantity::from_outcome("nep_density", density).scales_with(CALIBRATION, -1.0),
        Quantity::from_outcome("dynamic_range_db", range),
    ]
}

fn ispta_tank(
    setting: &Setting<'_>,
    i_on: &Result<f64, Reason>,
    pii: &Result<f64, Reason>,
    bound: impl Fn(Quantity) -> Quantity,
) -> Quantity {
    let excitation = &setting.record.excitation;
    let (outcome, method) = match (i_on, excitation.duty(), pii, excitation.repetition_hz) {
        (Ok(i_on), Some(duty), ..) => {
            (Ok(temporal_average_intensity::from_duty(*i_on, duty)), "steady-times-duty")
        }
        (_, _, Ok(pii), Some(repetition)) if excitation.mode != Some(ExcitationMode::Cw) => {
            (Ok(temporal_average_intensity::from_pulses(*pii, repetition)), "pulse-times-rate")
        }
        (Ok(_), None, ..) if excitation.repetition_hz.is_some() => {
            (Err(Reason::blank("excitation.cycles")), "")
        }
        (.., Ok(_), None) | (Ok(_), ..) => (Err(Reason::blank("excitation.repetition_hz")), ""),
        (.., Err(reason), _) => (Err(reason.clone()), ""),
        (Err(reason), ..) => (Err(reason.clone()), ""),
    };
    let quantity = setting.with_water(bound(
        Quantity::from_outcome("ispta", outcome).scales_with(CALIBRATION, -2.0).scales_with(
            REPETITION,
            if excitation.mode == Some(ExcitationMode::Cw) { 0.0 } else { 1.0 },
        ),
    ));
    quantity.on_base(TimeBase::Tank).by(method)
}

/// Temporal average under the stated exposure: only where the record states one at the same level.
fn ispta_exposure(setting: &Setting<'_>, i_on: &Result<f64, Reason>) -> Quantity {
    let outcome = exposure_duty(setting.record, setting.level)
        .and_then(|duty| i_on.clone().map(|v| temporal_average_intensity::from_duty(v, duty)));
    setting
        .with_water(Quantity::from_outcome("ispta", outcome).scales_with(CALIBRATION, -2.0))
        .on_base(TimeBase::Exposure)
        .by("steady-times-duty")
}

/// Duty factor of the stated exposure, for a scan at the given level.
///
/// # Errors
/// The blank that is missing, or that its level is not the measured one.
pub fn exposure_duty(record: &Record, scan_level: Option<f64>) -> Result<f64, Reason> {
    let Some(exposure) = &record.exposure else { return Err(Reason::blank("exposure")) };
    let Exposure { mode, burst_s, repetition_hz, level, .. } = exposure;
    if let (Some(a), Some(b)) = (level, scan_level)
        && (a - b).abs() > 1e-9 * b.abs()
    {
        return Err(Reason::new("exposure-level-differs"));
    }
    if *mode == Some(ExcitationMode::Cw) {
        return Ok(1.0);
    }
    match (burst_s, repetition_hz) {
        (Some(burst), Some(rate)) => Ok(burst * rate),
        (None, _) => Err(Reason::blank("exposure.burst_s")),
        (_, None) => Err(Reason::blank("exposure.repetition_hz")),
    }
}

fn harmonics(setting: &Setting<'_>, wave: &Waveform, peak: &PeakValues) -> Vec<Quantity> {
    let window = wave.wave.steady.unwrap_or(wave.wave.pulse);
    let method =
        if wave.wave.steady.is_some() { "harmonics-steady" } else { "harmonics-whole-pulse" };
    let [one, two, three] = &peak.harmonics_pa;
    let p1 = Quantity::from_outcome("p1", one.clone())
        .scales_with(CALIBRATION, -1.0)
        .in_window(window)
        .by(method);
    // A factor common to all frequencies cancels in the ratio.
    let ratio = |id, n: f64, amplitude: &Result<f64, Reason>| {
        let outcome = match (one, amplitude) {
            (Ok(one), Ok(amplitude)) if *one > 0.0 => {
                let beyond =
                    setting.frequency_hz.is_some_and(|f| n * f > wave.wave.lowpass_cutoff_hz);
                if beyond { Err(Reason::new("beyond-low-pass")) } else { Ok(amplitude / one) }
            }
            (Ok(_), Ok(_)) => Err(Reason::new("no-pulse")),
            (Err(reason), _) | (_, Err(reason)) => Err(reason.clone()),
        };
        Quantity::from_outcome(id, outcome).in_window(window).by(method)
    };
    vec![p1, ratio("h2", 2.0, two), ratio("h3", 3.0, three)]
}

/// Peak values of a single waveform, for point scans.
pub fn values_of_waveform(setting: &Setting<'_>, wave: &Waveform, clipped: bool) -> PeakValues {
    let pulse = wave.windows.pulse;
    let interval = wave.wave.interval_s;
    let p = &wave.wave.p_pa;
    let noise = if setting.noise_corrected { wave.noise_pa2.unwrap_or(0.0) } else { 0.0 };
    let with_noise = crate::dsp::energy::square_integral(p, pulse.0, pulse.1, interval);
    let steady = wave.windows.steady.and_then(|(a, b)| crate::dsp::tone::mean_square(p, a, b));
    let reason = || Reason::new(setting.no_steady.unwrap_or("no-steady-window"));
    let harmonic = |n: usize| {
        wave.harmonics_pa.get(n).copied().ok_or_else(|| {
            Reason::new(if setting.frequency_hz.is_none() { "no-frequency" } else { "no-pulse" })
        })
    };
    PeakValues {
        pc_pa: Ok(wave.wave.pc.0),
        pr_pa: Ok(wave.wave.pr.0),
        ppsi_pa2_s: Ok(with_noise - noise * (pulse.1 - pulse.0) as f64 * interval),
        ppsi_with_noise: Some(with_noise),
        steady_pa2: steady.map(|v| v - noise).ok_or_else(reason),
        steady_with_noise: steady,
        harmonics_pa: [harmonic(0), harmonic(1), harmonic(2)],
        lower_bound: clipped,
        method: "single-waveform",
    }
}
