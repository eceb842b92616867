//! Quantities at the spatial peak: from a waveform alone, or with peak values fitted over a map.

use super::focal_wave::Waveform;
use crate::base::budget::source::{
    CALIBRATION, NOISE, NOISE_BIAS, PEAK_FIT, REPETITION, TEMPERATURE,
};
use crate::base::quantity::{Quantity, Reason, TimeBase};
use crate::base::water;
use crate::dsp::extremum::Interpolator;
use crate::dsp::onset;
use crate::pulse::map::MAP_HARMONICS;
use crate::pulse::{
    bandwidth, noise_equivalent, on_intensity, pulse_average_intensity, pulse_intensity_integral,
    steady_peaks as steady, temporal_average_intensity, working_frequency,
};
use crate::record::{ExcitationMode, Exposure, Record};

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
    /// Amplitudes of the harmonics 1 … 10, noise included.
    pub harmonics_pa: Vec<Result<f64, Reason>>,
    /// Relative standard deviations of the maps of pc, pr and ppsi about the fit of their peaks.
    pub residuals: [f64; 3],
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
    pub fn with_water(&self, quantity: Quantity) -> Quantity {
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
    let [pc, pr] = ["pc", "pr"].map(|id| bound(peak_pressure(setting, id, peak, wave)));
    let [pc, pr] =
        [pc.scales_with(PEAK_FIT, peak.residuals[0]), pr.scales_with(PEAK_FIT, peak.residuals[1])];
    // What rests on the energy at the peak.
    let fitted = |quantity: Quantity| quantity.scales_with(PEAK_FIT, peak.residuals[2]);
    let [pc_ss, pr_ss] = steady_peaks(setting, wave, [&pc, &pr]);
    let mut out = vec![
        pc.in_window(pulse).by(peak.method),
        pr.in_window(pulse).by(peak.method),
        pc_ss,
        pr_ss,
        noise(
            fitted(bound(Quantity::from_outcome("ppsi", ppsi).scales_with(CALIBRATION, -2.0)))
                .in_window(pulse)
                .by(peak.method),
            peak.ppsi_with_noise,
        ),
        setting
            .with_water(bound(fitted(
                Quantity::from_outcome("pii", pii.clone()).scales_with(CALIBRATION, -2.0),
            )))
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
            .with_water(bound(fitted(
                Quantity::from_outcome("i_on", i_on.clone()).scales_with(CALIBRATION, -2.0),
            )))
            .on_base(TimeBase::On),
        peak.steady_with_noise.map(|v| on_intensity::i_on(v, rho_c)),
    )));
    let isppa = match (&pii, &td) {
        (Ok(pii), Ok(td)) => Ok(pulse_average_intensity::isppa(*pii, *td)),
        (Err(reason), _) | (_, Err(reason)) => Err(reason.clone()),
    };
    out.push(
        setting
            .with_water(bound(fitted(
                Quantity::from_outcome("isppa", isppa).scales_with(CALIBRATION, -2.0),
            )))
            .in_window(pulse)
            .on_base(TimeBase::On),
    );
    out.push(fitted(steady(ispta_tank(setting, &i_on, &pii, bound))));
    out.push(fitted(ispta_exposure(setting, &i_on)));
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
    out.push(arrival(setting, wave));
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

/// Peaks in steady state, from the waveform, in the ratio of the peaks given to those of the waveform.
fn steady_peaks(setting: &Setting<'_>, wave: &Waveform, peaks: [&Quantity; 2]) -> [Quantity; 2] {
    let reason = || Reason::new(setting.no_steady.unwrap_or("no-steady-window"));
    let period = setting.frequency_hz.map(|f| 1.0 / (f * wave.wave.interval_s));
    let found = wave.windows.steady.zip(period).and_then(|(window, period)| {
        steady::steady_peaks(&wave.wave.p_pa, window, period, &Interpolator::new())
    });
    let own = [wave.wave.pc.0, wave.wave.pr.0];
    let found = [found.map(|(pc, _)| pc), found.map(|(_, pr)| pr)];
    std::array::from_fn(|i| {
        let before = peaks[i].uncorrected.or(peaks[i].outcome.clone().ok());
        let outcome = match (&peaks[i].outcome, found[i], before) {
            (Err(reason), ..) => Err(reason.clone()),
            (Ok(_), Some(value), Some(before)) if own[i] > 0.0 => Ok(value * before / own[i]),
            _ => Err(reason()),
        };
        let quantity = Quantity::from_outcome(["pc_ss", "pr_ss"][i], outcome)
            .scales_with(CALIBRATION, -1.0)
            .by("steady-cycles");
        let quantity = match wave.wave.steady {
            Some(window) => quantity.in_window(window),
            None => quantity,
        };
        Quantity { lower_bound: peaks[i].lower_bound && quantity.outcome.is_ok(), ..quantity }
    })
}

/// When the burst has risen to half its amplitude.
fn arrival(setting: &Setting<'_>, wave: &Waveform) -> Quantity {
    let (a, b) = wave.windows.pulse;
    let outcome = match setting.frequency_hz {
        None => Err(Reason::new("no-frequency")),
        Some(f) => {
            let period = 1.0 / (f * wave.wave.interval_s);
            onset::half_rise(&wave.wave.p_pa, a, b, period)
                .map(|sample| wave.wave.t0_s + sample * wave.wave.interval_s)
                .ok_or_else(|| Reason::new("no-pulse"))
        }
    };
    Quantity::from_outcome("arrival", outcome).by("half-rise")
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

/// Duty factor of the tank's excitation.
///
/// # Errors
/// The blank that is missing.
pub fn tank_duty(record: &Record) -> Result<f64, Reason> {
    record.excitation.duty().ok_or_else(|| {
        Reason::blank(if record.excitation.repetition_hz.is_some() {
            "excitation.cycles"
        } else {
            "excitation.repetition_hz"
        })
    })
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

/// `p1`, `h2` … `h10`, `thd`. Noise adds to a squared amplitude what it has in the window's own
/// bandwidth; that is subtracted, and amplitudes that do not stand three times above it are not given.
fn harmonics(setting: &Setting<'_>, wave: &Waveform, peak: &PeakValues) -> Vec<Quantity> {
    const IDS: [&str; MAP_HARMONICS] =
        ["p1", "h2", "h3", "h4", "h5", "h6", "h7", "h8", "h9", "h10"];
    let window = wave.wave.steady.unwrap_or(wave.wave.pulse);
    let method =
        if wave.wave.steady.is_some() { "harmonics-steady" } else { "harmonics-whole-pulse" };
    let noise_pa2 = wave.noise_pa2.map_or(0.0, |noise| {
        let length = window.stop_s - window.start_s;
        let taken = if wave.wave.steady.is_some() { length } else { wave.td_s.unwrap_or(length) };
        2.0 * noise / wave.noise_band_hz * length / (taken * taken)
    });
    let net = |amplitude: f64| {
        let square = amplitude * amplitude;
        let taken = if setting.noise_corrected { noise_pa2 } else { 0.0 };
        if square > 9.0 * noise_pa2 {
            Ok((square - taken).sqrt())
        } else {
            Err(Reason::new("below-noise"))
        }
    };
    let amplitude = |n: usize| -> Result<f64, Reason> {
        let measured = peak.harmonics_pa.get(n - 1).cloned();
        let beyond =
            setting.frequency_hz.is_some_and(|f| n as f64 * f > wave.wave.lowpass_cutoff_hz);
        match measured {
            Some(Ok(_)) if n > 1 && beyond => Err(Reason::new("beyond-low-pass")),
            Some(outcome) => outcome.and_then(net),
            None => Err(Reason::new("no-pulse")),
        }
    };
    let one = amplitude(1);
    // A factor common to all frequencies cancels in the ratio.
    let ratio = |n: usize| match (&one, amplitude(n)) {
        (Ok(one), Ok(amplitude)) => Ok(amplitude / one),
        (Err(reason), _) => Err(reason.clone()),
        (_, Err(reason)) => Err(reason),
    };
    let ratios: Vec<Result<f64, Reason>> = (2..=MAP_HARMONICS).map(ratio).collect();
    // Those that are not given count as nothing, but the second must be there.
    let thd = match &ratios[0] {
        Ok(_) => Ok(ratios.iter().flatten().map(|h| h * h).sum::<f64>().sqrt()),
        Err(reason) => Err(reason.clone()),
    };
    let p1 = Quantity::from_outcome("p1", one.clone()).scales_with(CALIBRATION, -1.0);
    // Half of the noise's square lies along the amplitude.
    let u_noise = (0.5 * noise_pa2).sqrt();
    let p1 = p1.sensitive_to(NOISE, u_noise);
    let rest = IDS[1..].iter().zip(ratios).map(|(id, ratio)| {
        let value = ratio.clone().unwrap_or(0.0);
        let spread = one.clone().map_or(0.0, |one| u_noise / one * value.hypot(1.0));
        Quantity::from_outcome(id, ratio).sensitive_to(NOISE, spread)
    });
    std::iter::once(p1)
        .chain(rest)
        .chain([Quantity::from_outcome("thd", thd.clone()).sensitive_to(
            NOISE,
            // ∂thd/∂hₙ = hₙ/thd: their squares add to one.
            one.clone().map_or(0.0, |one| u_noise / one * thd.unwrap_or(0.0).hypot(1.0)),
        )])
        .map(|quantity| quantity.in_window(window).by(method))
        .collect()
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
        harmonics_pa: (0..MAP_HARMONICS).map(harmonic).collect(),
        residuals: [0.0; 3],
        lower_bound: clipped,
        method: "single-waveform",
    }
}
