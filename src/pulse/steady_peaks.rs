//! `pc_ss`, `pr_ss`: peaks in steady state.

use crate::dsp::extremum::Interpolator;

/// Means over the steady cycles of the largest and of the smallest pressure in each, the second
/// positive, Pa. Cycles are counted from half a period before the window's own extremum, so that none
/// lies on the edge between two of them. `None` without a whole cycle.
///
/// # Units
/// `window` and `period` in samples.
///
/// # References
/// IEC 62127-1 (peak pressures; the mean over cycles is a definition of this project).
pub fn steady_peaks(
    p: &[f64],
    window: (f64, f64),
    period: f64,
    between: &Interpolator,
) -> Option<(f64, f64)> {
    Some((mean(p, window, period, 1.0, between)?, mean(p, window, period, -1.0, between)?))
}

fn mean(
    p: &[f64],
    (a, b): (f64, f64),
    period: f64,
    sign: f64,
    between: &Interpolator,
) -> Option<f64> {
    let (from, to) = (a.max(0.0), b.min(p.len() as f64 - 1.0));
    let (_, at) = between.maximum(p, from.ceil() as usize, to.floor() as usize + 1, sign)?;
    // The first edge at or after the window's start.
    let first = at - period * ((at - from) / period - 0.5).floor() - 0.5 * period;
    let mut tops = Vec::new();
    let mut start = first;
    while start + period <= to + 1e-6 {
        let range = (start.ceil() as usize, (start + period).floor() as usize + 1);
        tops.push(between.maximum(p, range.0, range.1, sign)?.0);
        start += period;
    }
    (!tops.is_empty()).then(|| tops.iter().sum::<f64>() / tops.len() as f64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    fn tone(swell: f64) -> Vec<f64> {
        (0..2000)
            .map(|i| {
                let th = 2.0 * PI * f64::from(i) / 40.7 + 0.3;
                let amplitude = 1.0 + swell * (2.0 * PI * f64::from(i) / 814.0).sin();
                amplitude * (th.cos() + 0.5 * (2.0 * th).cos())
            })
            .collect()
    }

    /// cos θ + 0.5 cos 2θ: 1.5 and 0.75 (closed form); a swell over the window leaves the means.
    #[test]
    fn two_tones() {
        let between = Interpolator::new();
        for swell in [0.0, 0.05] {
            // Twenty periods, one period of the swell.
            let window = (300.2, 300.2 + 20.0 * 40.7);
            let (pc, pr) = steady_peaks(&tone(swell), window, 40.7, &between).expect("cycles");
            assert!((pc - 1.5).abs() < 5e-3, "{pc}");
            assert!((pr - 0.75).abs() < 5e-3, "{pr}");
        }
        assert!(steady_peaks(&tone(0.0), (10.0, 30.0), 40.7, &between).is_none());
    }
}
