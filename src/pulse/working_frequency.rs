//! `f_awf_zero`, `f_awf_mean`: acoustic working frequency, by two methods.

use crate::dsp::zero_crossings::zero_crossings;

/// Zero-crossing frequency, Hz: number of consecutive half-cycles over twice the time that they take.
/// An even number of them is taken. Half-cycles whose peak stays below half of the largest are left out at both ends. `None` with fewer
/// than two half-cycles.
///
/// # References
/// IEC 62127-1 (zero-crossing acoustic-working frequency; definition from memory; the limit of one half is this
/// project's rule).
pub fn zero_crossing_hz(p: &[f64], window: (usize, usize), interval_s: f64) -> Option<f64> {
    let crossings = zero_crossings(p, window.0, window.1);
    let peak_between = |a: f64, b: f64| {
        let part = p.get(a.ceil() as usize..=b.floor() as usize).unwrap_or(&[]);
        part.iter().fold(0.0f64, |top, v| top.max(v.abs()))
    };
    let peaks: Vec<f64> = crossings.windows(2).map(|w| peak_between(w[0], w[1])).collect();
    let top = peaks.iter().copied().fold(0.0, f64::max);
    let first = peaks.iter().position(|v| *v >= 0.5 * top)?;
    let last = peaks.iter().rposition(|v| *v >= 0.5 * top)?;
    // Whole cycles: in a steepened wave the halves of the two polarities differ in length.
    let half_cycles = (last - first + 1) & !1;
    if half_cycles < 2 {
        return None;
    }
    let time = (crossings[first + half_cycles] - crossings[first]) * interval_s;
    Some(half_cycles as f64 / (2.0 * time))
}

/// Arithmetic-mean frequency, Hz: (f1 + f2)/2 of the −3 dB points of the pressure spectrum.
///
/// # References
/// IEC 62127-1 (arithmetic-mean acoustic-working frequency; definition from memory).
pub fn arithmetic_mean_hz(f1_hz: f64, f2_hz: f64) -> f64 {
    0.5 * (f1_hz + f2_hz)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Unequal halves: cos θ + 0.4 cos 2θ has its own period all the same.
    #[test]
    fn asymmetric_wave() {
        let p: Vec<f64> = (0..1000)
            .map(|i| {
                let th = 2.0 * std::f64::consts::PI * f64::from(i) / 40.0;
                th.cos() + 0.4 * (2.0 * th).cos()
            })
            .collect();
        for stop in 700..760 {
            let f = zero_crossing_hz(&p, (13, stop), 1.0).expect("some");
            assert!((f * 40.0 - 1.0).abs() < 2e-3, "{stop} {f}");
        }
    }

    #[test]
    fn tone_burst() {
        let dt = 1e-8;
        let p: Vec<f64> = (0..1500)
            .map(|i| {
                let t = f64::from(i) * dt - 2e-6;
                if (0.0..8e-6).contains(&t) {
                    (2.0 * std::f64::consts::PI * 1.5e6 * t).sin()
                } else {
                    0.0
                }
            })
            .collect();
        let f = zero_crossing_hz(&p, (0, 1500), dt).expect("some");
        assert!((f / 1.5e6 - 1.0).abs() < 1e-3, "{f}");
        assert_eq!(zero_crossing_hz(&[0.0; 20], (0, 20), dt), None);
    }
}
