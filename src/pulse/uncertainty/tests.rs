//! The sources together: closed forms, finite differences and simulation.

use std::f64::consts::PI;

use super::case::{Case, DT, F, table};
use super::*;
use crate::calibration::{LowPassShape, Table};
use crate::dsp::noise::Noise;
use crate::record::{
    CorrelationLength, FrequencyCorrelation, LowPassKind, Uncertainty, UncertaintyKind,
};

fn u(summary: &WaveformUncertainty, i: usize, source: &str) -> f64 {
    summary.features[i].u.get(source).copied().unwrap_or(f64::NAN)
}

/// p = v/M: u(pc)/pc = u(M)/M, and twice that for ∫p² (JCGM 100:2008, 5.1.6); 1/M has the mean
/// 1 + u² to second order.
#[test]
fn a_flat_response() {
    let stated =
        Uncertainty { value: 0.03, kind: UncertaintyKind::Standard, k: None, relative: true };
    let case = Case::pulse(Response::flat(4e-8).with_uncertainty(&stated));
    let WaveUncertainty { summary, instants } = case.run();
    for (i, power) in [(0, 1.0), (1, 1.0), (2, 2.0)] {
        let feature = &summary.features[i];
        let expected = power * 0.03 * feature.value;
        assert!((u(&summary, i, CALIBRATION_MAGNITUDE) / expected - 1.0).abs() < 2e-4, "{i}");
        assert!(feature.signed[CALIBRATION_MAGNITUDE] < 0.0);
        let drawn = feature.monte_carlo.as_ref().expect("drawn");
        assert!((drawn.standard_deviation / expected - 1.0).abs() < 0.12);
        // (1 + ε)⁻¹ and (1 + ε)⁻²: u² and 3 u².
        let shift = drawn.shift / feature.value / (0.5 * power * (power + 1.0) * 0.03f64.powi(2));
        assert!((shift - 1.0).abs() < 0.25, "{i} {shift}");
    }
    assert_eq!(summary.not_evaluated[CALIBRATION_PHASE], "flat-response");
    assert_eq!(summary.correlations[CALIBRATION_MAGNITUDE].map(|r| (r * 1e9).round()), [1e9; 3]);
    assert!(summary.other_method.is_none());
    // The band: relative to the pressure 3 %, beside the noise.
    let p = case.pressure(&case.volts);
    for instant in &instants {
        let expected = 0.03 * p[instant.sample].abs();
        assert!((instant.u_pa - expected).abs() < 1e-3 * summary.features[0].value);
    }
}

/// An error of the phase at a tone's frequency moves the tone in time and leaves its peak.
#[test]
fn a_pure_tone() {
    let WaveUncertainty { summary, .. } = Case::tones(0.0, Response::table(table(), 0.0)).run();
    let pc = &summary.features[0];
    assert!(u(&summary, 0, CALIBRATION_PHASE) < 1e-4 * pc.value);
    // 2 MHz lies at a third of the way from 44 to 40 nV/Pa: u by hand, the rows erring together.
    let m = (40.0 + 2.0 * 44.0) / 3.0;
    let expected = (40.0 * 0.02 + 2.0 * 44.0 * 0.03) / 3.0 / m;
    assert!((u(&summary, 0, CALIBRATION_MAGNITUDE) / pc.value / expected - 1.0).abs() < 1e-3);
}

/// cos θ + 0.5 cos 2θ, each on a row of its own: the peak is the sum of both, so that independent
/// errors of 3 % and 4 % give √(0.03² + 0.02²) of the first amplitude, common ones 0.05 of it.
#[test]
fn rows_of_two_tones() {
    let rows = |correlation| {
        let mut table =
            Table::new(vec![F, 2.0 * F], vec![4e-8, 4e-8], Some(vec![0.0, 0.0])).expect("in order");
        table.u_relative = Some(vec![0.03, 0.04]);
        table.u_phase_rad = Some(vec![0.05, 0.05]);
        let response = Response::table(table, 0.0).with_frequency_correlation(correlation);
        let summary = Case::tones(0.5, response).run().summary;
        let one = summary.features[0].value / 1.5;
        (u(&summary, 0, CALIBRATION_MAGNITUDE) / one, u(&summary, 0, CALIBRATION_PHASE) / one)
    };
    let (magnitude, phase) = rows(FrequencyCorrelation::INDEPENDENT);
    assert!((magnitude / 0.0013f64.sqrt() - 1.0).abs() < 1e-3, "{magnitude}");
    assert!(phase < 1e-4);
    let (magnitude, _) = rows(FrequencyCorrelation::COMMON);
    assert!((magnitude / 0.05 - 1.0).abs() < 1e-3, "{magnitude}");
    let length = FrequencyCorrelation::Length(CorrelationLength { length_hz: F });
    let (magnitude, _) = rows(length);
    let expected = (0.0013 + 2.0 * 0.03 * 0.02 * (-1.0f64).exp()).sqrt();
    assert!((magnitude / expected - 1.0).abs() < 1e-3, "{magnitude}");
}

/// The derivatives by each row against what a small change of that row does to the whole chain.
#[test]
fn derivatives_against_finite_differences() {
    const STEP: f64 = 1e-5;
    let case = Case::pulse(Response::table(table(), 0.0));
    let p = case.pressure(&case.volts);
    let (between, window) = (Interpolator::new(), case.windows.pulse);
    let n = case.conditioning.padded;
    let spectra = Spectra::new(&case.conditioned(), &case.conditioning, &case.response, DT);
    let errors = ResponseErrors::of(&case.response, None);
    let weights = propagation::bin_weights(&spectra, &errors);
    let q = features::gradients(&p, window, DT, &between, n).expect("a window");
    for (i, q) in q.iter().enumerate() {
        let rows = propagation::derivatives(&spectra, &weights, q, 5);
        let scale = case.values()[i];
        for row in 0..5 {
            let changed = |of_phase: bool, sign: f64| {
                let mut table = table();
                match table.phase_rad.as_mut().filter(|_| of_phase) {
                    Some(phase) => phase[row] += sign * STEP,
                    None => table.v_per_pa[row] *= 1.0 + sign * STEP,
                }
                Case::pulse(Response::table(table, 0.0)).values()[i]
            };
            let by = |phase| (changed(phase, 1.0) - changed(phase, -1.0)) / (2.0 * STEP) / scale;
            let (magnitude, phase) = (rows.magnitude[row] / scale, rows.phase[row] / scale);
            assert!((magnitude - by(false)).abs() < 1e-3, "{i} {row} {magnitude} {}", by(false));
            assert!((phase - by(true)).abs() < 1e-3, "{i} {row} {phase} {}", by(true));
        }
    }
}

/// White noise in volts, many shots, at a level where its square counts in ∫p² and at one where it
/// does not: standard deviations within 5 % (1/√(2·2000) is 1.6 %), the correlation within 0.06.
#[test]
fn noise_against_simulation() {
    const SHOTS: usize = 2000;
    for rms in [1e-4, 0.05] {
        let mut case = Case::pulse(Response::table(table(), 0.0));
        let mut noise = Noise::new(5);
        let (mut at_pc, mut energies, mut square) = (Vec::new(), Vec::new(), 0.0);
        let clean = case.pressure(&case.volts);
        let top = (0..800).max_by(|a, b| clean[*a].total_cmp(&clean[*b])).expect("samples");
        for _ in 0..SHOTS {
            let raw: Vec<f64> = (0..800).map(|_| rms * noise.next()).collect();
            let alone = case.pressure(&raw);
            let p = |i: usize| clean[i] + alone[i];
            at_pc.push(p(top));
            let part = case.windows.pulse.0..case.windows.pulse.1;
            energies.push(part.map(|i| p(i) * p(i)).sum::<f64>() * DT);
            square += alone[20..80].iter().map(|p| p * p).sum::<f64>() / 60.0 / SHOTS as f64;
        }
        case.noise_pa2 = Some(square);
        let summary = case.run().summary;
        let level = summary.noise.as_ref().expect("measured").rms_v;
        assert!((level / rms - 1.0).abs() < 0.02, "{rms} {level}");
        let spread = |v: &[f64]| crate::dsp::statistics::standard_deviation(v).expect("many");
        let ratio = |i: usize, v: &[f64]| u(&summary, i, NOISE) / spread(v);
        assert!((ratio(0, &at_pc) - 1.0).abs() < 0.05, "{rms} {}", ratio(0, &at_pc));
        assert!((ratio(2, &energies) - 1.0).abs() < 0.05, "{rms} {}", ratio(2, &energies));
    }
}

/// Without a quiet part the level is that of the highest frequencies: of white noise, its own.
#[test]
fn noise_without_a_quiet_part() {
    let mut case = Case::pulse(Response::flat(4e-8));
    let mut noise = Noise::new(9);
    case.volts.iter_mut().for_each(|v| *v += 1e-3 * noise.next());
    let found = case.run().summary.noise.expect("found");
    assert_eq!(found.from, "spectrum");
    assert!((found.rms_v / 1e-3 - 1.0).abs() < 0.15, "{found:?}");
}

/// A spectrum that falls by 0.45 a harmonic, twenty of them, and a low-pass over it: what it takes and
/// what lies beyond cover the peak without it, and the share within the bands is what it took there.
#[test]
fn the_low_pass() {
    let peak = |n: i32| -> f64 { (1..=n).map(|n| 0.45f64.powi(n)).sum() };
    let mut case = Case::pulse(Response::flat(4e-8));
    let mut noise = Noise::new(2);
    let wave = |t: f64, noise: &mut Noise| -> f64 {
        let envelope = (-((t - 4e-6) / 2.5e-6).powi(8)).exp();
        let tone = |n: i32| 0.45f64.powi(n) * (2.0 * PI * f64::from(n) * F * (t - 4e-6)).cos();
        0.1 * envelope * (1..=20).map(tone).sum::<f64>() + 1e-4 * noise.next()
    };
    case.volts = (0..800).map(|i| wave(f64::from(i) * DT, &mut noise)).collect();
    case.noise_pa2 = None;
    let truth = 0.1 * peak(20) / 4e-8;
    for (kind, cutoff_hz) in [(LowPassKind::OnePole, 8e6), (LowPassKind::Cosine, 7e6)] {
        case.conditioning.lowpass = LowPassShape { kind, order: 1, cutoff_hz };
        let summary = case.run().summary;
        let pc = &summary.features[0];
        let effect = pc.low_pass.as_ref().expect("estimated");
        let reach = summary.low_pass.as_ref().expect("estimated");
        assert!((9..=12).contains(&reach.last_band), "{reach:?}");
        assert!(effect.taken > 0.05 * truth, "{effect:?}");
        let most = pc.value + effect.taken + effect.beyond;
        assert!(truth < most && most < 1.05 * truth, "{truth} {most} {effect:?}");
        let expected = (effect.taken + effect.beyond) / 3f64.sqrt();
        assert!((u(&summary, 0, LOW_PASS) / expected - 1.0).abs() < 1e-12);
        assert!(findings(&summary).iter().any(|f| f.code == "low-pass-takes-signal"));
    }
    // One that passes all bands with signal took nothing.
    case.conditioning.lowpass =
        LowPassShape { kind: LowPassKind::Cosine, order: 1, cutoff_hz: 36e6 };
    let summary = case.run().summary;
    let effect = summary.features[0].low_pass.as_ref().expect("estimated");
    assert_eq!(effect.taken, 0.0);
    assert!(effect.beyond < 0.02 * truth, "{effect:?}");
    assert!(findings(&summary).is_empty());
}

/// Thick shocks (Fay 1931, amplitudes 1/sinh(n a), from memory) whose harmonics are turned together, as
/// by diffraction, under noise that hides all but a few: twice the low-pass's uncertainty, and three
/// times the noise's, covers both peaks of the wave whole.
#[test]
fn the_low_pass_covers_what_is_lost_of_a_shock() {
    const HARMONICS: i32 = 90;
    let mut noise = Noise::new(4);
    let low = LowPassShape { kind: LowPassKind::OnePole, order: 2, cutoff_hz: 4e6 };
    let follows = LowPassShape { kind: LowPassKind::Cosine, order: 1, cutoff_hz: 16e6 };
    for (thickness, rms, lowpass) in
        [(0.08, 2e-4, low), (0.2, 2e-4, low), (0.4, 2e-4, low), (0.08, 1e-2, follows)]
    {
        for turned in [0.0, 0.8, 1.571, 2.5] {
            let wave = |th: f64| -> f64 {
                let tone = |n: i32| {
                    let n = f64::from(n);
                    (n * th - PI / 2.0 + turned).cos() / (n * thickness).sinh()
                };
                1e-2 * (1..=HARMONICS).map(tone).sum::<f64>()
            };
            let mut case = Case::tones(0.0, Response::flat(4e-8));
            let th = |i: f64| 2.0 * PI * i / 200.0;
            case.volts = (0..1000).map(|i| wave(th(f64::from(i))) + rms * noise.next()).collect();
            case.frequency_hz = 1.0 / (200.0 * DT);
            case.noise_pa2 = None;
            let fine: Vec<f64> = (0..20_000).map(|i| wave(th(f64::from(i) / 100.0))).collect();
            let top = |sign: f64| fine.iter().map(|v| sign * v / 4e-8).fold(0.0, f64::max);
            case.conditioning.lowpass = lowpass;
            let summary = case.run().summary;
            for (i, truth) in [(0, top(1.0)), (1, top(-1.0))] {
                let feature = &summary.features[i];
                let most = 2.0 * u(&summary, i, LOW_PASS) + 3.0 * u(&summary, i, NOISE);
                let off = (truth - feature.value).abs();
                assert!(off < most, "{thickness} {turned} {i}: {off:e} {most:e} {feature:?}");
            }
        }
    }
}

/// Large independent errors of the phase take from a peak on average whatever their sign: told. Small
/// ones are not.
#[test]
fn where_linear_propagation_ends() {
    for (u_rad, told) in [(0.01, false), (0.6, true)] {
        let mut table = table();
        table.u_phase_rad = Some(vec![u_rad; 5]);
        let response = Response::table(table, 0.0)
            .with_frequency_correlation(FrequencyCorrelation::INDEPENDENT);
        let summary = Case::pulse(response).run().summary;
        let codes: Vec<String> = findings(&summary).into_iter().map(|f| f.code).collect();
        let found = codes.iter().any(|c| c == "peak-uncertainty-nonlinear");
        assert_eq!(found, told, "{u_rad} {:?}", summary.features[0]);
    }
}

/// A tone on a table of 40 nV/Pa at it and 50 nV/Pa at its double: the narrowband method takes the
/// double for 50/40 of what it is; of cos θ + 0.5 cos 2θ it makes (1 + 0.625)/1.5 of the peak.
#[test]
fn the_other_method() {
    let table = |of: Table| Response::table(of, 0.0);
    let rows = Table::new(vec![F, 2.0 * F], vec![4e-8, 5e-8], Some(vec![0.0, 0.0]));
    let mut case = Case::tones(0.625, table(rows.expect("in order")));
    let summary = case.run().summary;
    let other = summary.features[0].other_method.as_ref().expect("compared");
    assert!((other.relative_difference - (1.625 / 1.5 - 1.0)).abs() < 1e-3, "{other:?}");
    assert_eq!(summary.other_method.as_ref().expect("compared").method, "narrowband");
    assert!(findings(&summary).iter().any(|f| f.code == "methods-differ"));
    case.conditioning.narrowband_hz = Some(F);
    let summary = case.run().summary;
    let other = summary.features[0].other_method.as_ref().expect("compared");
    assert!((other.relative_difference - (1.5 / 1.625 - 1.0)).abs() < 1e-3, "{other:?}");
    assert_eq!(summary.other_method.as_ref().expect("compared").method, "broadband");
    assert_eq!(summary.not_evaluated[CALIBRATION_PHASE], "narrowband");
}

/// The same waveform gives the same bits.
#[test]
fn repeatable() {
    let run = || Case::pulse(Response::table(table(), 0.0)).run();
    assert_eq!(run(), run());
}
