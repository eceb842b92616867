//! Checks of the numerics against values from outside, listed once: they run as tests on the
//! machine that compiles (`tests/checks.rs`), and in the page's engine, where transforms and
//! readers are compiled differently.

use std::f64::consts::PI;
use std::sync::Arc;

use rustfft::num_complex::Complex;

use crate::analysis;
use crate::base::water;
use crate::dsp::energy::square_integral;
use crate::dsp::extremum::Interpolator;
use crate::dsp::filter::{PairFilter, fast_length, spectrum};
use crate::dsp::tone;
use crate::field::{Scale, beam_area, beam_width, spatial_peak};
use crate::formats::source::{FileSet, Memory};
use crate::formats::{self, container::Container};
use crate::pulse::{bandwidth, peak_pressure, pulse_duration, working_frequency};
use crate::record;

/// What a check found: nothing, or what was expected and what came out.
pub type Outcome = Result<(), String>;

/// Name of the example's record and of its plane.
const RECORD: &str = "record.json";
const PLANE: &str = "focal-plane.h5";

/// All checks by name. `example` holds the files of the reduced example (demo-data/example) by name.
pub fn all(example: &[(&str, &[u8])]) -> Vec<(&'static str, Outcome)> {
    let mut files = FileSet::default();
    for (name, bytes) in example {
        files.insert(name, Arc::new(Memory(Arc::from(*bytes))));
    }
    let text =
        example.iter().find(|(name, _)| *name == RECORD).map_or(&[][..], |(_, bytes)| *bytes);
    vec![
        ("filter-f64", filter::<f64>(1e-12)),
        ("filter-f32", filter::<f32>(2e-5)),
        ("burst-sine", sine_bursts()),
        ("burst-gaussian", gaussian_burst()),
        ("two-tone", two_tone()),
        ("water", water_formulas()),
        ("widths-gaussian", gaussian_beam()),
        ("hdf5", hdf5(&files)),
        ("example", example_against_truth(&files, &String::from_utf8_lossy(text))),
    ]
}

fn near(what: &str, got: f64, expected: f64, tolerance: f64) -> Outcome {
    let off = (got - expected).abs();
    if off <= tolerance {
        Ok(())
    } else {
        Err(format!("{what}: {got:e}, expected {expected:e} ± {tolerance:e}"))
    }
}

fn within(what: &str, got: f64, expected: f64, relative: f64) -> Outcome {
    near(what, got, expected, relative * expected.abs())
}

fn some<T>(what: &str, value: Option<T>) -> Result<T, String> {
    value.ok_or_else(|| format!("{what}: nothing came out"))
}

/// The pair filter against direct circular convolution, at a length with factors 2 and 3.
fn filter<T: rustfft::FftNum + Into<f64>>(tolerance: f64) -> Outcome {
    let n = fast_length(170);
    let impulse: Vec<f64> =
        (0..n).map(|i| (-(i as f64) / 9.0).exp() * (i as f64 * 0.8).cos()).collect();
    let response: Vec<Complex<f64>> = spectrum(&impulse, n)[..=n / 2].to_vec();
    let inputs: [Vec<f64>; 2] = [
        (0..n).map(|i| ((i * i % 97) as f64 * 0.1).sin()).collect(),
        (0..n).map(|i| (i as f64 * 0.7).cos() - 0.2).collect(),
    ];
    let narrow =
        |v: &[f64]| v.iter().map(|x| T::from_f64(*x).unwrap_or_else(T::zero)).collect::<Vec<T>>();
    let (mut a, mut b) = (narrow(&inputs[0]), narrow(&inputs[1]));
    PairFilter::<T>::new(n, &response).run(&mut a, &mut b);
    for (signal, out) in inputs.iter().zip([a, b]) {
        for (i, got) in out.into_iter().enumerate() {
            let direct: f64 = (0..n).map(|j| signal[j] * impulse[(n + i - j) % n]).sum();
            near(&format!("sample {i} of {n}"), got.into(), direct, tolerance)?;
        }
    }
    Ok(())
}

/// A sin(2πft) over N cycles, A = 1 MPa, f = 1 MHz: ∫p² = A²N/(2f); t_d 3.06197554748, 5 and 10 µs
/// (closed form from the definitions of IEC 62127-1).
fn sine_bursts() -> Outcome {
    let (f, dt, quiet) = (1e6, 2e-9, 300);
    for (cycles, ppsi, td) in [(3, 1.5e6, 3.061_975_547_48e-6), (5, 2.5e6, 5e-6), (10, 5e6, 10e-6)]
    {
        let samples = cycles * 500;
        let p: Vec<f64> = (0..samples + 2 * quiet)
            .map(|i| {
                let inside = (quiet..=quiet + samples).contains(&i);
                if inside {
                    1e6 * (2.0 * PI * f * dt * (i as f64 - quiet as f64)).sin()
                } else {
                    0.0
                }
            })
            .collect();
        within(
            &format!("ppsi of {cycles} cycles"),
            square_integral(&p, 0, p.len(), dt),
            ppsi,
            1e-12,
        )?;
        let found = pulse_duration::pulse_duration_s(&p, (0, p.len()), 0.0, dt);
        // Of 5 and 10 cycles the fractions fall on zeros of p, where the integral stands still: they
        // are found to a sample on either side.
        near(&format!("td of {cycles} cycles"), some("td", found)?, td, 2.5 * dt)?;
        let found = working_frequency::zero_crossing_hz(&p, (0, p.len()), dt);
        within(&format!("f_awf_zero of {cycles} cycles"), some("f_awf_zero", found)?, f, 1e-4)?;
    }
    Ok(())
}

/// A exp(−(t/τ)²) cos(2πf₀t), A = 1 MPa, τ = 1 µs, f₀ = 3 MHz: ∫p² 626657.0687 Pa²s, t_d
/// 1.63546656019 µs, −3 dB bandwidth 374139.53 Hz about 3 MHz (closed forms, mpmath).
fn gaussian_burst() -> Outcome {
    let dt = 2e-9;
    let p: Vec<f64> = (-3000i32..=3000)
        .map(|i| {
            let t = f64::from(i) * dt;
            1e6 * (-(t / 1e-6).powi(2)).exp() * (2.0 * PI * 3e6 * t).cos()
        })
        .collect();
    within("ppsi", square_integral(&p, 0, p.len(), dt), 626_657.068_657_75, 1e-10)?;
    let td = pulse_duration::pulse_duration_s(&p, (0, p.len()), 0.0, dt);
    near("td", some("td", td)?, 1.635_466_560_19e-6, 0.5 * dt)?;
    let (f1, f2) = some("band", bandwidth::minus_3_db_points_hz(&p, (0, p.len()), dt, 3e6))?;
    // Between bins of 1/16 of the window the crossing is interpolated linearly.
    within("bandwidth", bandwidth::bandwidth_hz(f1, f2), 374_139.530_437, 1e-3)?;
    within("f_awf_mean", working_frequency::arithmetic_mean_hz(f1, f2), 3e6, 1e-4)
}

/// cos θ + 0.5 cos 2θ: pc 1.5, pr 0.75, mean square 0.625, second harmonic 0.5 (exact).
fn two_tone() -> Outcome {
    let (f, dt) = (1.5e6, 2e-8);
    let p: Vec<f64> = (0..1500)
        .map(|i| {
            let angle = 2.0 * PI * f * dt * f64::from(i) + 0.4;
            angle.cos() + 0.5 * (2.0 * angle).cos()
        })
        .collect();
    let between = Interpolator::new();
    let top = |found: Option<(f64, f64)>| some("peak", found).map(|(value, _)| value);
    within("pc", top(peak_pressure::compressional(&p, (50, 1450), &between))?, 1.5, 1e-3)?;
    within("pr", top(peak_pressure::rarefactional(&p, (50, 1450), &between))?, 0.75, 1e-3)?;
    let (a, b) = (101.3, 101.3 + 20.0 / (f * dt));
    within("mean square", some("mean square", tone::mean_square(&p, a, b))?, 0.625, 1e-3)?;
    let tones = [1.0, 2.0].map(|n| tone::amplitude(&p, a, b, dt, n * f).map(|c| c.norm()));
    within("p1", some("p1", tones[0])?, 1.0, 1e-3)?;
    within("p2", some("p2", tones[1])?, 0.5, 1e-3)
}

/// W. Marczak, J. Acoust. Soc. Am. 102 (1997) 2776, and M. Tanaka et al., Metrologia 38 (2001) 301
/// (coefficients of the latter from memory), evaluated with mpmath.
fn water_formulas() -> Outcome {
    for (t, speed, density) in [
        (15.0, 1_465.959_854_653, 999.102_571_718),
        (20.0, 1_482.379_546_752, 998.206_745_560),
        (22.0, 1_488.357_911_239, 997.772_976_938),
        (30.0, 1_509.167_167_748, 995.648_797_184),
        (37.0, 1_523.653_000_947, 993.328_954_766),
    ] {
        near("sound speed", water::sound_speed_m_per_s(t), speed, 1e-8)?;
        near("density", water::density_kg_per_m3(t), density, 1e-8)?;
    }
    Ok(())
}

/// Intensity exp(−2r²/w²) off the grid, eight points across −6 dB: widths over w at −3, −6, −12 dB
/// 1.1753940, 1.6622581, 2.3507880, area at −6 dB 0.6907755 πw² (closed forms).
fn gaussian_beam() -> Outcome {
    let w = 1e-3;
    let step = 1.662_258_136 * w / 8.0;
    let x: Vec<f64> = (-20..=20).map(|i| f64::from(i) * step).collect();
    let (cx, cy) = (0.31 * step, -0.44 * step);
    let values: Vec<f64> = (0..41 * 41)
        .map(|i| {
            3e6 * (-2.0 * ((x[i % 41] - cx).powi(2) + (x[i / 41] - cy).powi(2)) / (w * w)).exp()
        })
        .collect();
    let peak = some("peak", spatial_peak::of_plane(&x, &x, &values, Scale::Energy))?;
    near("x of the peak", peak.x_m, cx, 1e-9)?;
    near("y of the peak", peak.y_m, cy, 1e-9)?;
    within("peak", peak.value, 3e6, 1e-6)?;
    let profile = some("profile", beam_width::profile_along_x(&x, &x, &values, peak.y_m))?;
    for (db, expected) in [(3.0, 1.175_394_000_2), (6.0, 1.662_258_136_3), (12.0, 2.350_788_000_5)]
    {
        let found = beam_width::width_m(&x, &profile, peak.x_m, peak.value, Scale::Energy, db);
        let (a, b) = some("width", found)?;
        within(&format!("width at −{db} dB"), (b - a) / w, expected, 2e-4)?;
    }
    let region = some("area", beam_area::beam_area(&x, &x, &values, &peak, Scale::Energy, 6.0))?;
    within("area", region.area, 0.690_775_527_898 * PI * w * w, 2e-3)
}

/// The example's plane (gzip and shuffle, 16-bit) as h5py 3.16 reads it: shape, sums, single counts.
fn hdf5(files: &FileSet) -> Outcome {
    let source = some(PLANE, files.get(PLANE))?;
    let told = |problems: Vec<crate::base::error::Problem>| format!("{problems:?}");
    let container: Arc<dyn Container> = formats::open(PLANE, source).map_err(told)?;
    let array = some("/waveforms", container.array("/waveforms"))?;
    if array.shape != [21, 21, 330] {
        return Err(format!("shape {:?}, expected 21 × 21 × 330", array.shape));
    }
    let counts = container.read_numbers("/waveforms", 1 << 20).map_err(|p| told(vec![p]))?;
    near("sum of counts", counts.iter().sum(), 458_433.0, 0.0)?;
    near("sum of squares", counts.iter().map(|v| v * v).sum(), 1_368_829_643.0, 0.0)?;
    near("largest count", counts.iter().copied().fold(f64::MIN, f64::max), 1275.0, 0.0)?;
    near(
        "count (10, 11, 197)",
        counts.get((10 * 21 + 11) * 330 + 197).copied().unwrap_or(f64::MIN),
        1275.0,
        0.0,
    )?;
    // One row alone, in the middle of the stored blocks.
    let row =
        container.read("/waveforms", &[10, 11, 190], &[1, 1, 10]).map_err(|p| told(vec![p]))?;
    near("count of a box", row.to_f64().get(7).copied().unwrap_or(f64::MIN), 1275.0, 0.0)
}

/// The example from its files to its quantities, against the noiseless field from which its generator
/// made them (demo-data/example/truth.json). Relative bounds: peak pressures and widths 0.5 %, areas,
/// energies and power 1 %, harmonics 2 %.
fn example_against_truth(files: &FileSet, text: &str) -> Outcome {
    let told = |problems: Vec<crate::base::error::Problem>| format!("{problems:?}");
    let typed = record::read(text, RECORD).map_err(told)?;
    let results = analysis::run(typed, files, &mut |_, _| {}).map_err(told)?;
    for (scan, id, truth, bound) in [
        ("focal-plane", "pc", 7_956_364.734, 0.005),
        ("focal-plane", "pr", 4_928_197.186, 0.005),
        ("focal-plane", "ppsi", 89_193_485.7, 0.01),
        ("focal-plane", "td", 4.973_378_514e-6, 0.01),
        ("focal-plane", "i_on", 12_279_995.41, 0.01),
        ("focal-plane", "p1", 5_747_381.42, 0.005),
        ("focal-plane", "h2", 0.287_079_497_7, 0.02),
        ("focal-plane", "h3", 0.122_491_452_9, 0.02),
        ("focal-plane", "width_x_6", 1.531_531_672e-3, 0.005),
        ("focal-plane", "width_y_12", 2.035_731_24e-3, 0.005),
        ("focal-plane", "area_6", 1.841_985_69e-6, 0.01),
        ("focal-plane", "power_on_plane_wave", 16.058_418_43, 0.01),
        ("axial", "z_peak", 0.044_443_413_69, 0.002),
        ("axial", "length_6", 0.011_186_340_98, 0.01),
    ] {
        let result = some(scan, results.scans.iter().find(|s| s.id == scan))?;
        let quantity = some(id, result.quantities.iter().find(|q| q.id == id))?;
        let value =
            quantity.outcome.clone().map_err(|reason| format!("{scan} {id}: {}", reason.code))?;
        within(&format!("{scan} {id}"), value, truth, bound)?;
    }
    Ok(())
}
